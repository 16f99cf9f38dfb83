// Where a number comes from: by keyboard from a key figure down to what was typed, and from an error back to its start.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { cellName, figure, open, resize, scrolledTo, settled, tabTo, test } from "./page";

/** The words of the line that has the keyboard. */
const lineAt = (page: Page) =>
  page.evaluate(() => (document.activeElement?.matches('[role="treeitem"]') ? document.activeElement.textContent : ""));

/** Goes down line by line until one says what is wanted. */
async function downTo(page: Page, wanted: RegExp, limit = 80): Promise<void> {
  for (let at = 0; at < limit; at += 1) {
    const line = (await lineAt(page)) ?? "";
    if (wanted.test(line)) return;
    await page.keyboard.press("ArrowDown");
    await expect.poll(() => lineAt(page), { intervals: [5, 10, 20, 50] }).not.toBe(line);
  }
  throw new Error(`no line says ${wanted}; last ${await lineAt(page)}`);
}

test("from the cost of a good piece down to the wage and its note, by keyboard only", async ({ page }) => {
  await open(page);
  await tabTo(page, /^Cost of a good piece/);
  await page.keyboard.press("Enter");
  const tree = page.getByRole("tree", { name: "What Cost of a good piece comes from" });
  await expect(tree).toBeVisible();
  await expect.poll(() => lineAt(page)).toMatch(/^.?Cost of a good piece/);

  for (const wanted of [
    /Pieces, full cost, where outcome is “good”/,
    /Pieces 017/,
    /own cost/,
    /Fettle: cost/,
    /labour/,
  ]) {
    await downTo(page, wanted);
    await page.keyboard.press("ArrowRight");
  }
  await downTo(page, /Wage/);
  await expect.poll(() => lineAt(page)).toMatch(/×\s22\.00 EUR\/h/);
  await expect.poll(() => lineAt(page)).toContain("what an hour of work costs the studio, with its charges");
  const wage = tree.getByRole("treeitem", { name: /Wage/ });
  await expect(wage).toHaveAttribute("aria-level", "7");
  await expect(wage).not.toHaveAttribute("aria-expanded");

  await test.step("out again, to the ends, and by letters", async () => {
    await page.keyboard.press("ArrowLeft");
    await expect.poll(() => lineAt(page)).toMatch(/labour/);
    await page.keyboard.press("ArrowLeft");
    await expect(wage).toHaveCount(0);
    await page.keyboard.press("Home");
    await expect.poll(() => lineAt(page)).toMatch(/Cost of a good piece/);
    await page.keyboard.press("End");
    await expect.poll(() => lineAt(page)).toMatch(/Because Good is/);
    await page.keyboard.type("pieces 011");
    await expect.poll(() => lineAt(page)).toMatch(/Pieces 011/);
  });

  await test.step("Enter goes to the cell", async () => {
    await page.keyboard.press("Enter");
    await expect(page.getByRole("dialog")).toHaveCount(0);
    await expect.poll(() => cellName(page)).toBe("Pieces 011, full cost");
    await expect.poll(() => page.evaluate(() => document.activeElement?.closest(".grid-host") !== null)).toBe(true);
  });
});

test("what uses the wage is listed, and an error in it is followed to where it began", async ({ page }) => {
  await open(page);
  await test.step("what uses a cell is listed, thousands as one line", async () => {
    await page
      .getByRole("navigation", { name: "Sheets" })
      .getByRole("button", { name: /^Edition/ })
      .click();
    await (await scrolledTo(page, /^22\.00$/)).click();
    await page.getByRole("button", { name: "What uses it…" }).click();
    const users = page.getByTestId("used-by");
    await users.getByText("Used by").click();
    await expect(users.getByText("141 cells of Pieces, Fettle: labour")).toBeVisible();
    await users.getByText("141 cells of Pieces, Fettle: labour").click();
    await expect(users.getByRole("button", { name: "50 more" }).first()).toBeVisible();
    await page.keyboard.press("Escape");
    await expect(page.getByRole("dialog")).toHaveCount(0);
  });

  await test.step("an error in it is followed to where it began", async () => {
    await (await scrolledTo(page, /^22\.00$/)).click();
    await expect.poll(() => cellName(page)).toBe("Edition, Wage");
    const before = await figure(page, "per_good").textContent();
    await page.keyboard.type("=1/0");
    await page.keyboard.press("Enter");
    // Tried alone first, then written.
    await expect(figure(page, "per_good")).not.toHaveText(before ?? "");
    await settled(page);
    await page.getByTestId("figure-per_good").click();
    const panel = page.getByRole("dialog");
    await expect(panel.getByRole("alert")).toContainText("It divides by 0 or by a blank cell.");
    await expect(panel.getByTestId("error-start")).toHaveText("It began in Edition, Wage: go there");
    // The tree is open along the way; where it has no more lines, as in a share of losses, the button above goes on.
    await expect.poll(() => lineAt(page)).toMatch(/divides by nothing/);
    await panel.getByTestId("error-start").click();
    await expect.poll(() => cellName(page)).toBe("Edition, Wage");
  });
});

test("the panel is clean and fits, wide and narrow, in light and dark", async ({ page }) => {
  await open(page);
  for (const width of [1440, 820]) {
    await resize(page, width, 900);
    await page.getByTestId("figure-put_in").click();
    await expect(page.getByRole("tree")).toBeVisible();
    for (const colorScheme of ["light", "dark"] as const) {
      const where = `${width} px, ${colorScheme}`;
      await page.emulateMedia({ colorScheme });
      const found = await violations(page, { within: "dialog", rules: WCAG });
      expect(found.map(({ id, nodes }) => `${where} ${id}: ${nodes.map(({ html }) => html.slice(0, 160))}`)).toEqual(
        [],
      );
      const overflow = await page.evaluate(() => {
        const dialog = document.querySelector("dialog");
        return dialog ? dialog.scrollWidth - dialog.clientWidth : -1;
      });
      expect(overflow, where).toBeLessThanOrEqual(0);
    }
    await page.keyboard.press("Escape");
    await expect(page.getByRole("dialog")).toHaveCount(0);
  }
});
