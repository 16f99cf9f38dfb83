// What explaining reads: the document, its values as they are now, and how they are written. What was read of whole
// columns is remembered as long as the view lives, so make a new one when values have moved.
import { type CellName, columnOf, resolveCell } from "../../../core/document/access";
import type { CellSpec, Column, SheetKey, Workbook } from "../../../core/document/workbook";
import { readFormula } from "../../../core/formula/formula";
import { columnFor, type Reference } from "../../../core/formula/reference";
import type { Expression } from "../../../core/formula/tree";
import { eachSteps } from "../../../core/sheets/each-step";
import type { Value } from "../../../engine/values";
import { dayOfText } from "../../../whatif/compile/date-text";

/** How a value is written: its rules and its unit. */
export interface NumberFormat {
  readonly spec: CellSpec;
  readonly unit: string;
}

export interface View {
  readonly book: Workbook;
  /** The value of a cell; undefined where it has not been computed yet. */
  readonly value: (cell: CellName) => Value | undefined;
  /** A value as the maker reads it, with its unit; without a format, with a few digits that matter. */
  readonly text: (value: Value | undefined, format: NumberFormat | undefined) => string;
  readonly memory: Memory;
}

/** A cell of a formula with the view it is read in. */
export interface CellContext {
  readonly view: View;
  readonly cell: CellName;
}

interface Memory {
  readonly columns: Map<string, readonly (Value | undefined)[]>;
  readonly rowIndexes: Map<string, ReadonlyMap<unknown, readonly number[]>>;
  readonly parsed: Map<string, Expression | undefined>;
}

/** What a view remembers before anything has been read. */
export function emptyMemory(): Memory {
  return { columns: new Map(), rowIndexes: new Map(), parsed: new Map() };
}

/** The formula of a text as a tree; undefined where it is none. */
export function parsed(view: View, formula: string): Expression | undefined {
  if (!view.memory.parsed.has(formula)) {
    const read = readFormula(formula, eachSteps(view.book));
    view.memory.parsed.set(formula, read.ok ? read.value : undefined);
  }
  return view.memory.parsed.get(formula);
}

/** The values of a whole column, in the order of the sheet's rows. */
export function columnValues(view: View, sheet: SheetKey, column: string): readonly (Value | undefined)[] {
  const name = `${sheet} ${column}`;
  let held = view.memory.columns.get(name);
  if (!held) {
    held = view.book.sheets[sheet].rows.map((row) => readCell(view, { sheet, row: row.id, column }));
    view.memory.columns.set(name, held);
  }
  return held;
}

/** A value as a name to look things up by: capitals are the same as small letters, a blank is none. */
export function lookupKey(value: Value | undefined): string | number | boolean | undefined {
  if (typeof value === "string") return value === "" ? undefined : value.toLowerCase();
  return typeof value === "number" || typeof value === "boolean" ? value : undefined;
}

/** The indexes of the rows in which a column holds a name. */
export function rowIndexesOf(view: View, sheet: SheetKey, column: string, key: Value | undefined): readonly number[] {
  const name = `${sheet} ${column}`;
  let held = view.memory.rowIndexes.get(name);
  if (!held) {
    const indexes = new Map<unknown, number[]>();
    for (const [at, value] of columnValues(view, sheet, column).entries()) {
      const found = lookupKey(value);
      const list = indexes.get(found);
      if (list) list.push(at);
      else if (found !== undefined) indexes.set(found, [at]);
    }
    held = indexes;
    view.memory.rowIndexes.set(name, held);
  }
  return held.get(lookupKey(key)) ?? [];
}

/** A cell's value as formulas read it: a typed date is a number of days. */
export function readCell(view: View, cell: CellName): Value | undefined {
  const value = view.value(cell);
  const isDate = typeof value === "string" && columnOf(view.book, cell.sheet, cell.column)?.type === "date";
  return isDate ? (dayOfText(value) ?? value) : value;
}

/** What a name in a formula stands for. */
export type Named =
  | { readonly kind: "cell"; readonly cell: CellName }
  | { readonly kind: "column"; readonly sheet: SheetKey; readonly column: string }
  /** The column of a step that has none of that sort: it reads as 0. */
  | { readonly kind: "absent" }
  | { readonly kind: "broken"; readonly text: string };

/** What a reference stands for in one cell's formula. */
export function namedBy({ view, cell }: CellContext, to: Reference): Named {
  const { book } = view;
  if (to.kind === "column") {
    const column = columnFor(to.column, cell.row);
    if (columnOf(book, to.sheet, column)) return { kind: "column", sheet: to.sheet, column };
    return to.column.startsWith("@") ? { kind: "absent" } : { kind: "broken", text: `{${to.sheet}:${to.column}}` };
  }
  const named =
    to.kind === "own"
      ? { sheet: cell.sheet, row: cell.row, column: columnFor(to.column, cell.row) }
      : { sheet: to.sheet, row: to.row, column: to.column };
  return exists(book, named) ? { kind: "cell", cell: named } : { kind: "broken", text: `{${to.column}}` };
}

/** What a bare word stands for: an input, or nothing. */
export function inputNamed({ view }: CellContext, name: string): Named {
  const cell = { sheet: "edition", row: name, column: "value" } as const;
  return exists(view.book, cell) ? { kind: "cell", cell } : { kind: "broken", text: name };
}

function exists(book: Workbook, cell: CellName): boolean {
  return resolveCell(book, cell) !== undefined;
}

/** How a cell's value is written. */
export function cellFormat(book: Workbook, cell: CellName): NumberFormat | undefined {
  return resolveCell(book, cell);
}

/** How the values of a column are written. */
export function columnFormat(column: Column): NumberFormat {
  return { spec: column, unit: column.unit };
}
