// An accountant's program between export and import; and the papers for the accountant, read by a reader of our own.
import { readFile } from "node:fs/promises";
import { isDeepStrictEqual } from "node:util";
import { expect, type Page } from "@playwright/test";
import { strFromU8, unzipSync } from "fflate";
import { violations } from "./axe";
import { open, settled, test } from "./page";

test.beforeEach(async ({ page }) => {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showOpenFilePicker");
    Reflect.deleteProperty(window, "showSaveFilePicker");
  });
});

async function download(page: Page, button: string): Promise<Buffer> {
  const [saved] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: button, exact: true }).click(),
  ]);
  return readFile(await saved.path());
}

async function choose(page: Page, name: string, buffer: Buffer): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Choose a file…" }).click(),
  ]);
  await chooser.setFiles({ name, mimeType: "text/csv", buffer });
}

/** RFC 4180, read letter by letter; nothing of the page's own reader. */
function readCsv(text: string, delimiter: string): string[][] {
  const rows: string[][] = [[]];
  let cell = "";
  let isQuoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const letter = text[at] ?? "";
    if (isQuoted) {
      if (letter !== '"') cell += letter;
      else if (text[at + 1] === '"') {
        cell += '"';
        at += 1;
      } else isQuoted = false;
    } else if (letter === '"') isQuoted = true;
    else if (letter === delimiter) {
      rows.at(-1)?.push(cell);
      cell = "";
    } else if (letter === "\n") {
      rows.at(-1)?.push(cell.replace(/\r$/, ""));
      rows.push([]);
      cell = "";
    } else cell += letter;
  }
  return rows.filter((row) => row.length > 0);
}

/** What an office program of that trade makes of a file: semicolons, decimal commas, one byte a letter. */
function asTheyWriteIt(rows: readonly (readonly string[])[]): Buffer {
  const text = rows
    .map((row) =>
      row
        .map((cell) => (/^-?\d+\.\d+$/.test(cell) ? cell.replace(".", ",") : cell))
        .map((cell) => (/[;"\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell))
        .join(";"),
    )
    .join("\r\n");
  return Buffer.from(text, "latin1");
}

test("pieces go to an accountant's program and come back, seen before they are taken", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const rows = readCsv((await download(page, "Save as a file…")).toString("utf8"), ",");
  const header = rows[0] ?? [];
  const at = (name: string) => header.findIndex((title) => title.startsWith(name));
  const [time, note] = [at("Fettle: time"), at("note")];
  expect(time).toBeGreaterThan(0);
  const changed = rows.map((row, index) => {
    const cells = [...row];
    if (index === 2) cells[time] = "21.75";
    if (index === 3) cells[note] = "für Zoë: größer";
    if (index === 4) cells[time] = "n/a";
    // The last column becomes the first.
    return index === 0 ? [...cells.slice(note, note + 1), ...cells] : [cells[note] ?? "", ...cells];
  });
  const moved = changed.map((row) => [...row.slice(0, note + 1), ...row.slice(note + 2)]);
  await choose(page, "zurück.csv", asTheyWriteIt(moved));

  const dialog = page.getByRole("dialog");
  await expect(dialog.locator('select[name="encoding"]')).toContainText("Windows-1252");
  await expect(dialog.locator('select[name="delimiter"]')).toContainText("semicolon (found)");
  await expect(dialog.locator('select[name="decimal"]')).toContainText("comma (found)");
  const report = page.getByTestId("csv-report");
  await expect(report.getByRole("row", { name: /^Changed/ })).toContainText("2");
  await expect(report.getByRole("row", { name: /^Refused/ })).toContainText("1");
  await expect(report.getByRole("row", { name: /^Lines read/ })).toContainText("141");
  await expect(report).toContainText("Line 5, Fettle: time (min): “n/a”");
  await expect(page.getByTestId("csv-changes")).toContainText("21.75");
  await expect(page.getByTestId("csv-changes")).toContainText("für Zoë: größer");
  expect(await violations(page, { within: "dialog" })).toEqual([]);

  const refused = (await download(page, "Save these lines with the reasons…")).toString("utf8");
  expect(refused.split("\r\n")).toHaveLength(3);
  expect(refused).toContain("n/a");

  await page.getByRole("button", { name: "Bring it in" }).click();
  await expect(page.getByTestId("notice-done").last()).toContainText("2 changed, 1 refused");
  await settled(page);
  await expect(page.locator("header").getByRole("button", { name: "Undo" })).toHaveAttribute(
    "title",
    "Undo: Import zurück.csv",
  );
  await page.locator("header").getByRole("button", { name: "Undo" }).click();
  await settled(page);
  // What comes back now is what was there before.
  await page.getByRole("button", { name: "CSV…" }).click();
  expect(readCsv((await download(page, "Save as a file…")).toString("utf8"), ",")).toEqual(rows);
});

test("an unknown column is sent somewhere once, and files of that shape know it again", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const file = Buffer.from("Piece,shelf mark\n001,A-7\n002,B-1\n");
  await choose(page, "marks.csv", file);
  await expect(page.getByTestId("csv-report").getByRole("row", { name: /^Changed/ })).toContainText("0");
  await page.getByLabel("Where the column shelf mark goes").selectOption("a column of my own, text");
  await expect(page.getByTestId("csv-report").getByRole("row", { name: /^Changed/ })).toContainText("2");
  await page.getByRole("button", { name: "Another file" }).click();
  await choose(page, "marks-2.csv", file);
  await expect(page.getByTestId("csv-report").getByRole("row", { name: /^Changed/ })).toContainText("2");
  await page.getByRole("button", { name: "Bring it in" }).click();
  await expect(page.getByTestId("notice-done").last()).toContainText("2 changed");
  await settled(page);
});

test("a picture and a file of 200 MB are refused before they are read", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  await choose(page, "photo.csv", Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 0]));
  await expect(page.getByRole("alert")).toContainText("a picture");
  const dropped = await page.evaluate(() => {
    let isRead = false;
    const file = new File(["Piece\n"], "huge.csv", { type: "text/csv" });
    Object.defineProperty(file, "size", { value: 200_000_000 });
    Object.defineProperty(file, "arrayBuffer", {
      value: () => {
        isRead = true;
      },
    });
    Object.defineProperty(file, "slice", {
      value: () => {
        isRead = true;
      },
    });
    const event = new Event("drop", { bubbles: true, cancelable: true });
    Object.defineProperty(event, "dataTransfer", { value: { files: [file], getData: () => "" } });
    document.querySelector("dialog > div")?.dispatchEvent(event);
    return () => isRead;
  });
  expect(dropped).toBeUndefined();
  await expect(page.getByRole("alert")).toContainText("200 MB");
});

test("the papers for the accountant balance, and a whole workbook comes back from its zip", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const workbook = await download(page, "Save all sheets as a zip…");
  await page.getByRole("button", { name: "For the accountant…" }).click();
  expect(await violations(page, { within: "dialog" })).toEqual([]);
  const files = unzipSync(await download(page, "Save as a zip…"));
  expect(Object.keys(files).sort()).toEqual([
    "audit-trail.csv",
    "cost-statement.csv",
    "csv-metadata.json",
    "equivalent-units.csv",
    "firings.csv",
    "hours.csv",
    "inventory.csv",
    "journal.csv",
    "losses.csv",
    "lost-pieces.csv",
    "metal-and-materials.csv",
    "process-costing.csv",
    "readme.txt",
    "sales.csv",
    "stock-movements.csv",
    "trial-balance.csv",
  ]);
  const journal = readCsv(strFromU8(files["journal.csv"] ?? new Uint8Array()), ",");
  expect(journal[0]).toEqual([
    ...["line", "date", "reference", "account code", "account", "tax code"],
    ...["currency", "debit", "credit", "memo", "document", "edition"],
  ]);
  const sums = new Map<string, number>();
  const minor = (text: string) => Number(text.replace(".", "") || "0");
  for (const [, , reference = "", , , , , debit = "", credit = ""] of journal.slice(1)) {
    expect([debit, credit].filter((side) => side !== "")).toHaveLength(1);
    expect(debit + credit).toMatch(/^\d+\.\d\d$/);
    sums.set(reference, (sums.get(reference) ?? 0) + minor(debit) - minor(credit));
  }
  expect(sums.size).toBeGreaterThan(3);
  expect([...sums.values()].every((sum) => sum === 0)).toBe(true);

  await page.getByRole("button", { name: "CSV…" }).click();
  await choose(page, "workbook.zip", workbook);
  await expect(page.getByTestId("notice-done").last()).toContainText("Opened workbook.zip");
  await settled(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const again = unzipSync(await download(page, "Save all sheets as a zip…"));
  const before = unzipSync(workbook);
  expect(Object.keys(again).sort()).toEqual(Object.keys(before).sort());
  for (const name of Object.keys(before)) {
    const [now, then] = [again[name], before[name]].map((bytes) => strFromU8(bytes ?? new Uint8Array()));
    const isSame = name.endsWith(".json")
      ? isDeepStrictEqual(JSON.parse(now ?? ""), JSON.parse(then ?? ""))
      : now === then;
    expect(isSame, name).toBe(true);
  }
});
