// A sheet as comma-separated values: RFC 4180, lines end in CR LF, quotes are doubled, the first line holds the names.
import Papa from "papaparse";
import type { CellName } from "../core/document/access";
import type { Column, Row, SheetKey, Workbook } from "../core/document/workbook";
import { type CellValue, cellWriter } from "./cell-text";
import { type CsvColumn, csvColumns } from "./headers";
import { type DecimalMark, numberText } from "./number-text";
import { guardText } from "./text-guard";

/** Marks between columns. */
export const DELIMITERS = [",", ";", "\t", "|"] as const;
export type Delimiter = (typeof DELIMITERS)[number];

export interface CsvWriteOptions {
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  /** Whether computed columns are written as well, and what blank inputs and formulas typed by hand come to. */
  readonly withComputed: boolean;
  /** Decimal places that computed money is rounded to; without it every number keeps all its digits. */
  readonly moneyDigits?: number;
  /** Whether formulas typed by hand travel as formulas, as without this, or as what they come to. */
  readonly formulas?: "kept" | "values";
}

/**
 * A sheet as the text of a CSV file. What was entered comes back unchanged when it is read again; numbers have every
 * digit they need for that. `valueAt` gives computed values, null for blank.
 */
export function writeSheetCsv(
  book: Workbook,
  sheet: SheetKey,
  valueAt: (cell: CellName) => CellValue,
  options: CsvWriteOptions,
): string {
  const columns = writtenColumns(book, sheet, options.withComputed);
  const writer = cellWriter(book, sheet, options);
  const textOf = (row: Row, { column, shows }: CsvColumn): string => {
    const computed = () => writer.value(row, column, valueAt({ sheet, row: row.id, column: column.key }));
    if (shows !== "entered") return computed();
    // A computed line among inputs, as on the Edition sheet, has nothing entered to show.
    if (column.key !== "value" || row.line?.kind !== "computed") {
      const isFormula = typeof row.cells[column.key] === "object";
      return isFormula && options.formulas === "values" ? computed() : writer.entered(row, column);
    }
    return options.withComputed ? computed() : "";
  };
  const lines = book.sheets[sheet].rows.map((row) => columns.map((column) => textOf(row, column)));
  const header = columns.map((column) => guardText(column.header));
  const text = Papa.unparse([header, ...lines], { delimiter: options.delimiter, newline: "\r\n" });
  return `${text}\r\n`;
}

/** The mark at the beginning of a file by which some programs know UTF-8. */
export const BYTE_ORDER_MARK = "\ufeff";

/** The columns that a file gets. “In use” stands beside an input only where it says more than the input itself. */
export function writtenColumns(book: Workbook, sheet: SheetKey, withComputed: boolean): readonly CsvColumn[] {
  const all = csvColumns(book, sheet);
  if (!withComputed) return all.filter((entry) => entry.shows === "entered");
  const { rows } = book.sheets[sheet];
  return all.filter((entry) => entry.shows !== "in use" || hasMoreToSay(entry.column, rows));
}

function hasMoreToSay(column: Column, rows: readonly Row[]): boolean {
  return column.formula !== undefined || rows.some((row) => typeof row.cells[column.key] === "object");
}

/** Any table as the text of a CSV file: texts are guarded, numbers keep every digit, and no number is a blank. */
export function writeTableCsv(
  columns: readonly string[],
  rows: readonly (readonly (string | number)[])[],
  { delimiter, decimal }: Pick<CsvWriteOptions, "delimiter" | "decimal">,
): string {
  const textOf = (value: string | number) => {
    if (typeof value === "string") return guardText(value);
    return Number.isFinite(value) ? numberText(value, decimal) : "";
  };
  const lines = [columns.map(guardText), ...rows.map((row) => row.map(textOf))];
  return `${Papa.unparse(lines, { delimiter, newline: "\r\n" })}\r\n`;
}
