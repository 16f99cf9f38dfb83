import { expect, test } from "vitest";
import { applyChange } from "../../../src/core/document/change";
import { rampAfter } from "../../../src/core/document/ramp-edits";
import type { Workbook } from "../../../src/core/document/workbook";
import { smallEdition } from "../../tools/small-edition";

const book = smallEdition();
const TARGETS: Readonly<Record<string, number>> = { r1: 600, r2: 1013 };
const after = (at: Workbook, selected: string | undefined) =>
  applyChange(at, rampAfter(at, selected, (row) => TARGETS[row]).change);
const ramps = (at: Workbook) =>
  at.sheets.programmes.rows.map(({ cells }) => [cells.programme, cells.ramp, cells.celsius ?? cells.cone]);

test("a ramp goes between two, midway at the rate of the next, and those behind it are numbered on", () => {
  const between = after(book, "r1");
  expect(ramps(between)).toEqual([
    ["slow", 1, 600],
    ["slow", 2, 807],
    ["slow", 3, "06"],
  ]);
  expect(between.sheets.programmes.rows[1]?.cells).toMatchObject({ rate: 100, soak: 0 });
});

test("with none selected, or the last, it goes to the end", () => {
  for (const selected of [undefined, "r2"]) expect(ramps(after(book, selected))[2]).toEqual(["slow", 3, 1000]);
});

test("a gap in the numbers is used, and nothing is numbered on", () => {
  const { rows } = book.sheets.programmes;
  const apart = rows.map((row) => (row.id === "r2" ? { ...row, cells: { ...row.cells, ramp: 5 } } : row));
  const gapped = { ...book, sheets: { ...book.sheets, programmes: { ...book.sheets.programmes, rows: apart } } };
  expect(ramps(after(gapped, "r1")).map(([, ramp]) => ramp)).toEqual([1, 2, 5]);
});
