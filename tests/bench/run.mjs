// Prints how fast the built page is at 200, 2,000 and 10,000 pieces, beside a bare engine and grid in the same run.
// `npm run bench`, or with sizes: `npm run bench -- 200 2000`. Nothing here asserts a time.
import { spawnSync } from "node:child_process";
import process from "node:process";
import { chromium } from "playwright";
import { build } from "vite";
import { launchOptions } from "../tools/find-browser.mjs";
import { csvTime } from "./csv-time.mjs";
import { serve } from "./serve.mjs";

const sizes = process.argv.slice(2).map(Number).filter(Boolean);
const counts = sizes.length > 0 ? sizes : [200, 2000, 10_000];
spawnSync("npx", ["vite", "build", "--logLevel", "error"], { stdio: "inherit", shell: process.platform === "win32" });
await build({
  configFile: false,
  root: "tests/bench/baseline",
  base: "./",
  logLevel: "error",
  build: { outDir: "../../../dist-baseline", emptyOutDir: true, target: "es2022", chunkSizeWarningLimit: 3000 },
});
const app = await serve("dist");
const bare = await serve("dist-baseline");
const browser = await chromium.launch(launchOptions());

/** @param {number[]} list */
const median = (list) => list.sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? 0;

/** Opens an edition file in the page, as a maker would, and waits until it is kept with its values. @param {import("playwright").Page} page @param {string} text */
async function openDocument(page, text) {
  await page.getByRole("button", { name: "Editions…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Open a file…" }).click(),
  ]);
  await chooser.setFiles({ name: "bench.edition.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await ready(page);
}

/** @param {import("playwright").Page} page */
async function ready(page) {
  await page.waitForFunction(
    () =>
      !document.querySelector(".top")?.textContent?.includes("Calculating") &&
      !document.querySelector(".figures b")?.textContent?.includes("…"),
    undefined,
    { timeout: 180_000 },
  );
}

/** Milliseconds from a change in the page to the frame that shows its effect. @param {import("playwright").Page} page @param {string} typed */
async function editTime(page, typed) {
  await page.keyboard.press("Delete");
  await ready(page);
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

const rows = [];
for (const count of counts) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: "en-GB" });
  await context.addInitScript(() => {
    // No file dialog can be driven here: the page falls back to a plain file input.
    Reflect.deleteProperty(window, "showOpenFilePicker");
  });
  const blank = await context.newPage();
  await blank.goto(bare.url);
  await blank.waitForFunction(() => "measure" in window);
  const text = await blank.evaluate((n) => /** @type {any} */ (window).makeDocument(n), count);
  const base = await blank.evaluate((n) => /** @type {any} */ (window).measure(n), count);
  await blank.close();
  const page = await context.newPage();
  await page.goto(app.url);
  await ready(page);
  await openDocument(page, text);
  await page.waitForFunction(() =>
    document.querySelector('[data-testid="save-state"]')?.textContent?.startsWith("Saved"),
  );
  // One edit more, so that the values are kept beside the document.
  await page.keyboard.press("Alt+3");
  await page.getByRole("button", { name: "Unfold the steps" }).click();
  const opens = [];
  const readies = [];
  for (let at = 0; at < 3; at += 1) {
    await page.reload({ waitUntil: "commit" });
    await page.waitForSelector(".grid-host tbody td", { state: "attached" });
    opens.push(await page.evaluate(() => performance.now()));
    await ready(page);
    readies.push(await page.evaluate(() => performance.now()));
  }
  await page.getByRole("button", { name: /old the steps/ }).click();
  const edits = [];
  await page.keyboard.press("Alt+2");
  await page.keyboard.type("00003");
  await page.keyboard.press("Enter");
  await page.waitForTimeout(500);
  for (
    let at = 0;
    at < 40 && !(await page.locator("#card h2").first().textContent())?.endsWith("Fettle: time");
    at += 1
  )
    await page.keyboard.press("ArrowRight");
  for (let at = 0; at < 7; at += 1) edits.push(await editTime(page, String(20 + at)));
  await page.locator("nav.sheets button", { hasText: "Edition" }).click();
  const wage = page.locator(".grid-host td:visible", { hasText: /^22\.00$/ }).first();
  await page.locator(".grid-host").hover();
  for (let at = 0; at < 40 && (await wage.count()) === 0; at += 1) {
    await page.mouse.wheel(0, 200);
    await page.waitForTimeout(50);
  }
  await wage.click();
  await page.locator("#card h2", { hasText: "Wage" }).waitFor();
  // Once before anybody has looked ahead, then as a maker does who has had the sheet in view for some seconds.
  const atOnce = await editTime(page, "23");
  await page.waitForTimeout(count > 5000 ? 8000 : 3000);
  const inputs = [];
  for (let at = 0; at < 5; at += 1) {
    inputs.push(await editTime(page, String(24 + at)));
    await page.waitForTimeout(1000);
  }
  rows.push({
    count,
    base,
    open: median(opens),
    ready: median(readies),
    edit: median(edits.map((e) => e.took)),
    atOnce: atOnce.took,
    input: median(inputs.map((e) => e.took)),
    frozen: Math.max(...[atOnce, ...inputs].map((e) => e.longest)),
  });
  await context.close();
}
const heat = await browser.newPage();
await heat.goto(bare.url);
await heat.waitForFunction(() => "measureKiln" in window);
const kiln = await heat.evaluate(() => /** @type {any} */ (window).measureKiln());
const table = await browser.newPage({ viewport: { width: 1440, height: 900 } });
await table.goto(app.url);
await ready(table);
const csv = await csvTime(table);
await browser.close();
app.server.close();
bare.server.close();

const ms = (/** @type {number} */ n) => `${Math.round(n)} ms`;
const ratio = (/** @type {number} */ a, /** @type {number} */ b) => `${(a / b).toFixed(2)} ×`;
console.log("\n| pieces | what | Saggar | bare engine and grid | ratio |\n| --- | --- | --- | --- | --- |");
for (const { count, base, open, ready: whole, edit, atOnce, input, frozen } of rows) {
  console.log(
    `| ${count} | open: to the first painted cell | ${ms(open)} | ${ms(base.open)} | ${ratio(open, base.open)} |`,
  );
  console.log(
    `| ${count} | open: until every number is computed anew | ${ms(whole)} | ${ms(base.open)} | ${ratio(whole, base.open)} |`,
  );
  console.log(
    `| ${count} | edit of one piece to painted | ${ms(edit)} | ${ms(base.edit)} | ${ratio(edit, base.edit)} |`,
  );
  console.log(
    `| ${count} | wage changed as soon as its sheet is in view | ${ms(atOnce)} | ${ms(base.input)} | ${ratio(atOnce, base.input)} |`,
  );
  console.log(
    `| ${count} | wage changed (every row) to painted | ${ms(input)} | ${ms(base.input)} | ${ratio(input, base.input)} |`,
  );
  console.log(
    `| ${count} | longest frame meanwhile | ${ms(frozen)} | ${ms(base.input)} | ${ratio(frozen, base.input)} |`,
  );
}
console.log(
  `\nKiln heat: ${kiln.each.toFixed(2)} ms a firing, ${Math.round(kiln.perSecond)} firings a second; a sheet of 500 different firings recalculated in ${Math.round(kiln.sheet)} ms.`,
);
console.log(
  `CSV: ${csv.lines} lines from the dropped file to the report in ${ms(csv.read)}, planned anew with rows added in ${ms(csv.planned)}; longest frame meanwhile ${ms(csv.longest)}.`,
);

console.log("\nWhat-ifs, three inputs and eight results:\n");
await import("./whatif.mjs");
