// What a studio of ten years costs in one browser: fifty editions of a thousand pieces with their firings, all metered; the last
// five not begun. `npm run bench:studio`. Nothing here asserts a time.
import { stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import process from "node:process";
import { chromium } from "playwright";
import { createServer } from "vite";
import { openPage, toNote, untilSaved } from "../tools/faults/page.mjs";
import { launchOptions } from "../tools/find-browser.mjs";
import { calculated, giveValues, keep, timeOf } from "./kept.mjs";
import { serve } from "./serve.mjs";

const [EDITIONS = 50, PIECES = 1000] = process.argv.slice(2).map(Number);
/** Not begun: more of them are more than ten years of work for one pair of hands, which the calendar refuses. */
const OPEN_STILL = 2;
const DAY_MS = 86_400_000;
const YEARS = 10;
/** A calendar that takes longer is given up. */
const CALENDAR_MS = 60_000;

const vite = await createServer({ configFile: false, logLevel: "error", server: { middlewareMode: true, ws: false } });
const { MIXED, runEdition } = await vite.ssrLoadModule("/tests/bench/edition.ts");
const { writeDocument } = await vite.ssrLoadModule("/src/core/document/write-document.ts");

const day = (/** @type {number} */ ms) => new Date(ms).toISOString().slice(0, 10);
const base = runEdition(PIECES, MIXED);

/** The edition at a place in the ten years. @param {number} at */
function editionAt(at) {
  const begun = Date.UTC(2016, 10, 1) + (at / EDITIONS) * YEARS * 365 * DAY_MS;
  const isFresh = at >= EDITIONS - OPEN_STILL;
  const { firings, pieces } = base.sheets;
  const fired = firings.rows.map((/** @type {any} */ row, /** @type {number} */ turn) => ({
    ...row,
    cells: { ...row.cells, date: day(begun + turn * DAY_MS), meter: 60 + ((turn + at) % 9) },
  }));
  const bare = pieces.rows.map((/** @type {any} */ row) => ({
    ...row,
    cells: { piece: row.cells.piece, tier: row.cells.tier },
  }));
  return writeDocument({
    ...base,
    meta: { ...base.meta, title: `Edition ${at}`, started: day(begun) },
    sheets: {
      ...base.sheets,
      firings: { ...firings, rows: isFresh ? [] : fired },
      pieces: { ...pieces, rows: isFresh ? bare : pieces.rows },
    },
  });
}

/** Edits a note once the engine has confirmed every number, so that they are stored with the edition. @param {import("playwright").Page} page */
async function editOnce(page) {
  await page.waitForFunction(
    () => !/Calculating|Checking/.test(document.querySelector(".top")?.textContent ?? "Checking"),
  );
  await toNote(page, "00001");
  await page.keyboard.type("seen");
  await page.keyboard.press("Enter");
  await untilSaved(page);
}

const app = await serve("dist");
const browser = await chromium.launch(launchOptions());
const note = (/** @type {string} */ what, /** @type {number} */ ms) => {
  console.log(`| ${what} | ${ms < 1000 ? `${ms.toFixed(0)} ms` : `${(ms / 1000).toFixed(1)} s`} |`);
};

const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: "en-GB" });
const page = await context.newPage();
page.setDefaultTimeout(300_000);
page.on("pageerror", (error) => console.log(`error on the page: ${error.message}`));
await page.addInitScript(() => {
  Reflect.deleteProperty(window, "showOpenFilePicker");
  Reflect.deleteProperty(window, "showSaveFilePicker");
});
const texts = Array.from({ length: EDITIONS }, (_, at) => /** @type {const} */ ([`e${at}`, editionAt(at)]));
const letters = texts.reduce((sum, [, text]) => sum + text.length, 0);
console.log(
  `${EDITIONS} editions of ${PIECES} pieces, ${(EDITIONS - OPEN_STILL) * base.sheets.firings.rows.length} firings, ${(letters / 1e6).toFixed(1)} MB`,
);
await keep(page, app.url, texts);

const start = performance.now();
await page.goto(app.url);
await page.waitForSelector(".grid-host tbody td", { state: "attached" });
note("the last one opened, to the first painted cell", performance.now() - start);
await calculated(page);
note("until every number is calculated", performance.now() - start);
await editOnce(page);
await openPage(page, app.url);
note(
  "the list of them",
  await timeOf(async () => {
    await page.getByRole("button", { name: "Editions…" }).click();
    await page
      .getByTestId("editions")
      .getByRole("listitem")
      .nth(EDITIONS - 1)
      .waitFor();
  }),
);
note(
  "another one, to the first painted cell",
  await timeOf(async () => {
    await page.getByRole("button", { name: "Open Edition e7", exact: true }).click();
    await page.waitForSelector(".grid-host tbody td", { state: "attached" });
    await untilSaved(page);
  }),
);
await calculated(page);
await editOnce(page);
const toPage = (/** @type {string} */ name) =>
  page
    .locator("nav.sheets button")
    .filter({ hasText: new RegExp(`^${name}$`) })
    .click();
await toPage("Plan");
note(
  "learned from all the others",
  await timeOf(async () => {
    await page
      .getByTestId("plan-seen")
      .getByRole("button", { name: /^Look at/ })
      .click();
    await page.getByTestId("plan-seen").getByRole("button", { name: "Look again" }).waitFor();
  }),
);
await page.getByRole("button", { name: "Editions…" }).click();
await page.getByRole("button", { name: "The whole studio in one file…" }).click();
const path = join(tmpdir(), `bench-${process.pid}.studio.zip`);
note(
  "the whole studio into one file",
  await timeOf(async () => {
    const saving = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save it…" }).click();
    await (await saving).saveAs(path);
  }),
);
console.log(`  ${((await stat(path)).size / 1e6).toFixed(1)} MB`);

const empty = await (await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: "en-GB" })).newPage();
empty.setDefaultTimeout(300_000);
await empty.addInitScript(() => Reflect.deleteProperty(window, "showOpenFilePicker"));
await openPage(empty, app.url);
await empty.getByRole("button", { name: "Editions…" }).click();
await empty.getByRole("button", { name: "The whole studio in one file…" }).click();
note(
  "read in an empty browser and held against what is there",
  await timeOf(async () => {
    const choosing = empty.waitForEvent("filechooser");
    await empty.getByRole("button", { name: "Bring back from a file…" }).click();
    await (await choosing).setFiles(path);
    await empty.getByTestId("studio-preview").waitFor();
  }),
);
note(
  "all of it brought back",
  await timeOf(async () => {
    await empty.getByRole("button", { name: `Do this for ${EDITIONS} editions` }).click();
    await empty.getByTestId("studio-restored").waitFor();
  }),
);
console.log(`  ${(await empty.getByTestId("studio-restored").textContent())?.slice(0, 80)}…`);
await page.keyboard.press("Escape");
// Each was opened once, so that it has values: all but the freshest are alike, and those are.
const [ids, fresh] = [texts.map(([id]) => id), EDITIONS - OPEN_STILL];
await giveValues(page, "e7", ids.slice(0, fresh));
await giveValues(page, `e${EDITIONS - 1}`, ids.slice(fresh));
await toPage("Side by side");
note(
  "side by side with all the others",
  await timeOf(() =>
    page
      .getByTestId("sides-read")
      .getByText(/other editions read/)
      .waitFor(),
  ),
);
await toPage("Ready when");
await page.getByTestId("calendar").waitFor();
const laid = await timeOf(async () => {
  await page
    .getByTestId("calendar")
    .getByLabel(/all editions kept here/)
    .check();
  await page.getByTestId("editions-order").waitFor({ timeout: CALENDAR_MS });
}).catch(() => undefined);
if (laid === undefined) {
  const at = await page.getByTestId("calendar").textContent();
  console.log(`| one calendar of all of them | not within ${CALENDAR_MS / 1000} s: ${at} |`);
} else note("one calendar of all of them", laid);
await browser.close();
app.server.close();
await vite.close();
