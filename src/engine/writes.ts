// Which engine cells a change of the document touches.
import { columnOf } from "../core/document/access";
import type { Change, Operation } from "../core/document/change";
import { type Column, type Row, SHEET_KEYS, type SheetKey, type Workbook } from "../core/document/workbook";
import { EACH_WORDS, type EachSteps, type EachWord } from "../core/formula/each-step";
import { parseReference } from "../core/formula/reference";
import { tokensOf } from "../core/formula/tokens";
import type { Layout } from "./layout";

/** One engine cell to write anew; without a row it is to be blank. */
export interface Write {
  readonly sheet: SheetKey;
  readonly at: { readonly row: number; readonly column: number };
  readonly row?: string;
  readonly column?: Column;
}

/** Cells to write for a change: `before` gives those it takes away, by the old layout; `after` those it brings or alters. */
export function writesFor(book: Workbook, layout: Layout, change: Change, when: "before" | "after"): Write[] {
  return change.operations.flatMap((operation) =>
    when === "before" ? removedBy(book, layout, operation) : writtenBy(book, layout, operation),
  );
}

function removedBy(book: Workbook, layout: Layout, operation: Operation): Write[] {
  if (operation.kind === "remove rows")
    return operation.rows.flatMap((row) => cellsOfRow(book, layout, operation.sheet, row.id)).map(blank);
  if (operation.kind === "remove columns")
    return operation.columns.flatMap((column) => cellsOfColumn(book, layout, operation.sheet, column)).map(blank);
  return [];
}

function blank({ sheet, at }: Write): Write {
  return { sheet, at };
}

function writtenBy(book: Workbook, layout: Layout, operation: Operation): Write[] {
  switch (operation.kind) {
    case "cell": {
      const column = columnOf(book, operation.sheet, operation.column);
      return column ? one(layout, operation.sheet, operation.row, column) : [];
    }
    case "add rows":
      return operation.rows.flatMap((row) => cellsOfRow(book, layout, operation.sheet, row.id));
    case "add columns":
      return operation.columns.flatMap((column) => cellsOfColumn(book, layout, operation.sheet, column));
    case "column":
      return differInWidthAlone(operation.was, operation.is)
        ? []
        : cellsOfColumn(book, layout, operation.sheet, operation.is);
    default:
      return [];
  }
}

/** A width is for the eye: no cell is calculated anew for it. */
function differInWidthAlone(was: Column, is: Column): boolean {
  return JSON.stringify({ ...was, width: 0 }) === JSON.stringify({ ...is, width: 0 });
}

function one(layout: Layout, sheet: SheetKey, row: string, column: Column): Write[] {
  const rowIndex = layout[sheet].rows.get(row);
  const columnIndex = layout[sheet].columns.get(column.key);
  if (rowIndex === undefined || columnIndex === undefined) return [];
  return [{ sheet, row, column, at: { row: rowIndex, column: columnIndex } }];
}

function cellsOfRow(book: Workbook, layout: Layout, sheet: SheetKey, row: string): Write[] {
  return book.sheets[sheet].columns.flatMap((column) => one(layout, sheet, row, column));
}

function cellsOfColumn(book: Workbook, layout: Layout, sheet: SheetKey, column: Column): Write[] {
  return book.sheets[sheet].rows.flatMap((row) => one(layout, sheet, row.id, column));
}

/** The words in formulas that go through other steps than before, or in another order. */
export function changedWords(before: EachSteps, after: EachSteps): ReadonlySet<string> {
  return new Set(before === after ? [] : EACH_WORDS.filter((word) => textOf(before, word) !== textOf(after, word)));
}

const textOf = (steps: EachSteps, word: EachWord) => steps[word].map(({ entry }) => entry).join(" ");

/**
 * Cells whose formulas must be linked anew: they name a row or column that a change brings or takes away, or use a word
 * that goes through other steps.
 */
export function affectedBy(book: Workbook, layout: Layout, change: Change, words: ReadonlySet<string>): Write[] {
  const mentions = mentionsOf(change, words);
  if (!mentions) return [];
  return SHEET_KEYS.flatMap((sheet) => {
    const isMentioned = (formula: string | undefined) => formula !== undefined && mentions(sheet, formula);
    const { columns, rows } = book.sheets[sheet];
    const whole = columns.filter((column) => isMentioned(column.formula));
    return [
      ...whole.flatMap((column) => cellsOfColumn(book, layout, sheet, column)),
      ...rows.flatMap((row) =>
        mentionedCells(book, sheet, row, isMentioned).flatMap((column) => one(layout, sheet, row.id, column)),
      ),
    ];
  });
}

function mentionedCells(
  book: Workbook,
  sheet: SheetKey,
  row: Row,
  isMentioned: (formula: string | undefined) => boolean,
): Column[] {
  const keys = Object.entries(row.cells).filter(([, raw]) => typeof raw === "object" && isMentioned(raw.f));
  const found = keys.map(([key]) => columnOf(book, sheet, key)).filter((column) => column !== undefined);
  const value = isMentioned(row.line?.formula) ? columnOf(book, sheet, "value") : undefined;
  return value ? [...found, value] : found;
}

function mentionsOf(
  change: Change,
  words: ReadonlySet<string>,
): ((sheet: SheetKey, formula: string) => boolean) | undefined {
  const named = new Set<string>();
  const inputs = new Set<string>();
  let touchesSteps = false;
  for (const operation of change.operations) {
    if (operation.kind === "add columns" || operation.kind === "remove columns") {
      touchesSteps ||= operation.sheet === "pieces";
      for (const column of operation.columns) named.add(`${operation.sheet}:${column.key}`);
    }
    if (operation.kind === "add rows" || operation.kind === "remove rows")
      for (const row of operation.rows) {
        named.add(`${operation.sheet}[${row.id}]`);
        if (operation.sheet === "edition") inputs.add(row.id);
      }
  }
  if (named.size === 0 && words.size === 0) return undefined;
  return (sheet, formula) =>
    tokensOf(formula).some(({ kind, text }) => {
      if (kind === "name") return inputs.has(text);
      if (kind === "call") return words.has(text.slice(0, -1).trim().toUpperCase());
      const to = kind === "reference" ? parseReference(text) : undefined;
      if (!to) return false;
      const at = to.kind === "own" ? sheet : to.sheet;
      return (
        named.has(`${at}:${to.column}`) ||
        (to.kind === "cell" && named.has(`${at}[${to.row}]`)) ||
        (touchesSteps && to.column.startsWith("@"))
      );
    });
}
