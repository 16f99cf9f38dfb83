// Editions side by side: alone it says so; beside its sister it is sorted, drawn, put on paper and saved as a file.
import { expect } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { open, resize, settled, test, toPlace, unfold } from "./page";

test("two editions side by side, narrow and wide", async ({ page }) => {
  test.setTimeout(120_000);
  await page.setViewportSize({ width: 390, height: 900 });
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showOpenFilePicker");
    Reflect.deleteProperty(window, "showSaveFilePicker");
  });
  await open(page);
  await toPlace(page, "Side by side");
  await expect(page.getByTestId("sides-read")).toContainText("No other edition is kept here yet");
  // So that the sister finds it with its numbers.
  await toPlace(page, "Work in progress");
  await page.getByLabel("Written-down stock follows").selectOption("ASC 330");
  await settled(page);
  await expect(page.locator(".top")).toContainText("Saved");

  await unfold(page, "more");
  await page.getByRole("button", { name: "Editions…" }).click();
  await page.getByRole("button", { name: "Its sister, in the same kiln" }).click();
  await expect(page.locator(".top")).toContainText("Samphire");
  await settled(page);
  for (const width of [390, 1440]) {
    await resize(page, width, 900);
    await toPlace(page, "Side by side");
    const table = page.getByRole("region", { name: "Editions in EUR" });
    await expect(table.getByRole("row")).toHaveCount(4);
    await expect(table.getByRole("row", { name: /^▸ Samphire open/ })).toHaveCount(1);
    await expect(table.getByRole("row", { name: /^Marram unfinished: 49 in progress/ })).toContainText("33.48");
    expect(await violations(page, { rules: WCAG })).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);

    await test.step(`${width} px: sorted by a press on a head, either way`, async () => {
      const head = table.getByRole("button", { name: /^started pieces/ });
      await head.click();
      await expect(table.locator("tbody tr").first()).toContainText("Marram");
      await head.click();
      await expect(table.locator("tbody tr").first()).toContainText("Samphire");
      await expect(table.locator('th[aria-sort="ascending"]')).toHaveCount(1);
    });

    await test.step(`${width} px: one measure as a picture, told in words`, async () => {
      await page.getByLabel("As a picture").selectOption({ label: "energy, a good piece" });
      await expect(page.getByRole("img", { name: /^energy, a good piece: .*Marram [\d.]+ kWh/ })).toBeVisible();
      await expect(page.locator(".picture svg")).toBeVisible();
    });

    await test.step(`${width} px: as a file, and on paper`, async () => {
      const saving = page.waitForEvent("download");
      await page.getByRole("button", { name: "Save as CSV…" }).click();
      expect((await saving).suggestedFilename()).toContain(".csv");
      await page.getByRole("button", { name: "To paper…" }).click();
      await expect(page.locator(".leaf").first()).toContainText("Editions side by side");
      await expect(page.locator(".leaf").first()).toContainText("Marram (49 still in progress)");
    });
  }
});
