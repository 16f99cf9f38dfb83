// What can be said of a page without working it: what it fetched, what it keeps in memory, what axe finds.
import { gzipSync } from "node:zlib";
import axe from "axe-core";

/** @typedef {import("playwright").Page} Page */

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/** Bytes that a first visit fetches, each answer gzipped on its own, and workers' too. @param {import("playwright").BrowserContext} context @param {() => Promise<unknown>} visit */
export async function bytesOf(context, visit) {
  /** @type {import("playwright").Response[]} */
  const responses = [];
  const note = (/** @type {import("playwright").Response} */ response) => {
    // What the service worker fetches for later is not waited for.
    if (response.request().serviceWorker() === null) responses.push(response);
  };
  context.on("response", note);
  await visit();
  context.off("response", note);
  const sizes = await Promise.all(
    responses.map(async (response) => gzipSync(await response.body(), { level: 9 }).length),
  );
  return sizes.reduce((sum, bytes) => sum + bytes, 0);
}

/** Bytes on the page's own heap; what its workers keep is not in it. @param {Page} page */
export async function heapOf(page) {
  const session = await page.context().newCDPSession(page);
  await session.send("HeapProfiler.enable");
  await session.send("HeapProfiler.collectGarbage");
  const { usedSize } = await session.send("Runtime.getHeapUsage");
  await session.detach();
  return usedSize;
}

/** The rules that axe finds broken. @param {Page} page @returns {Promise<readonly string[]>} */
export async function brokenRules(page) {
  await page.evaluate(axe.source);
  return page.evaluate(async (values) => {
    const { axe: asked } = /** @type {Window & { axe: typeof import("axe-core") }} */ (/** @type {unknown} */ (window));
    const { violations } = await asked.run({ runOnly: { type: "tag", values }, resultTypes: ["violations"] });
    return violations.map(({ id }) => id);
  }, TAGS);
}
