import { readFile } from "node:fs/promises";
import { expect, type Page } from "@playwright/test";
import { unzipSync } from "fflate";
import { rawZip } from "../tools/raw-zip";
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

async function choose(page: Page, name: string, buffer: Uint8Array | string): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Choose a file…" }).click(),
  ]);
  await chooser.setFiles({ name, mimeType: "application/octet-stream", buffer: Buffer.from(buffer) });
}

test("zips that lie or grow are refused with their place, a long one can be stopped, and the edition stays", async ({
  page,
}) => {
  await open(page);
  const before = await figure(page, "put_in").textContent();
  await page.getByRole("button", { name: "CSV…" }).click();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save all sheets as a zip…" }).click(),
  ]);
  const good = await readFile(await download.path());
  const alert = page.getByRole("alert");

  await choose(page, "bomb.zip", rawZip([{ name: "pieces.csv", content: ",".repeat(60_000_000) }]));
  await expect(alert).toContainText("bomb.zip, pieces.csv");
  // One letter of a table changed, the checksum as it was.
  const files = unzipSync(good);
  const pieces = files["pieces.csv"] ?? new Uint8Array();
  const changed = Object.entries(files).map(([name, content]) => ({ name, content }));
  await choose(
    page,
    "digit.zip",
    rawZip(changed.map((file) => (file.content === pieces ? { ...file, crc: 7 } : file))),
  );
  await expect(alert).toContainText("digit.zip, pieces.csv");

  const lines = Array.from({ length: 900_000 }, (_, at) => `${at},${(at * 7919) % 104_729},${(at * 31) % 9973}`);
  const long = changed.map((file) => (file.content === pieces ? { ...file, content: lines.join("\r\n") } : file));
  await choose(page, "long.zip", rawZip(long));
  await page.getByRole("button", { name: "Stop" }).click();
  await expect(page.getByRole("button", { name: "Choose a file…" })).toBeVisible();
  await expect(figure(page, "put_in")).toHaveText(before ?? "");
  await choose(page, "good.zip", good);
  await expect(page.getByTestId("notice-done").last()).toContainText("Opened good.zip");
});

test("names below a title, an odd letter and a column without a name are shown and asked", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const text = "Studio list, spring\n\nPiece,note,,Fettle: time (min)\n001,größer,7,44\n002,caf*,8,45\n";
  const [head = "", tail = ""] = text.split("*");
  await choose(page, "odd.csv", new Uint8Array([...Buffer.from(head), 0xe9, ...Buffer.from(tail)]));
  await expect(page.locator('select[name="header"]')).toContainText("line 3 (found)");
  await expect(page.getByRole("alert").first()).toContainText("can't be read as UTF-8");
  const bringIn = page.getByRole("button", { name: "Bring it in" });
  await expect(bringIn).toBeDisabled();
  await page.getByRole("button", { name: /UTF-8, and cells with such letters are refused/ }).click();
  await page.getByRole("button", { name: "Leave it out" }).click();
  await expect(bringIn).toBeEnabled();
  await expect(page.getByTestId("csv-changes")).toContainText("größer");
  await expect(page.getByTestId("csv-report")).toContainText("Line 5, note");
});

test("losses of an earlier edition become losses seen before, in one undo step", async ({ page }) => {
  await open(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Route/ })
    .click();
  await page.getByRole("button", { name: "CSV…" }).click();
  await choose(page, "losses.csv", "step,entered,lost,planned rate\r\nCast,40,3,0.04\r\nFettle,37,1,0.02\r\n");
  await page.getByRole("button", { name: "Yes: add them to those seen before" }).click();
  const changes = page.getByTestId("csv-changes");
  await expect(changes.getByRole("row", { name: /Cast, entered before/ })).toContainText("104");
  await expect(changes.getByRole("row", { name: /Cast, lost before/ })).toContainText("5");
  await page.getByRole("button", { name: "Bring it in" }).click();
  await expect(page.getByTestId("notice-done").last()).toContainText("2 changed");
});
