import { describe, expect, it } from "vitest";
import type { CellName } from "../../src/core/document/access";
import { applyChange, type Operation } from "../../src/core/document/change";
import type { Raw, SheetKey, Workbook } from "../../src/core/document/workbook";
import type { CellValue } from "../../src/csv/cell-text";
import { type CsvWriteOptions, writeSheetCsv } from "../../src/csv/write";
import { smallEdition } from "../storage/small-edition";

const POINT: CsvWriteOptions = { delimiter: ",", decimal: ".", withComputed: false };
const nothing = () => null;

function withCells(book: Workbook, sheet: SheetKey, row: string, cells: Readonly<Record<string, Raw>>): Workbook {
  const operations = Object.entries(cells).map(
    ([column, is]): Operation => ({ kind: "cell", sheet, row, column, was: undefined, is }),
  );
  return applyChange(book, { label: "test", operations });
}

/** A file's cells by header, split without minding quotes: for files that have none. */
function plainRows(text: string, delimiter: string): Record<string, string>[] {
  const [header = "", ...lines] = text.trimEnd().split("\r\n");
  const names = header.split(delimiter);
  return lines.map((line) => Object.fromEntries(line.split(delimiter).map((cell, at) => [names[at] ?? "", cell])));
}

describe("writing a sheet", () => {
  it("keeps piece numbers as they are, numbers exact, and blanks blank", () => {
    const book = withCells(smallEdition(2), "pieces", "p1", { "cast.slip": 0.1 + 0.2, kg: -1.234, "glaze.coats": 2 });
    const [first, second] = plainRows(writeSheetCsv(book, "pieces", nothing, POINT), ",");
    expect(first).toMatchObject({
      Piece: "001",
      tier: "standard",
      "Cast: slip kept (g)": "0.30000000000000004",
      "weight (kg)": "-1.2340",
      "Glaze: coats": "2",
      "Glaze: area (cm²)": "",
    });
    expect(second).toMatchObject({ Piece: "002", "Cast: slip kept (g)": "" });
  });

  it("ends every line in CR LF, and puts in quotation marks what needs them", () => {
    const book = withCells(smallEdition(1), "pieces", "p1", {
      note: 'a "good" one,\nsaid Ida; really',
      reason: "🏺 שלום",
    });
    const text = writeSheetCsv(book, "pieces", nothing, POINT);
    expect(text.endsWith("\r\n")).toBe(true);
    expect(text).toContain(',"a ""good"" one,\nsaid Ida; really"\r\n');
    expect(text).toContain(",🏺 שלום,");
  });

  it("has decimal commas between semicolons, and quotes them between commas", () => {
    const book = withCells(smallEdition(1), "pieces", "p1", { "cast.slip": 905.5 });
    expect(writeSheetCsv(book, "pieces", nothing, { ...POINT, delimiter: ";", decimal: "," })).toContain(";905,5;");
    expect(writeSheetCsv(book, "pieces", nothing, { ...POINT, decimal: "," })).toContain(',"905,5",');
    expect(writeSheetCsv(book, "pieces", nothing, { ...POINT, delimiter: "\t" })).toContain("\t905.5\t");
  });

  it("stops texts from running as formulas elsewhere, and leaves negative numbers alone", () => {
    const book = withCells(smallEdition(2), "pieces", "p1", { note: '=HYPERLINK("x")', reason: "-3", kg: -3 });
    const text = writeSheetCsv(book, "pieces", nothing, POINT);
    expect(text).toContain(`"'=HYPERLINK(""x"")"`);
    const [, row] = text.split("\r\n");
    expect(row).toContain(",'-3,");
    expect(row).toContain(",-3,");
  });

  it("writes titles for choices, unless two rows have the same title", () => {
    const lost = withCells(smallEdition(1), "pieces", "p1", { lost_at: "bisque" });
    expect(plainRows(writeSheetCsv(lost, "pieces", nothing, POINT), ",")[0]).toMatchObject({ "lost at": "Bisque" });
    const twins = withCells(lost, "route", "glaze", { title: "bisque" });
    expect(plainRows(writeSheetCsv(twins, "pieces", nothing, POINT), ",")[0]).toMatchObject({ "lost at": "bisque" });
  });

  it("writes percentages of a column as fractions, and of a line with their sign", () => {
    const route = plainRows(writeSheetCsv(smallEdition(), "route", nothing, POINT), ",");
    expect(route[0]).toMatchObject({ Step: "Cast", "planned loss (fraction)": "0.04" });
    const edition = writeSheetCsv(smallEdition(), "edition", nothing, POINT);
    expect(edition).toContain("How sure to be of delivering them,95%,");
    expect(edition).toContain("Wage,24.5,¤/h,");
    expect(edition).toContain("A piece weighs,1.2340,kg,");
  });

  it("writes a formula typed by hand as guarded text", () => {
    const book = withCells(smallEdition(1), "pieces", "p1", { "cast.slip": { f: "=900-piece_kg" } });
    expect(plainRows(writeSheetCsv(book, "pieces", nothing, POINT), ",")[0]).toMatchObject({
      "Cast: slip kept (g)": "'=900-piece_kg",
    });
  });

  it("adds computed columns when asked, and what blanks and formulas come to", () => {
    const book = withCells(smallEdition(1), "pieces", "p1", { "cast.slip": { f: "=900-1" } });
    const asked: string[] = [];
    const values: Record<string, CellValue> = {
      own: 12.345,
      outcome: "in progress",
      "cast.slip": 899,
      kg: 1.234,
      price: null,
    };
    const valueAt = (cell: CellName) => {
      asked.push(`${cell.sheet} ${cell.row}`);
      return values[cell.column] ?? null;
    };
    const [row] = plainRows(writeSheetCsv(book, "pieces", valueAt, { ...POINT, withComputed: true }), ",");
    expect(row).toMatchObject({
      "own cost (EUR)": "12.3450",
      outcome: "in progress",
      "Cast: slip kept (g)": "'=900-1",
      "Cast: slip kept in use (g)": "899",
      "weight (kg)": "",
      "weight in use (kg)": "1.2340",
      "price (EUR)": "",
    });
    expect(new Set(asked)).toEqual(new Set(["pieces p1"]));
    const without = writeSheetCsv(book, "pieces", valueAt, POINT);
    expect(without).not.toContain("in use");
    expect(without).not.toContain("own cost");
    const edition = (withComputed: boolean) => writeSheetCsv(book, "edition", () => 0.5, { ...POINT, withComputed });
    expect(edition(true)).toContain("Yield over the whole route,50%,");
    expect(edition(false)).toContain("Yield over the whole route,,");
  });

  it("rounds computed money once, half away from zero, and leaves what was entered alone", () => {
    const book = withCells(smallEdition(1), "materials", "m1", { pack_price: 21.555 });
    const valueAt = ({ column }: CellName) => (column === "cost" ? 1.005 : column === "per_gram" ? 0.00107775 : -2.345);
    const options = { ...POINT, withComputed: true, moneyDigits: 2 };
    const [row] = plainRows(writeSheetCsv(book, "materials", valueAt, options), ",");
    expect(row).toMatchObject({
      "pack price (EUR)": "21.5550",
      "cost of use (EUR)": "1.01",
      "price (EUR/g)": "0.00107775",
    });
    const [full] = plainRows(writeSheetCsv(book, "materials", valueAt, { ...POINT, withComputed: true }), ",");
    expect(full?.["cost of use (EUR)"]).toBe("1.0050");
  });

  it("writes formulas typed by hand as what they come to, where told", () => {
    const book = withCells(smallEdition(1), "pieces", "p1", { "cast.slip": { f: "=900-1" }, kg: 2 });
    const [row] = plainRows(
      writeSheetCsv(book, "pieces", () => 899, { ...POINT, formulas: "values" }),
      ",",
    );
    expect(row).toMatchObject({ "Cast: slip kept (g)": "899", "weight (kg)": "2" });
  });
});
