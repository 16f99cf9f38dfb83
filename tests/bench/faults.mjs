// `npm run faults`: kills pages and browsers in the middle of their work, lets tabs hand over, sets the clock wrong, and takes
// the storage away; counts what was said to be saved and is gone. Ends with 1 where anything was lost.
// Words choose rows (`npm run faults -- clock "5,000"`), and a number says how often each fault happens.
import process from "node:process";
import { chromium } from "playwright";
import { preview } from "vite";
import {
  brokenStore,
  deletedStore,
  fullDisk,
  fullTakeOver,
  threeTabs,
  twoTabs,
  wrongClock,
} from "../tools/faults/store.mjs";
import { killBrowsers, killPages } from "../tools/faults/typing.mjs";
import { killAmidMigration, killAmidUpdate, twoVersions } from "../tools/faults/versions.mjs";
import { killAmid, WORK } from "../tools/faults/work.mjs";
import { launchOptions } from "../tools/find-browser.mjs";

const SEED = 20261125;
const given = process.argv.slice(2);
const wanted = given.filter((word) => Number.isNaN(Number(word)));
const often = given.map(Number).find((number) => !Number.isNaN(number));
const server = await preview({ preview: { port: 0 }, logLevel: "error" });
const url = server.resolvedUrls?.local[0] ?? "";
const browser = await chromium.launch(launchOptions());

/** @typedef {import("../tools/faults/page.mjs").Count} Count */
/** @typedef {import("playwright").BrowserContext} BrowserContext */

/** @param {(context: BrowserContext) => Promise<Count>} work */
async function inContext(work) {
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    locale: "en-GB",
    serviceWorkers: "block",
  });
  try {
    return await work(context);
  } finally {
    await context.close();
  }
}

/** Each row: what happens, how often, and who does it. @type {readonly [what: string, times: number, work: (times: number) => Promise<Count>][]} */
const ROWS = [
  ["page killed while typing", 50, (times) => inContext((context) => killPages(context, url, times, SEED))],
  ["browser killed while typing", 10, (times) => killBrowsers(url, times, SEED)],
  ...Object.keys(WORK).map(
    (name) =>
      /** @type {(typeof ROWS)[number]} */ ([
        `browser killed amid ${name}`,
        5,
        (times) => killAmid(name, url, times, SEED),
      ]),
  ),
  ["browser killed amid an update of the program", 6, (times) => killAmidUpdate(times, SEED)],
  ["browser killed amid an old edition's first opening and saving", 5, (times) => killAmidMigration(url, times, SEED)],
  ["two versions of the program on one store", 4, (times) => twoVersions(browser, times)],
  ["two tabs hand over", 20, (times) => inContext((context) => twoTabs(context, url, times))],
  ["three tabs hand over", 12, (times) => inContext((context) => threeTabs(context, url, times))],
  ["disk full, then room again", 1, () => inContext((context) => fullDisk(context, url))],
  ["disk full amid a hand-over", 6, (times) => inContext((context) => fullTakeOver(context, url, times))],
  ["clock a day and a year ahead, a month back", 1, () => inContext((context) => wrongClock(context, url))],
  ["database deleted while open", 5, (times) => inContext((context) => deletedStore(context, url, times))],
  ["storage that throws", 5, (times) => inContext((context) => brokenStore(context, url, times))],
];

console.log(
  "| fault | times | edits made | said to be saved | there afterwards | lost of those saved |\n| --- | --- | --- | --- | --- | --- |",
);
let lost = 0;
for (const [what, usual, work] of ROWS) {
  if (wanted.length > 0 && !wanted.some((word) => what.includes(word))) continue;
  const times = usual === 1 ? 1 : (often ?? usual);
  try {
    const { made, acknowledged, kept, lost: gone } = await work(times);
    lost += gone;
    console.log(`| ${what} | ${times} | ${made} | ${acknowledged} | ${kept} | ${gone} |`);
  } catch (error) {
    // A row that can't be carried out is no proof of anything.
    lost += 1;
    console.log(`| ${what} | ${times} | not carried out: ${String(error).replaceAll("\n", " ")} | | | |`);
  }
}
await browser.close();
await server.close();
process.exitCode = lost > 0 ? 1 : 0;
