// What the engine computes from and what it gave, as plain data for whoever calculates beside it: typed cells column by
// column, and formulas in the engine's own text. Rows filled with one formula are one group with one text.
import { formulaOf, specOf } from "../core/document/access";
import { type Column, type Row, SHEET_KEYS, type SheetKey, type Workbook } from "../core/document/workbook";
import { cellListOf, Others } from "./cell-lists";
import type { Layout } from "./layout";
import type { CellList, Value } from "./values";

/** Cells of one column that hold the same formula; `text` is as it reads at the first of them. */
interface FormulaGroup {
  readonly column: number;
  readonly text: string;
  readonly values: CellList;
}

export interface SheetModel {
  readonly sheet: SheetKey;
  readonly height: number;
  /** Row ids and column keys with their places. */
  readonly rows: ReadonlyMap<string, number>;
  readonly columns: ReadonlyMap<string, number>;
  readonly typed: readonly { readonly column: number; readonly values: CellList }[];
  readonly formulas: readonly FormulaGroup[];
  /** What would stand in a cell if what was typed over it were cleared: a formula, or under a typed one perhaps nothing. */
  readonly covered: readonly { readonly column: number; readonly place: number; readonly text: string }[];
}

export interface EngineModel {
  /** Another number after every change. */
  readonly version: number;
  readonly sheets: readonly SheetModel[];
  readonly others: readonly Value[];
}

/** What of an engine a model is read from. */
export interface ModelSource {
  readonly version: number;
  readonly book: Workbook;
  readonly layout: Layout;
  readonly formulaAt: (sheet: SheetKey, row: number, column: number) => string;
  readonly link: (sheet: SheetKey, row: string, formula: string) => string;
  readonly valueAt: (sheet: SheetKey, row: number, column: number) => Value;
}

/** Reads the whole model: typed numbers in full, computed values as the engine gives them out. */
export function readModel(source: ModelSource): EngineModel {
  const others = new Others();
  return {
    version: source.version,
    sheets: SHEET_KEYS.map((key) => readSheet(source, key, others)),
    others: others.list,
  };
}

function readSheet(source: ModelSource, key: SheetKey, others: Others): SheetModel {
  const { rows, columns } = source.book.sheets[key];
  const layout = source.layout[key];
  const typed: SheetModel["typed"][number][] = [];
  const formulas: FormulaGroup[] = [];
  const covered: SheetModel["covered"][number][] = [];
  for (const column of columns) {
    const place = layout.columns.get(column.key);
    if (place === undefined) continue;
    for (const row of rows) {
      const raw = row.cells[column.key];
      const at = layout.rows.get(row.id);
      const formula = raw === undefined ? undefined : specOf(column, row).formula;
      if (at !== undefined && (formula !== undefined || typeof raw === "object"))
        covered.push({ column: place, place: at, text: formula ? source.link(key, row.id, formula) : "" });
    }
    const parted = partRows(column, rows, layout.rows);
    const list = (places: readonly number[], read: (at: number) => Value) => cellListOf(places, read, others);
    if (parted.typed.length > 0)
      typed.push({
        column: place,
        values: list(
          parted.typed.map(({ at }) => at),
          (index) => typedValue(source, key, column, parted.typed[index], place),
        ),
      });
    for (const places of parted.groups.values())
      formulas.push({
        column: place,
        text: source.formulaAt(key, places[0] ?? 0, place),
        values: list(places, (index) => source.valueAt(key, places[index] ?? 0, place)),
      });
  }
  return { sheet: key, height: layout.height, rows: layout.rows, columns: layout.columns, typed, formulas, covered };
}

interface PlacedRow {
  readonly at: number;
  readonly row: Row;
}

function partRows(column: Column, rows: readonly Row[], places: ReadonlyMap<string, number>) {
  const typed: PlacedRow[] = [];
  const groups = new Map<string, number[]>();
  for (const row of rows) {
    const at = places.get(row.id);
    const formula = formulaOf(column, row);
    if (at === undefined) continue;
    if (formula === undefined) {
      if (row.cells[column.key] !== undefined) typed.push({ at, row });
      continue;
    }
    // A formula with an @ reads otherwise in every row.
    const name = formula.includes("@") ? `${at} ${formula}` : formula;
    const group = groups.get(name);
    if (group) group.push(at);
    else groups.set(name, [at]);
  }
  return { typed, groups };
}

function typedValue(
  source: ModelSource,
  sheet: SheetKey,
  column: Column,
  placed: PlacedRow | undefined,
  place: number,
): Value {
  const raw = placed?.row.cells[column.key];
  if (placed === undefined || raw === undefined || typeof raw === "object") return null;
  // Days are read by the engine; everything else is what was typed.
  return column.type === "date" && typeof raw === "string" ? source.valueAt(sheet, placed.at, place) : raw;
}
