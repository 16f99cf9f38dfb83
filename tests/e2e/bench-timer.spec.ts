// The bench timer as a maker uses it: seen on every page, through a reload, in two tabs, into Record, and forgotten over night.
import { expect, type Page } from "@playwright/test";
import { violations } from "./axe";
import { open, settled, tabTo, test, toPlace } from "./page";

const strip = (page: Page) => page.getByTestId("bench-timer");
const time = (page: Page) => strip(page).getByRole("timer");

async function start(page: Page): Promise<void> {
  await page.clock.install();
  await open(page);
  await toPlace(page, "Record");
  await page.locator("#choose-pieces").fill("015, 016");
  await page.getByRole("button", { name: "Minutes", exact: true }).click();
  await page.getByRole("button", { name: /^Start the bench timer/ }).click();
  await expect(strip(page)).toBeVisible();
}

test("it runs above every page, is paused and goes on after a reload, and its minutes are recorded as one step", async ({
  page,
}) => {
  await start(page);
  await page.clock.fastForward("20:00");
  await expect(time(page)).toHaveText(/^0:20:0\d$/);
  for (const place of ["Pieces", "Paper", "What if", "The shelf"]) {
    await toPlace(page, place);
    await expect(strip(page)).toBeInViewport();
  }
  await strip(page)
    .getByRole("button", { name: /^Pause/ })
    .click();
  await expect(strip(page).getByRole("button", { name: /^Go on/ })).toBeVisible();
  await page.clock.fastForward("30:00");
  await page.reload();
  await settled(page);
  await expect(time(page)).toHaveText(/^0:20:\d\d$/);
  await tabTo(page, /^Go on/);
  await page.keyboard.press("Enter");
  await expect(strip(page).getByRole("button", { name: /^Pause/ })).toBeVisible();
  await page.clock.fastForward("10:00");
  await strip(page).getByRole("button", { name: "Stop and record…" }).click();
  await expect(page.getByTestId("record")).toContainText("15 min, for 2 pieces");
  await page.getByTestId("record-it").click();
  await expect(strip(page)).toHaveCount(0);
  await expect(page.getByText(/shared, 15(?:\.0\d)? min each/).first()).toBeVisible();
  await page.getByRole("button", { name: "Undo", exact: true }).first().click();
  await expect(page.locator(".top").getByRole("button", { name: "Undo" })).toBeDisabled();
});

test("another tab sees it, cannot begin a second one, and what it does is seen here", async ({ page, context }) => {
  await start(page);
  const other = await context.newPage();
  await open(other);
  await expect(strip(other)).toBeVisible();
  await toPlace(other, "Record");
  await expect(other.getByRole("button", { name: /^Start the bench timer/ })).toHaveCount(0);
  await strip(other)
    .getByRole("button", { name: /^Pause/ })
    .click();
  await strip(other)
    .getByRole("button", { name: /^Discard/ })
    .click();
  await expect(strip(other)).toHaveCount(0);
  await page.clock.fastForward("00:10");
  await expect(strip(page)).toHaveCount(0);
});

test("one that was forgotten over night is asked about, on a phone too", async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await start(page);
  await page.clock.fastForward("15:00:00");
  await expect(strip(page)).toContainText("Was the bench timer forgotten?");
  const found = await violations(page, { within: "[data-testid=bench-timer]" });
  expect(found).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  const field = strip(page).getByLabel("Minutes really worked, in all");
  await field.fill("5000");
  await expect(strip(page).getByRole("button", { name: "Take these minutes" })).toBeDisabled();
  await field.fill("35");
  await strip(page).getByRole("button", { name: "Take these minutes" }).click();
  await expect(time(page)).toHaveText("0:35:00");
});
