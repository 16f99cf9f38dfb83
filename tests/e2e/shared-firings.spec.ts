// The demo and its sister edition in one kiln: asked on Loads, answered by one press, undone, answered from both sides.
import { expect, type Page } from "@playwright/test";
import { violations } from "./axe";
import { cutTexts, open, settled, test, toPlace, unfold } from "./page";

async function openEditions(page: Page): Promise<void> {
  await unfold(page, "more");
  await page.getByRole("button", { name: "Editions…" }).click();
  await expect(page.getByTestId("editions")).toBeVisible();
}

async function openShared(page: Page): Promise<void> {
  await toPlace(page, "Firings");
  await page.getByRole("button", { name: "Who shares a load…" }).click();
}

for (const [width, colorScheme] of [
  [1440, "light"],
  [820, "dark"],
] as const)
  test(`two editions in one kiln, at ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 1100 });
    await page.emulateMedia({ colorScheme });
    await open(page);
    await openEditions(page);
    await page.getByRole("button", { name: "Its sister, in the same kiln" }).click();
    await expect(page.locator(".top")).toContainText("Samphire");
    await settled(page);

    await toPlace(page, "Loads");
    const asked = page.getByTestId("shared-S3");
    await expect(asked).toContainText("Marram has firing L11 with 6 pieces");
    await asked.getByRole("button", { name: "Yes, count theirs in S3" }).click();
    await settled(page);
    await expect(asked).toHaveCount(0);
    await unfold(page, "more");
    await page.getByRole("button", { name: "Undo", exact: true }).first().click();
    await expect(asked).toContainText("Is this the same load?");
    const found = await violations(page, { within: "[data-testid=loads]" });
    expect(found.map(({ id }) => id)).toEqual([]);
    await asked.getByRole("button", { name: "Yes, count theirs in S3" }).click();
    await settled(page);

    await openShared(page);
    await expect(page.getByTestId("shared-parts")).toContainText("Samphire 64.7 % + Marram 100 % = 164.7 %");
    await expect(page.getByTestId("shared-S3")).toContainText("Count it there: open Marram.");
    await page.getByRole("button", { name: "Close", exact: true }).last().click();

    await openEditions(page);
    await page
      .getByTestId("editions")
      .getByRole("listitem")
      .filter({ hasText: "Marram" })
      .getByRole("button", { name: /^Open/ })
      .click();
    await expect(page.locator(".top")).toContainText("Marram");
    await settled(page);
    await openShared(page);
    await page.getByRole("button", { name: /^Count 11 pieces/ }).click();
    await expect(page.getByTestId("shared-parts")).toContainText("= 100 % ✓ Every part is borne once.");
    expect(await cutTexts(page)).toEqual([]);
    const inDialog = await violations(page, { within: "dialog" });
    expect(inDialog.map(({ id }) => id)).toEqual([]);
  });
