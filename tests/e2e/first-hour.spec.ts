// The first hour: help that can be searched and tried, a start that explains itself, sheets that say why they are empty.
import { expect } from "@playwright/test";
import { open, settled, test } from "./page";

test("help finds words, ways and functions, and tries a formula on the open edition", async ({ page }) => {
  await open(page);
  await page.keyboard.press("Alt+h");
  const help = page.getByRole("dialog", { name: "Help" });
  await help.getByLabel("Look for").fill("bone dry");
  await expect(help.getByText("Clay with no water left")).toBeVisible();
  await help.getByLabel("Look for").fill("CONE_TEMP");
  const example = help.getByLabel("Example of CONE_TEMP");
  await example.fill("CONE_TEMP(6,150)+0*wage");
  await example.press("Enter");
  await expect(help.getByText(/^gives 1.?2\d\d/)).toBeVisible();
  await example.fill("CONE_TEMP(99,150)");
  await example.press("Enter");
  await expect(help.getByText(/gives The formula/)).toContainText("cone");
  await help.getByLabel("Look for").fill("");
  await help.getByRole("button", { name: /^How to/ }).click();
  await help.getByRole("button", { name: "Plan how many pieces to start: go there" }).click();
  await expect(page.locator("#card h2").first()).toHaveText(/Pieces to start/);
});

test("the start dialog says what the answers come to before anything is made", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "Start an edition…" }).click();
  const dialog = page.getByRole("dialog", { name: "Start an edition" });
  await dialog.getByLabel("How many pieces are to be delivered?").fill("40");
  const said = await dialog.getByText(/pieces will be started/).textContent();
  await dialog.getByLabel("What is it called?").fill("Dune");
  await dialog.getByRole("button", { name: "Start it" }).click();
  await settled(page);
  // The plan comes first; the pieces are on their sheet.
  await expect(page.getByTestId("plan-page")).toBeVisible();
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Pieces/ })
    .click();
  const count = Number(/(\d+) pieces/.exec(said ?? "")?.[1]);
  expect(count).toBeGreaterThan(40);
  await expect(page.getByTestId("row-count")).toContainText(`${count} rows`);
});

test("a sheet with nothing to show says why and what to do", async ({ page }) => {
  await open(page);
  await page.getByLabel("Show only rows with this text").fill("no such piece");
  await expect(page.getByTestId("empty-sheet")).toContainText("No row fits “no such piece”; the sheet has 141 rows.");
  await page.getByRole("button", { name: "Show all rows" }).click();
  await expect(page.getByTestId("row-count")).toContainText("141 rows");
  await page.getByRole("button", { name: /^Tariffs/ }).click();
  await expect(page.getByTestId("empty-sheet")).toContainText("No band yet.");
});
