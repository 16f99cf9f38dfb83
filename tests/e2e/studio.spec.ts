// The studio goes on from edition to edition: the next one from the last, templates, and editions put away and brought back.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { open, settled, tabTo, test } from "./page";

const more = (page: Page, title: string) =>
  page.getByRole("button", { name: `More to do with ${title}`, exact: true }).first();

async function openEditions(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Editions…" }).click();
}

test("the next edition starts from the last, and its plan has learned: one press plans what was seen, one undo takes it back", async ({
  page,
}) => {
  await open(page);
  await openEditions(page);
  await more(page, "Marram").click();
  await page.getByRole("button", { name: "Start the next one from it…" }).click();
  const dialog = page.getByRole("dialog");
  await expect(dialog.getByLabel("As Marram: the next one from it")).toBeChecked();
  await expect(dialog.getByText("Which currency?")).toHaveCount(0);
  await expect(dialog.getByRole("status")).toContainText("pieces will be started");
  await dialog.locator("[name=title]").fill("Eelgrass");
  await dialog.locator("[name=wanted]").fill("60");
  await dialog.getByRole("button", { name: "Start it" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Eelgrass");
  await settled(page);
  const seen = page.getByTestId("plan-seen");
  const fettled = seen.getByRole("listitem").filter({ hasText: "Fettle took 14.5" });
  await expect(fettled).toContainText("in 139 pieces; the plan says 14");
  await expect(fettled).toContainText("95 %: 14.2");
  const minutes = page.locator('[data-cell="route fettle minutes"]').first();
  await expect(minutes).toHaveValue("14");
  await fettled.getByRole("button", { name: /^Plan 14.5/ }).click();
  await expect(minutes).toHaveValue("14.5");
  await expect(fettled).toBeHidden();
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await expect(minutes).toHaveValue("14");
  await seen.getByRole("button", { name: "Plan with all 2" }).click();
  await expect(seen).toContainText("The plan fits what was seen.");
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await expect(fettled).toBeVisible();
  const found = await violations(page, { rules: WCAG });
  expect(found.map(({ id }) => id)).toEqual([]);
});

test("an edition is kept as a template by the keyboard, and one is started from it", async ({ page }) => {
  await open(page);
  await openEditions(page);
  await tabTo(page, /^More/);
  await page.keyboard.press("Enter");
  await tabTo(page, "Keep as a template");
  await page.keyboard.press("Enter");
  await page.getByTestId("editions-template").locator("summary").click();
  await expect(page.getByTestId("editions-template").getByRole("listitem")).toContainText("Marram kept on");
  const found = await violations(page, { within: "dialog", rules: WCAG });
  expect(found.map(({ id }) => id)).toEqual([]);
  await page.getByRole("button", { name: "Start an edition…" }).last().click();
  const dialog = page.getByRole("dialog");
  await dialog.locator("label", { hasText: "Your own template." }).getByRole("radio").check();
  await dialog.locator("[name=title]").fill("Thrift");
  await dialog.getByRole("button", { name: "Start it" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Thrift");
  await expect(page.getByTestId("plan-seen")).toContainText("Fettle took 14.5");
});

test("editions are duplicated, renamed, archived, deleted and brought back", async ({ page }) => {
  await open(page);
  await openEditions(page);
  await more(page, "Marram").click();
  await page.getByRole("button", { name: "Duplicate" }).click();
  await more(page, "Marram (copy)").click();
  await page.locator("[name=rename]").fill("Tide");
  await page.getByRole("button", { name: "Rename", exact: true }).click();
  await expect(page.getByTestId("editions")).toContainText("Tide");
  await more(page, "Tide").click();
  await page.getByRole("button", { name: "Archive", exact: true }).click();
  await expect(page.getByTestId("editions")).not.toContainText("Tide");
  await page.getByTestId("editions-archived").locator("summary").click();
  await more(page, "Tide").click();
  await page.getByRole("button", { name: "Delete", exact: true }).click();
  const deleted = page.getByTestId("editions-deleted");
  await deleted.locator("summary").click();
  await expect(deleted).toContainText("can be brought back until");
  await page.reload();
  await settled(page);
  await openEditions(page);
  await deleted.locator("summary").click();
  await deleted.getByRole("button", { name: "Bring it back Tide" }).click();
  await page.getByTestId("editions").getByRole("button", { name: "Open Tide" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Tide");
  await settled(page);
});

test("an edition puts what it has on the shelf, and takes a new price from it by one press and one undo", async ({
  page,
}) => {
  await open(page);
  const toShelf = () => page.locator("nav.sheets").getByRole("button", { name: "The shelf", exact: true }).click();
  await toShelf();
  const shelf = page.getByTestId("shelf-page");
  await shelf.getByRole("button", { name: /^Put all on the shelf/ }).click();
  await expect(shelf).toContainText("Everything of this edition is on the shelf.");
  await shelf.getByRole("button", { name: "Open the shelf" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("The studio’s shelf");
  const wage = page.locator('[data-cell="edition wage value"]');
  await wage.fill("24.5");
  await wage.press("Enter");
  await expect(page.getByRole("button", { name: "Undo", exact: true })).toBeEnabled();
  await page
    .locator("nav.sheets")
    .getByRole("button", { name: /^Materials/ })
    .click();
  await expect(page.locator(".grid-host")).toContainText("Platinum lustre");
  await openEditions(page);
  await page.getByTestId("editions").getByRole("button", { name: "Open Marram" }).click();
  await settled(page);
  await toShelf();
  await expect(shelf).toContainText("Wage: € 22.00/h here, € 24.50/h on the shelf");
  const found = await violations(page, { rules: WCAG });
  expect(found.map(({ id }) => id)).toEqual([]);
  await tabTo(page, /^Take from the shelf/);
  await page.keyboard.press("Enter");
  await expect(shelf).toContainText("What both have is the same in both.");
  await page.locator("header.top").getByRole("button", { name: "Undo", exact: true }).click();
  await expect(shelf).toContainText("€ 22.00/h here, € 24.50/h on the shelf");
});

test("one press looks at the other editions kept here; a copy of this one says nothing new", async ({ page }) => {
  await open(page);
  await openEditions(page);
  await more(page, "Marram").click();
  await page.getByRole("button", { name: "Duplicate" }).click();
  await expect(more(page, "Marram (copy)")).toBeVisible();
  await page.getByRole("button", { name: "Close", exact: true }).click();
  await page.locator("nav.sheets").getByRole("button", { name: "Plan", exact: true }).click();
  const seen = page.getByTestId("plan-seen");
  const fettled = seen.getByRole("listitem").filter({ hasText: "Fettle took 14.5" });
  await expect(fettled).toContainText("in 139 pieces");
  await tabTo(page, "Look at 1 other edition");
  await page.keyboard.press("Enter");
  await expect(seen).toContainText("No other edition kept here has seen anything more of these steps.");
  await expect(fettled).toContainText("in 139 pieces");
});
