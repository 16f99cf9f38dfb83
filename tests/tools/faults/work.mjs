// The whole browser killed in the middle of one large thing: a paste, an import, a copy put back, undo, editions switched or
// removed. Afterwards the edition is opened again by a browser over the same folder.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { killGroup, startBrowser, untilEnded } from "./browser.mjs";
import { cellsOf, noCount, openPage, randomFrom, stored, toNote, untilSaved, wait, watch } from "./page.mjs";

/** @typedef {import("playwright").Page} Page */
/** @typedef {import("./page.mjs").Count} Count */
/** @typedef {(page: Page, turn: number) => Promise<unknown>} Work */

/** As many pieces as a large edition has. */
const LARGE = 5000;

/** Presses a button of the page. @param {Page} page @param {string} name */
const press = (page, name) => page.getByRole("button", { name }).first().click();

/** Presses a button of the open dialog. @param {Page} page @param {string} name */
const pressIn = (page, name) => page.locator("dialog").getByRole("button", { name }).first().click();

/** Starts an edition of about 5,000 pieces. @param {Page} page */
async function startLarge(page) {
  await press(page, "Editions…");
  await pressIn(page, "Start an edition…");
  await page.locator('input[name="title"]').fill("Large");
  await page.locator('input[name="wanted"]').fill(String(LARGE * 0.8));
  await page.locator('dialog button[type="submit"]').click();
  await page.getByRole("heading", { level: 1, name: "Large" }).waitFor({ timeout: 60_000 });
  await untilSaved(page);
}

/** Pastes notes from the first piece on. @param {Page} page @param {string} mark @param {number} count */
async function pasteNotes(page, mark, count) {
  await toNote(page, "001");
  const text = Array.from({ length: count }, (_, at) => `${mark}-${at + 1}`).join("\n");
  await page.evaluate((copied) => navigator.clipboard.writeText(copied), text);
  await page.keyboard.press("Control+v");
}

/** Brings a table of notes in. @param {Page} page @param {number} turn */
async function importNotes(page, turn) {
  const lines = Array.from({ length: 120 }, (_, at) => `${String(at + 1).padStart(3, "0")},i${turn}-${at + 1}`);
  await press(page, "CSV…");
  const [chooser] = await Promise.all([page.waitForEvent("filechooser"), pressIn(page, "Choose a file…")]);
  const file = ["Piece,note", ...lines, ""].join("\r\n");
  await chooser.setFiles({ name: "notes.csv", mimeType: "text/csv", buffer: Buffer.from(file) });
  await pressIn(page, "Bring it in");
}

/** Keeps a copy, writes over it and puts it back. @param {Page} page @param {number} turn */
async function putCopyBack(page, turn) {
  await pasteNotes(page, `r${turn}`, 100);
  await untilSaved(page);
  await press(page, "Editions…");
  await page
    .getByRole("button", { name: /^Copies…/ })
    .first()
    .click();
  await page
    .getByRole("button", { name: /^Put it back/ })
    .first()
    .click();
}

/** @param {Page} page @param {number} turn */
async function undoAndRedo(page, turn) {
  await pasteNotes(page, `u${turn}`, LARGE);
  await untilSaved(page);
  for (let step = 0; step < 4; step += 1) await page.keyboard.press(step % 2 === 0 ? "Control+z" : "Control+y");
}

/** Goes over to another edition and back. @param {Page} page */
async function switchEditions(page) {
  await press(page, "Editions…");
  await pressIn(page, "A fresh demo edition");
  await untilSaved(page);
  await press(page, "Editions…");
  await page
    .getByRole("button", { name: /^Open Marram/ })
    .first()
    .click();
}

/** Removes the edition that was gone over to. @param {Page} page */
async function removeEditions(page) {
  await switchEditions(page);
  await untilSaved(page);
  await press(page, "Editions…");
  await page
    .getByRole("button", { name: /^Remove… / })
    .first()
    .click();
  await pressIn(page, "Remove it for good");
}

/** What is done, on which edition, and how long it takes at most until the browser is killed. @type {Readonly<Record<string, { work: Work, isLarge: boolean, withinMs: number }>>} */
export const WORK = {
  "a paste of 5,000 cells": {
    work: (page, turn) => pasteNotes(page, `p${turn}`, LARGE),
    isLarge: true,
    withinMs: 3000,
  },
  "undo and redo of 5,000 cells": { work: undoAndRedo, isLarge: true, withinMs: 6000 },
  "an import": { work: importNotes, isLarge: false, withinMs: 2500 },
  "a copy put back": { work: putCopyBack, isLarge: false, withinMs: 4000 },
  "editions switched": { work: switchEditions, isLarge: false, withinMs: 3000 },
  "an edition removed": { work: removeEditions, isLarge: false, withinMs: 3000 },
};

/** What the page shows of an edition: every key figure. @param {Page} page */
async function figuresOf(page) {
  await page.locator(".figures b").first().filter({ hasNotText: "…" }).waitFor({ timeout: 60_000 });
  await page.getByText(/^(Calculating|Checking)…/).waitFor({ state: "detached", timeout: 60_000 });
  return page.locator(".figures").textContent();
}

/**
 * Kills the browser so many times in the middle of `name`, each time after a few notes that were said to be saved. Copies
 * that can't be read, and figures that differ from those of the same text in a fresh edition, count as lost.
 * @param {keyof typeof WORK & string} name @param {string} url @param {number} times @param {number} seed @returns {Promise<Count>}
 */
export async function killAmid(name, url, times, seed) {
  const what = WORK[name];
  if (!what) throw new Error(`no such work: ${name}`);
  const random = randomFrom(seed);
  const count = noCount();
  const folder = mkdtempSync(join(tmpdir(), "saggar-"));
  /** @type {{ id: string, heard: import("./page.mjs").Heard } | undefined} */
  let before;
  for (let turn = 1; turn <= times + 1; turn += 1) {
    const { child, browser } = await startBrowser(folder);
    const context = browser.contexts()[0] ?? (await browser.newContext());
    await context.grantPermissions(["clipboard-read", "clipboard-write"]);
    const page = await context.newPage();
    await page.addInitScript(() => Reflect.deleteProperty(window, "showOpenFilePicker"));
    await openPage(page, url);
    await untilSaved(page);
    if (turn === 1 && what.isLarge) await startLarge(page);
    if (before) {
      const { text, damaged } = await stored(page, before.id);
      before.heard.countIn(cellsOf(text), count);
      count.lost += damaged;
    }
    if (turn <= times) {
      const { id } = await stored(page);
      const heard = await watch(page);
      before = { id, heard };
      await toNote(page, "130");
      for (let at = 0; at < 3; at += 1) {
        await page.keyboard.type(`n${turn}-${at}`);
        await page.keyboard.press("Enter");
      }
      await untilSaved(page);
      const working = what.work(page, turn).catch(() => undefined);
      // Every other time amid the work itself, otherwise amid what follows from it: calculating and saving.
      if (turn % 2 === 1) await Promise.race([working, wait(15_000)]);
      await wait(random() * what.withinMs);
      killGroup(child);
      await Promise.race([working, wait(1000)]);
    } else {
      const shown = await figuresOf(page);
      const { text } = await stored(page);
      if ((await figuresApart(page, text)) !== shown) count.lost += 1;
      killGroup(child);
    }
    await untilEnded(child);
    await browser.close().catch(() => undefined);
  }
  rmSync(folder, { recursive: true, force: true });
  return count;
}

/** The figures of a document opened from a file. @param {Page} page @param {string} text */
async function figuresApart(page, text) {
  await press(page, "Editions…");
  const [chooser] = await Promise.all([page.waitForEvent("filechooser"), pressIn(page, "Open a file…")]);
  await chooser.setFiles({ name: "same.edition.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await page.getByText("Opened same.edition.json.").waitFor({ timeout: 60_000 });
  return figuresOf(page);
}
