// What the walk asks of an engine, and a maker's ways on the page told in those terms.
import { setTimeout as sleep } from "node:timers/promises";

/**
 * @typedef {object} Page One tab.
 * @property {(url: string) => Promise<void>} goto
 * @property {(todo: (...args: any[]) => any, ...args: any[]) => Promise<any>} run Runs a function of its own in the page.
 * @property {(x: number, y: number) => Promise<void>} point Clicks, in pixels of the page.
 * @property {(x: number, y: number) => Promise<void>} tap
 * @property {(keys: string) => Promise<void>} press As `Control+c`.
 * @property {(text: string) => Promise<void>} type
 * @property {(width: number, height: number) => Promise<void>} size
 * @property {(path: string) => Promise<void>} shot
 * @property {() => Promise<void>} show
 * @property {() => Promise<Page>} another A tab more of the same browser.
 * @property {() => Promise<void>} close
 *
 * @typedef {object} Driver An engine.
 * @property {string} name With its version.
 * @property {"touch" | "mouse"} fingers What a tap comes to.
 * @property {(size: { width: number, height: number }) => Promise<{ page: Page, leave: () => Promise<void> }>} visit
 *   A browser that has never been here; one at a time.
 * @property {() => Promise<void>} stop
 */

/** Waits until `read` gives something true, and gives it. @param {string} what @param {() => Promise<any>} read @param {number} [ms] */
export async function until(what, read, ms = 30_000) {
  const end = Date.now() + ms;
  for (;;) {
    const found = await read().catch((error) => {
      if (Date.now() > end) throw error;
    });
    if (found) return found;
    if (Date.now() > end) throw new Error(`waited in vain: ${what}`);
    await sleep(60);
  }
}

/** @param {unknown} is @param {unknown} wanted @param {string} what */
export function same(is, wanted, what) {
  if (Array.isArray(is) && Array.isArray(wanted) && is.length + wanted.length > 20) {
    const at = is.findIndex((one, index) => one !== wanted[index]);
    const from = at === -1 ? is.length : at;
    const near = [wanted, is].map(
      (list) => `${list.slice(Math.max(0, from - 3), from + 4).join(" ")} of ${list.length}`,
    );
    if (at !== -1 || is.length !== wanted.length)
      throw new Error(`${what}, from the ${from + 1}th: ${near.join(" was expected, ")} is there`);
    return;
  }
  if (JSON.stringify(is) !== JSON.stringify(wanted))
    throw new Error(`${what}: ${JSON.stringify(wanted)} was expected, ${JSON.stringify(is)} is there`);
}

/**
 * Where an element can be pressed, once it can: in sight, enabled and with nothing over it.
 * @param {Page} page @param {string} css @param {RegExp} [text] What its name or its text is.
 * @returns {Promise<{ x: number, y: number }>}
 */
async function place(page, css, text = /(?:)/) {
  let before = "";
  return until(`${css} ${text} can be pressed`, async () => {
    const found = await page.run(
      (/** @type {string} */ selector, /** @type {string} */ pattern) => {
        const wanted = new RegExp(pattern);
        for (const one of document.querySelectorAll(selector)) {
          const names = [one.getAttribute("aria-label"), one.textContent?.trim()];
          if (!names.some((name) => name != null && wanted.test(name)) || one.matches(":disabled")) continue;
          one.scrollIntoView({ block: "nearest", inline: "nearest" });
          const { left, top, width, height } = one.getBoundingClientRect();
          // Above the middle: a strip that scrolls has its bar over the lower half in some engines.
          const [x, y] = [left + width / 2, top + height * 0.3];
          const on = width > 0 && document.elementFromPoint(x, y);
          if (on && (one.contains(on) || on.contains(one))) return { x, y };
        }
        return undefined;
      },
      css,
      text.source,
    );
    // Where it was a moment ago too: the page may still be laying itself out.
    const isStill = found && before === JSON.stringify(found);
    before = JSON.stringify(found);
    return isStill && found;
  });
}

/** @param {Page} page @param {string} css @param {RegExp} [text] */
export async function click(page, css, text) {
  const { x, y } = await place(page, css, text);
  await page.point(x, y);
}

/** @param {Page} page @param {string} css @param {RegExp} [text] */
export async function tap(page, css, text) {
  const { x, y } = await place(page, css, text);
  await page.tap(x, y);
}

/** @param {Page} page @param {string} css @returns {Promise<string>} The text of the last that is there. */
export const textOf = (page, css) =>
  page.run((selector) => [...document.querySelectorAll(selector)].at(-1)?.textContent?.trim() ?? "", css);

/** @param {Page} page @param {string} css */
const has = (page, css) => page.run((selector) => document.querySelector(selector) !== null, css);

/** @param {Page} page Waits until every number has been computed. */
export const settled = (page) =>
  until(
    "every number is computed",
    () =>
      page.run(() => {
        const figure = document.querySelector(".figures b");
        return (
          figure &&
          figure.textContent !== "…" &&
          !/(Calculating|Checking)…/.test(document.querySelector("#app")?.textContent ?? "")
        );
      }),
    90_000,
  );

/** @param {Page} page @param {string} url */
export async function open(page, url) {
  await page.goto(url);
  await settled(page);
}

/** @param {Page} page @param {string} name */
export async function toPage(page, name) {
  // In a narrow window the list is opened first.
  if (await page.run(() => document.querySelector(".where")?.checkVisibility())) await click(page, ".where");
  const shown = () =>
    page.run((wanted) => document.querySelector("nav.sheets [aria-current]")?.textContent?.startsWith(wanted), name);
  const go = () => click(page, "nav.sheets button", new RegExp(`^${name}\\d*$`));
  await go();
  // A driver loses a press now and then; a maker would press again too. It is said, so that one that is ours can be told.
  await until(`${name} is shown`, shown, 8000).catch(async () => {
    const on = await page.run(() => document.querySelector("nav.sheets [aria-current]")?.textContent);
    console.log(`          ${name} was pressed twice: the first press left ${on} in sight`);
    await go();
    await until(`${name} is shown`, shown);
  });
  await settled(page);
}

/** @param {Page} page */
const cellName = (page) => textOf(page, "#card h2");
/** @param {Page} page @returns {Promise<boolean>} */
export const sheetHasKeyboard = (page) => page.run(() => document.activeElement?.closest(".grid-host") != null);

/** @param {Page} page @param {string} wanted */
const untilCell = (page, wanted) =>
  until(`the card is of ${wanted}`, async () => (await cellName(page)).includes(wanted));

/** Types into the box that chooses pieces. @param {Page} page @param {string} pieces */
export async function choosePieces(page, pieces) {
  await page.press("Alt+2");
  await until("the box has the keyboard", () => page.run(() => document.activeElement?.id === "choose-pieces"));
  await page.press("Control+a");
  await page.type(pieces);
  await page.press("Enter");
}

/** Goes to a piece by its number. @param {Page} page @param {string} piece */
export async function toPiece(page, piece) {
  await choosePieces(page, piece);
  await untilCell(page, `Pieces ${piece}`);
  await until("the sheet has the keyboard", () => sheetHasKeyboard(page));
}

/** Goes along the row by arrow keys. @param {Page} page @param {string} title */
export async function toColumn(page, title) {
  await page.press("Home");
  await sleep(150);
  for (let left = 130; left > 0; left -= 1) {
    const name = await cellName(page);
    if (name.endsWith(title)) return;
    await page.press("ArrowRight");
    await until("the next cell", async () => (await cellName(page)) !== name);
  }
  throw new Error(`the arrows never reached ${title}; last at ${await cellName(page)}`);
}

/** @param {Page} page @param {string} piece */
async function toNote(page, piece) {
  await toPiece(page, piece);
  await page.press("End");
  await untilCell(page, `Pieces ${piece}, note`);
}

/** @param {Page} page @param {string} piece @param {string} text */
export async function writeNote(page, piece, text) {
  await toNote(page, piece);
  await page.type(text);
  await page.press("Enter");
}

/** @param {Page} page @param {string} piece @returns {Promise<string>} */
export async function noteOf(page, piece) {
  await toNote(page, piece);
  return textOf(page, "[data-testid=card-value]");
}

/** @param {Page} page */
export const saved = (page) =>
  until("it is saved", async () => /^Saved/.test(await textOf(page, "[data-testid=save-state]")));

/** @param {Page} page @param {string} id @returns {Promise<string>} */
export const figure = (page, id) => textOf(page, `[data-testid=figure-${id}] b`);

/** @param {Page} page @param {string} [title] */
export const dialogOpens = (page, title = "") => until(`a dialog ${title}`, () => has(page, "dialog[open]"), 15_000);
/** @param {Page} page @param {string} [title] */
export async function escapeCloses(page, title = "") {
  await page.press("Escape");
  await until(`Escape closes the dialog ${title}`, async () => !(await has(page, "dialog[open]")), 5000);
}

/** Errors, warnings and what the policy forbade, so far. @param {Page} page @returns {Promise<string[]>} */
export const said = (page) => page.run(() => Reflect.get(window, "walk")?.said ?? []);
