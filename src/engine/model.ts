// A workbook as plain data for whoever calculates beside the engine: typed cells column by column, and the formulas of the
// document. Rows filled with one formula are one group. It is read from the document and its layout; no engine is asked.
import { formulaOf, specOf, typedValueOf } from "../core/document/access";
import { type Column, type Row, SHEET_KEYS, type SheetKey, type Workbook } from "../core/document/workbook";
import type { EachSteps } from "../core/formula/each-step";
import { eachSteps } from "../core/sheets/each-step";
import { cellListOf, Others } from "./cell-lists";
import type { Layout } from "./layout";
import type { CellList, Patch, Value } from "./values";

/** Cells of one column that hold the same formula. */
interface FormulaGroup {
  readonly column: number;
  readonly formula: string;
  /** In rising order, whatever the order of the rows. */
  readonly rows: Int32Array;
}

/** Typed cells of one column; texts that stand for days are still texts. */
interface TypedCells {
  readonly column: number;
  readonly areDays: boolean;
  readonly values: CellList;
}

/** What would stand in a cell if what was typed over it were cleared: a formula, or under a typed one perhaps nothing. */
interface CoveredCell {
  readonly column: number;
  readonly row: number;
  readonly formula: string | undefined;
}

export interface SheetModel {
  readonly sheet: SheetKey;
  readonly height: number;
  /** Row ids and column keys with their indices. */
  readonly rows: ReadonlyMap<string, number>;
  readonly columns: ReadonlyMap<string, number>;
  readonly typed: readonly TypedCells[];
  readonly formulas: readonly FormulaGroup[];
  readonly covered: readonly CoveredCell[];
}

export interface WorkbookModel {
  readonly sheets: readonly SheetModel[];
  /** Typed values that are no numbers. */
  readonly others: readonly Value[];
  /** Formulas that take too long: they are not calculated. */
  readonly excluded: readonly string[];
  /** The steps that formulas go through. */
  readonly steps: EachSteps;
}

/** A workbook as an engine has it, and what the engine says of every formula. */
export interface EngineModel extends WorkbookModel {
  /** Another number after every change. */
  readonly version: number;
  readonly values: Patch;
}

/** Reads a workbook by the indices of a layout. */
export function readModel(book: Workbook, layout: Layout, excluded: readonly string[]): WorkbookModel {
  const others = new Others();
  const sheets = SHEET_KEYS.map((key) => readSheet(book, layout, key, others));
  return { sheets, others: others.list, excluded, steps: eachSteps(book) };
}

function readSheet(book: Workbook, layout: Layout, key: SheetKey, others: Others): SheetModel {
  const sheet = book.sheets[key];
  const { rows, columns, height } = layout[key];
  const typed: TypedCells[] = [];
  const formulas: FormulaGroup[] = [];
  const covered: CoveredCell[] = [];
  const indexed = sheet.rows.flatMap((row): IndexedRow[] => {
    const index = rows.get(row.id);
    return index === undefined ? [] : [{ index, row }];
  });
  for (const column of sheet.columns) {
    const at = columns.get(column.key);
    if (at === undefined) continue;
    const parted = partRows(column, indexed);
    for (const { index, row } of [...parted.typed, ...parted.own]) {
      const { formula } = specOf(column, row);
      if (formula !== undefined || typeof row.cells[column.key] === "object")
        covered.push({ column: at, row: index, formula });
    }
    if (parted.typed.length > 0)
      typed.push({
        column: at,
        areDays: column.type === "date",
        values: cellListOf(
          parted.typed.map(({ index }) => index),
          (at) => typedValueOf(parted.typed[at]?.row.cells[column.key]),
          others,
        ),
      });
    for (const { formula, rows: filled } of parted.groups.values())
      formulas.push({ column: at, formula, rows: Int32Array.from(filled).sort() });
  }
  return { sheet: key, height, rows, columns, typed, formulas, covered };
}

interface IndexedRow {
  readonly index: number;
  readonly row: Row;
}

/** The rows of a column: with a value typed, with a formula of their own, and by the formula that stands there. */
function partRows(column: Column, indexed: readonly IndexedRow[]) {
  const typed: IndexedRow[] = [];
  const own: IndexedRow[] = [];
  const groups = new Map<string, { readonly formula: string; readonly rows: number[] }>();
  let last: { readonly formula: string; readonly rows: number[] } | undefined;
  for (const one of indexed) {
    const { index, row } = one;
    const formula = formulaOf(column, row);
    const raw = row.cells[column.key];
    if (formula === undefined) {
      if (raw !== undefined) typed.push(one);
      continue;
    }
    if (raw !== undefined) own.push(one);
    // Neighbours are mostly alike.
    if (last?.formula === formula) {
      last.rows.push(index);
      continue;
    }
    // A formula with an @ reads otherwise in every row.
    const name = formula.includes("@") ? `${index} ${formula}` : formula;
    const isAlone = name !== formula;
    const group = groups.get(name) ?? { formula, rows: [] };
    group.rows.push(index);
    groups.set(name, group);
    last = isAlone ? undefined : group;
  }
  return { typed, own, groups };
}
