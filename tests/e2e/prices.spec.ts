// Prices without tax, a rate of tax for a tier and for a channel, price points, and one price for a rescued one-off: set on
// Plan and at the bench, sold on Sales, told of on Results.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { arrowTo, open, resize, settled, test, toPlace, toSheet } from "./page";

const field = (page: Page, label: string | RegExp) =>
  page
    .locator("label.field")
    .filter({ has: page.locator("span").getByText(label, { exact: true }) })
    .locator("input, select");
const planField = (page: Page, name: string | RegExp) => page.locator(".plan [data-cell]").and(page.getByLabel(name));
const pieces = (page: Page) => field(page, "Piece numbers, such as 41-60, 66, 70-");

/** At three widths: nothing sticks out, nothing that a screen reader would miss. */
async function checkWidths(page: Page, name: string): Promise<void> {
  for (const width of [390, 820, 1440]) {
    await resize(page, width, 900);
    if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/${name}-${width}.png`, fullPage: true });
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${name} ${width}`).toBe(
      true,
    );
  }
  const found = await violations(page, { within: "#sheet", rules: WCAG });
  expect(found.map(({ id, nodes }) => `${name} ${id}: ${nodes[0]?.html}`)).toEqual([]);
}

test("a maker prices without tax, each tier with its own, and sells a rescued one-off at a price of its own", async ({
  page,
}) => {
  test.setTimeout(240_000);
  await open(page);

  await test.step("on Plan the prices are typed without tax, and the other way stands beside them", async () => {
    await toPlace(page, "Plan");
    await expect(page.locator(".plan-field").filter({ hasText: "Price, standard" })).toContainText(
      "103.33 without tax",
    );
    await planField(page, "Prices are typed").selectOption("without tax");
    await planField(page, "Price, standard, EUR").fill("110");
    await planField(page, /^… of a special piece/).fill("10");
    await planField(page, "Prices go up to").selectOption("ends in .90");
    await settled(page);
    await expect(page.locator(".plan-field").filter({ hasText: "Price, standard" })).toContainText("132.00 with tax");
    await expect(page.locator(".plan-field").filter({ hasText: "Price, special" })).toContainText("250.80 with tax");
    await expect(page.getByTestId("answer")).toContainText("Price without tax for a margin of");
    await expect(page.getByTestId("answer-price-standard").locator("b")).toHaveText(/\.90$/);
    await expect(page.getByTestId("answer-price-standard")).toContainText("leaves");
    await checkWidths(page, "plan");
  });

  await test.step("a channel has a tax of its own, which comes before the tier's", async () => {
    await toPlace(page, "Channels");
    await toSheet(page);
    await arrowTo(page, "VAT or sales tax");
    await page.keyboard.type("7");
    await page.keyboard.press("Enter");
    await settled(page);
    await toPlace(page, "Sales");
    await pieces(page).fill("2");
    await expect(page.getByTestId("sales")).toContainText("€\u00a0250.80 with tax, €\u00a0228.00 without");
    await field(page, "Where").selectOption({ index: 1 });
    await field(page, "Price each, without tax, EUR").fill("200");
    await expect(page.getByTestId("plan")).toContainText("price paid: €\u00a0214.00");
    await expect(page.getByTestId("plan")).toContainText("Together €\u00a0214.00, with €\u00a014.00 of tax in it.");
    await checkWidths(page, "sales");
    await page.getByTestId("record-it").click();
    await settled(page);
    await expect(page.getByTestId("sold-so-far")).toContainText("1 sold;");
  });

  await test.step("a flawed piece gets a price of its own where it is weighed", async () => {
    await toPlace(page, "Rescue");
    await field(page, "Which flawed piece, or several alike?").fill("112");
    await expect(page.getByTestId("recommendation")).toBeVisible();
    const before = await page.getByTestId("recommendation").textContent();
    await page.getByLabel("Price of its own after: Finish it as a second").fill("90");
    await expect(page.getByTestId("recommendation")).not.toHaveText(before ?? "");
    await expect(page.locator(".ways")).toContainText("without tax; €\u00a0108.00 with tax");
    await expect(page.locator(".does").nth(1)).toContainText("at a price of its own, €\u00a090.00");
    await checkWidths(page, "rescue");
    await page.getByRole("button", { name: "Do this: Finish it as a second" }).click();
    await settled(page);
    await expect(page.getByTestId("rescued")).toContainText("112 is passed as second");
  });

  await test.step("at the bench the price of another is said as it is passed, both ways", async () => {
    await toPlace(page, "Record");
    await pieces(page).fill("112");
    await page.getByRole("button", { name: "Passed", exact: true }).click();
    await page.getByRole("button", { name: "Second", exact: true }).click();
    await field(page, "A price of its own, without tax, EUR").fill("95");
    await expect(page.locator("label.field").filter({ hasText: "A price of its own" })).toContainText(
      "114.00 with tax",
    );
    await expect(page.getByTestId("plan")).toContainText("at a price of its own, €\u00a095.00");
    await checkWidths(page, "record");
    await page.getByTestId("record-it").click();
    await settled(page);
  });

  await test.step("it is offered at that price on Sales, sold, and told of on Results with its tax", async () => {
    await toPlace(page, "Sales");
    await pieces(page).fill("112");
    await field(page, "Where").selectOption("");
    await expect(page.getByTestId("plan")).toContainText("Together €\u00a0114.00, with €\u00a019.00 of tax in it.");
    await page.getByTestId("record-it").click();
    await settled(page);
    await toPlace(page, "Results");
    await expect(page.getByTestId("story")).toContainText("2 sold for €\u00a0328.00");
    await checkWidths(page, "results");
    await toPlace(page, "For the accountant");
    await expect(page.locator("main")).toContainText("328.0033.00");
  });
});
