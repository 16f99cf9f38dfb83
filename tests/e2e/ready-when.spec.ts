// Ready when, on a tablet: the due date is moved until it cannot be met, and the page says why and what would help.
import { expect, type Page } from "@playwright/test";
import { violations } from "./axe";
import { open, test, toPlace } from "./page";

test.use({ viewport: { width: 820, height: 1100 }, hasTouch: true });

// The demo stands where it does on this day.
test.beforeEach(async ({ page }) => {
  await page.clock.setFixedTime(new Date("2026-11-25T09:00:00Z"));
  await open(page);
  await toPlace(page, "Ready when");
});

const answer = (page: Page) => page.getByTestId("ready");
const undo = (page: Page) => page.getByRole("button", { name: "Undo", exact: true }).first();

async function due(page: Page, day: string): Promise<void> {
  await page.getByLabel("Due", { exact: true }).fill(day);
  await page.getByLabel("Due", { exact: true }).blur();
}

test("the due date is moved until it cannot be met, and the page says why", async ({ page }) => {
  const calendar = page.getByTestId("calendar");
  await expect(answer(page)).toHaveText(/^Ready on \w+,? \d+ Dec 2026\.$/);
  await expect(calendar.getByText(/holds it up most/)).toBeVisible();
  await expect(calendar.locator(".picture svg")).toBeVisible();
  await expect(calendar.getByRole("row", { name: /^Glaze firing 1 21/ })).toBeVisible();

  await test.step("with time to spare it says how much, and how late it can begin", async () => {
    await due(page, "2027-01-15");
    await expect(answer(page)).toContainText("days before it is due");
    await expect(calendar.getByText(/It can begin as late as/)).toBeVisible();
    await expect(page.getByTestId("remedies")).toHaveCount(0);
  });

  await test.step("moved earlier it is too late, by so many days, with ways that were tried", async () => {
    await due(page, "2026-11-30");
    await expect(answer(page)).toContainText(/Too late by \d+ days?: ready on .* due on/);
    await expect(calendar.getByText("Large kiln holds it up most")).toBeVisible();
    await expect(page.getByTestId("remedies").getByRole("listitem").first()).toContainText("in time");
    await expect(page.getByTestId("remedies")).toContainText("a second kiln like Large kiln");
    const axe = await violations(page, { within: "[data-testid=calendar]" });
    expect(axe).toEqual([]);
  });

  await test.step("each edit is one step back", async () => {
    await undo(page).tap();
    await expect(answer(page)).toContainText("days before it is due");
    await undo(page).tap();
    await expect(answer(page)).toHaveText(/^Ready on \w+,? \d+ Dec 2026\.$/);
  });
});

test("hours and days off move the end; without hours it is never ready, and says so", async ({ page }) => {
  const calendar = page.getByTestId("calendar");
  const before = await answer(page).textContent();
  await calendar.getByLabel("From", { exact: true }).fill("2026-11-26");
  await calendar.getByLabel("to, if more than one").fill("2026-12-09");
  await calendar.getByRole("button", { name: "Add days off" }).tap();
  await expect(calendar.getByText("Thu 26 Nov to Wed, 9 Dec 2026")).toBeVisible();
  await expect(answer(page)).not.toHaveText(before ?? "");
  await calendar.getByRole("button", { name: /^Open on/ }).tap();
  await expect(answer(page)).toHaveText(before ?? "");

  for (const day of ["Mon", "Tue", "Wed", "Thu", "Fri"]) {
    await calendar.getByRole("spinbutton", { name: day }).fill("0");
    await calendar.getByRole("spinbutton", { name: day }).blur();
  }
  await expect(page.getByTestId("impossible")).toContainText("Without working hours nothing is ever ready.");
  await undo(page).tap();
  await expect(page.getByTestId("impossible")).toHaveCount(0);
});

test("reasons can be read load by load", async ({ page }) => {
  const calendar = page.getByTestId("calendar");
  await calendar.getByText("Load by load, and why each begins when it does").tap();
  await expect(calendar.getByRole("row", { name: /the kiln is in use for Low firing, load 1/ })).toBeVisible();
  await calendar.getByText("How this is calculated").tap();
  await expect(calendar.getByText(/Glaze firing takes Large kiln [\d.]+ hours to heat and cool/)).toBeVisible();
});
