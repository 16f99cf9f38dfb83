// Works the built page with an edition of many pieces as a maker does, and notes how long each thing takes.

/** @typedef {import("playwright").Page} Page */

/** @param {number[]} list */
export const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? 0;

const LONG = { timeout: 180_000 };
/** What the demo edition is called, which a first visit opens. */
const DEMO = "Marram";

/** Every number is there. @param {Page} page */
export const calculated = (page) =>
  page.waitForFunction(
    () => {
      const [top, figure] = [".top", ".figures b"].map((one) => document.querySelector(one)?.textContent);
      return top?.includes("Calculating") === false && figure?.includes("…") === false;
    },
    undefined,
    LONG,
  );

/** The engine has confirmed every number. @param {Page} page */
const confirmed = (page) =>
  page.waitForFunction(
    () => !/Calculating|Checking/.test(document.querySelector(".top")?.textContent ?? "Calculating"),
    undefined,
    LONG,
  );

/** Opens an edition file in the page, as a maker would, and waits until it is kept. @param {Page} page @param {string} text */
export async function openDocument(page, text) {
  await page.getByRole("button", { name: "Editions…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Open a file…" }).click(),
  ]);
  await chooser.setFiles({ name: "bench.edition.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await page.locator(".top").filter({ hasNotText: DEMO }).waitFor(LONG);
  await calculated(page);
  await page
    .getByTestId("save-state")
    .filter({ hasText: /^Saved/ })
    .waitFor(LONG);
}

/** Opened again: to the first cell, to every number, to every number confirmed; medians in ms. @param {Page} page @param {number} times */
export async function openTimes(page, times) {
  /** @type {{ first: number[], every: number[], checked: number[] }} */
  const took = { first: [], every: [], checked: [] };
  const now = () => page.evaluate(() => performance.now());
  for (let at = 0; at < times; at += 1) {
    await page.reload({ waitUntil: "commit" });
    await page.waitForSelector(".grid-host tbody td", { state: "attached" });
    took.first.push(await now());
    await calculated(page);
    took.every.push(await now());
    await confirmed(page);
    took.checked.push(await now());
  }
  return { first: median(took.first), every: median(took.every), checked: median(took.checked) };
}

/** Milliseconds from a change in the page to the frame that shows its effect. @param {Page} page @param {string} typed */
async function editTime(page, typed) {
  await page.keyboard.press("Delete");
  await calculated(page);
  return page.evaluate(
    async ([text]) => {
      const figure = () => document.querySelector('[data-testid="figure-put_in"] b')?.textContent;
      const before = figure();
      const input = /** @type {HTMLInputElement} */ (document.querySelector("#card form input"));
      const setter = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value")?.set;
      setter?.call(input, text);
      input.dispatchEvent(new Event("input", { bubbles: true }));
      await new Promise((r) => requestAnimationFrame(r));
      const start = performance.now();
      input.form?.requestSubmit();
      let longest = 0;
      let last = start;
      while (figure() === before && performance.now() - start < 60_000) {
        await new Promise((r) => requestAnimationFrame(r));
        longest = Math.max(longest, performance.now() - last);
        last = performance.now();
      }
      if (figure() === before) throw new Error(`nothing came of ${text}`);
      // The first task after the frame that shows it: by then it is painted.
      await new Promise((r) => {
        const channel = new MessageChannel();
        channel.port1.onmessage = r;
        channel.port2.postMessage(0);
      });
      return { took: performance.now() - start, longest };
    },
    [typed],
  );
}

/** Shows every column of every step. @param {Page} page */
export async function unfold(page) {
  await page.keyboard.press("Alt+3");
  const button = page.getByRole("button", { name: /old the steps$/ });
  if ((await button.textContent()) === "Unfold the steps") await button.click();
}

/** Goes to the minutes of a piece by keyboard. @param {Page} page */
async function toMinutes(page) {
  await page.keyboard.press("Alt+2");
  await page.keyboard.press("Control+a");
  await page.keyboard.type("00003");
  await page.keyboard.press("Enter");
  const title = page.locator("#card h2").first();
  await title.filter({ hasText: "00003" }).waitFor(LONG);
  // The sheet gets the keyboard a frame later.
  await page.waitForFunction(() => document.activeElement?.closest(".grid-host"), undefined, LONG);
  const home = title.filter({ hasText: "00003, Piece" });
  for (let at = 0; at < 3 && !(await home.isVisible()); at += 1) {
    if (at > 0) console.error("Home was pressed, and the card did not follow: pressed again");
    await page.keyboard.press("Home");
    await home.waitFor({ timeout: 10_000 }).catch(() => undefined);
  }
  for (let at = 0; at < 40; at += 1) {
    const name = await title.textContent();
    if (name?.endsWith("Fettle: time")) return;
    await page.keyboard.press("ArrowRight");
    await title.filter({ hasNotText: name ?? "" }).waitFor(LONG);
  }
  throw new Error(`the minutes were not reached: ${await title.textContent()}`);
}

/** @param {Page} page */
async function toWage(page) {
  await page.locator("nav.sheets button", { hasText: "Edition" }).click();
  const wage = page.locator(".grid-host td:visible", { hasText: /^22\.00$/ }).first();
  await page.locator(".grid-host").hover();
  for (let at = 0; at < 40 && (await wage.count()) === 0; at += 1) {
    await page.mouse.wheel(0, 200);
    await page.waitForTimeout(50);
  }
  await wage.click();
  await page.locator("#card h2", { hasText: "Wage" }).waitFor();
}

/**
 * A piece's minutes and the wage, each as soon as the edition has all its numbers and again when the engine has confirmed
 * them; medians in ms, and the longest frame of the wage. @param {Page} page an edition kept with its values
 */
export async function editTimes(page) {
  await page.reload();
  await calculated(page);
  await unfold(page);
  await toMinutes(page);
  const early = [await editTime(page, "17"), await editTime(page, "18"), await editTime(page, "19")];
  await confirmed(page);
  const late = [];
  for (let at = 0; at < 7; at += 1) late.push(await editTime(page, String(20 + at)));
  await toWage(page);
  const atOnce = await editTime(page, "23");
  await confirmed(page);
  const wages = [];
  for (let at = 0; at < 5; at += 1) {
    wages.push(await editTime(page, String(24 + at)));
    await page.waitForTimeout(500);
  }
  await page.locator("nav.sheets button", { hasText: "Pieces" }).click();
  return {
    early: median(early.map(({ took }) => took)),
    edit: median(late.map(({ took }) => took)),
    atOnce: atOnce.took,
    wage: median(wages.map(({ took }) => took)),
    frozen: Math.max(...[atOnce, ...wages].map(({ longest }) => longest)),
  };
}
