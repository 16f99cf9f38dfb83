// Pages and browsers killed while notes are typed and saved.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { killGroup, startBrowser, untilEnded } from "./browser.mjs";
import { cellsOf, noCount, openPage, randomFrom, stored, toNote, untilSaved, wait, watch } from "./page.mjs";

/** @typedef {import("playwright").Page} Page */
/** @typedef {import("playwright").BrowserContext} BrowserContext */
/** @typedef {import("./page.mjs").Count} Count */
/** @typedef {import("./page.mjs").Heard} Heard */

/** Types notes one beneath the other from the first piece on, until stopped. @param {Page} page @param {string} mark @param {{ stop: boolean, made: number }} state @param {() => number} random */
async function typeNotes(page, mark, state, random) {
  try {
    while (!state.stop && state.made < 130) {
      await page.keyboard.type(`${mark}-${state.made + 1}`);
      await page.keyboard.press("Enter");
      state.made += 1;
      await wait(10 + random() * 120);
    }
  } catch {
    // The page is gone, as it should be.
  }
}

/** Kills the page at a random moment while notes are typed and saved. @param {BrowserContext} context @param {string} url @param {number} times @param {number} seed @returns {Promise<Count>} */
export async function killPages(context, url, times, seed) {
  const random = randomFrom(seed);
  const count = noCount();
  for (let turn = 1; turn <= times; turn += 1) {
    const page = await context.newPage();
    await openPage(page, url);
    const heard = await watch(page);
    await toNote(page, "001");
    const state = { stop: false, made: 0 };
    const typing = typeNotes(page, `k${turn}`, state, random);
    await wait(300 + random() * 1500);
    const client = await context.newCDPSession(page);
    // The renderer ends at once, in whatever it is doing; no handler of the page runs.
    await Promise.race([client.send("Page.crash").catch(() => undefined), wait(500)]);
    state.stop = true;
    await Promise.race([typing, wait(1000)]);
    await page.close().catch(() => undefined);
    const after = await context.newPage();
    await openPage(after, url);
    await untilSaved(after);
    heard.countIn(cellsOf((await stored(after)).text), count);
    await after.close();
  }
  return count;
}

/** Kills the whole browser at a random moment while notes are typed and saved. @param {string} url @param {number} times @param {number} seed @returns {Promise<Count>} */
export async function killBrowsers(url, times, seed) {
  const random = randomFrom(seed);
  const count = noCount();
  const folder = mkdtempSync(join(tmpdir(), "saggar-"));
  /** @type {Heard | undefined} */
  let before;
  for (let turn = 1; turn <= times + 1; turn += 1) {
    const { child, browser } = await startBrowser(folder);
    const context = browser.contexts()[0] ?? (await browser.newContext());
    const page = await context.newPage();
    await openPage(page, url);
    if (before) {
      await untilSaved(page);
      before.countIn(cellsOf((await stored(page)).text), count);
    }
    if (turn <= times) {
      before = await watch(page);
      await toNote(page, "001");
      const state = { stop: false, made: 0 };
      const typing = typeNotes(page, `b${turn}`, state, random);
      await wait(300 + random() * 1500);
      killGroup(child);
      state.stop = true;
      await Promise.race([typing, wait(1000)]);
    } else killGroup(child);
    await untilEnded(child);
    await browser.close().catch(() => undefined);
  }
  rmSync(folder, { recursive: true, force: true });
  return count;
}
