// Lengths in inches, an edition shown in US customary units, and a formula whose units do not fit.
import { expect, type Page } from "@playwright/test";
import { cardValue, open, settled, test } from "./page";

async function sheet(page: Page, name: RegExp): Promise<void> {
  await page.getByRole("navigation").getByRole("button", { name }).click();
}

/** Selects the value of a line of the Edition sheet. */
async function line(page: Page, label: RegExp): Promise<void> {
  await page.getByRole("searchbox").fill("height of a piece");
  await page.locator(".grid-host td", { hasText: label }).first().click();
  await page.keyboard.press("ArrowRight");
  await expect(page.locator("#card h2").first()).toHaveText(/^Edition, /);
}

test("inches are typed into centimetres; shown in US units, the whole edition follows, and undo brings it back", async ({
  page,
}) => {
  await open(page);
  await sheet(page, /^Edition/);
  await line(page, /^Height of a piece$/);
  const before = (await cardValue(page).textContent()) ?? "";
  expect(before).toMatch(/cm$/);
  await page.keyboard.type("12 in");
  await page.keyboard.press("Enter");
  await expect(page.getByTestId("notice-done").last()).toContainText("12 in = 30.48 cm");
  await line(page, /^Height of a piece$/);
  await expect(cardValue(page)).toHaveText(/^30\.48\s+cm$/);

  await page.keyboard.type("2 kg");
  await page.keyboard.press("Enter");
  await expect(page.getByTestId("notice-refused").last()).toContainText(
    "found “2 kg”, but it takes a number in cm, 0 or more. kg is a unit of weight, and this is a length.",
  );

  await page.getByRole("button", { name: "Title, currency, units…" }).click();
  await page.locator("select[name=units]").selectOption("US");
  await expect(page.locator("select[name=temperature]")).toHaveValue("F");
  await page.getByRole("button", { name: "Keep it" }).click();
  await settled(page);
  await line(page, /^Height of a piece$/);
  await expect(cardValue(page)).toHaveText(/^12\s+in$/);
  await expect(page.getByTestId("figure-lustre").locator("b")).toHaveText(/oz$/);

  await page.keyboard.type("10 1/2");
  await page.keyboard.press("Enter");
  await line(page, /^Height of a piece$/);
  await expect(cardValue(page)).toHaveText(/^10\.5\s+in$/);
  await page.keyboard.press("Control+z");
  await line(page, /^Height of a piece$/);
  await expect(cardValue(page)).toHaveText(/^12\s+in$/);

  await sheet(page, /^Programmes/);
  await expect(page.locator(".grid-host th:visible", { hasText: "°F/h" }).first()).toBeVisible();
  await expect(page.locator(".grid-host th:visible", { hasText: "cfm" }).first()).toBeVisible();
  await page.getByRole("button", { name: "CSV…" }).click();
  await expect(page.getByTestId("csv-units")).toContainText("metric units and °C");
});

test("slip is recorded in ounces and a recipe asks in square inches where the edition is shown so", async ({
  page,
}) => {
  await open(page);
  await sheet(page, /^Edition/);
  await page.getByRole("button", { name: "Title, currency, units…" }).click();
  await page.locator("select[name=units]").selectOption("US");
  await page.getByRole("button", { name: "Keep it" }).click();
  await settled(page);

  await sheet(page, /^Record/);
  await page.getByRole("button", { name: "Slip kept" }).click();
  await page.getByLabel(/^Piece numbers/).fill("141");
  await page.getByLabel("Slip kept, oz").fill("4 lb 2 oz");
  await expect(page.getByTestId("record")).toContainText("4 lb 2 oz = 66 oz");
  await page.getByTestId("record-it").click();
  await expect(page.getByTestId("notice-done").last()).toContainText("66 oz of slip");
  await page.getByLabel(/^Piece numbers/).fill("141");
  await page.getByLabel("Slip kept, oz").fill("2 h");
  await expect(page.getByTestId("record")).toContainText("h is a unit of time, and this is a weight.");
  await expect(page.getByTestId("record-it")).toBeDisabled();

  await sheet(page, /^Rescue/);
  await page.getByRole("button", { name: "Change Strip and recoat" }).click();
  await expect(page.getByLabel(/^area, in²$/i).first()).toBeVisible();
  await page
    .getByLabel(/^area, in²$/i)
    .first()
    .fill("1 ft²");
  await expect(page.locator(".recipe-form")).toContainText("1 ft² = 144 in²");
  await page.getByRole("button", { name: "Keep this recipe" }).click();
  await page.getByRole("button", { name: "Change Strip and recoat" }).click();
  await expect(page.getByLabel(/^area, in²$/i).first()).toHaveValue("144");
});

test("a column that adds grams to minutes is refused with both sides named; with a factor forgotten it is asked", async ({
  page,
}) => {
  await open(page);
  await page.getByRole("button", { name: "Add a column…" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.locator("input[name=title]").fill("Both");
  await dialog.locator("input[name=unit]").fill("grams");
  await expect(dialog).toContainText("g: gram, weight.");
  await dialog.locator("select[name=kind]").selectOption("formula");
  await dialog.locator("input[name=formula]").fill("={slip kept}+{Fettle: time}");
  await dialog.getByRole("button", { name: "Add it" }).click();
  await expect(page.getByTestId("notice-refused").last()).toContainText(
    "found “g (weight) and min (time)”, but it takes amounts of one kind on both sides of +. slip kept: g; time: min.",
  );
  await dialog.locator("input[name=unit]").fill("€");
  await dialog.locator("input[name=formula]").fill("={Fettle: time}*wage");
  await dialog.getByRole("button", { name: "Add it" }).click();
  await expect(page.getByTestId("notice-done").last()).toContainText("60 times too large");
  await settled(page);
});
