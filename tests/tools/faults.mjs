// Faults in a real browser: pages and browsers killed in the middle of a save, two tabs, a full disk, a damaged record.
// Each counts the edits that the page had said were saved, and how many of them are gone afterwards.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright";
import { launchOptions } from "./find-browser.mjs";

/** @typedef {import("playwright").Page} Page */
/** @typedef {import("playwright").BrowserContext} BrowserContext */
/** @typedef {{ made: number, acknowledged: number, lost: number, kept: number }} Count */

/** Numbers from 0 to below 1, the same for the same seed (mulberry32). @param {number} seed */
export function randomFrom(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** @returns {Count} */
export function noCount() {
  return { made: 0, acknowledged: 0, lost: 0, kept: 0 };
}

/** @param {number} ms */
const wait = (ms) => new Promise((done) => setTimeout(done, ms));

/** Opens the page and waits until the edition can be written in. @param {Page} page @param {string} url */
export async function openPage(page, url) {
  await page.goto(url);
  await page
    .getByTestId("save-state")
    .filter({ hasText: /^(Saved|Follows)/ })
    .waitFor({ timeout: 60_000 });
  await page.locator(".grid-host td").first().waitFor({ state: "attached", timeout: 60_000 });
}

/** Puts the keyboard on the note of a piece. @param {Page} page @param {string} piece */
async function toNote(page, piece) {
  for (let attempt = 0; attempt < 20; attempt += 1) {
    await page.keyboard.press("Alt+2");
    await page.keyboard.press("Control+a");
    await page.keyboard.type(piece);
    await page.keyboard.press("Enter");
    await wait(150);
    await page.keyboard.press("End");
    await wait(150);
    if ((await page.locator("#card h2").first().textContent()) === `Pieces ${piece}, note`) return;
  }
  throw new Error(`the note of ${piece} was not reached`);
}

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

/**
 * Hears from the page which edits it says are saved: those that had been made when the save state last turned to “Saved”.
 * @param {Page} page @param {(edits: number) => void} onSaved
 */
async function watchSaved(page, onSaved) {
  await page.exposeFunction("tellSaved", onSaved).catch(() => undefined);
  await page.evaluate(async () => {
    const request = indexedDB.open("saggar");
    const database = await new Promise((done) => {
      request.onsuccess = () => done(request.result);
    });
    const asked = database.transaction("preferences").objectStore("preferences").get("lastEdition");
    const id = await new Promise((done) => {
      asked.onsuccess = () => done(asked.result);
    });
    database.close();
    let made = 0;
    // The page tells other tabs of each edit right after it was made; this is one more that listens.
    const channel = new BroadcastChannel(`saggar ${id}`);
    channel.onmessage = ({ data }) => {
      if (data.say === "edit") made = data.stamp.edits;
      if (data.say === "kept" && data.stamp) Reflect.get(window, "tellSaved")(data.stamp.edits);
    };
    const state = document.querySelector('[data-testid="save-state"]');
    const look = () => state?.textContent?.startsWith("Saved") && made > 0 && Reflect.get(window, "tellSaved")(made);
    if (state) new MutationObserver(look).observe(state, { childList: true, characterData: true, subtree: true });
  });
}

/** The notes of the edition that was open last, as the database has them. @param {Page} page @returns {Promise<readonly string[]>} */
export async function storedNotes(page) {
  return page.evaluate(async () => {
    const request = indexedDB.open("saggar");
    const database = await new Promise((done) => {
      request.onsuccess = () => done(request.result);
    });
    /** @param {string} store @param {string} key */
    const get = (store, key) =>
      new Promise((done) => {
        const asked = database.transaction(store).objectStore(store).get(key);
        asked.onsuccess = () => done(asked.result);
      });
    const record = await get("documents", await get("preferences", "lastEdition"));
    database.close();
    return JSON.parse(record.text).sheets.pieces.rows.map((/** @type {any} */ row) => row.cells.note ?? "");
  });
}

/** Waits until nothing is left to save. @param {Page} page */
export async function untilSaved(page) {
  await page
    .getByTestId("save-state")
    .filter({ hasText: /^Saved/ })
    .waitFor({ timeout: 60_000 });
  await wait(50);
}

/** Counts what of a run of notes is there. @param {readonly string[]} notes @param {string} mark @param {number} made @param {number} acknowledged @param {Count} count */
function countNotes(notes, mark, made, acknowledged, count) {
  count.made += made;
  count.acknowledged += acknowledged;
  for (let at = 1; at <= made; at += 1) {
    const isThere = notes[at - 1] === `${mark}-${at}`;
    if (isThere) count.kept += 1;
    else if (at <= acknowledged) count.lost += 1;
  }
}

/** Kills the page at a random moment while notes are typed and saved. @param {BrowserContext} context @param {string} url @param {number} times @param {number} seed @returns {Promise<Count>} */
export async function killPages(context, url, times, seed) {
  const random = randomFrom(seed);
  const count = noCount();
  for (let turn = 1; turn <= times; turn += 1) {
    const page = await context.newPage();
    await openPage(page, url);
    let acknowledged = 0;
    await watchSaved(page, (edits) => {
      acknowledged = Math.max(acknowledged, edits);
    });
    await toNote(page, "001");
    const state = { stop: false, made: 0 };
    const typing = typeNotes(page, `k${turn}`, state, random);
    await wait(300 + random() * 1500);
    const client = await context.newCDPSession(page);
    // The renderer ends at once, in whatever it is doing; no handler of the page runs.
    await Promise.race([client.send("Page.crash").catch(() => undefined), wait(500)]);
    state.stop = true;
    await Promise.race([typing, wait(1000)]);
    const made = state.made;
    const sure = acknowledged;
    await page.close().catch(() => undefined);
    const after = await context.newPage();
    await openPage(after, url);
    await untilSaved(after);
    countNotes(await storedNotes(after), `k${turn}`, made, sure, count);
    await after.close();
  }
  return count;
}

/** A free port. @returns {Promise<number>} */
function freePort() {
  return new Promise((done) => {
    const server = createServer();
    server.listen(0, "127.0.0.1", () => {
      const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
      server.close(() => done(port));
    });
  });
}

/** Starts a browser of its own over a folder that outlives it. @param {string} folder */
async function startBrowser(folder) {
  const { executablePath, args = [] } = launchOptions();
  const port = await freePort();
  const child = spawn(
    executablePath ?? chromium.executablePath(),
    [...args, "--headless", `--remote-debugging-port=${port}`, `--user-data-dir=${folder}`, "about:blank"],
    { stdio: "ignore" },
  );
  for (let attempt = 0; ; attempt += 1) {
    try {
      const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
      return { child, browser };
    } catch (error) {
      if (attempt > 100) throw error;
      await wait(200);
    }
  }
}

/** Kills the whole browser at a random moment while notes are typed and saved. @param {string} url @param {number} times @param {number} seed @returns {Promise<Count>} */
export async function killBrowsers(url, times, seed) {
  const random = randomFrom(seed);
  const count = noCount();
  const folder = mkdtempSync(join(tmpdir(), "saggar-"));
  /** @type {{ mark: string, made: number, acknowledged: number } | undefined} */
  let before;
  for (let turn = 1; turn <= times + 1; turn += 1) {
    const { child, browser } = await startBrowser(folder);
    const context = browser.contexts()[0] ?? (await browser.newContext());
    const page = await context.newPage();
    await openPage(page, url);
    if (before) {
      await untilSaved(page);
      countNotes(await storedNotes(page), before.mark, before.made, before.acknowledged, count);
    }
    let acknowledged = 0;
    if (turn <= times) {
      await watchSaved(page, (edits) => {
        acknowledged = Math.max(acknowledged, edits);
      });
      await toNote(page, "001");
      const state = { stop: false, made: 0 };
      const typing = typeNotes(page, `b${turn}`, state, random);
      await wait(300 + random() * 1500);
      child.kill("SIGKILL");
      state.stop = true;
      before = { mark: `b${turn}`, made: state.made, acknowledged };
      await Promise.race([typing, wait(1000)]);
    } else child.kill("SIGKILL");
    await new Promise((done) =>
      child.exitCode === null && child.signalCode === null ? child.once("exit", done) : done(0),
    );
    await browser.close().catch(() => undefined);
  }
  rmSync(folder, { recursive: true, force: true });
  return count;
}

/** Two tabs take the edition from one another and write without waiting. @param {BrowserContext} context @param {string} url @param {number} rounds @returns {Promise<Count>} */
export async function twoTabs(context, url, rounds) {
  const [one, two] = [await context.newPage(), await context.newPage()];
  await openPage(one, url);
  await openPage(two, url);
  const count = noCount();
  for (let round = 0; round < rounds; round += 1) {
    const page = round % 2 === 0 ? one : two;
    await page.bringToFront();
    if (round > 0) {
      await page.getByRole("button", { name: "Write here" }).click();
      await page.getByTestId("keeping-following").waitFor({ state: "detached" });
    }
    const piece = String(round + 1).padStart(3, "0");
    await toNote(page, piece);
    await page.keyboard.type(`t-${round + 1}`);
    await page.keyboard.press("Enter");
    count.made += 1;
  }
  const last = rounds % 2 === 1 ? one : two;
  await untilSaved(last);
  count.acknowledged = count.made;
  const notes = await storedNotes(last);
  for (let at = 1; at <= rounds; at += 1)
    if (notes[at - 1] === `t-${at}`) count.kept += 1;
    else count.lost += 1;
  await one.close();
  await two.close();
  return count;
}

/**
 * Writes while every write fails as on a full disk, until there is room again. Chromium can be given a small quota, but it
 * remembers for half a minute how much room there was; a really full one is in `tests/browser/storage.test.ts`.
 * @param {BrowserContext} context @param {string} url @returns {Promise<Count & { said: string }>}
 */
export async function fullDisk(context, url) {
  const page = await context.newPage();
  await page.addInitScript(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
      if (Reflect.get(window, "isDiskFull")) throw new DOMException("no room", "QuotaExceededError");
      return put.apply(this, given);
    };
  });
  await openPage(page, url);
  await toNote(page, "001");
  await page.evaluate(() => Reflect.set(window, "isDiskFull", true));
  const made = 5;
  for (let at = 1; at <= made; at += 1) {
    await page.keyboard.type(`q-${at}`);
    await page.keyboard.press("Enter");
  }
  await page.getByTestId("save-state").filter({ hasText: "Not saved" }).waitFor({ timeout: 60_000 });
  const said = (await page.getByTestId("keeping-unsaved").textContent()) ?? "";
  await page.evaluate(() => Reflect.set(window, "isDiskFull", false));
  await untilSaved(page);
  const count = noCount();
  countNotes(await storedNotes(page), "q", made, made, count);
  await page.close();
  return { ...count, said };
}
