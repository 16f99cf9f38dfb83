import { readFile } from "node:fs/promises";
import { expect } from "@playwright/test";
import { figure, open, settled, test, toSheet } from "./page";

test.beforeEach(async ({ page }) => {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showOpenFilePicker");
    Reflect.deleteProperty(window, "showSaveFilePicker");
  });
});

test("the pieces go out as CSV and come back by piece number, in one undo step", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as a file…" }).click(),
  ]);
  const text = await readFile(await download.path(), "utf8");
  const lines = text.split("\r\n");
  expect(lines[0]).toContain("Fettle: time");
  expect(lines[1]).toMatch(/^(\uFEFF)?"?001"?,/);
  expect(lines.filter(Boolean)).toHaveLength(142);

  // Another program changes one number, spoils another, and reorders the lines.
  const header = (lines[0] ?? "").split(",");
  const time = header.findIndex((name) => name.startsWith("Fettle: time"));
  const changed = lines.slice(1, 4).map((line, at) => {
    const cells = line.split(",");
    cells[time] = at === 0 ? "44" : at === 1 ? "soon" : (cells[time] ?? "");
    return cells.join(",");
  });
  const file = [lines[0], ...changed.reverse(), ""].join("\r\n");
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Choose a file…" }).click(),
  ]);
  await chooser.setFiles({ name: "back.csv", mimeType: "text/csv", buffer: Buffer.from(file) });
  const report = page.getByTestId("csv-report");
  await expect(report.getByRole("row", { name: /^Changed/ })).toContainText("1");
  await expect(report.getByRole("row", { name: /^As they are/ })).toContainText("1");
  await expect(page.getByTestId("csv-changes")).toContainText("Pieces 001, Fettle: time");
  await expect(report).toContainText("“soon”");
  await page.getByRole("button", { name: "Bring it in" }).click();
  await expect(page.getByTestId("notice-done").last()).toContainText("1 changed, 1 refused");
  await settled(page);
  const put = await figure(page, "put_in").textContent();
  await toSheet(page);
  await page.keyboard.press("Control+z");
  await settled(page);
  await expect(figure(page, "put_in")).not.toHaveText(put ?? "");
});

test("a number that could mean two things is asked, not guessed", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Choose a file…" }).click(),
  ]);
  await chooser.setFiles({
    name: "odd.csv",
    mimeType: "text/csv",
    buffer: Buffer.from("Piece;Fettle: time (min)\r\n001;1,234\r\n002;2,500\r\n"),
  });
  await expect(page.getByRole("alert").first()).toBeVisible();
  await expect(page.getByRole("button", { name: "Bring it in" })).toBeDisabled();
});
