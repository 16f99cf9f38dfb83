// How the fault run works a page, and what it hears of it.
/** @typedef {import("playwright").Page} Page */
/** @typedef {import("playwright").BrowserContext} BrowserContext */
/** What was done and what became of it: edits by their number. */
/** @typedef {{ made: number, acknowledged: number, lost: number, kept: number }} Count */
/** @typedef {{ kind: string, sheet?: string, row?: string, column?: string, is?: unknown }} Operation */

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
export const wait = (ms) => new Promise((done) => setTimeout(done, ms));

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
export async function toNote(page, piece) {
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

/** Waits until nothing is left to save. @param {Page} page */
export async function untilSaved(page) {
  await page
    .getByTestId("save-state")
    .filter({ hasText: /^Saved/ })
    .waitFor({ timeout: 60_000 });
  await wait(50);
}

/** What stands in the document that was open last, by sheet, row and column. @typedef {Readonly<Record<string, unknown>>} Cells */

/** What was heard of a page: the cells each edit wrote, and up to which of them it said that they are saved. */
export class Heard {
  /** @type {Map<number, readonly Operation[]>} */
  edits = new Map();
  acknowledged = 0;

  /**
   * Counts what is there afterwards. A cell may hold what the last edit that was said to be saved wrote into it, or what a
   * later one did; an edit whose cells hold anything else is lost. @param {Cells} cells @param {Count} count
   */
  countIn(cells, count) {
    /** @type {Map<string, { edits: number, is: string }[]>} */
    const written = new Map();
    const numbers = [...this.edits.keys()].sort((a, b) => a - b);
    for (const edits of numbers)
      for (const { kind, sheet, row, column, is } of this.edits.get(edits) ?? [])
        if (kind === "cell") {
          const name = `${sheet} ${row} ${column}`;
          written.set(name, [...(written.get(name) ?? []), { edits, is: JSON.stringify(is ?? null) }]);
        }
    const missing = new Set();
    const lost = new Set();
    for (const [name, writes] of written) {
      const holds = JSON.stringify(cells[name] ?? null);
      const at = writes.findLastIndex(({ is }) => is === holds);
      for (const { edits } of writes.slice(at + 1)) missing.add(edits);
      const acknowledged = writes.findLastIndex(({ edits }) => edits <= this.acknowledged);
      const last = writes[acknowledged];
      if (last && at < acknowledged) lost.add(last.edits);
    }
    count.made += numbers.length;
    count.acknowledged += numbers.filter((edits) => edits <= this.acknowledged).length;
    count.kept += numbers.length - missing.size;
    count.lost += lost.size;
  }
}

/** Hears from a page which edits are made, and which of them it says are saved: those before its state turned to “Saved”. @param {Page} page @returns {Promise<Heard>} */
export async function watch(page) {
  const heard = new Heard();
  await page.exposeFunction("tellEdit", (/** @type {number} */ edits, /** @type {readonly Operation[]} */ operations) =>
    heard.edits.set(edits, operations),
  );
  await page.exposeFunction("tellSaved", (/** @type {number} */ edits) => {
    heard.acknowledged = Math.max(heard.acknowledged, edits);
  });
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
      if (data.say === "edit") {
        made = data.stamp.edits;
        Reflect.get(window, "tellEdit")(made, data.change.operations);
      }
      if (data.say === "kept" && data.stamp) Reflect.get(window, "tellSaved")(data.stamp.edits);
    };
    const state = document.querySelector('[data-testid="save-state"]');
    const check = () => state?.textContent?.startsWith("Saved") && made > 0 && Reflect.get(window, "tellSaved")(made);
    if (state) new MutationObserver(check).observe(state, { childList: true, characterData: true, subtree: true });
  });
  return heard;
}

/** What is stored of an edition: the one of an id, or the one that was open last. @param {Page} page @param {string} [id] @returns {Promise<{ id: string, text: string, damaged: number }>} */
export async function stored(page, id) {
  return page.evaluate(async (wanted) => {
    const request = indexedDB.open("saggar");
    const database = await new Promise((done) => {
      request.onsuccess = () => done(request.result);
    });
    /** @param {IDBRequest} asked @returns {Promise<any>} */
    const answer = (asked) =>
      new Promise((done) => {
        asked.onsuccess = () => done(asked.result);
      });
    /** @param {string} store */
    const all = (store) => database.transaction(store).objectStore(store);
    const key = wanted ?? (await answer(all("preferences").get("lastEdition")));
    const record = await answer(all("documents").get(key));
    const summary = await answer(all("summaries").get(key));
    const copies = await answer(all("copies").getAll());
    const notes = await answer(all("notes").getAllKeys());
    database.close();
    const isWhole = (/** @type {string} */ text) => {
      try {
        return JSON.parse(text).sheets.pieces.rows.length > 0;
      } catch {
        return false;
      }
    };
    let damaged = copies.filter((/** @type {any} */ copy) => !isWhole(copy.text)).length;
    if (notes.length !== copies.length || record.revision !== summary.revision) damaged += 1;
    return { id: key, text: record.text, damaged };
  }, id);
}

/** The cells of a document. @param {string} text @returns {Cells} */
export function cellsOf(text) {
  const { sheets } = JSON.parse(text);
  return Object.fromEntries(
    Object.entries(sheets).flatMap(([sheet, { rows }]) =>
      rows.flatMap((/** @type {any} */ row) =>
        Object.entries(row.cells).map(([column, is]) => [`${sheet} ${row.id} ${column}`, is]),
      ),
    ),
  );
}

/** The note of a piece by its row. @param {Cells} cells @param {number} piece */
export const noteIn = (cells, piece) => cells[`pieces p${piece} note`];
