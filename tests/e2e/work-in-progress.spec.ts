// Work in progress: pieces at their stages, one written down by hand with its reason, undone; numbers lead to their cells.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { open, resize, settled, test, toPlace } from "./page";

const field = (page: Page, label: string) =>
  page
    .locator("label.field")
    .filter({ has: page.locator("span").getByText(label, { exact: true }) })
    .locator("input, select");
const table = (page: Page, name: string) => page.getByRole("region", { name, exact: true });

test("stages, a write-down with its reason, undone, wide and narrow", async ({ page }) => {
  test.setTimeout(120_000);
  await open(page);
  for (const width of [1440, 390]) {
    await resize(page, width, 900);
    await toPlace(page, "Work in progress");
    const stages = table(page, "Work in progress by stage");
    await expect(stages.getByRole("row")).toHaveCount(9);
    await expect(stages).toContainText("383.06");
    const downs = table(page, "Carried below cost");
    await expect(downs.getByRole("row", { name: /^042 second will not fetch its cost/ })).toHaveCount(1);
    expect(await violations(page, { rules: WCAG })).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);

    await test.step(`${width} px: chipped: by five each, read first, recorded, on the list with its reason`, async () => {
      await field(page, "Piece numbers, such as 41-60, 66, 70-").fill("1, 131");
      await field(page, "By, each, EUR").fill("5");
      await expect(page.getByTestId("plan")).toContainText("a reason of 1 to 200 characters");
      await field(page, "Why").fill("chipped foot");
      await expect(page.getByTestId("plan")).toContainText("for 2 pieces");
      await page.getByTestId("record-it").click();
      await settled(page);
      await expect(downs.getByRole("row", { name: /^131 in progress chipped foot/ })).toContainText("5.00");
    });

    await test.step(`${width} px: by ASC 330 what is carried below cost can be kept as cost`, async () => {
      await page.getByLabel("Written-down stock follows").selectOption("ASC 330");
      await settled(page);
      await page.getByRole("button", { name: "Keep as cost" }).click();
      await field(page, "Piece numbers, such as 41-60, 66, 70-").fill("42");
      await page.getByTestId("record-it").click();
      await settled(page);
      await expect(downs.getByRole("row", { name: /^042 second will not fetch its cost/ })).toContainText("2026");
    });

    await test.step(`${width} px: undone, and a sum leads to its line`, async () => {
      for (let press = 0; press < 3; press += 1) await page.keyboard.press("Control+z");
      await settled(page);
      await expect(downs).not.toContainText("chipped foot");
      await stages.getByRole("button", { name: "383.06" }).click();
      await expect(page.getByTestId("story")).toBeVisible();
    });
  }
});
