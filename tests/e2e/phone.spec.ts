// The bench with a phone in the hand: everything can be read and done at 390 px.
import { expect } from "@playwright/test";
import { open, settled, test, toPlace } from "./page";

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

test("a sheet is a list; a row opens to its labels over its values, and the card edits them", async ({ page }) => {
  await open(page);
  await toPlace(page, "Plan");
  await toPlace(page, "Pieces");
  const list = page.getByTestId("row-list");
  await expect(list.locator(".row-head")).toHaveCount(50);
  await list.getByRole("button", { name: "Show 50 more of 141" }).tap();
  await expect(list.locator(".row-head")).toHaveCount(100);
  await list.getByRole("button", { name: /^002 good/ }).tap();
  await list.getByRole("button", { name: "Fettle", exact: true }).tap();
  const minutes = list.getByRole("button", { name: /^time/ }).first();
  await minutes.tap();
  await expect(page.locator("#card h2")).toHaveText("Pieces 002, Fettle: time");
  await page.locator("#card form input").fill("soon");
  await page.locator("#card form button").tap();
  // What was refused stands with its field, and nowhere else.
  await expect(page.locator("#card [role=alert]")).toContainText("found “soon”");
  await expect(page.locator(".notice")).toHaveCount(0);
  await page.locator("#card form input").fill("21");
  await page.locator("#card form button").tap();
  await expect(minutes).toContainText("21");
  await expect(page.locator("#card [role=alert]")).toHaveCount(0);

  await page.getByRole("button", { name: "As a grid" }).tap();
  await expect(page.locator(".grid-host td").first()).toBeVisible();
  await page.getByRole("button", { name: "As a list" }).tap();
  await expect(list).toBeVisible();
  await toPlace(page, "Edition");
  await list.getByRole("button", { name: /^Pieces to deliver \d/ }).tap();
  await expect(page.locator("#card h2")).toHaveText("Edition, Pieces to deliver");
});

test("the bar says where one is; a recording is read before it is made", async ({ page }) => {
  await open(page);
  await test.step("the bar says where one is; key 1 opens the list there", async () => {
    await toPlace(page, "Ready when");
    await expect(page.locator(".where")).toContainText("Ready when");
    await expect(page.locator("#sheets")).toBeHidden();
    await page.keyboard.press("Alt+1");
    await expect(page.locator("#sheets [aria-current]")).toBeFocused();
    await page.keyboard.press("Escape");
    await expect(page.locator("#sheets")).toBeHidden();
  });

  await test.step("a recording is read before it is made, and the press is in sight all the while", async () => {
    await toPlace(page, "Record");
    await page.getByRole("button", { name: /^Waiting for Glaze 12/ }).tap();
    await expect(page.getByTestId("plan")).toBeInViewport({ ratio: 1 });
    await expect(page.getByTestId("plan")).toContainText("This will happen to 12 pieces");
    await expect(page.getByTestId("record-it")).toBeInViewport({ ratio: 1 });
    await page.getByTestId("record-it").tap();
    await expect(page.getByTestId("notice-done")).toContainText("Done up to Glaze");
    await page.getByTestId("notice-done").getByRole("button", { name: "Undo" }).tap();
    await settled(page);
    await expect(page.getByRole("button", { name: /^Waiting for Glaze 12/ })).toBeVisible();
  });
});

test("ways of a rescue stand one below the other, the recommended one open", async ({ page }) => {
  await open(page);
  await toPlace(page, "Rescue");
  await page.locator("#choose-pieces").fill("95");
  const ways = page.locator(".way");
  await expect(ways).toHaveCount(6);
  await expect(page.locator(".way[open]")).toHaveCount(1);
  await expect(page.locator(".way[open] summary")).toContainText("recommended");
  await ways.filter({ hasText: "Cover with lustre" }).locator("summary").tap();
  await page.getByRole("button", { name: "Do this: Cover with lustre" }).tap();
  await expect(page.getByTestId("rescued")).toContainText("Chosen: Cover with lustre.");
});
