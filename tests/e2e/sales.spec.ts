// A day at a fair, on a phone: pieces are sold, one is given away, one comes back; the answer speaks of what was sold.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { open, settled, test, toPlace } from "./page";

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

const field = (page: Page, label: string) =>
  page
    .locator("label.field")
    .filter({ has: page.locator("span").getByText(label, { exact: true }) })
    .locator("input, select");
const button = (page: Page, name: string | RegExp) => page.locator("main").getByRole("button", { name, exact: true });

test("pieces are sold at a fair, read before they are recorded, undone, and told of on Results", async ({ page }) => {
  test.setTimeout(120_000);
  await open(page);

  await test.step("Results says plainly that nothing is sold yet", async () => {
    await toPlace(page, "Results");
    await expect(page.getByTestId("story")).toContainText("Nothing has been sold yet.");
    await page.screenshot({ path: test.info().outputPath("results-unsold.png") });
  });

  await test.step("three pieces at a new fair", async () => {
    await toPlace(page, "Sales");
    await expect(page.getByTestId("sold-so-far")).toContainText("Nothing is sold yet");
    await field(page, "Piece numbers, such as 41-60, 66, 70-").fill("1-3, 60-");
    await expect(page.getByTestId("plan")).toContainText("not finished: pass it as good or second on Record first");
    await field(page, "Piece numbers, such as 41-60, 66, 70-").fill("1-3");
    await field(page, "Where").selectOption("A new channel");
    await field(page, "Its name").fill("Winter market");
    await field(page, "Price each, with tax, EUR").fill("180");
    await expect(page.getByTestId("plan")).toContainText("sold, for 3 pieces");
    await expect(page.getByTestId("plan")).toContainText("A new channel, Winter market");
    await expect(page.getByTestId("plan")).toContainText("Together €\u00a0540.00, with €\u00a090.00 of tax in it.");
    await page.screenshot({ path: test.info().outputPath("sale-plan.png"), fullPage: true });
    expect(await violations(page, { rules: WCAG })).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
    await page.getByTestId("record-it").tap();
    await settled(page);
    await expect(page.getByTestId("sold-so-far")).toContainText("3 sold;");
  });

  await test.step("one more, at the same fair, with what it is offered at", async () => {
    await field(page, "Piece numbers, such as 41-60, 66, 70-").fill("4");
    await expect(field(page, "Where")).toHaveValue("there Winter market");
    await expect(page.getByTestId("plan")).toContainText("price paid: €\u00a0228.00");
    await page.getByTestId("record-it").tap();
    await settled(page);
    await expect(page.getByTestId("sold-so-far")).toContainText("4 sold;");
  });

  await test.step("a sold piece that is given away is asked about", async () => {
    await field(page, "Piece numbers, such as 41-60, 66, 70-").fill("4");
    await button(page, "Given away").tap();
    await expect(page.getByTestId("plan")).toContainText("that is replaced");
    await page.getByTestId("record-it").tap();
    await expect(page.getByRole("alert")).toContainText("Press once more");
    await page.getByTestId("record-it").tap();
    await settled(page);
    await expect(page.getByTestId("sold-so-far")).toContainText("3 sold;");
  });

  await test.step("one press of Undo takes it back; the run log has a line for each", async () => {
    await page.keyboard.press("Control+z");
    await settled(page);
    await expect(page.getByTestId("sold-so-far")).toContainText("4 sold;");
    await toPlace(page, "Run log");
    await expect(page.getByTestId("log-entry").first()).toContainText("Sold, Winter market");
  });

  await test.step("Results speaks of what was sold, and of the stock beside it", async () => {
    await toPlace(page, "Results");
    await expect(page.getByTestId("story")).toContainText("on what was sold");
    await expect(page.getByTestId("story")).toContainText("finished pieces are in stock");
    await page.screenshot({ path: test.info().outputPath("results-sold.png") });
    await page.setViewportSize({ width: 1440, height: 900 });
    await page.screenshot({ path: test.info().outputPath("results-sold-wide.png") });
  });

  await test.step("the books: cost of sales only for what was sold", async () => {
    await toPlace(page, "Journal");
    await expect(page.getByTestId("journal")).toContainText("Cost of pieces sold");
    await page.screenshot({ path: test.info().outputPath("journal.png"), fullPage: true });
    await toPlace(page, "For the accountant");
    await expect(page.getByTestId("accountant")).toContainText("fees and commission");
    await page.screenshot({ path: test.info().outputPath("accountant.png"), fullPage: true });
    await toPlace(page, "Sales");
    await page.screenshot({ path: test.info().outputPath("sales-wide.png") });
    await page.setViewportSize({ width: 820, height: 1180 });
    await page.screenshot({ path: test.info().outputPath("sales-820.png") });
    await toPlace(page, "Channels");
    await page.screenshot({ path: test.info().outputPath("channels.png") });
  });
});
