import { expect } from "@playwright/test";
import { cellName, open, settled, test } from "./page";

test("one lantern alone and a full load: the shares differ as they should, and the page says so in words", async ({
  page,
}) => {
  await open(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Firings/ })
    .click();
  await page.locator(".grid-host td", { hasText: /^G7$/ }).first().click();
  await page.getByRole("button", { name: "How a firing runs…" }).click();
  const facts = page.getByTestId("heat-facts");
  await expect(facts).toContainText("of the energy heats the ware");
  await expect(facts).toContainText("in this load of 1; in a full load of 48");
  await expect(page.getByRole("dialog").locator(".picture svg").first()).toBeVisible();
  const alone = Number(/A piece bears €\u00a0([\d.]+)/.exec((await facts.textContent()) ?? "")?.[1]);
  await page.locator("select[name=firing]").selectOption({ index: 3 });
  const full = Number(/A piece bears €\u00a0([\d.]+)/.exec((await facts.textContent()) ?? "")?.[1]);
  expect(alone).toBeGreaterThan(20 * full);
});

test("a kiln is fitted to its meter, and the model then agrees better with it", async ({ page }) => {
  await open(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Kilns/ })
    .click();
  await page
    .locator(".grid-host td", { hasText: /^Large kiln$/ })
    .first()
    .click();
  await page.getByRole("button", { name: "Fit to the meter…" }).click();
  await expect(page.getByTestId("fit-trust")).toContainText("Wall loss ×");
  await page.getByRole("button", { name: "Use these factors" }).click();
  await settled(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Firings/ })
    .click();
  await page.locator(".grid-host td", { hasText: /^G4$/ }).first().click();
  await page.getByRole("button", { name: "How a firing runs…" }).click();
  const text = (await page.getByRole("dialog").locator("tr", { hasText: "Metered" }).textContent()) ?? "";
  const off = Number(/kWh([−-]?\d+)/.exec(text)?.[1]?.replace("−", "-"));
  expect(Math.abs(off)).toBeLessThan(15);
});

test("the kiln with readings is fitted first; one without says what it lacks, and shows no empty picture", async ({
  page,
}) => {
  await open(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Kilns/ })
    .click();
  await page.getByRole("button", { name: "Fit to the meter…" }).click();
  const kiln = page.getByRole("dialog").getByLabel("Kiln");
  await expect(kiln.locator("option:checked")).toHaveText("Large kiln");
  await expect(page.getByTestId("fit-trust")).toContainText("10 readings");
  await kiln.selectOption({ label: "Small kiln" });
  await expect(page.getByTestId("fit-trust")).toContainText("There is nothing to fit yet");
  await expect(page.getByRole("dialog").getByRole("table")).toHaveCount(0);
  await expect(page.getByRole("dialog").locator(".picture")).toHaveCount(0);
  await expect(page.getByRole("button", { name: "Use these factors" })).toBeDisabled();
});

test("where the price goes by the hour, the cheapest start is found and written into the firing", async ({ page }) => {
  await open(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Tariffs/ })
    .click();
  await page.getByRole("button", { name: "Add a band" }).click();
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Firings/ })
    .click();
  // The last rows are beyond the edge, since the card of a row stands below the sheet.
  await page.locator(".grid-host td", { hasText: /^G8$/ }).first().click();
  for (let row = 0; row < 3; row += 1) await page.keyboard.press("ArrowDown");
  await expect.poll(() => cellName(page)).toContain("Firings L11");
  await page.getByRole("button", { name: "How a firing runs…" }).click();
  await expect(page.getByTestId("cheapest")).toContainText("less than at the dearest time");
  await page.getByRole("button", { name: /^Write .* into the firing/ }).click();
  await page.getByRole("button", { name: "Close", exact: true }).last().click();
  await settled(page);
});

test("bad kilns and programmes get a message that names the field", async ({ page }) => {
  await open(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Kilns/ })
    .click();
  await page
    .locator(".grid-host td", { hasText: /^Large kiln$/ })
    .first()
    .click();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.type("0");
  await page.keyboard.press("Enter");
  await expect(page.getByTestId("notice-refused").last()).toContainText(
    "Kilns Large kiln, rated: found “0”, but it takes a number, 0.1 or more",
  );
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Programmes/ })
    .click();
  await page
    .locator(".grid-host td", { hasText: /^glaze, middle fire$/ })
    .last()
    .click();
  await page.getByRole("button", { name: "Add a ramp" }).click();
  await settled(page);
});
