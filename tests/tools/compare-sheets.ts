// Computed cells of a workbook held against the independent recomputation.
import { specOf } from "../../src/core/document/access";
import { type Column, type Row, SHEET_KEYS, type SheetKey, type Workbook } from "../../src/core/document/workbook";
import { isCellError, type Value } from "../../src/engine/values";
import type { Sheetful } from "./evaluate";
import { recompute } from "./independent";

/** What differs by more than 1e-9 of its size, and computed cells that nobody recomputed; how many were compared. */
export function compareSheets(
  book: Workbook,
  read: Sheetful,
): { readonly compared: number; readonly differ: string[] } {
  const own = recompute(book);
  const differ: string[] = [];
  let compared = 0;
  for (const sheet of SHEET_KEYS)
    for (const row of book.sheets[sheet].rows)
      for (const column of computedColumns(book, sheet, row)) {
        const expected = own[sheet].get(row.id)?.[column.key];
        const found = read(sheet, row.id, column.key);
        compared += 1;
        if (expected === undefined || !areClose(expected, found))
          differ.push(`${sheet} ${row.id} ${column.key}: ${show(found)}, recomputed ${expected}`);
      }
  return { compared, differ };
}

function computedColumns(book: Workbook, sheet: SheetKey, row: Row): readonly Column[] {
  return book.sheets[sheet].columns.filter((column) => specOf(column, row).formula !== undefined);
}

const show = (value: Value) => (isCellError(value) ? value.message : JSON.stringify(value));

function areClose(expected: number | string, found: Value): boolean {
  if (typeof expected === "string") return (found ?? "") === expected;
  if (typeof found !== "number") return false;
  return Math.abs(found - expected) <= 1e-9 * Math.max(Math.abs(expected), 1e-3);
}
