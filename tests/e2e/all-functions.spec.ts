// The engine of a first visit has the common functions; the file with all is fetched where a formula calls another.
import { expect, type Page } from "@playwright/test";
import { arrowTo, cardValue, open, settled, test, toSheet } from "./page";

const WHOLE = /\/assets\/whole-engine-[^/]*\.js/;

/** Types into a cell of a piece, and goes back to it. */
async function typeFormula(page: Page, formula: string): Promise<void> {
  await page.keyboard.type(formula);
  await page.keyboard.press("Enter");
  await settled(page);
  await page.keyboard.press("ArrowUp");
}

async function toMinutes(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Unfold the steps" }).click();
  await toSheet(page);
  await page.keyboard.press("Control+Home");
  await arrowTo(page, "Fettle: time");
}

test("a function that few call is fetched when a formula calls it, and once; what was typed meanwhile counts", async ({
  page,
}) => {
  const fetched: string[] = [];
  page.on("request", (request) => {
    if (WHOLE.test(request.url())) fetched.push(request.url());
  });
  await open(page);
  await toMinutes(page);
  const figures = await page.locator(".figures").textContent();
  await typeFormula(page, '=AVERAGE(2,4)+SUMIF({fettle.minutes},">9999")');
  await expect(cardValue(page)).toContainText("3 min");
  expect(fetched).toEqual([]);
  await typeFormula(page, "=MEDIAN(3,9,41)");
  await expect(cardValue(page)).toContainText("9 min");
  await page.keyboard.press("ArrowDown");
  await page.keyboard.type("=ROUND(PMT(0.1,2,-17.35537),0)");
  await page.keyboard.press("Enter");
  await page.keyboard.type("31");
  await page.keyboard.press("Enter");
  await settled(page);
  await page.keyboard.press("ArrowUp");
  await expect(cardValue(page)).toContainText("31 min");
  await page.keyboard.press("ArrowUp");
  await expect(cardValue(page)).toContainText("10 min");
  for (let undone = 0; undone < 4; undone += 1) await page.keyboard.press("Control+z");
  await settled(page);
  expect(await page.locator(".figures").textContent()).toBe(figures);
  expect(new Set(fetched).size).toBe(1);

  await page.keyboard.press("Control+y");
  await page.keyboard.press("Control+y");
  await expect(page.getByTestId("save-state")).toContainText("Saved");
  await page.reload();
  await settled(page);
  await toMinutes(page);
  await expect(cardValue(page)).toContainText("9 min");
});

test("where the file can't be had, the cell says that it can't be calculated and all else is", async ({ page }) => {
  await page.route(WHOLE, (route) => route.abort());
  await open(page);
  await toMinutes(page);
  await typeFormula(page, "=MEDIAN(3,9,41)");
  await expect(page.locator("#card .problem")).toBeVisible();
  await page.keyboard.press("ArrowDown");
  await typeFormula(page, "=2+9");
  await expect(cardValue(page)).toContainText("11 min");
});
