// What is written comes back: into the same workbook nothing changes, and into one whose inputs were cleared every cell
// holds again exactly what it held.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LABEL_COLUMNS, specOf } from "../../src/core/document/access";
import { applyChange } from "../../src/core/document/change";
import { choicesOf, isAllowed } from "../../src/core/document/entry";
import type { CellSpec, Column, Raw, Row, SheetKey, Workbook } from "../../src/core/document/workbook";
import { planImport } from "../../src/csv/plan";
import { readSheetCsv } from "../../src/csv/read";
import { type CsvWriteOptions, writeSheetCsv } from "../../src/csv/write";
import { smallEdition } from "../storage/small-edition";

const SEED = 20261125;

/** Texts as they are kept: without spaces at their ends, never blank, and full of what CSV stumbles over. */
const marks = fc.constantFrom(
  ..."=+-@'\"`,;|\t\r\n\\ 0017.%€¤",
  "＝",
  "\r\n",
  "🏺",
  "👩🏽‍🎨",
  "שלום",
  "مرحبا",
  "\u202e",
  "e\u0301",
  "\u00a0",
  "\ufeff",
  "sep=",
);
const anyText = fc
  .oneof(fc.string({ unit: marks, maxLength: 12 }), fc.string({ unit: "grapheme", maxLength: 12 }))
  .map((text) => text.trim())
  .filter((text) => text !== "");
const anyNumber = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map((x) => x + 0),
  fc.double({ min: 0, max: 1, noNaN: true }),
  fc.integer({ min: -9_999_999, max: 9_999_999 }).map((x) => x / 1000),
  fc.integer({ min: 0, max: 50 }),
);
const anyFormula = fc.constantFrom("=1+1", "=piece_kg*1000", '=IF(1>0,"a, b;",2)', "=-3").map((f) => ({ f }));
const anyDate = fc.integer({ min: 0, max: 20_000 }).map((day) => new Date(day * 86_400_000).toISOString().slice(0, 10));
const anyTime = fc
  .tuple(fc.integer({ min: 0, max: 23 }), fc.integer({ min: 0, max: 59 }))
  .map((parts) => parts.map((part) => String(part).padStart(2, "0")).join(":"));

/** Something that a cell may hold, or nothing. */
function anyRaw(book: Workbook, spec: CellSpec): fc.Arbitrary<Raw | undefined> {
  const choices = choicesOf(book, spec).map((choice) => choice.value);
  const some: Readonly<Record<CellSpec["type"], fc.Arbitrary<Raw>>> = {
    number: fc.oneof({ arbitrary: anyNumber, weight: 4 }, { arbitrary: anyFormula, weight: 1 }),
    text: anyText,
    date: anyDate,
    time: anyTime,
    choice: choices.length === 0 ? fc.constant("") : fc.constantFrom(...choices),
  };
  if (spec.type === "choice" && choices.length === 0) return fc.constant(undefined);
  const allowed = some[spec.type].filter((raw) => isAllowed(book, spec, raw));
  if (spec.required) return allowed;
  return fc.oneof({ arbitrary: allowed, weight: 3 }, { arbitrary: fc.constant(undefined), weight: 1 });
}

/** Whether the file brings a cell back: a visible input other than what names the row or says what a step is. */
function isBrought(sheet: SheetKey, column: Column, row: Row): boolean {
  if (column.hidden || column.key === LABEL_COLUMNS[sheet] || (sheet === "route" && column.key === "kind"))
    return false;
  return specOf(column, row).kind === "input";
}

type Cells = Readonly<Record<string, Raw | undefined>>;

/** Something for each cell of a sheet that a file brings back, row by row. */
function anyCells(book: Workbook, sheet: SheetKey): fc.Arbitrary<readonly Cells[]> {
  const rows = book.sheets[sheet].rows.map((row) =>
    fc.record(
      Object.fromEntries(
        book.sheets[sheet].columns
          .filter((column) => isBrought(sheet, column, row))
          .map((column) => [column.key, anyRaw(book, specOf(column, row))]),
      ),
    ),
  );
  return fc.tuple(...rows);
}

function withRows(book: Workbook, sheet: SheetKey, rows: readonly Row[]): Workbook {
  return { ...book, sheets: { ...book.sheets, [sheet]: { ...book.sheets[sheet], rows } } };
}

/** The sheet with other cells; undefined clears. */
function withCells(book: Workbook, sheet: SheetKey, all: readonly Cells[]): Workbook {
  const rows = book.sheets[sheet].rows.map((row, at): Row => {
    const entries = Object.entries({ ...row.cells, ...all[at] });
    return {
      ...row,
      cells: Object.fromEntries(entries.flatMap(([key, raw]) => (raw === undefined ? [] : [[key, raw]]))),
    };
  });
  return withRows(book, sheet, rows);
}

/** The sheet with nothing in the cells that a file brings back. */
function cleared(book: Workbook, sheet: SheetKey): Workbook {
  const { columns, rows } = book.sheets[sheet];
  const none = rows.map((row) =>
    Object.fromEntries(
      columns.filter((column) => isBrought(sheet, column, row)).map((column) => [column.key, undefined]),
    ),
  );
  return withCells(book, sheet, none);
}

const anyOptions: fc.Arbitrary<CsvWriteOptions> = fc.record({
  delimiter: fc.constantFrom(",", ";", "\t"),
  decimal: fc.constantFrom(".", ","),
  withComputed: fc.boolean(),
});
const anyNames = fc.uniqueArray(anyText, { minLength: 3, maxLength: 3, selector: (text) => text.toLowerCase() });
const named = (book: Workbook, names: readonly string[]) =>
  withCells(
    book,
    "pieces",
    names.map((piece) => ({ piece })),
  );

// Not a real engine: texts and numbers that are awkward in a file.
const valueAt = (cell: { readonly column: string }) => (cell.column.length % 2 === 0 ? '=odd, "text"' : -1.234);

function checkRoundTrip(book: Workbook, sheet: SheetKey, options: CsvWriteOptions): void {
  const table = readSheetCsv(writeSheetCsv(book, sheet, valueAt, options));
  expect(table).toMatchObject({ delimiter: options.delimiter, problems: [] });
  const same = planImport(book, sheet, table, { losses: "leave" });
  expect(same).toMatchObject({ change: { operations: [] }, rejected: [], questions: [], added: [], changed: [] });
  const bare = cleared(book, sheet);
  const plan = planImport(bare, sheet, table, { losses: "leave" });
  expect(plan).toMatchObject({ rejected: [], questions: [] });
  expect(applyChange(bare, plan.change).sheets[sheet]).toEqual(book.sheets[sheet]);
}

const base = withRows(smallEdition(3), "firings", [
  { id: "f1", cells: { id: "G1", kiln: "Big kiln", basis: "count" } },
  { id: "f2", cells: { id: "=G2, 'late'", kiln: "Big kiln", basis: "weight" } },
]);

describe("export, then import", () => {
  it("gives the same pieces", () => {
    fc.assert(
      fc.property(anyNames, anyCells(base, "pieces"), anyOptions, (names, cells, options) =>
        checkRoundTrip(named(withCells(base, "pieces", cells), names), "pieces", options),
      ),
      { seed: SEED, numRuns: 150 },
    );
  });

  for (const sheet of ["edition", "route", "materials", "kilns", "firings", "results"] as const)
    it(`gives the same sheet: ${sheet}`, () => {
      fc.assert(
        fc.property(anyCells(base, sheet), anyOptions, (cells, options) =>
          checkRoundTrip(withCells(base, sheet, cells), sheet, options),
        ),
        { seed: SEED, numRuns: 40 },
      );
    });

  it("gives the same pieces to an edition that has none", () => {
    fc.assert(
      fc.property(anyNames, anyCells(base, "pieces"), anyOptions, (names, cells, options) => {
        const book = named(withCells(base, "pieces", cells), names);
        const table = readSheetCsv(writeSheetCsv(book, "pieces", valueAt, options));
        const empty = withRows(book, "pieces", []);
        const plan = planImport(empty, "pieces", table, { addMissing: true });
        expect(plan).toMatchObject({ rejected: [], questions: [] });
        const rows = applyChange(empty, plan.change).sheets.pieces.rows;
        expect(rows).toEqual(book.sheets.pieces.rows);
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it("gives the same whatever a maker calls steps and columns of their own", () => {
    const titles = (count: number) =>
      fc.uniqueArray(anyText, { minLength: count, maxLength: count, selector: (text) => text.toLowerCase() });
    fc.assert(
      fc.property(titles(5), fc.tuple(anyText, anyText), anyOptions, (steps, own, options) => {
        const columns = own.map(
          (title, at): Column => ({ key: `own_${at}`, title, unit: "kg", kind: "input", type: "number", own: true }),
        );
        const cells = { "glaze.coats": 2, "band.coats": 1, own_0: 1.234, own_1: -5, lost_at: "glaze" };
        const filled = withCells(base, "pieces", [cells, {}, { ...cells, lost_at: "cast" }]);
        const book: Workbook = withCells(
          {
            ...filled,
            sheets: {
              ...filled.sheets,
              pieces: { ...filled.sheets.pieces, columns: [...filled.sheets.pieces.columns, ...columns] },
            },
          },
          "route",
          steps.map((title) => ({ title })),
        );
        checkRoundTrip(book, "pieces", options);
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it("survives a program that writes other line ends", () => {
    const book = withCells(base, "pieces", [{ note: "a\nb", kg: 1.5 }]);
    const text = writeSheetCsv(book, "pieces", valueAt, { delimiter: ",", decimal: ".", withComputed: false });
    for (const newline of ["\n", "\r"]) {
      const plan = planImport(book, "pieces", readSheetCsv(text.replaceAll("\r\n", newline)));
      expect(plan).toMatchObject({ change: { operations: [] }, rejected: [], unchanged: ["001", "002", "003"] });
    }
  });
});
