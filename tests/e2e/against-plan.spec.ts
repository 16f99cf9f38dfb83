// The run against its plan: both margins, every cause with its cells, the plan kept anew and taken back, and one that nobody kept.
import { expect } from "@playwright/test";
import { violations } from "./axe";
import { cellName, open, resize, settled, test, withoutPickers } from "./page";

const place = (page: Parameters<typeof open>[0], name: RegExp) =>
  page.getByRole("navigation", { name: "Sheets" }).getByRole("button", { name });

test("the demo against its plan, cause by cause", async ({ page }) => {
  await open(page);
  await place(page, /^Against the plan/).click();
  const paper = page.getByTestId("against");
  await expect(paper).toContainText("leaves €\u00a07\u202f812.43. Once the stock is sold: €\u00a04\u202f167.02");
  await expect(paper.getByRole("listitem")).toHaveCount(3);
  await expect(paper.getByRole("img", { name: /^From plan to run: Plan leaves/ }).locator("svg")).toBeVisible();

  await test.step("up to what is made so far, stock is not sold yet", async () => {
    await paper.getByRole("combobox", { name: /^Up to/ }).selectOption({ label: "Made so far" });
    await expect(paper.getByRole("row", { name: /In stock and not sold yet.*to come$/ })).toBeVisible();
    await expect(paper.getByRole("row", { name: /^Made so far −€\s1\s016\.88/ })).toBeVisible();
  });

  await test.step("a cause opens to its steps by keyboard, and a number leads to its cell", async () => {
    const minutes = paper.getByRole("button", { name: /Minutes$/ });
    await minutes.focus();
    await page.keyboard.press("Enter");
    await expect(minutes).toHaveAttribute("aria-expanded", "true");
    const fettle = paper.getByRole("row", { name: /^Fettle .*adverse$/ });
    await fettle.getByRole("button").nth(1).click();
    await expect.poll(() => cellName(page)).toBe("Route Fettle, labour");
  });

  await test.step("nothing of it is unreadable, wide or narrow", async () => {
    await place(page, /^Against the plan/).click();
    await paper.getByRole("button", { name: "Every step" }).click();
    await paper.getByRole("button", { name: "Keep the plan anew…" }).click();
    expect(await violations(page)).toEqual([]);
    await resize(page, 390, 844);
    expect(await violations(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  });
});

test("the plan is kept anew and taken back, and the table saved as a file", async ({ page }) => {
  await withoutPickers(page);
  await open(page);
  await test.step("the plan is kept anew on purpose, the first one stays, and one press of Undo takes it back", async () => {
    await place(page, /^Against the plan/).click();
    const paper = page.getByTestId("against");
    await paper.getByRole("button", { name: "Keep the plan anew…" }).click();
    const asks = paper.getByRole("region", { name: "Keep the plan anew" });
    await expect(asks).toContainText("with which the run began, stays kept as the first one");
    await asks.getByRole("button", { name: "Keep today’s plan" }).click();
    await settled(page);
    await expect(page.getByTestId("notice-done").last()).toContainText("Plan kept anew");
    await expect(paper.getByRole("combobox", { name: /^Against/ })).toBeVisible();
    await page.getByRole("button", { name: "Undo", exact: true }).first().click();
    await settled(page);
    await expect(paper.getByRole("combobox", { name: /^Against/ })).toHaveCount(0);
  });

  await test.step("as a table in a file", async () => {
    const saved = page.waitForEvent("download");
    await page.getByTestId("against").getByRole("button", { name: "Save the table…" }).click();
    expect((await saved).suggestedFilename()).toContain("against the plan");
  });
});
