// A whole workbook out and back, and what its metadata says of it.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import { applyChange } from "../../src/core/document/change";
import type { Raw, Row, SheetKey, Workbook } from "../../src/core/document/workbook";
import type { CellValue } from "../../src/csv/cell-text";
import { readWorkbookFiles, readWorkbookZip, workbookFiles, writeWorkbookZip } from "../../src/csv/workbook-zip";
import { zipTexts } from "../../src/csv/zip";
import { isCellError } from "../../src/engine/values";
import { smallEdition } from "../storage/small-edition";
import { evaluate } from "../tools/evaluate";
import { checkCsvw, readGrid } from "./csvw";

const demo = demoEdition();
const shown = evaluate(demo);
const valueAt = (cell: { sheet: SheetKey; row: string; column: string }): CellValue => {
  const value = shown(cell.sheet, cell.row, cell.column);
  return isCellError(value) ? null : value;
};
const FORMS = [
  { delimiter: ",", decimal: ".", hasMark: false },
  { delimiter: ";", decimal: ",", hasMark: true },
  { delimiter: "\t", decimal: ".", hasMark: false },
] as const;

const put = (book: Workbook, sheet: SheetKey, row: string, cells: Readonly<Record<string, Raw>>) =>
  applyChange(book, {
    label: "test",
    operations: Object.entries(cells).map(([column, is]) => ({
      ...({ kind: "cell", sheet, row, column } as const),
      was: book.sheets[sheet].rows.find(({ id }) => id === row)?.cells[column],
      is,
    })),
  });

describe("a whole workbook", () => {
  for (const form of FORMS)
    it(`is the same document again, with ${JSON.stringify(form.delimiter)} and ${form.decimal}`, () => {
      for (const withComputed of [true, false]) {
        const bytes = writeWorkbookZip(demo, valueAt, { ...form, withComputed });
        expect(readWorkbookZip(bytes, "demo.zip")).toEqual({ ok: true, value: demo });
      }
    });

  it("gives the same bytes for the same contents", () => {
    const options = { ...FORMS[0], withComputed: true };
    expect(writeWorkbookZip(demo, valueAt, options)).toEqual(writeWorkbookZip(demo, valueAt, options));
  });

  it("keeps formulas typed by hand, values given to computed cells, and columns of the maker's own", () => {
    const small = smallEdition(3);
    const own = { key: "my_mark", title: '=mark, "x"', unit: "", kind: "input", type: "text", own: true } as const;
    const grown: Workbook = {
      ...small,
      sheets: { ...small.sheets, pieces: { ...small.sheets.pieces, columns: [...small.sheets.pieces.columns, own] } },
    };
    const cells = { "cast.slip": { f: "=piece_kg*700" }, "cast.cost": 3.25, note: "-7\r\n🏺 שלום", my_mark: "007" };
    const book = put(put(grown, "pieces", "p2", cells), "results", "put_in", { value: 12.5 });
    const options = { ...FORMS[1], withComputed: true };
    expect(
      readWorkbookFiles(
        workbookFiles(book, () => 7, options),
        "z",
      ),
    ).toEqual({ ok: true, value: book });
    const values = readWorkbookFiles(
      workbookFiles(book, () => 7, { ...options, formulas: "values" }),
      "z",
    );
    expect(values.ok && values.value.sheets.pieces.rows[1]?.cells).toEqual({
      ...book.sheets.pieces.rows[1]?.cells,
      "cast.slip": 7,
    });
  });

  it("comes back whatever its texts are, in every form", () => {
    const marks = fc.constantFrom(..."=+-@'\",;\t\n 07.%€", "＝", "🏺", "שלום", "\u202e");
    const text = fc
      .string({ unit: marks, minLength: 1, maxLength: 10 })
      .map((made) => made.trim())
      .filter((made) => made !== "");
    const number = fc.double({ min: 0, max: 1e9, noNaN: true }).map((x) => x + 0);
    const names = fc.uniqueArray(text, { minLength: 3, maxLength: 3, selector: (one) => one.toLowerCase() });
    const base = smallEdition(3);
    fc.assert(
      fc.property(names, text, number, fc.constantFrom(...FORMS), (pieces, note, slip, form) => {
        const rows = base.sheets.pieces.rows.map(
          (row, at): Row => ({ ...row, cells: { ...row.cells, piece: pieces[at] ?? "", note, "cast.slip": slip } }),
        );
        const book = { ...base, sheets: { ...base.sheets, pieces: { ...base.sheets.pieces, rows } } };
        const files = workbookFiles(book, () => -1.5, { ...form, withComputed: true });
        expect(readWorkbookFiles(files, "z")).toEqual({ ok: true, value: book });
      }),
      { seed: 20261125, numRuns: 60 },
    );
  });

  it("takes what another program changed, and refuses what it can't take, saying where", () => {
    const small = smallEdition(3);
    const files = workbookFiles(small, () => null, { ...FORMS[0], withComputed: false });
    const pieces = files["pieces.csv"] ?? "";
    const changed = readWorkbookFiles({ ...files, "pieces.csv": pieces.replace("001,standard", "001,special") }, "z");
    expect(changed.ok && changed.value.sheets.pieces.rows[0]?.cells.tier).toBe("special");
    const codes = (other: Readonly<Record<string, string>>) => {
      const read = readWorkbookFiles({ ...files, ...other }, "z");
      return read.ok ? [] : [...new Set(read.problems.map(({ code }) => code))];
    };
    expect(codes({ "pieces.csv": pieces.replace("001,standard", "001,huge") })).toEqual(["entry.choice"]);
    expect(
      codes({
        "pieces.csv": pieces
          .split("\r\n")
          .filter((line) => !line.startsWith("002"))
          .join("\r\n"),
      }),
    ).toEqual(["zip.row"]);
    expect(codes({ "edition.json": "{" })).toEqual(["zip.shape"]);
    const { "kilns.csv": _, ...less } = files;
    const lacking = readWorkbookFiles(less, "z");
    expect(lacking.ok ? [] : lacking.problems.map(({ code }) => code)).toEqual(["zip.file"]);
    expect(readWorkbookZip(zipTexts({ "a.csv": "x" }), "z").ok).toBe(false);
    expect(readWorkbookZip(new Uint8Array([0x50, 0x4b, 3, 4, 9]), "z").ok).toBe(false);
  });
});

describe("the metadata", () => {
  for (const form of FORMS)
    it(`is of the vocabulary and true of the tables, with ${JSON.stringify(form.delimiter)}`, () => {
      const files = workbookFiles(demo, valueAt, { ...form, withComputed: true });
      const metadata = JSON.parse(files["csv-metadata.json"] ?? "{}");
      expect(checkCsvw(metadata, files)).toEqual([]);
      const pieces = metadata.tables.find((table: { url: string }) => table.url === "pieces.csv").tableSchema;
      expect(pieces.primaryKey).toBe("piece");
      expect(pieces.foreignKeys.length).toBeGreaterThan(3);
      const own = pieces.columns.find((column: { name: string }) => column.name === "own");
      expect(own["schema:unitText"]).toBe("EUR");
    });

  it("says that no line is a comment: a piece named #7 is read", () => {
    const book = put(smallEdition(2), "pieces", "p1", { piece: "#7" });
    const files = workbookFiles(book, () => null, { ...FORMS[0], withComputed: false });
    const metadata = JSON.parse(files["csv-metadata.json"] ?? "{}");
    expect(metadata.dialect.commentPrefix).toBe("=");
    expect(checkCsvw(metadata, files)).toEqual([]);
    expect(readGrid(files["pieces.csv"] ?? "", ",", metadata.dialect.commentPrefix)[1]?.[0]).toBe("#7");
    expect(readGrid(files["pieces.csv"] ?? "", ",", "#")[1]?.[0]).toBe("002");
  });

  it("is true of huge and tiny numbers, of names that begin as a comment would, and of words among numbers", () => {
    const small = put(smallEdition(2), "pieces", "p1", { piece: "=7", "cast.slip": 1.5e-7, note: "a;=b" });
    const book = put(small, "pieces", "p2", { piece: "#8", "cast.slip": 2.5e22 });
    for (const form of FORMS) {
      const files = workbookFiles(book, ({ row }) => (row === "p1" ? "soon" : 1e-9), { ...form, withComputed: true });
      expect(checkCsvw(JSON.parse(files["csv-metadata.json"] ?? "{}"), files)).toEqual([]);
    }
    const nameless = put(smallEdition(2), "pieces", "p1", { piece: " " });
    const files = workbookFiles(nameless, () => null, { ...FORMS[0], withComputed: true });
    const metadata = JSON.parse(files["csv-metadata.json"] ?? "{}");
    const pieces = metadata.tables.find((table: { url: string }) => table.url === "pieces.csv").tableSchema;
    expect([pieces.primaryKey, checkCsvw(metadata, files)]).toEqual([undefined, []]);
  });

  it("is found wrong where it is: the validator sees what it should", () => {
    const files = workbookFiles(demo, valueAt, { ...FORMS[0], withComputed: false });
    const good = files["csv-metadata.json"] ?? "{}";
    const found = (from: string | RegExp, to: string) => checkCsvw(JSON.parse(good.replace(from, to)), files).length;
    expect(found("http://www.w3.org/ns/csvw", "http://example.invalid")).toBeGreaterThan(0);
    expect(found('"primaryKey": "piece"', '"primaryKey": "tier"')).toBeGreaterThan(0);
    expect(found('"primaryKey": "piece"', '"primaryKey": "nothing"')).toBeGreaterThan(0);
    expect(found('"titles": "Piece"', '"titles": "Lantern"')).toBeGreaterThan(0);
    expect(found(/"base": "date"/g, '"base": "integer"')).toBeGreaterThan(0);
    expect(found('"resource": "firings.csv"', '"resource": "kilns.csv"')).toBeGreaterThan(0);
    expect(found('"schema:unitText"', '"unit"')).toBeGreaterThan(0);
    expect(found('"commentPrefix": "="', '"commentPrefix": null')).toBeGreaterThan(0);
    expect(found('"trim": false', '"trim": "maybe"')).toBeGreaterThan(0);
    expect(found(/("titles": "Piece",\s*"datatype": "string",\s*"required": )true/, "$1false")).toBeGreaterThan(0);
  });
});
