// Storage that fails, and several tabs over it.
import { cellsOf, noCount, noteIn, openPage, stored, toNote, untilSaved, wait } from "./page.mjs";

/** @typedef {import("playwright").Page} Page */
/** @typedef {import("playwright").BrowserContext} BrowserContext */
/** @typedef {import("./page.mjs").Count} Count */

/** Lets the database and the small storage take nothing while `isDiskFull`, and fail in every way while `isBroken`. */
function limitDisk() {
  const check = () => {
    if (Reflect.get(window, "isDiskFull")) throw new DOMException("no room", "QuotaExceededError");
    if (Reflect.get(window, "isBroken")) throw new DOMException("broken", "UnknownError");
  };
  const { put, get } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.put = function (...given) {
    check();
    return put.apply(this, given);
  };
  IDBObjectStore.prototype.get = function (...given) {
    if (Reflect.get(window, "isBroken")) check();
    return get.apply(this, given);
  };
  const { setItem } = Storage.prototype;
  Storage.prototype.setItem = function (...given) {
    check();
    return setItem.apply(this, given);
  };
}

/** @param {Page} page @param {"isDiskFull" | "isBroken"} what @param {boolean} is */
const set = (page, what, is) =>
  page.evaluate(([name, value]) => Reflect.set(window, name, value), /** @type {const} */ ([what, is]));

/** Types a note at a piece. @param {Page} page @param {number} piece @param {string} text */
async function typeAt(page, piece, text) {
  await toNote(page, String(piece).padStart(3, "0"));
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
}

/** Counts notes that were said to be saved. @param {Page} page @param {readonly string[]} texts the notes from the first piece on @returns {Promise<Count>} */
async function countNotes(page, texts) {
  await untilSaved(page);
  const { text, damaged } = await stored(page);
  const cells = cellsOf(text);
  const kept = texts.filter((note, at) => noteIn(cells, at + 1) === note).length;
  return { made: texts.length, acknowledged: texts.length, kept, lost: texts.length - kept + damaged };
}

/** @param {Page} page */
async function takeOver(page) {
  await page.bringToFront();
  await page.getByRole("button", { name: "Write here" }).click();
  await page.getByTestId("keeping-following").waitFor({ state: "detached" });
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
  const cells = cellsOf((await stored(last)).text);
  for (let at = 1; at <= rounds; at += 1)
    if (noteIn(cells, at) === `t-${at}`) count.kept += 1;
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
  await page.addInitScript(limitDisk);
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
  const cells = cellsOf((await stored(page)).text);
  const kept = Array.from({ length: made }, (_, at) => noteIn(cells, at + 1)).filter(
    (note, at) => note === `q-${at + 1}`,
  );
  await page.close();
  return { made, acknowledged: made, kept: kept.length, lost: made - kept.length, said };
}

/** Three tabs take the edition from one another in turn. @param {BrowserContext} context @param {string} url @param {number} rounds @returns {Promise<Count>} */
export async function threeTabs(context, url, rounds) {
  const tabs = [await context.newPage(), await context.newPage(), await context.newPage()];
  for (const tab of tabs) await openPage(tab, url);
  const texts = [];
  for (let round = 0; round < rounds; round += 1) {
    const page = /** @type {Page} */ (tabs[round % 3]);
    if (round > 0) await takeOver(page);
    texts.push(`h-${round + 1}`);
    await typeAt(page, round + 1, `h-${round + 1}`);
  }
  const count = await countNotes(/** @type {Page} */ (tabs[(rounds - 1) % 3]), texts);
  for (const tab of tabs) await tab.close();
  return count;
}

/** The disk is full in the middle of a take-over, with edits that nothing has stored. @param {BrowserContext} context @param {string} url @param {number} rounds @returns {Promise<Count>} */
export async function fullTakeOver(context, url, rounds) {
  await context.addInitScript(limitDisk);
  const tabs = [await context.newPage(), await context.newPage()];
  for (const tab of tabs) await openPage(tab, url);
  const texts = [];
  for (let round = 0; round < rounds; round += 1) {
    const [from, to] = round % 2 === 0 ? tabs : [...tabs].reverse();
    if (!from || !to) throw new Error("there are two tabs");
    await from.bringToFront();
    for (const tab of tabs) await set(tab, "isDiskFull", true);
    texts.push(`f-${round + 1}`);
    await typeAt(from, round + 1, `f-${round + 1}`);
    await from.getByTestId("save-state").filter({ hasText: "Not saved" }).waitFor({ timeout: 60_000 });
    await takeOver(to);
    await wait(500);
    for (const tab of tabs) await set(tab, "isDiskFull", false);
    await untilSaved(to);
  }
  const count = await countNotes(/** @type {Page} */ (tabs[rounds % 2]), texts);
  for (const tab of tabs) await tab.close();
  return count;
}

/** The clock is a day ahead, then a month back, then right, with edits in each; each has a browser page of its own. @param {BrowserContext} context @param {string} url @returns {Promise<Count>} */
export async function wrongClock(context, url) {
  const texts = [];
  /** @type {Page | undefined} */
  let page;
  for (const days of [0, 1, -30, 0, 400, 0]) {
    await page?.close();
    page = await context.newPage();
    await page.addInitScript((off) => {
      const real = Date;
      const now = () => real.now() + off * 86_400_000;
      globalThis.Date = /** @type {any} */ (
        new Proxy(real, {
          construct: (target, given) => Reflect.construct(target, given.length === 0 ? [now()] : given),
          get: (target, name) => (name === "now" ? now : Reflect.get(target, name)),
        })
      );
    }, days);
    await openPage(page, url);
    for (let at = 0; at < 3; at += 1) {
      texts.push(`c${days}-${texts.length + 1}`);
      await typeAt(page, texts.length, texts.at(-1) ?? "");
      await untilSaved(page);
    }
  }
  if (!page) throw new Error("no page was opened");
  const count = await countNotes(page, texts);
  await page.close();
  return count;
}

/** The database is deleted while the page is open and nothing is typed. @param {BrowserContext} context @param {string} url @param {number} times @returns {Promise<Count>} */
export async function deletedStore(context, url, times) {
  const page = await context.newPage();
  await openPage(page, url);
  const texts = [];
  for (let turn = 1; turn <= times; turn += 1) {
    texts.push(`d-${turn}`);
    await typeAt(page, turn, `d-${turn}`);
    await untilSaved(page);
    await page.evaluate(
      () =>
        new Promise((done) => {
          indexedDB.deleteDatabase("saggar").onsuccess = () => done(undefined);
        }),
    );
    await wait(1500);
  }
  const count = await countNotes(page, texts);
  await page.close();
  return count;
}

/** Every call of the store throws for a while. @param {BrowserContext} context @param {string} url @param {number} times @returns {Promise<Count>} */
export async function brokenStore(context, url, times) {
  const page = await context.newPage();
  await page.addInitScript(limitDisk);
  await openPage(page, url);
  const texts = [];
  for (let turn = 1; turn <= times; turn += 1) {
    await set(page, "isBroken", true);
    texts.push(`s-${turn}`);
    await typeAt(page, turn, `s-${turn}`);
    await page.getByTestId("save-state").filter({ hasText: "Not saved" }).waitFor({ timeout: 60_000 });
    await set(page, "isBroken", false);
    await untilSaved(page);
  }
  const count = await countNotes(page, texts);
  await page.close();
  return count;
}
