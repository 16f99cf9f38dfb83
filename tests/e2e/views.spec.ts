// A picture of every main view at three widths, light and dark, to be looked at: test-results/views. Nothing is compared.
import { mkdirSync } from "node:fs";
import { expect } from "@playwright/test";
import { open, test } from "./page";

const WIDTHS = [1440, 1024, 820] as const;
const FOLDER = "test-results/views";

for (const width of WIDTHS)
  test(`every view at ${width} px opens without a word on the console and fits`, async ({ page }) => {
    test.setTimeout(240_000);
    mkdirSync(FOLDER, { recursive: true });
    await page.setViewportSize({ width, height: 900 });
    await open(page);
    const names = await page
      .locator("nav.sheets button")
      .evaluateAll((buttons) =>
        buttons.map((button) => [...button.childNodes].find((node) => node.nodeType === 3)?.textContent?.trim() ?? ""),
      );
    expect(names.length).toBeGreaterThan(15);
    for (const [at, name] of names.entries()) {
      await page.locator("nav.sheets button").nth(at).click();
      await page.waitForTimeout(400);
      await page.screenshot({ path: `${FOLDER}/${width}-${name.toLowerCase().replaceAll(" ", "-")}.png` });
      const wide = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(wide, `${name} is wider than the page`).toBeLessThanOrEqual(1);
    }
    await page.emulateMedia({ colorScheme: "dark" });
    await page.locator("nav.sheets button", { hasText: "Pieces" }).click();
    await page.screenshot({ path: `${FOLDER}/${width}-dark.png` });
  });
