// Faults while the program itself or what it keeps changes: an update fetched, an old edition brought up to date, two versions
// of the program on one store.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { askForUpdate, buildNewerFormat, copyOfBuild, host, installed, isNewer, renew } from "../host.mjs";
import { killGroup, startBrowser, untilEnded } from "./browser.mjs";
import { cellsOf, noCount, noteIn, openPage, randomFrom, stored, toNote, untilSaved, wait, watch } from "./page.mjs";

/** @typedef {import("playwright").Browser} Browser */
/** @typedef {import("playwright").Page} Page */
/** @typedef {import("./page.mjs").Count} Count */

/** What is done with a page of a browser that is then killed; the next turn is given what it returns. @typedef {(page: Page, turn: number) => Promise<void>} Turn */

/** Starts a browser over one folder again and again, each time with one more page, and kills it when its turn is over. @param {number} turns @param {Turn} work */
async function againAndAgain(turns, work) {
  const folder = mkdtempSync(join(tmpdir(), "saggar-"));
  for (let turn = 1; turn <= turns; turn += 1) {
    const { child, browser } = await startBrowser(folder);
    const context = browser.contexts()[0] ?? (await browser.newContext());
    try {
      await work(await context.newPage(), turn);
    } finally {
      killGroup(child);
      await untilEnded(child);
      await browser.close().catch(() => undefined);
    }
  }
  rmSync(folder, { recursive: true, force: true });
}

/** Types three notes from a piece on. @param {Page} page @param {string} piece @param {string} mark */
async function typeThree(page, piece, mark) {
  await toNote(page, piece);
  for (let at = 1; at <= 3; at += 1) {
    await page.keyboard.type(`${mark}-${at}`);
    await page.keyboard.press("Enter");
  }
}

/**
 * Kills the browser while a newer version is fetched, or taken into use. Then the host is gone: the page has to open from what
 * was kept. @param {number} times @param {number} seed @returns {Promise<Count>}
 */
export async function killAmidUpdate(times, seed) {
  const random = randomFrom(seed);
  const count = noCount();
  const here = await host();
  const newer = copyOfBuild();
  renew(newer);
  /** @type {import("./page.mjs").Heard | undefined} */
  let before;
  await againAndAgain(times + 1, async (page, turn) => {
    here.isMissing = () => turn > 1;
    await openPage(page, here.url);
    await untilSaved(page);
    before?.countIn(cellsOf((await stored(page)).text), count);
    if (turn > times) return;
    await installed(page);
    before = await watch(page);
    here.isMissing = () => false;
    here.serve((await isNewer(page)) ? undefined : newer);
    // A slow network: the files come one by one over a second.
    here.wait = () => wait(random() * 1000);
    const asked = askForUpdate(page).catch(() => undefined);
    await typeThree(page, "001", `w${turn}`);
    if (turn % 2 === 0) {
      await asked;
      await untilSaved(page);
      await page.getByRole("button", { name: "Use it now" }).click({ timeout: 30_000 });
    }
    await wait(random() * 1200);
  });
  await here.stop();
  rmSync(newer, { recursive: true, force: true });
  return count;
}

const OLD = new URL("../../fixtures/old-editions/7d19233.edition.json.gz", import.meta.url);

/** Kills the browser while an edition and a database of an earlier program are opened, and while they are saved for the first time. @param {string} url @param {number} times @param {number} seed @returns {Promise<Count>} */
export async function killAmidMigration(url, times, seed) {
  const random = randomFrom(seed);
  const count = noCount();
  const text = gunzipSync(readFileSync(OLD)).toString();
  const entered = Object.entries(cellsOf(text)).filter(([cell]) => cell.startsWith("pieces "));
  const piece = String(entered.find(([cell]) => cell.endsWith(" piece"))?.[1]);
  for (let time = 1; time <= times; time += 1) {
    /** @type {import("./page.mjs").Heard | undefined} */
    let heard;
    await againAndAgain(4, async (page, turn) => {
      if (turn === 1) return putOld(page, url, text);
      if (turn === 2) {
        void page.goto(url).catch(() => undefined);
        return wait(random() * 1500);
      }
      await openPage(page, url);
      if (turn === 3) {
        heard = await watch(page);
        await typeThree(page, piece, `m${time}`);
        return wait(random() * 600);
      }
      await untilSaved(page);
      heard?.countIn(cellsOf((await stored(page)).text), count);
      await typeThree(page, piece, "at the end");
      await untilSaved(page);
      const after = cellsOf((await stored(page)).text);
      const gone = entered.filter(([cell, is]) => JSON.stringify(after[cell]) !== JSON.stringify(is));
      count.lost += gone.filter(([cell]) => !cell.endsWith(" note")).length;
    });
  }
  return count;
}

/** Puts an edition where an earlier program kept it: database 2, no checksum, no format. @param {Page} page @param {string} url @param {string} text */
async function putOld(page, url, text) {
  // A file of the program's address that runs nothing of it.
  await page.goto(`${url}icon.svg`);
  await page.evaluate(async (document) => {
    /** @param {IDBRequest} asked @returns {Promise<any>} */
    const answer = (asked) =>
      new Promise((done) => {
        asked.onsuccess = () => done(asked.result);
      });
    await answer(indexedDB.deleteDatabase("saggar"));
    const request = indexedDB.open("saggar", 2);
    request.onupgradeneeded = () => {
      for (const name of ["summaries", "documents", "preferences", "notes", "copies"])
        request.result.createObjectStore(name);
    };
    const database = await answer(request);
    const writing = database.transaction(["summaries", "documents", "preferences"], "readwrite", {
      durability: "strict",
    });
    const summary = { title: "Old", updatedAt: "2026-09-01T08:00:00.000Z", revision: 1, pieces: 8 };
    writing.objectStore("summaries").put(summary, "old");
    writing.objectStore("documents").put({ text: document, revision: 1 }, "old");
    writing.objectStore("preferences").put("old", "lastEdition");
    await new Promise((done) => {
      writing.oncomplete = done;
    });
    database.close();
  }, text);
}

/**
 * A tab of a newer version, with a newer format, takes an edition from one of an older version right after an edit; then the
 * older program is opened once more. @param {Browser} browser @param {number} rounds @returns {Promise<Count>}
 */
export async function twoVersions(browser, rounds) {
  const count = noCount();
  const newer = await buildNewerFormat();
  const here = await host();
  for (let round = 1; round <= rounds; round += 1) {
    const context = await browser.newContext({ locale: "en-GB", serviceWorkers: "block" });
    here.serve(undefined);
    const old = await context.newPage();
    await openPage(old, here.url);
    // What keeping needs is fetched with the first edit; the host has it no more once it is renewed.
    await toNote(old, "004");
    await old.keyboard.type("first");
    await old.keyboard.press("Enter");
    await untilSaved(old);
    await old.waitForLoadState("networkidle");
    here.serve(newer);
    const other = await context.newPage();
    await openPage(other, here.url);
    await old.bringToFront();
    await toNote(old, "001");
    await old.keyboard.type("by the older one");
    await old.keyboard.press("Enter");
    await other.bringToFront();
    await other.getByRole("button", { name: "Write here" }).click();
    await other.getByTestId("keeping-following").waitFor({ state: "detached" });
    await toNote(other, "002");
    await other.keyboard.type("by the newer one");
    await other.keyboard.press("Enter");
    await untilSaved(other);
    await old.getByTestId("keeping-newer").waitFor();
    // What is typed into the old tab now has to be refused.
    await toNote(old, "003");
    await old.keyboard.type("too late");
    await old.keyboard.press("Enter");
    here.serve(undefined);
    const again = await context.newPage();
    await again.goto(here.url);
    await again.getByRole("alert").filter({ hasText: "written by a newer version of Saggar" }).waitFor();
    here.serve(newer);
    await other.reload();
    await openPage(other, here.url);
    const cells = cellsOf((await stored(other)).text);
    const notes = [1, 2, 3].map((piece) => noteIn(cells, piece));
    const wanted = ["by the older one", "by the newer one", undefined];
    count.made += 2;
    count.acknowledged += 2;
    count.kept += [0, 1].filter((at) => notes[at] === wanted[at]).length;
    count.lost += wanted.filter((note, at) => notes[at] !== note).length;
    await context.close();
  }
  await here.stop();
  rmSync(newer, { recursive: true, force: true });
  return count;
}
