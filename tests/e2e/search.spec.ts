import { expect } from "@playwright/test";
import { cellName, open, test } from "./page";

test("everything is found from one field, by keyboard alone", async ({ page }) => {
  await open(page);
  const field = page.getByLabel("What are you looking for?");
  await page.keyboard.press("Alt+6");
  await expect(field).toBeFocused();
  await page.keyboard.type("bisque");
  await expect(page.getByRole("dialog").getByRole("option").first()).toHaveAttribute("aria-selected", "true");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("dialog")).toHaveCount(0);
  await expect.poll(() => cellName(page)).toMatch(/^Route Bisque firing/);
  await page.keyboard.press("Alt+6");
  await page.keyboard.type("ready when");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("heading", { name: "Ready when" }).first()).toBeVisible();
  await page.keyboard.press("Alt+6");
  await page.keyboard.type("zzz");
  await expect(page.getByRole("dialog").getByRole("status")).toContainText("Nothing is called “zzz”");
  await page.keyboard.press("Escape");
  await expect(page.getByRole("dialog")).toHaveCount(0);
});
