// A part of the program that can't be fetched says so, and the rest goes on.
import { expect, test } from "@playwright/test";
import { open } from "./page";

test.use({ serviceWorkers: "block" });

test("a page whose code is gone from the server", async ({ page }) => {
  await page.route(/record-page/, (route) => route.abort());
  await open(page);
  await page.locator("nav.sheets button", { hasText: "Record" }).click();
  await expect(page.getByRole("alert")).toContainText("could not be fetched");
  await page.unroute(/record-page/);
  await page.locator("nav.sheets button", { hasText: "Pieces" }).click();
  await expect(page.getByTestId("grid")).toBeVisible();
  await expect(page.getByRole("alert")).toHaveCount(0);
});
