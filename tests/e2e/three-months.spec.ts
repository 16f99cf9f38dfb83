// The demo carried to sales over three months: papers are given out month by month, a price is corrected afterwards, and the
// margin against the plan ends where Results does.
import { expect, type Page } from "@playwright/test";
import { open, settled, test, toPlace, withoutPickers } from "./page";

const field = (page: Page, label: string) =>
  page
    .locator("label.field")
    .filter({ has: page.locator("span").getByText(label, { exact: true }) })
    .locator("input, select");

/** Sells pieces on a day at a price each. */
async function sell(page: Page, pieces: string, day: string, price: string): Promise<void> {
  await toPlace(page, "Sales");
  await field(page, "Piece numbers, such as 41-60, 66, 70-").fill(pieces);
  await field(page, "Day").fill(day);
  await field(page, "Price each, with tax, EUR").fill(price);
  await expect(page.getByTestId("plan")).toContainText(/Together/);
  await page.getByTestId("record-it").click();
  await settled(page);
}

/** What stock and work in progress begin or end a period with, by account. */
const balances = (page: Page, which: "Opening" | "Closing") =>
  page
    .locator("table")
    .filter({ hasText: "what moved" })
    .getByRole("row", { name: new RegExp(`${which},`) })
    .locator("td:last-child")
    .allTextContents();

/** Gives out the open period up to a day; the numbers it closes with, by account. */
async function giveOut(page: Page, to: string): Promise<readonly string[]> {
  await toPlace(page, "For the accountant");
  await page.getByLabel("Last day").fill(to);
  await expect(page.getByTestId("checks")).toContainText(/All \d+ hold/);
  const closing = await page
    .getByRole("row", { name: /Closing,/ })
    .locator("td:last-child")
    .allTextContents();
  await page.getByRole("button", { name: "Save the papers…" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("checkbox", { name: /Give it out/ }).check();
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    dialog.getByRole("button", { name: "Save as a zip…" }).click(),
  ]);
  expect(file.suggestedFilename()).toContain(to);
  await expect(dialog).toHaveCount(0);
  await expect(page.getByTestId("given-out").getByRole("row").last()).toContainText(/[0-9a-f]{64}/);
  return closing;
}

test("the demo's sales of three months go to the accountant month by month, and against the plan", async ({ page }) => {
  test.setTimeout(240_000);
  await withoutPickers(page);
  await page.clock.install({ time: new Date("2027-03-03T09:00:00Z") });
  await open(page);
  await sell(page, "1-3", "2026-12-05", "180");
  await sell(page, "4-6", "2027-01-16", "200");
  await sell(page, "7-8", "2027-02-20", "210");

  let closed = await giveOut(page, "2026-11-30");
  for (const to of ["2026-12-31", "2027-01-31", "2027-02-28"]) {
    await expect.poll(() => balances(page, "Opening")).toEqual(closed);
    closed = await giveOut(page, to);
  }
  await expect(page.getByTestId("given-out").locator("tbody tr")).toHaveCount(4);
  await page.screenshot({ path: test.info().outputPath("given-out.png") });

  await test.step("what is changed in a month that was given out is corrected in the open one", async () => {
    await sell(page, "4", "2027-01-16", "150");
    await page.getByTestId("record-it").click();
    await settled(page);
    await toPlace(page, "Journal");
    const journal = page.getByTestId("journal");
    await expect(journal.getByText(/^Correction of what was given out to 2027-02-28|Correction of what/)).toBeVisible();
    await expect(journal.getByText("balances", { exact: true })).toHaveCount(1);
    await page.screenshot({ path: test.info().outputPath("correction.png") });
  });

  await test.step("the bridge ends where Results does", async () => {
    await toPlace(page, "Results");
    const made = await page.getByTestId("story").textContent();
    await toPlace(page, "Against the plan");
    await page.getByLabel("Up to").selectOption({ index: 0 });
    await expect(page.getByTestId("against")).toBeVisible();
    const end = (await page.getByTestId("against").getByRole("row").last().textContent()) ?? "";
    const amount = /[\d\u202f\u00a0., ]+\d\d$/.exec(end.trim())?.[0]?.trim() ?? end;
    expect(made).toContain(amount);
    await page.screenshot({ path: test.info().outputPath("against.png") });
  });
});
