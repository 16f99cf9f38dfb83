// Ways of working the page as a maker does.
import { test as base, expect, type Locator, type Page } from "@playwright/test";

/** A test in which anything said on the console as a warning or an error is a failure. */
export const test = base.extend<{ quiet: undefined }>({
  quiet: [
    async ({ page }, use) => {
      const said: string[] = [];
      page.on("pageerror", (error) => said.push(error.stack ?? error.message));
      page.on("console", (message) => {
        const isOurs = message.text() !== "Service Worker registration blocked by Playwright";
        if (isOurs && ["error", "warning"].includes(message.type())) said.push(message.text());
      });
      await use(undefined);
      expect(said).toEqual([]);
    },
    { auto: true },
  ],
});

/** Opens the page and waits until every number has been computed. */
export async function open(page: Page): Promise<void> {
  await page.goto("./");
  await settled(page);
}

/** The titles of all sheets and pages, in the order of the list. */
export async function placeNames(page: Page): Promise<readonly string[]> {
  return page
    .locator("nav.sheets button")
    .evaluateAll((buttons) =>
      buttons.map((button) => [...button.childNodes].find((node) => node.nodeType === 3)?.textContent?.trim() ?? ""),
    );
}

/** Opens, in a narrow window, the list of sheets or that of what else can be done; in a wide one both stand on the page. */
export async function unfold(page: Page, list: "sheets" | "more"): Promise<void> {
  const opener = page.locator(`.top [popovertarget=${list}]`);
  if ((await opener.isVisible()) && !(await page.locator(`#${list}`).isVisible())) await opener.click();
}

/** Goes to a sheet or a page by the list. */
export async function toPlace(page: Page, name: string): Promise<void> {
  await unfold(page, "sheets");
  const button = page.locator("nav.sheets button").filter({ hasText: new RegExp(`^${name}\\d*$`) });
  await button.click();
  await expect(button).toHaveAttribute("aria-current", "page");
  await expect(page.locator("main > :last-child")).toBeVisible();
  await settled(page);
}

/** Makes the window another size and waits until the page is laid out for it. */
export async function resize(page: Page, width: number, height: number): Promise<void> {
  await page.setViewportSize({ width, height });
  await painted(page);
}

/** Waits until what was asked of the page has been laid out and painted. */
export async function painted(page: Page): Promise<void> {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

/** How often the page is asked, in milliseconds: what is awaited from outside is asked for after 100, 250, 500 and 1000. */
const OFTEN = 25;

/** Waits until the engine has nothing left to do. */
export async function settled(page: Page): Promise<void> {
  await page.waitForFunction(
    () => {
      const figure = document.querySelector(".figures b");
      if (!figure || figure.textContent === "…") return false;
      const words = '//*[text()="Calculating…" or text()="Checking…"]';
      return !document.evaluate(words, document, null, XPathResult.BOOLEAN_TYPE).booleanValue;
    },
    undefined,
    { polling: OFTEN, timeout: 20_000 },
  );
}

/** Presses Tab until the wanted element has the keyboard. */
export async function tabTo(page: Page, name: string | RegExp, limit = 120): Promise<void> {
  for (let at = 0; at < limit; at += 1) {
    const label = await page.evaluate(() => {
      const element = document.activeElement;
      if (!(element instanceof HTMLElement)) return "";
      const labels =
        element instanceof HTMLInputElement || element instanceof HTMLSelectElement ? element.labels : null;
      const of =
        element.getAttribute("aria-label") ?? labels?.[0]?.querySelector("span")?.textContent ?? element.textContent;
      return (of ?? "").trim();
    });
    if (typeof name === "string" ? label === name : name.test(label)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab never reached ${name}`);
}

/** The first cell with these words, scrolled down to where it is not in sight yet. */
export async function scrolledTo(page: Page, words: RegExp): Promise<Locator> {
  const cell = page.locator(".grid-host td:visible", { hasText: words }).first();
  await page.locator(".grid-host").hover();
  for (let at = 0; at < 40 && (await cell.count()) === 0; at += 1) {
    await page.mouse.wheel(0, 200);
    await painted(page);
  }
  return cell;
}

/** The title of the card: which cell is selected. */
export async function cellName(page: Page): Promise<string> {
  return (await page.locator("#card h2").first().textContent()) ?? "";
}

/** Goes to the sheet by its key and waits until the sheet has the keyboard. */
export async function toSheet(page: Page): Promise<void> {
  await page.keyboard.press("Alt+3");
  await sheetHasKeyboard(page);
}

/** Waits until the sheet has the keyboard: it comes a frame after it was asked for. */
async function sheetHasKeyboard(page: Page): Promise<void> {
  await expect.poll(() => page.evaluate(() => document.activeElement?.closest(".grid-host") !== null)).toBe(true);
}

/** The title of the card once it is another one, awaited in the page: asked from outside it costs twice as much. */
function nextCellName(page: Page, was: string): Promise<string> {
  return page.evaluate(
    (before) =>
      new Promise<string>((done, failed) => {
        const tooLong = setTimeout(() => failed(new Error(`the card stays at ${before}`)), 20_000);
        const watch = new MutationObserver(check);
        function check() {
          const name = document.querySelector("#card h2")?.textContent ?? "";
          if (name === before) return;
          watch.disconnect();
          clearTimeout(tooLong);
          done(name);
        }
        watch.observe(document.body, { subtree: true, childList: true, characterData: true });
        check();
      }),
    was,
  );
}

/** Goes to a column of the selected row with the arrow keys, waiting for the card at each step. */
export async function arrowTo(page: Page, title: string, limit = 120): Promise<void> {
  await sheetHasKeyboard(page);
  await page.keyboard.press("Home");
  await painted(page);
  let name = await cellName(page);
  for (let at = 0; at < limit && !name.endsWith(title); at += 1) {
    await page.keyboard.press("ArrowRight");
    name = await nextCellName(page, name);
  }
  if (!name.endsWith(title)) throw new Error(`the arrows never reached ${title}; last at ${name}`);
}

/** Pastes text through the clipboard. */
export async function paste(page: Page, text: string): Promise<void> {
  await page.evaluate((copied) => navigator.clipboard.writeText(copied), text);
  await page.keyboard.press("Control+v");
}

/** Goes to the note of a piece by keyboard. */
async function toNote(page: Page, piece: string): Promise<void> {
  await page.keyboard.press("Alt+2");
  await page.keyboard.press("Control+a");
  await page.keyboard.type(piece);
  await page.keyboard.press("Enter");
  await expect.poll(() => cellName(page)).toContain(`Pieces ${piece}`);
  await sheetHasKeyboard(page);
  await page.keyboard.press("End");
  await expect.poll(() => cellName(page)).toBe(`Pieces ${piece}, note`);
}

/** Goes to the note of a piece and writes into it. */
export async function writeNote(page: Page, piece: string, text: string): Promise<void> {
  await toNote(page, piece);
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
}

/** The note of a piece as its card shows it. */
export async function noteOf(page: Page, piece: string): Promise<string> {
  await toNote(page, piece);
  return ((await cardValue(page).textContent()) ?? "").trim();
}

/** How things stand with saving. */
export function saveState(page: Page) {
  return page.getByTestId("save-state");
}

/** The text of a key figure. */
export function figure(page: Page, id: string) {
  return page.getByTestId(`figure-${id}`).locator("b");
}

/** What the card says of the selected cell's value. */
export function cardValue(page: Page) {
  return page.getByTestId("card-value");
}

/** Files are downloads, as in a browser without a file dialog of its own: `savedText` and `openText` need that. */
export async function withoutPickers(page: Page): Promise<void> {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showSaveFilePicker");
    Reflect.deleteProperty(window, "showOpenFilePicker");
  });
}

/** The text of the open edition, as it is saved to a file. */
export async function savedText(page: Page): Promise<string> {
  await unfold(page, "more");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as a file", exact: true }).click(),
  ]);
  let text = "";
  for await (const chunk of await download.createReadStream()) text += chunk;
  return text;
}

/** Opens an edition file that holds the text. */
export async function openText(page: Page, text: string): Promise<void> {
  await page.getByRole("button", { name: "Editions…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Open a file…" }).click(),
  ]);
  await chooser.setFiles({ name: "given.edition.json", mimeType: "application/json", buffer: Buffer.from(text) });
}

/** Texts and numbers wider than their box, which is not scrolled to read them; cells of the grid have a test of their own. */
export function cutTexts(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const cut: string[] = [];
    for (const element of document.querySelectorAll<HTMLElement>("#app *")) {
      if (element.closest(".grid-host, .unseen, svg, select") || element.clientWidth <= 1) continue;
      if (!element.checkVisibility({ visibilityProperty: true })) continue;
      const { overflowX, paddingRight } = getComputedStyle(element);
      if (overflowX === "auto" || overflowX === "scroll") continue;
      const end = element.getBoundingClientRect().right - Number.parseFloat(paddingRight) + 1.5;
      const isOut = [...element.childNodes].some((node) => {
        const text = new Range();
        text.selectNodeContents(node);
        return node.nodeType === 3 && node.textContent?.trim() && text.getBoundingClientRect().right > end;
      });
      const isBox = overflowX === "hidden" || overflowX === "clip";
      // Words that are typed may be longer than their field; a number may not.
      const isWords = element instanceof HTMLInputElement && !/^[−-]?[\d\s.,]+$/.test(element.value);
      if (isOut || (isBox && !isWords && element.scrollWidth > element.clientWidth + 1))
        cut.push(`${element.className} ${element.getAttribute("aria-label") ?? element.textContent?.slice(0, 60)}`);
    }
    return cut;
  });
}
