// No number and no title is cut, on any sheet of the demo and of every template, as wide as columns are by themselves.
import { expect, type Page } from "@playwright/test";
import { open, painted, settled, test } from "./page";

const SHEETS = ["Edition", "Route", "Materials", "Kilns", "Programmes", "Tariffs", "Pieces", "Firings", "Results"];

/** What is cut of what is drawn: numbers, titles of columns and groups, and on Edition and Results every word. */
function cutNow(page: Page): Promise<Readonly<Record<"cut" | "whole", readonly string[]>>> {
  return page.locator(".grid-host").evaluate((host) => {
    const isShown = (one: HTMLElement) => one.offsetParent !== null && getComputedStyle(one).visibility !== "hidden";
    const all = (selector: string) => [...host.querySelectorAll<HTMLElement>(selector)].filter(isShown);
    const isCut = (one: HTMLElement) =>
      one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1;
    const isOut = (one: HTMLElement) => {
      const box = one.getBoundingClientRect();
      const head = (one.closest("th") ?? one).getBoundingClientRect();
      // The words of a group move with its columns as they are scrolled out.
      if (one.closest('[data-head="group"]')) return box.width > head.width - 16;
      return box.left < head.left - 1 || box.right > head.right + 1 || box.top < head.top - 1;
    };
    const name = (one: HTMLElement) =>
      `${one.closest("th, td")?.getAttribute("data-column") ?? ""} “${one.textContent}”`;
    const titles = all(".sheet-head-title, .sheet-head-unit");
    const cut = [
      ...all("td").filter(
        (cell) => (cell.dataset.align === "end" ? /\d/ : /^\d+ \w+ \d{4}$/).test(cell.textContent) && isCut(cell),
      ),
      ...all('td[data-wraps]:not([data-heading]:not([data-heading=""]))').filter(isCut),
      ...titles.filter(isOut),
    ];
    const groups = titles.filter((one) => one.closest('[data-head="group"]') && !isOut(one));
    return { cut: cut.map(name), whole: groups.map(name) };
  });
}

/** Goes through a sheet from its left edge to its right one, and from top to foot. */
async function cutOn(page: Page): Promise<readonly string[]> {
  const scroller = page.locator(".free-scroller, .ht_master > .wtHolder").first();
  const cut = new Set<string>();
  /** Groups are cut while their columns are scrolled out: once in sight as a whole they are not. */
  const whole = new Set<string>();
  const size = await scroller.evaluate((one) => ({
    ...{ width: one.scrollWidth, height: Math.min(one.scrollHeight, 5000) },
    ...{ right: one.clientWidth, foot: one.clientHeight },
  }));
  for (let top = 0; top === 0 || top < size.height - 100; top += Math.max(100, size.foot - 100))
    for (let left = 0; left === 0 || left < size.width - 100; left += Math.max(100, size.right - 300)) {
      await scroller.evaluate((one, to) => one.scrollTo(to), { top, left });
      await painted(page);
      const now = await cutNow(page);
      for (const one of now.cut) cut.add(one);
      for (const one of now.whole) whole.add(one);
    }
  return [...cut].filter((one) => !whole.has(one));
}

async function expectWhole(page: Page, edition: string): Promise<void> {
  // Columns are as wide in any window; in a large one there is less to scroll.
  await page.setViewportSize({ width: 3600, height: 2400 });
  for (const sheet of SHEETS) {
    await page
      .getByRole("navigation")
      .getByRole("button", { name: new RegExp(`^${sheet}`) })
      .click();
    await expect(page.locator(".grid-host th:visible").first()).toBeVisible();
    const fold = page.getByRole("button", { name: /^Unfold the steps$/ });
    if (sheet === "Pieces" && (await fold.isVisible())) await fold.click();
    // Columns are measured anew once numbers rest.
    await expect.poll(() => cutOn(page), { message: `${edition}: ${sheet}`, timeout: 60_000 }).toEqual([]);
  }
}

test("no number and no title of the demo is cut @both-grids", async ({ page }) => {
  test.setTimeout(240_000);
  await open(page);
  await expectWhole(page, "demo");
});

for (const template of ["two-firing", "lustre", "tableware", "trial"])
  test(`no number and no title of the template ${template} is cut`, async ({ page }) => {
    test.setTimeout(240_000);
    await open(page);
    await page.getByRole("button", { name: "Start an edition…" }).click();
    const dialog = page.getByRole("dialog");
    await dialog.locator("[name=title]").fill("Tiles");
    await dialog.locator(`[value=${template}]`).check();
    await dialog.getByRole("button", { name: "Start it" }).click();
    await settled(page);
    await expectWhole(page, template);
  });

test("columns and rows grow with what is in them; headings on Edition, and the height of Results", async ({ page }) => {
  await open(page);
  await test.step("a number that outgrows its column has it widened", async () => {
    await page
      .getByRole("navigation")
      .getByRole("button", { name: /^Materials/ })
      .click();
    const price = page.locator('.grid-host th[data-column="pack_price"]');
    const before = (await price.boundingBox())?.width ?? 0;
    await page.getByLabel("Stoneware slip: Pack price, EUR", { exact: true }).fill("123456789.5");
    await page.keyboard.press("Enter");
    await expect.poll(async () => (await price.boundingBox())?.width ?? 0).toBeGreaterThan(before + 20);
    expect((await cutNow(page)).cut).toEqual([]);
  });

  await test.step("Edition keeps entries apart from answers, under headings; a longer note takes another line", async () => {
    await page
      .getByRole("navigation")
      .getByRole("button", { name: /^Edition/ })
      .click();
    const headings = page.locator('.grid-host td[data-heading]:not([data-heading=""])');
    await expect(headings.first()).toHaveAttribute("data-heading", "Entries · the promise");
    await expect(headings.first()).toHaveText("Pieces to deliver");
    await page.getByLabel("Show only rows with this text").fill("material and moulds,");
    await expect(headings).toHaveCount(2);
    await expect(headings.first()).toHaveAttribute("data-heading", "Answers · a standard piece as planned");
    await page.getByLabel("Show only rows with this text").fill("");
    const row = page.locator(".grid-host tr", { hasText: "Pieces to deliver" }).first();
    const before = (await row.boundingBox())?.height ?? 0;
    await row.locator("td").nth(3).click();
    await page.keyboard.type(
      "as the gallery asked for in its letter, and two for the shelf at home, which is not sold",
    );
    await page.keyboard.press("Enter");
    await expect.poll(async () => (await row.boundingBox())?.height ?? 0).toBeGreaterThan(before + 30);
  });

  await test.step("the table of Results has the whole height once the story is read", async () => {
    await page
      .getByRole("navigation")
      .getByRole("button", { name: /^Results/ })
      .click();
    await expect(page.getByTestId("story")).toBeVisible();
    await page.keyboard.press("Alt+3");
    const middle = (await page.locator(".middle").boundingBox()) ?? { y: 0, height: 0 };
    const grid = async () => (await page.locator(".grid-host").boundingBox()) ?? { y: 0, height: 0 };
    // The story's pictures come a little later, and make it longer.
    const below = async () => {
      await page.locator(".sheet-view").evaluate((view) => view.scrollTo(0, view.scrollHeight));
      const { y, height } = await grid();
      return Math.abs(y + height - middle.y - middle.height);
    };
    await expect.poll(below).toBeLessThan(2);
    expect((await grid()).height).toBeGreaterThan(0.85 * middle.height);
  });
});
