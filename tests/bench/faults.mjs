// `npm run faults`: kills pages and browsers in the middle of saves and counts what was said to be saved and is gone.
// With numbers: pages, browsers, seed. It ends with 1 where anything was lost.
import process from "node:process";
import { chromium } from "playwright";
import { preview } from "vite";
import { fullDisk, killBrowsers, killPages, twoTabs } from "../tools/faults.mjs";
import { launchOptions } from "../tools/find-browser.mjs";

const [pages = 50, browsers = 10, seed = 20261125] = process.argv.slice(2).map(Number);
const server = await preview({ preview: { port: 0 }, logLevel: "error" });
const url = server.resolvedUrls?.local[0] ?? "";
const browser = await chromium.launch(launchOptions());

/** @param {string} what @param {() => Promise<import("../tools/faults.mjs").Count>} work */
async function row(what, work) {
  const { made, acknowledged, kept, lost } = await work();
  console.log(`| ${what} | ${made} | ${acknowledged} | ${kept} | ${lost} |`);
  return lost;
}

/** @param {(context: import("playwright").BrowserContext) => Promise<import("../tools/faults.mjs").Count>} work */
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

console.log(
  "| fault | edits made | said to be saved | there afterwards | lost of those saved |\n| --- | --- | --- | --- | --- |",
);
let lost = await row(`page killed, ${pages} times (seed ${seed})`, () =>
  inContext((context) => killPages(context, url, pages, seed)),
);
lost += await row(`browser killed, ${browsers} times`, () => killBrowsers(url, browsers, seed));
lost += await row("two tabs, 20 hand-overs", () => inContext((context) => twoTabs(context, url, 20)));
lost += await row("disk full, then room again", () => inContext((context) => fullDisk(context, url)));
await browser.close();
await server.close();
process.exitCode = lost > 0 ? 1 : 0;
