// The sheet as a screen reader is given it: names, counts, places, states and announcements, at every size and in every theme.
import { expect, type Page } from "@playwright/test";
import { violations } from "./axe";
import { open, test, toSheet } from "./page";

async function toMaterials(page: Page): Promise<void> {
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Materials/ })
    .click();
  await toSheet(page);
}

const grid = (page: Page) => page.locator(".grid-host [role=grid]");

test("names the sheet, its headers, its rows and what is selected", async ({ page }) => {
  await open(page);
  await toMaterials(page);
  for (const key of ["ArrowDown", "ArrowRight", "ArrowRight", "Shift+ArrowRight", "Shift+ArrowDown"])
    await page.keyboard.press(key);
  await expect(page.locator(".grid-host")).toMatchAriaSnapshot(`
    - region "Materials of Marram":
      - grid "Materials of Marram":
        - rowgroup:
          - row:
            - gridcell
            - columnheader "By the pack"
            - columnheader "Planned"
          - row:
            - columnheader "Material"
            - columnheader "kind"
            - columnheader "pack price, EUR"
            - columnheader "pack holds, g"
            - columnheader "price, EUR/g"
            - columnheader "metal content"
            - columnheader "carat"
            - columnheader "planned, g"
            - columnheader "packs to buy"
            - columnheader "left over, g"
        - rowgroup:
          - row:
            - rowheader "Stoneware slip"
            - gridcell "slip"
            - gridcell "28.00"
            - gridcell "20 000"
            - gridcell
            - gridcell
            - gridcell
            - gridcell
            - gridcell
            - gridcell
          - row:
            - rowheader "Satin white glaze"
            - gridcell "glaze"
            - gridcell "64.00" [selected]
            - gridcell "10 000" [selected]
            - gridcell
            - gridcell
            - gridcell
            - gridcell
            - gridcell
            - gridcell
          - row:
            - rowheader "Platinum lustre"
            - gridcell "lustre"
            - gridcell "112.00" [selected]
            - gridcell "5" [selected]
            - gridcell
            - gridcell
            - gridcell
            - gridcell
            - gridcell
            - gridcell
      - paragraph: /Arrow keys move, .* leaves the sheet\\./
      - paragraph
  `);
  // What can be typed into and what can't, and which cell has the keyboard, are told as states.
  const cell = (name: string) => page.getByRole("gridcell", { name, exact: true });
  await expect(cell("64.00")).not.toHaveAttribute("aria-readonly");
  await expect(cell("64.00")).toBeFocused();
  await expect(cell("0.00640")).toHaveAttribute("aria-readonly", "true");
  await expect(grid(page)).toHaveAccessibleDescription(/^Arrow keys move/);
});

/** Where drawn rows and cells are said to stand, and where they do stand. Runs in the page. */
function placesSaid(table: Element) {
  const number = (element: Element, name: string) => Number(element.getAttribute(name));
  const heads = [...table.querySelectorAll("th[data-head=column], thead tr:last-child th")];
  const rows = [...table.querySelectorAll("tbody tr")];
  const astray = rows.flatMap((row) =>
    [...row.children].filter((cell) => {
      const head = heads.find((one) => one.getAttribute("aria-colindex") === cell.getAttribute("aria-colindex"));
      return !head || Math.abs(head.getBoundingClientRect().left - cell.getBoundingClientRect().left) > 1;
    }),
  );
  return {
    rowCount: number(table, "aria-rowcount"),
    columnCount: number(table, "aria-colcount"),
    rows: rows.map((row) => number(row, "aria-rowindex")),
    columns: [...(rows[0]?.children ?? [])].map((cell) => number(cell, "aria-colindex")),
    astray: astray.length,
    unordered: rows.filter((row) => {
      const at = [...row.children].map((cell) => number(cell, "aria-colindex"));
      return at.some((one, index) => index > 0 && one <= (at[index - 1] ?? 0));
    }).length,
    stops: table.querySelectorAll('[tabindex="0"]').length,
  };
}

test("counts its rows and columns, is one stop of Tab, and tells how it is folded and sorted", async ({ page }) => {
  await open(page);
  await test.step("one stop of Tab, which says how it is left, and what a mark means", async () => {
    await toSheet(page);
    await page.keyboard.press("Escape");
    const voice = page.locator(".grid-host [aria-live=polite]");
    await expect(voice).toHaveText("Tab leaves the sheet now.");
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.closest(".free-scroller") === null)).toBe(true);
    await page.keyboard.press("Shift+Tab");
    expect(await page.evaluate(() => document.activeElement?.matches("[role=gridcell], [role=rowheader]"))).toBe(true);
    // Whatever wears a mark says so in words.
    const marked = page.locator('.grid-host td:is([data-state~="override"], [data-state~="error"])');
    for (const one of await marked.all()) await expect(one).toHaveAttribute("aria-label", /\S/);
  });

  await test.step("a group of columns tells whether it is folded, and a title how it is sorted", async () => {
    await toSheet(page);
    const group = page.locator(".grid-host th[data-group=glaze]");
    const was = await group.getAttribute("aria-expanded");
    await group.click();
    await expect(group).toHaveAttribute("aria-expanded", was === "true" ? "false" : "true");
    const title = page.locator(".grid-host th[data-column=piece] .sheet-head-title");
    await title.click();
    await expect(page.locator(".grid-host th[data-column=piece]")).toHaveAttribute("aria-sort", "ascending");
  });

  await test.step("rows and columns are counted whole, and each cell stands under the header of its column, wherever it was scrolled to", async () => {
    await toSheet(page);
    for (const key of ["Control+Home", "Control+End", "Home", "PageUp", "End"]) {
      await page.keyboard.press(key);
      await expect.poll(() => grid(page).evaluate(placesSaid)).toMatchObject({ astray: 0, unordered: 0, stops: 1 });
      const { rowCount, columnCount, rows, columns } = await grid(page).evaluate(placesSaid);
      expect(rowCount).toBe(141 + 2);
      expect(Math.max(...rows)).toBeLessThanOrEqual(rowCount);
      expect(Math.min(...rows)).toBeGreaterThanOrEqual(3);
      expect(new Set(rows).size).toBe(rows.length);
      expect(columns[0]).toBe(1);
      expect(Math.max(...columns)).toBeLessThanOrEqual(columnCount);
    }
  });
});

test("axe finds no fault in it while cells are selected, edited and folded", async ({ page }) => {
  await open(page);
  await toSheet(page);
  const faults = async () => {
    const found = await violations(page, { within: ".grid-host" });
    return found.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 120)}`);
  };
  await page.keyboard.press("Shift+ArrowDown");
  expect(await faults()).toEqual([]);
  await page.keyboard.press("End");
  await page.keyboard.type("a note");
  expect(await faults()).toEqual([]);
  await page.keyboard.press("Escape");
  // The first column stays in sight, so only the one after it brings the first groups back.
  await page.keyboard.press("Control+Home");
  await page.keyboard.press("ArrowRight");
  await page.locator(".grid-host th[data-folds]").first().click();
  expect(await faults()).toEqual([]);
});

test("in forced colours the selection, the keyboard's place and what may be typed into are still drawn", async ({
  page,
}) => {
  await page.emulateMedia({ forcedColors: "active" });
  await open(page);
  await toMaterials(page);
  await page.keyboard.press("Shift+ArrowRight");
  const drawn = await page.locator(".grid-host").evaluate((host) => {
    const current = host.querySelector('td[data-selected~="current"]') as Element;
    const { backgroundColor } = getComputedStyle(current);
    const ring = getComputedStyle(current, "::after");
    const input = host.querySelector('td[data-state~="input"]:not([data-selected])') as Element;
    const plain = host.querySelector('td:not([data-state~="input"]):not([data-selected])') as Element;
    return {
      ring: [ring.borderTopStyle, ring.borderTopWidth, ring.borderTopColor !== backgroundColor],
      input: [getComputedStyle(input).borderBottomWidth, getComputedStyle(plain).borderBottomWidth],
    };
  });
  expect(drawn).toEqual({ ring: ["solid", "2px", true], input: ["3px", "1px"] });
});

test("at 200 % the page is no wider than its window, and the keyboard's cell is in sight", async ({ browser }) => {
  // A window of 1440 × 900 enlarged to 200 % has half as many pixels of the page, each twice as large.
  const context = await browser.newContext({ viewport: { width: 720, height: 450 }, deviceScaleFactor: 2 });
  const page = await context.newPage();
  await open(page);
  await toSheet(page);
  for (const key of ["Control+End", "Control+Home", "PageDown", "End"]) {
    await page.keyboard.press(key);
    await expect(page.locator('.grid-host td[data-selected~="current"]')).toBeInViewport({ ratio: 0.9 });
  }
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  await context.close();
});

test("nothing in the sheet moves by itself for whoever wants no motion", async ({ page }) => {
  await page.emulateMedia({ reducedMotion: "reduce" });
  await open(page);
  await toSheet(page);
  const moving = () =>
    page.locator(".grid-host").evaluate((host) => {
      const smooth = [host, ...host.querySelectorAll("*")].filter(
        (one) => getComputedStyle(one).scrollBehavior === "smooth",
      );
      return host.getAnimations({ subtree: true }).length + smooth.length;
    });
  for (const key of ["Control+End", "Shift+PageUp", "F2", "Escape"]) {
    await page.keyboard.press(key);
    expect(await moving()).toBe(0);
  }
});
