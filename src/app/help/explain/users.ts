// Which cells use a cell: those whose formulas name it. Of a look-up only the rows that look for the cell's own row count.
// Formulas are gone through column by column, so the work grows with the formulas there are and not with the cells.
import { type CellName, columnOf, formulaOf, rowOf } from "../../../core/document/access";
import { type Column, type Row, SHEET_KEYS, type SheetKey } from "../../../core/document/workbook";
import { columnFor } from "../../../core/formula/reference";
import { allNodes, type Expression, insideOf } from "../../../core/formula/tree";
import { functionNamed } from "../../../engine/functions/index";
import { evaluate } from "./evaluate";
import { type CellContext, columnValues, lookupKey, parsed, type View } from "./view";

/** The cells of one column that use a cell, in the order of the sheet. */
export interface Users {
  readonly sheet: SheetKey;
  readonly column: string;
  readonly rows: readonly string[];
}

/** Says in which rows of a sheet a formula that stands there uses the cell. */
type Uses =
  | { readonly kind: "every row" }
  | { readonly kind: "one row"; readonly row: string }
  | { readonly kind: "no row" };

/** Every column with cells that use this one. */
export function usersOf(view: View, cell: CellName): readonly Users[] {
  return SHEET_KEYS.flatMap((sheet) =>
    view.book.sheets[sheet].columns.flatMap((column): Users[] => {
      const rows =
        column.key === "value" ? lineUsers(view, sheet, column, cell) : columnUsers(view, sheet, column, cell);
      return rows.length === 0 ? [] : [{ sheet, column: column.key, rows }];
    }),
  );
}

/** Lines have each its own formula. */
function lineUsers(view: View, sheet: SheetKey, column: Column, cell: CellName): readonly string[] {
  return view.book.sheets[sheet].rows
    .filter((row) => {
      const formula = formulaOf(column, row);
      return formula !== undefined && usesIn(view, sheet, row, column, formula, cell);
    })
    .map(({ id }) => id);
}

function columnUsers(view: View, sheet: SheetKey, column: Column, cell: CellName): readonly string[] {
  const { rows } = view.book.sheets[sheet];
  const uses = column.formula === undefined ? undefined : usesOfFormula(view, sheet, column.formula, cell);
  const byHand = rows.filter((row) => typeof row.cells[column.key] === "object");
  if ((uses === undefined || uses.kind === "no row") && byHand.length === 0) return [];
  const candidates =
    uses?.kind === "every row" ? rows : uses?.kind === "one row" ? only(view, sheet, uses.row, byHand) : byHand;
  return candidates
    .filter((row) => {
      const formula = formulaOf(column, row);
      return formula !== undefined && usesIn(view, sheet, row, column, formula, cell);
    })
    .map(({ id }) => id);
}

function only(view: View, sheet: SheetKey, id: string, byHand: readonly Row[]): readonly Row[] {
  const row = rowOf(view.book, sheet, id);
  return row && !byHand.includes(row) ? [row, ...byHand] : byHand;
}

/** Where a column's formula could use the cell, without looking at any row. */
function usesOfFormula(view: View, sheet: SheetKey, formula: string, cell: CellName): Uses {
  const tree = parsed(view, formula);
  if (!tree) return { kind: "no row" };
  let isOwn = false;
  for (const one of allNodes(tree)) {
    if (one.kind === "name" && isInput(cell, one.name)) return { kind: "every row" };
    if (one.kind === "call" && readsOf(one.name, cell)) return { kind: "every row" };
    if (one.kind !== "reference") continue;
    const { to } = one;
    if (to.kind === "own") isOwn ||= sheet === cell.sheet && to.column === cell.column;
    else if (to.kind === "cell") {
      if (to.sheet === cell.sheet && to.row === cell.row && to.column === cell.column) return { kind: "every row" };
    } else if (to.sheet === cell.sheet && (to.column === cell.column || to.column.startsWith("@")))
      return { kind: "every row" };
  }
  return isOwn ? { kind: "one row", row: cell.row } : { kind: "no row" };
}

function isInput(cell: CellName, name: string): boolean {
  return cell.sheet === "edition" && cell.column === "value" && cell.row === name;
}

function readsOf(name: string, cell: CellName): boolean {
  return (functionNamed(name)?.reads ?? []).some((read) => read.sheet === cell.sheet && read.column === cell.column);
}

function usesIn(view: View, sheet: SheetKey, row: Row, column: Column, formula: string, cell: CellName): boolean {
  const tree = parsed(view, formula);
  return tree !== undefined && uses(tree, { view, cell: { sheet, row: row.id, column: column.key } }, cell);
}

function uses(of: Expression, here: CellContext, cell: CellName): boolean {
  switch (of.kind) {
    case "name":
      return isInput(cell, of.name);
    case "reference": {
      const { to } = of;
      if (to.kind === "own")
        return here.cell.sheet === cell.sheet && here.cell.row === cell.row && to.column === cell.column;
      if (to.kind === "cell") return to.sheet === cell.sheet && to.row === cell.row && to.column === cell.column;
      return to.sheet === cell.sheet && columnFor(to.column, here.cell.row) === cell.column;
    }
    case "call":
      return usesInCall(of, here, cell);
    default:
      return insideOf(of).some((one) => uses(one, here, cell));
  }
}

/** The arguments of look-ups that are lists: the rows whose name is looked for count, and no others. */
const LISTS: Readonly<Record<string, number>> = { PICK: 1, TOTAL_BY: 1, COUNT_BY: 1 };

function usesInCall(of: Extract<Expression, { kind: "call" }>, here: CellContext, cell: CellName): boolean {
  const from = LISTS[of.name];
  if (from === undefined)
    return (readsOf(of.name, cell) && readsRow(of, here, cell)) || of.given.some((one) => uses(one, here, cell));
  const isInKey = of.given.slice(0, from).some((one) => uses(one, here, cell));
  if (isInKey || !of.given.slice(from).some((one) => uses(one, here, cell))) return isInKey;
  const keys = of.given[from];
  const key = of.given[0] && evaluate(of.given[0], here);
  if (keys?.kind !== "reference" || keys.to.kind !== "column") return true;
  return (
    lookupKey(valueIn(here.view, cell, columnFor(keys.to.column, here.cell.row))) === lookupKey(key) &&
    lookupKey(key) !== undefined
  );
}

/** Which argument holds the name by which a function reads a row of a sheet; of firings only a share reads one by its name. */
const READ_BY: Partial<Readonly<Record<SheetKey, { readonly given: number; readonly column: string }>>> = {
  kilns: { given: 0, column: "id" },
  programmes: { given: 1, column: "programme" },
  firings: { given: 0, column: "id" },
};

function readsRow({ name, given }: Extract<Expression, { kind: "call" }>, here: CellContext, cell: CellName): boolean {
  const by = cell.sheet === "firings" && name !== "FIRING_SHARE" ? undefined : READ_BY[cell.sheet];
  const key = by && given[by.given];
  if (!by || !key) return true;
  return lookupKey(valueIn(here.view, cell, by.column)) === lookupKey(evaluate(key, here));
}

function valueIn(view: View, { sheet, row }: CellName, column: string): ReturnType<typeof evaluate> {
  const at = view.book.sheets[sheet].rows.findIndex(({ id }) => id === row);
  return columnOf(view.book, sheet, column) ? columnValues(view, sheet, column)[at] : undefined;
}
