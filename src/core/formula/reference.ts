// What stands in braces in a formula. It names cells and never a position:
//   {coats}                 this row's cell in a column
//   {pieces:own}            a whole column of a sheet
//   {route[glaze]:area}     one cell, by row id
//   {pieces:@.cost}         the column that belongs to this row's id (on Route: of this step)
//   {*.cost}                inside EACH_STEP and the like (each-step.ts): the column of each step
import { columnOf } from "../document/access";
import { type Column, SHEET_KEYS, type SheetKey, type Workbook } from "../document/workbook";

export type Reference =
  | { readonly kind: "own"; readonly column: string }
  | ColumnReference
  | { readonly kind: "cell"; readonly sheet: SheetKey; readonly row: string; readonly column: string };

export interface ColumnReference {
  readonly kind: "column";
  readonly sheet: SheetKey;
  readonly column: string;
}

const FORM = /^(?:([a-z]+)(?:\[(\*|[a-z][a-z0-9_]*)\])?:)?((?:[@*]|[a-z][a-z0-9_]*)(?:\.[a-z][a-z0-9_]*)?)$/;

/** Reads what stands in braces, with or without them; undefined for anything else. */
export function parseReference(text: string): Reference | undefined {
  const [, sheet, row, column] = FORM.exec(text.replace(/^\{|\}$/g, "").trim()) ?? [];
  if (column === undefined) return undefined;
  if (sheet === undefined) return { kind: "own", column };
  if (!isSheetKey(sheet)) return undefined;
  return row === undefined ? { kind: "column", sheet, column } : { kind: "cell", sheet, row, column };
}

function isSheetKey(text: string): text is SheetKey {
  return (SHEET_KEYS as readonly string[]).includes(text);
}

/** A reference as it is written, in braces. */
export function referenceText(to: Reference): string {
  if (to.kind === "own") return `{${to.column}}`;
  return `{${to.sheet}${to.kind === "cell" ? `[${to.row}]` : ""}:${to.column}}`;
}

/** A column key with this row's id in the place of `@`. */
export function columnFor(column: string, row: string): string {
  return column.startsWith("@") ? row + column.slice(1) : column;
}

/** A column by its key; `@` and `*` stand for a step, and every step has its columns alike. */
export function columnNamed(book: Workbook, sheet: SheetKey, key: string): Column | undefined {
  if (!/^[@*]/.test(key)) return columnOf(book, sheet, key);
  const ending = key.slice(1);
  return book.sheets[sheet].columns.find((column) => column.step !== undefined && column.key === column.step + ending);
}
