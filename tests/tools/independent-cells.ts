// Reading the document for the independent recomputation; see independent.ts.
import type { Row, Workbook } from "../../src/core/document/workbook";

export type Cells = Record<string, number | string>;
export type Rows = Map<string, Cells>;

/** What was typed, as a number; `otherwise` where nothing was. */
export function typedNumber(row: Row | undefined, key: string, otherwise = 0): number {
  const raw = row?.cells[key];
  return typeof raw === "number" ? raw : otherwise;
}

export const numberIn = (cells: Cells | undefined, key: string): number => {
  const value = cells?.[key];
  return typeof value === "number" ? value : 0;
};

export const isBlank = (row: Row, key: string) => row.cells[key] === undefined;

/** The inputs of the Edition sheet by name. */
export function inputsOf(book: Workbook): Readonly<Record<string, number>> {
  return Object.fromEntries(book.sheets.edition.rows.map((row) => [row.id, typedNumber(row, "value", Number.NaN)]));
}
