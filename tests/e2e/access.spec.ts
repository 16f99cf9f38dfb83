import { expect } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { open, test, toPlace } from "./page";

test("dialogs are clean, and the tools of Pieces take two rows at most", async ({ page }) => {
  await open(page);
  await test.step("dialogs are clean", async () => {
    const buttons = [
      "Start an edition…",
      "Editions…",
      "Help",
      "Add a step…",
      "Add a column…",
      "CSV…",
      "Who shares a load…",
    ];
    for (const button of buttons) {
      if (button === "Who shares a load…") await toPlace(page, "Firings");
      await page.getByRole("button", { name: button, exact: true }).first().click();
      await expect(page.getByRole("dialog")).toBeVisible();
      const found = await violations(page, { within: "dialog", rules: WCAG });
      expect(found.map(({ id, nodes }) => `${button} ${id}: ${nodes.map(({ html }) => html.slice(0, 120))}`)).toEqual(
        [],
      );
      await page.keyboard.press("Escape");
      await expect(page.getByRole("dialog")).toHaveCount(0);
    }
  });

  await test.step("the tools of Pieces take two rows at most at 1440 px, also while pieces are chosen", async () => {
    await toPlace(page, "Pieces");
    const rows = () =>
      page
        .locator(".tools")
        .evaluate(
          (tools) =>
            new Set(
              [...tools.querySelectorAll("button, input, select")].map((one) =>
                Math.round(one.getBoundingClientRect().bottom / 12),
              ),
            ).size,
        );
    expect(await rows()).toBeLessThanOrEqual(2);
    await page.locator("#choose-pieces").fill("41-60, 66");
    await expect(page.getByText("21 chosen")).toBeVisible();
    expect(await rows()).toBeLessThanOrEqual(2);
  });
});
