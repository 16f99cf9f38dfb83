// How the built page bears weight: 30,000 pieces with 3,000 firings and 20,000 entries in the run log, a hundred editions, two
// thousand steps to undo. `npm run bench:weight`, or with numbers of pieces. Nothing here asserts a time.
import { performance } from "node:perf_hooks";
import process from "node:process";
import { chromium } from "playwright";
import { createServer } from "vite";
import { openPage, toNote, untilSaved } from "../tools/faults/page.mjs";
import { launchOptions } from "../tools/find-browser.mjs";
import { calculated, keep, timeOf } from "./kept.mjs";
import { serve } from "./serve.mjs";

const LOG = 20_000;
const EDITIONS = 100;
const UNDO = 2000;
const sizes = process.argv.slice(2).map(Number).filter(Boolean);
const counts = sizes.length > 0 ? sizes : [10_000, 30_000];

const vite = await createServer({ configFile: false, logLevel: "error", server: { middlewareMode: true, ws: false } });
const { MIXED, runEdition } = await vite.ssrLoadModule("/tests/bench/edition.ts");
const { writeDocument } = await vite.ssrLoadModule("/src/core/document/write-document.ts");

/** An edition of so many pieces that was recorded in 20,000 entries. @param {number} count */
function heavy(count) {
  const book = runEdition(count, MIXED);
  const log = Array.from({ length: LOG }, (_, at) => {
    const row = `p${(at % count) + 1}`;
    const minute = new Date(Date.UTC(2026, 0, 1, 8, at)).toISOString().slice(0, 16);
    const writes = [{ sheet: "pieces", row, column: "fettle.minutes", is: 5 + (at % 7) }];
    return { id: `l${at}`, at: minute, act: "done", label: `Fettle: ${row}, ${at}`, pieces: [row], writes };
  });
  return writeDocument({ ...book, lists: { ...book.lists, log } });
}

const app = await serve("dist");
const browser = await chromium.launch(launchOptions());
const note = (/** @type {string} */ what, /** @type {number} */ ms) => {
  console.log(`| ${what} | ${ms < 1000 ? `${ms.toFixed(0)} ms` : `${(ms / 1000).toFixed(1)} s`} |`);
};

for (const count of counts) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: "en-GB" });
  const page = await context.newPage();
  page.setDefaultTimeout(400_000);
  page.on("pageerror", (error) => console.log(`error on the page: ${error.message}`));
  await keep(page, app.url, [["heavy", heavy(count)]]);
  const start = performance.now();
  await page.goto(app.url);
  await page.waitForSelector(".grid-host tbody td", { state: "attached" });
  note(`${count} pieces: opened for the first time, to the first painted cell`, performance.now() - start);
  await calculated(page);
  note(`${count} pieces: until every number is calculated`, performance.now() - start);
  await untilSaved(page);
  const piece = String(count - 7).padStart(5, "0");
  note(`${count} pieces: go to a piece by its number, with the keyboard`, await timeOf(() => toNote(page, piece)));
  await page.keyboard.type("heavy");
  note(
    `${count} pieces: an edit, until it is said to be saved`,
    await timeOf(async () => {
      await page.keyboard.press("Enter");
      await page
        .getByTestId("save-state")
        .filter({ hasNotText: /^Saved/ })
        .waitFor();
      await untilSaved(page);
    }),
  );
  note(
    `${count} pieces: open again, to the first painted cell`,
    await timeOf(async () => {
      await page.reload({ waitUntil: "commit" });
      await page.waitForSelector(".grid-host tbody td", { state: "attached" });
    }),
  );
  await calculated(page);
  note(
    `${LOG} log entries: the run log opened`,
    await timeOf(async () => {
      await page.getByRole("button", { name: /^Run log/ }).click();
      await page.getByTestId("log").locator("li").first().waitFor();
    }),
  );
  const pieces = page.getByTestId("log").getByLabel("Pieces");
  note(
    `${LOG} log entries: those of one piece`,
    await timeOf(async () => {
      await pieces.fill(piece);
      await page
        .getByTestId("log")
        .getByText(`of ${LOG} entries`)
        .filter({ hasNotText: `${LOG} of` })
        .waitFor();
    }),
  );
  await context.close();
}

const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: "en-GB" });
const page = await context.newPage();
page.setDefaultTimeout(120_000);
const text = writeDocument(runEdition(200, MIXED));
await keep(
  page,
  app.url,
  Array.from({ length: EDITIONS }, (_, at) => /** @type {const} */ ([`e${at}`, text])),
);
note(
  `${EDITIONS} editions of 200 pieces: the last one opened`,
  await timeOf(async () => {
    await page.goto(app.url);
    await page.waitForSelector(".grid-host tbody td", { state: "attached" });
  }),
);
await openPage(page, app.url);
note(
  `${EDITIONS} editions: the list of them`,
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
  `${EDITIONS} editions: another one, to the first painted cell`,
  await timeOf(async () => {
    await page.getByRole("button", { name: "Open Edition e7", exact: true }).click();
    await page.waitForSelector(".grid-host tbody td", { state: "attached" });
    await untilSaved(page);
  }),
);
await calculated(page);
await toNote(page, "00001");
/** @type {number[]} */
const batches = [];
for (let made = 0; made < UNDO; made += 200)
  batches.push(
    await timeOf(async () => {
      for (let at = 0; at < 200; at += 1) {
        await page.keyboard.type(String((made + at) % 10));
        await page.keyboard.press(at % 2 === 0 ? "Enter" : "ArrowUp");
      }
    }),
  );
note(`${UNDO} edits typed: each of the first 200`, (batches[0] ?? 0) / 200);
note(`${UNDO} edits typed: each of the last 200`, (batches.at(-1) ?? 0) / 200);
await untilSaved(page);
batches.length = 0;
const undo = page.getByRole("button", { name: "Undo", exact: true });
for (let made = 0; made < UNDO; made += 200)
  batches.push(
    await timeOf(async () => {
      for (let at = 0; at < 200; at += 1) await page.keyboard.press("Control+z");
      await page.waitForFunction(() => new Promise((done) => requestAnimationFrame(() => done(true))));
    }),
  );
note(`${UNDO} steps undone: each of the first 200`, (batches[0] ?? 0) / 200);
note(`${UNDO} steps undone: each of the last 200`, (batches.at(-1) ?? 0) / 200);
console.log(`nothing is left to undo: ${await undo.isDisabled()}`);
await browser.close();
app.server.close();
await vite.close();
