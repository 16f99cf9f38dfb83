// Purchases and stock on the studio's shelf: typed by keyboard, undone, drawn down by the kept edition; the prices of the days
// taken over into it.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { open, settled, tabTo, test } from "./page";

const toShelf = (page: Page) =>
  page.locator("nav.sheets").getByRole("button", { name: "The shelf", exact: true }).click();

async function openShelf(page: Page) {
  await open(page);
  await toShelf(page);
  const shelf = page.getByTestId("shelf-page");
  await shelf.getByRole("button", { name: /^Put all on the shelf/ }).click();
  await expect(shelf).toContainText("Everything of this edition is on the shelf.");
  await shelf.getByRole("button", { name: "Open the shelf" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("The studio’s shelf");
  return shelf;
}

test("a purchase is typed, said where it can't be, undone; the edition draws it down, and what is to be bought is told", async ({
  page,
}) => {
  const shelf = await openShelf(page);
  const form = shelf.getByRole("form", { name: "Add a purchase" });
  await form.getByLabel("Material").selectOption("Platinum lustre");
  await tabTo(page, /^Quantity/);
  await page.keyboard.type("much");
  await page.keyboard.press("Enter");
  await expect(form.getByRole("alert")).toContainText("found “much”");
  await page.keyboard.press("Control+A");
  await page.keyboard.type("20 g");
  await page.keyboard.press("Tab");
  await page.keyboard.type("560");
  await page.keyboard.press("Tab");
  await page.keyboard.type("Bill 482");
  await page.keyboard.press("Enter");
  const row = shelf.getByRole("region", { name: "Stock" }).getByRole("row", { name: /^Platinum lustre/ });
  await expect(row).toContainText("28.00 a gram");
  const moves = shelf.getByRole("row", { name: /Bought B1/ });
  await expect(moves).toContainText("Bill 482");
  await expect(moves).toContainText("560.00");
  // What the demo has used was typed, not recorded.
  await expect(shelf.getByRole("row", { name: /^no day Used by Marram/ })).toBeVisible();
  await expect(row).toContainText("8.68");
  const found = await violations(page, { rules: WCAG });
  expect(found.map(({ id, nodes }) => [id, nodes.map(({ target }) => target)])).toEqual([]);
  await expect(shelf.getByRole("region", { name: "To buy" })).toContainText("Satin white glaze");
  await expect(shelf.getByRole("region", { name: "Fine metal in and out" })).toContainText("Platinum lustre");
  await page.getByRole("button", { name: "Undo", exact: true }).first().click();
  await expect(moves).toHaveCount(0);
});

test("a stock-take says what is missing; what is recorded later has the price of its day", async ({ page }) => {
  const shelf = await openShelf(page);
  const buy = async (paid: string) => {
    const form = shelf.getByRole("form", { name: "Add a purchase" });
    await form.getByLabel("Material").selectOption("Platinum lustre");
    await form.getByLabel(/^Quantity/).fill("50");
    await form.getByLabel(/^Paid/).fill(paid);
    await form.getByRole("button", { name: "Add the purchase" }).click();
    await expect(form.getByLabel(/^Paid/)).toHaveValue("");
  };
  await buy("1000");
  await shelf.getByLabel("Counted at a stock-take").check();
  const count = shelf.getByRole("form", { name: "Add a stock-take" });
  await count.getByLabel(/^Found/).fill("48");
  await count.getByRole("button", { name: "Add the count" }).click();
  await expect(shelf.getByRole("row", { name: /Counted: missing B2/ })).toContainText("40.00");
  await page.getByRole("button", { name: "Editions…" }).click();
  await page.getByTestId("editions").getByRole("button", { name: "Open Marram" }).click();
  await settled(page);
  await toShelf(page);
  const part = page.getByTestId("shelf-page").getByRole("region", { name: "Prices of the days" });
  await expect(part).toContainText("nobody knows the day");
  await part.getByRole("button", { name: "Take the prices of the days" }).click();
  await expect(part).not.toContainText("that is another price than now");
  await page
    .locator("nav.sheets")
    .getByRole("button", { name: /^Purchases/ })
    .click();
  await expect(page.locator("#sheet")).toContainText("B1");
});
