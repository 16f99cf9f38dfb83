// Prints how fast the built page is, beside a bare engine and grid in the same run: `npm run bench`, or with numbers of
// pieces: `npm run bench -- 200 2000`. `npm run bench:grids` measures the page with either grid. Nothing here asserts a time.
import { spawnSync } from "node:child_process";
import process from "node:process";
import { chromium } from "playwright";
import { build } from "vite";
import { launchOptions } from "../tools/find-browser.mjs";
import { csvTime } from "./csv-time.mjs";
import { calculated, editTimes, openDocument, openTimes, unfold } from "./edition-times.mjs";
import { brokenRules, bytesOf, heapOf } from "./page-facts.mjs";
import { scrollTimes } from "./scrolling.mjs";
import { serve } from "./serve.mjs";

/** @typedef {import("playwright").Page} Page */
/** What was measured, by its words; a word for what has no number. @typedef {Record<string, number | string>} Row */

const OPENINGS = 3;
const sizes = process.argv.slice(2).map(Number).filter(Boolean);
const isBothGrids = process.argv.includes("--grids");
const counts = sizes.length > 0 ? sizes : isBothGrids ? [200, 10_000] : [200, 2000, 10_000];

/** The builds that are measured: their name in the table, Vite's mode, and where it puts them. */
const builds = [
  { name: isBothGrids ? "grid of our own" : "Saggar", mode: "production", folder: "dist" },
  ...(isBothGrids ? [{ name: "library's grid", mode: "handsontable", folder: "dist-handsontable" }] : []),
];
for (const { mode } of builds)
  spawnSync(process.execPath, ["node_modules/vite/bin/vite.js", "build", "--mode", mode, "--logLevel", "error"], {
    stdio: "inherit",
  });
await build({
  configFile: false,
  root: "tests/bench/baseline",
  base: "./",
  logLevel: "error",
  build: { outDir: "../../../dist-baseline", emptyOutDir: true, target: "es2022", chunkSizeWarningLimit: 3000 },
});
const bare = await serve("dist-baseline");
// A scroll bar is drawn too, so it has to be there.
const browser = await chromium.launch({ ...launchOptions(), ignoreDefaultArgs: ["--hide-scrollbars"] });

/** A window of its own, whose errors are said. */
async function freshPage() {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: "en-GB" });
  // No file dialog can be driven here: the page falls back to a plain file input.
  await context.addInitScript(() => {
    Reflect.deleteProperty(window, "showOpenFilePicker");
  });
  const page = await context.newPage();
  page.on("pageerror", (error) => console.error(`error on the page: ${error.message}`));
  return { context, page };
}

/** @param {Awaited<ReturnType<typeof scrollTimes>>} found @returns {Row} */
const scrollRows = ({ fling, drag }) => ({
  "fling: longest frame": fling.longest,
  "fling: frames over 50 ms": `${fling.over} of ${fling.frames}`,
  "fling: blank rows": String(fling.blanks),
  "scroll bar drawn: longest frame": drag.longest,
  "scroll bar drawn: frames over 50 ms": `${drag.over} of ${drag.frames}`,
  "scroll bar drawn: blank rows": String(drag.blanks),
});

const ofMegabytes = (/** @type {number} */ bytes) => `${(bytes / 1e6).toFixed(1)} MB`;
const ofKilobytes = (/** @type {number} */ bytes) => `${Math.round(bytes / 1000)} kB`;
const ofRules = (/** @type {readonly string[]} */ rules) =>
  rules.length === 0 ? "none" : `${rules.length}: ${rules.join(", ")}`;

/** The bare engine and grid, and the document they show. @param {number} count @param {Page} looker */
async function measureBare(count, looker) {
  const { context, page } = await freshPage();
  const bytes = await bytesOf(context, () => page.goto(bare.url, { waitUntil: "networkidle" }));
  await page.waitForFunction(() => "measure" in window);
  const text = await page.evaluate((n) => /** @type {any} */ (window).makeDocument(n), count);
  const { open, edit, input } = await page.evaluate((n) => /** @type {any} */ (window).measure(n), count);
  /** @type {Row} */
  const row = {
    "first load, gzip": ofKilobytes(bytes),
    "opened again: first cell": open,
    "opened again: every number": open,
    "opened again: confirmed by the engine": open,
    "one piece edited, as soon as every number is there": edit,
    "one piece edited": edit,
    "wage changed, as soon as its sheet is in view": input,
    "wage changed": input,
    "wage: longest frame": input,
    ...scrollRows(await scrollTimes(page, looker)),
    "heap of the page": ofMegabytes(await heapOf(page)),
    "rules broken, by axe": ofRules(await brokenRules(page)),
  };
  await context.close();
  return { text, row };
}

/** @param {string} url @param {string} text @param {Page} looker @returns {Promise<Row>} */
async function measurePage(url, text, looker) {
  const { context, page } = await freshPage();
  const bytes = await bytesOf(context, async () => {
    await page.goto(url);
    await calculated(page);
    await page.waitForLoadState("networkidle");
  });
  await openDocument(page, text);
  const opened = await openTimes(page, OPENINGS);
  await unfold(page);
  const scrolled = scrollRows(await scrollTimes(page, looker));
  const heap = ofMegabytes(await heapOf(page));
  const rules = ofRules(await brokenRules(page));
  const edits = await editTimes(page);
  await context.close();
  return {
    "first load, gzip": ofKilobytes(bytes),
    "opened again: first cell": opened.first,
    "opened again: every number": opened.every,
    "opened again: confirmed by the engine": opened.checked,
    "one piece edited, as soon as every number is there": edits.early,
    "one piece edited": edits.edit,
    "wage changed, as soon as its sheet is in view": edits.atOnce,
    "wage changed": edits.wage,
    "wage: longest frame": edits.frozen,
    ...scrolled,
    "heap of the page": heap,
    "rules broken, by axe": rules,
  };
}

const inWords = (/** @type {number | string | undefined} */ found) =>
  typeof found === "number" ? `${Math.round(found)} ms` : (found ?? "");
const ratio = (/** @type {number | string | undefined} */ found, /** @type {number | string | undefined} */ base) => {
  const [one, other] = [Number.parseFloat(String(found)), Number.parseFloat(String(base))];
  return /ms|kB|MB/.test(`${inWords(found)}`) ? ` (${(one / other).toFixed(2)} ×)` : "";
};

const { context: helping, page: looker } = await freshPage();
console.log(`\n| pieces | what | ${builds.map(({ name }) => name).join(" | ")} | bare engine and grid |`);
console.log(`| --- | --- |${" --- |".repeat(builds.length + 1)}`);
for (const count of counts) {
  const base = await measureBare(count, looker);
  const rows = [];
  for (const { folder } of builds) {
    const { server, url } = await serve(folder);
    rows.push(await measurePage(url, base.text, looker));
    server.close();
  }
  for (const [what, found] of Object.entries(base.row)) {
    const cells = rows.map((row) => `${inWords(row[what])}${ratio(row[what], found)}`);
    console.log(`| ${count} | ${what} | ${cells.join(" | ")} | ${inWords(found)} |`);
  }
}
await helping.close();

if (!isBothGrids) {
  const { page: heat } = await freshPage();
  await heat.goto(bare.url);
  await heat.waitForFunction(() => "measureKiln" in window);
  const kiln = await heat.evaluate(() => /** @type {any} */ (window).measureKiln());
  console.log(
    `\nKiln heat: ${kiln.each.toFixed(2)} ms a firing, ${Math.round(kiln.perSecond)} firings a second; a sheet of 500 different firings recalculated in ${Math.round(kiln.sheet)} ms.`,
  );
  const app = await serve("dist");
  const { page: table } = await freshPage();
  await table.goto(app.url);
  await calculated(table);
  const csv = await csvTime(table);
  app.server.close();
  console.log(
    `CSV: ${csv.lines} lines from the dropped file to the report in ${inWords(csv.read)}, planned anew with rows added in ${inWords(csv.planned)}; longest frame meanwhile ${inWords(csv.longest)}.`,
  );
}
await browser.close();
bare.server.close();
if (!isBothGrids) {
  console.log("\nWhat-ifs, three inputs and eight results:\n");
  await import("./whatif.mjs");
}
