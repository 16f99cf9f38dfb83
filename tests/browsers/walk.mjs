// The walk: what every engine has to do alike. A step is told by its name; what it gives is printed beside it.
import { setTimeout as sleep } from "node:timers/promises";
import {
  choosePieces,
  click,
  dialogOpens,
  escapeCloses,
  figure,
  noteOf,
  open,
  said,
  same,
  saved,
  settled,
  sheetHasKeyboard,
  tap,
  textOf,
  toColumn,
  toPage,
  toPiece,
  until,
  writeNote,
} from "./page.mjs";
import { singleFile } from "./serve.mjs";

/** @typedef {import("./page.mjs").Page} Page @typedef {import("./page.mjs").Driver} Driver */

const DESK = { width: 1280, height: 800 };
const TABLET = { width: 820, height: 1180 };
const PAGES = [
  "Plan",
  "Edition",
  "Route",
  "Materials",
  "Kilns",
  "Programmes",
  "Tariffs",
  "The shelf",
  "Ready when",
  "Record",
  "Pieces",
  "Firings",
  "Run log",
  "Loads",
  "Rescue",
  "Paper",
  "Sales",
  "Channels",
  "Results",
  "Against the plan",
  "Work in progress",
  "Journal",
  "For the accountant",
  "Side by side",
  "What if",
];
/** Buttons that end in three dots and open a page, or a dialog of the browser's. */
const NO_DIALOG = /^(Print|What if|Save|Choose|Open|Record|Rescue|Refire)/;

/**
 * The numbers on a page by where they stand: cells of a sheet by row and column, others by their order.
 * @param {Page} page @returns {Promise<Record<string, string>>}
 */
const numbersOn = (page) =>
  page.run(() => {
    const cells = [...document.querySelectorAll(".grid-host [role=gridcell]")].map((cell) => [
      `${cell.closest("[aria-rowindex]")?.getAttribute("aria-rowindex")}:${cell.getAttribute("aria-colindex")}`,
      cell.textContent?.trim(),
    ]);
    if (cells.length > 0) return Object.fromEntries(cells.filter(([, text]) => /\d/.test(text ?? "")));
    const text = document.querySelector("main")?.textContent ?? "";
    return Object.fromEntries([...text.matchAll(/\d+(?:[.,\u202f\u00a0]\d+)*/g)].map(([number], at) => [at, number]));
  });

/**
 * Compares with what the first engine found; of a sheet, the cells that both have in sight. How many were alike.
 * @param {Map<string, unknown>} first @param {string} name @param {Record<string, string>} numbers
 */
function alikeCells(first, name, numbers) {
  const found = /** @type {Record<string, string> | undefined} */ (first.get(`numbers of ${name}`));
  if (!found) {
    first.set(`numbers of ${name}`, numbers);
    return Object.keys(numbers).length;
  }
  const both = Object.keys(numbers).filter((at) => at in found);
  const other = both.filter((at) => numbers[at] !== found[at]).map((at) => `${at}: ${found[at]}, here ${numbers[at]}`);
  if (other.length > 0)
    throw new Error(`${name}: ${other.length} of ${both.length} numbers differ, as ${other.slice(0, 5).join("; ")}`);
  if (both.length < Object.keys(found).length * 0.7)
    throw new Error(`${name}: only ${both.length} of ${Object.keys(found).length} numbers are there`);
  return both.length;
}

/**
 * @param {Driver} driver
 * @param {Awaited<ReturnType<typeof import("./serve.mjs").serve>>} host
 * @param {Map<string, unknown>} first What the first engine found, which the others are to find too.
 * @param {(name: string, todo: () => Promise<unknown>, page?: () => Page) => Promise<void>} step
 */
export async function walk(driver, host, first, step) {
  /** @param {string} what @param {unknown} is */
  const alike = (what, is) => (first.has(what) ? same(is, first.get(what), what) : void first.set(what, is));
  let visit = await driver.visit(DESK);
  const { page } = visit;
  const here = () => page;

  await step(
    "opens, with the demo's figures",
    async () => {
      await open(page, host.url);
      const figures = await page.run(() => [...document.querySelectorAll(".figures b")].map((one) => one.textContent));
      alike("figures", figures);
      return figures.slice(0, 3).join(", ");
    },
    here,
  );

  await step(
    "the numbers of every page",
    async () => {
      await page.size(1500, 1300);
      let count = 0;
      for (const name of PAGES) {
        await toPage(page, name);
        const known = /** @type {object | undefined} */ (first.get(`numbers of ${name}`));
        // Drawn a while after it is shown, and an answer after that.
        const least = Math.max(1, 0.7 * Object.keys(known ?? {}).length);
        const numbers = await until(`${name} stands still`, async () => {
          const before = await numbersOn(page);
          await sleep(300);
          const after = await numbersOn(page);
          return Object.keys(after).length >= least && JSON.stringify(before) === JSON.stringify(after) && after;
        });
        count += alikeCells(first, name, numbers);
      }
      await page.size(DESK.width, DESK.height);
      return `${count} numbers on ${PAGES.length} pages`;
    },
    here,
  );

  await step(
    "no page is wider than its window",
    async () => {
      for (const [width, height] of [
        [1280, 800],
        [820, 1180],
        [390, 844],
      ]) {
        await page.size(width ?? 0, height ?? 0);
        for (const name of PAGES) {
          await toPage(page, name);
          const over = await page.run(() => [
            document.documentElement.scrollWidth - innerWidth,
            document.documentElement.scrollHeight - innerHeight,
          ]);
          if (over[0] > 1 || (width !== 390 && over[1] > 1))
            throw new Error(`${name} at ${width} × ${height} is over by ${over.join(" and ")} px`);
        }
      }
      await page.size(DESK.width, DESK.height);
    },
    here,
  );

  await step(
    "type, undo, redo",
    async () => {
      await toPage(page, "Pieces");
      if (await page.run(() => document.body.textContent.includes("Unfold the steps")))
        await click(page, "button", /^Unfold the steps$/);
      await toPiece(page, "003");
      await toColumn(page, "Fettle: time");
      const was = await figure(page, "put_in");
      const becomes = (/** @type {string} */ what, /** @type {(now: string) => boolean} */ is) =>
        until(what, async () => is(await figure(page, "put_in")));
      await page.type("55");
      await page.press("Enter");
      await becomes("what was put in changes", (now) => now !== was && now !== "…");
      await settled(page);
      const typed = await figure(page, "put_in");
      alike("put in after 55 minutes", typed);
      await page.press("Control+z");
      await becomes("undone", (now) => now === was);
      await page.press("Control+y");
      await becomes("redone", (now) => now === typed);
      await page.press("Control+z");
      await becomes("undone", (now) => now === was);
    },
    here,
  );

  await step(
    "copy and paste after a jump",
    async () => {
      await toPiece(page, "003");
      await toColumn(page, "Fettle: time");
      const copied = await textOf(page, "[data-testid=card-value]");
      await page.press("Control+c");
      await sleep(200);
      await toPiece(page, "023");
      await toColumn(page, "Fettle: time");
      const was = await textOf(page, "[data-testid=card-value]");
      if (copied === was) throw new Error("the demo has the same time in both");
      await page.press("Control+v");
      await until("it is pasted", async () => (await textOf(page, "[data-testid=card-value]")) === copied);
      await page.press("Control+z");
      await until("it is undone", async () => (await textOf(page, "[data-testid=card-value]")) === was);
      return `${copied} over ${was}`;
    },
    here,
  );

  await step(
    "goes to a piece that a filter hides",
    async () => {
      const show = (/** @type {number} */ at) =>
        page.run((index) => {
          const list = /** @type {HTMLSelectElement} */ (
            document.querySelector('select[aria-label="Which pieces are shown"]')
          );
          list.selectedIndex = index;
          list.dispatchEvent(new Event("change", { bubbles: true }));
        }, at);
      await show(1);
      await until("the sheet is filtered", async () => !(await textOf(page, ".grid-host")).includes("003"));
      await toPiece(page, "003");
      await page.type("7");
      await page.press("Escape");
      same(await sheetHasKeyboard(page), true, "the sheet has the keyboard");
      await show(0);
    },
    here,
  );

  await step(
    "Escape closes every dialog",
    async () => {
      /** @type {string[]} */
      const closed = [];
      for (const name of [
        "Pieces",
        "Edition",
        "Route",
        "Kilns",
        "Firings",
        "Results",
        "Journal",
        "For the accountant",
      ]) {
        await toPage(page, name);
        if (name === "Pieces") await choosePieces(page, "120-122");
        const titles = await page.run(() =>
          [
            ...new Set(
              [...document.querySelectorAll("button:not(:disabled)")]
                .filter((one) => one.checkVisibility())
                .map((one) => one.textContent?.trim() ?? ""),
            ),
          ].filter((title) => title.endsWith("…")),
        );
        for (const title of titles.filter(
          (/** @type {string} */ one) => !NO_DIALOG.test(one) && !closed.includes(one),
        )) {
          await click(page, "button", new RegExp(`^${title.replaceAll(/[.*+?^${}()|[\]\\]/g, "\\$&")}$`));
          await dialogOpens(page, title);
          await escapeCloses(page, title);
          closed.push(title);
        }
      }
      await toPage(page, "Pieces");
      await page.press("Alt+h");
      await dialogOpens(page);
      await until("Help's search has the keyboard", () =>
        page.run(() => document.activeElement?.matches("dialog input")),
      );
      await page.type("loss");
      await escapeCloses(page);
      await toPiece(page, "003");
      await page.press("Alt+5");
      await dialogOpens(page);
      await escapeCloses(page);
      if (closed.length < 12) throw new Error(`only ${closed.join(", ")} were found`);
      alike("dialogs", closed);
      return `${closed.length + 2} dialogs`;
    },
    here,
  );

  await step(
    "CSV goes out and comes in",
    async () => {
      await toPage(page, "Pieces");
      await click(page, "button", /^CSV…$/);
      await dialogOpens(page);
      await click(page, "dialog button", /^Save as a file…$/);
      const file = await until("a file is saved", () => page.run(() => Reflect.get(window, "walk").saved));
      const lines = file.text.split("\r\n").filter(Boolean);
      same(lines.length, 142, "lines of the file");
      alike("the file", file.text);
      await page.run(() => {
        Reflect.get(window, "walk").give = {
          name: "back.csv",
          type: "text/csv",
          text: "Piece,Fettle: time (min)\r\n001,44\r\n002,soon\r\n",
        };
      });
      await click(page, "dialog button", /^Choose a file…$/);
      await until("the report", async () => (await textOf(page, "[data-testid=csv-report]")).includes("“soon”"));
      await click(page, "dialog button", /^Bring it in$/);
      await until("it is in", async () =>
        (await textOf(page, "[data-testid=notice-done]")).includes("1 changed, 1 refused"),
      );
      await settled(page);
      await click(page, "header button", /^Undo$/);
      await settled(page);
      return `${lines.length - 1} pieces`;
    },
    here,
  );

  await step(
    "is there after a reload",
    async () => {
      await toPage(page, "Pieces");
      await writeNote(page, "020", "kept here");
      await saved(page);
      await open(page, host.url);
      same(await noteOf(page, "020"), "kept here", "the note");
    },
    here,
  );

  await step(
    "works without a network",
    async () => {
      await until("the program is kept", () =>
        page.run(
          async () =>
            (await navigator.serviceWorker.getRegistration())?.active?.state === "activated" &&
            navigator.serviceWorker.controller !== null,
        ),
      );
      host.isDown = true;
      try {
        await open(page, host.url);
        for (const name of ["Results", "What if", "Pieces"]) await toPage(page, name);
        await writeNote(page, "021", "off the network");
        await saved(page);
        await open(page, host.url);
        same(await noteOf(page, "021"), "off the network", "the note");
      } finally {
        host.isDown = false;
      }
    },
    here,
  );

  await step(
    "two tabs: one writes, the other follows and takes over",
    async () => {
      const second = await page.another();
      await second.show();
      await open(second, host.url);
      await until("the second follows", async () => (await textOf(second, "[data-testid=keeping-following]")) !== "");
      await page.show();
      await writeNote(page, "022", "from the first");
      await second.show();
      await until("it comes over", async () => (await noteOf(second, "022")) === "from the first");
      await click(second, "[data-testid=keeping-following] button", /^Write here$/);
      await until("the second writes", async () => (await textOf(second, "[data-testid=keeping-following]")) === "");
      await writeNote(second, "023", "from the second");
      await saved(second);
      await page.show();
      await until("it comes back", async () => (await noteOf(page, "023")) === "from the second");
      const heard = await said(second);
      await second.close();
      await page.show();
      same(heard, [], "said in the second tab");
    },
    here,
  );

  await step("no error, no warning, nothing the policy forbids", async () => same(await said(page), [], "said"), here);
  await visit.leave();

  await step("no banner on a first visit, three times", async () => {
    for (let at = 0; at < 3; at += 1) {
      const fresh = await driver.visit(DESK);
      try {
        await open(fresh.page, host.url);
        await until("the program is kept", () =>
          fresh.page.run(async () => (await navigator.serviceWorker.getRegistration())?.active?.state === "activated"),
        );
        await sleep(1000);
        same(
          await fresh.page.run(() => document.body.textContent.includes("Use it now")),
          false,
          "a newer version is offered",
        );
        same(await said(fresh.page), [], "said");
      } finally {
        await fresh.leave();
      }
    }
  });

  visit = await driver.visit(TABLET);
  const tablet = visit.page;
  await step(
    `records by ${driver.fingers === "touch" ? "touch" : "tap, which comes as a mouse here"}`,
    async () => {
      await open(tablet, host.url);
      await tap(tablet, ".where");
      await tap(tablet, "nav.sheets button", /^Record$/);
      await tap(tablet, "main button", /^Waiting for Glaze ?12, choose all/);
      await tap(tablet, "[data-testid=record-it]");
      const done = await until("it is recorded", () => textOf(tablet, "[data-testid=notice-done]"));
      await saved(tablet);
      alike("recorded", done);
      return done;
    },
    () => tablet,
  );
  await visit.leave();

  visit = await driver.visit(DESK);
  const alone = visit.page;
  await step(
    "one file opened from a disk calculates and keeps",
    async () => {
      await open(alone, singleFile);
      alike("starts", await figure(alone, "starts"));
      await writeNote(alone, "020", "from a disk");
      await saved(alone);
      await open(alone, singleFile);
      same(await noteOf(alone, "020"), "from a disk", "the note");
      return figure(alone, "starts");
    },
    () => alone,
  );
  await visit.leave();
}
