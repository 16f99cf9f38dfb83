// Loads: pieces that wait are put into loads, moved by keyboard and by touch, made into firings, and taken back in one step.
import { expect } from "@playwright/test";
import { violations } from "./axe";
import { open, settled, test, toPlace } from "./page";

test.use({ viewport: { width: 820, height: 1100 }, hasTouch: true });

test.beforeEach(async ({ page }) => {
  await page.clock.setFixedTime(new Date("2026-11-25T09:00:00Z"));
  await open(page);
  await toPlace(page, "Loads");
  await expect(page.getByTestId("load")).toHaveCount(2);
});

test("loads are made of the lanterns that wait, become firings, and are taken back in one step", async ({ page }) => {
  const loads = page.getByTestId("load");
  await expect(page.getByTestId("waiting")).toContainText("Glaze firing, glaze, middle fire: 9 pieces wait (120–128).");
  await expect(page.getByTestId("waiting")).toContainText("Low firing, low lustre: 2 pieces wait (025, 027).");
  await expect(page.getByTestId("loads-sum")).toContainText("2 new firings for 11 pieces");
  const glaze = loads.filter({ hasText: "glaze, middle fire" }).filter({ hasText: "9 of 48" });
  await expect(glaze).toContainText("1\u202f620 cm² of 9\u202f000 cm²");

  await test.step("pieces are moved by number and keyboard, and one left alone is warned of", async () => {
    await page.getByLabel("Move pieces").getByLabel("Move pieces").fill("121-128");
    await page.keyboard.press("Enter");
    await expect(loads).toHaveCount(3);
    await expect(page.getByTestId("alone")).toContainText("One piece alone bears it all");
    await expect(page.getByTestId("alone")).toContainText("In a full load of 48 it would bear");
  });

  await test.step("and back by touch", async () => {
    await loads.nth(1).getByRole("button", { name: "120" }).tap();
    await page.getByLabel("Move pieces").getByLabel("to").selectOption({ label: "G14, Large kiln" });
    await page.getByRole("button", { name: "Move", exact: true }).tap();
    await expect(page.getByTestId("alone")).toHaveCount(0);
    await page.getByRole("button", { name: "As proposed again" }).tap();
    await expect(loads).toHaveCount(2);
  });

  const axe = await violations(page, { within: "[data-testid=loads]" });
  expect(axe).toEqual([]);

  await test.step("a kiln that is too low refuses them by name and height", async () => {
    await page.getByLabel("Large kiln: 48 pieces").uncheck();
    await expect(page.getByTestId("refused")).toContainText("120, 36 cm tall");
    await expect(page.getByTestId("refused")).toContainText("pieces up to 32 cm tall");
    await page.getByLabel("Large kiln: 48 pieces").check();
  });

  await test.step("made, and undone", async () => {
    await loads.nth(0).getByLabel("Firing").fill("L20");
    await loads.nth(0).getByLabel("Firing").blur();
    await page.getByRole("button", { name: "Make these firings" }).tap();
    await settled(page);
    await expect(page.getByTestId("notice-done").last()).toContainText("Firings L20, G13");
    await expect(page.getByText("No piece waits for a firing now.")).toBeVisible();
    const firings = page.locator("nav.sheets button", { hasText: /^Firings/ });
    await expect(firings).toContainText("13");
    await page.getByRole("button", { name: "Undo", exact: true }).first().tap();
    await settled(page);
    await expect(firings).toContainText("11");
    await expect(loads).toHaveCount(2);
  });
});

test("a firing that was not read off the meter may take more", async ({ page }) => {
  await page.getByLabel(/^L11, Large kiln/).check();
  await expect(page.getByTestId("load").filter({ hasText: "Into L11" })).toContainText("6 in it already");
  await expect(page.getByTestId("loads-sum")).toContainText("1 new firing for 11 pieces");
});
