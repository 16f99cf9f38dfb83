// The way from a cell in trouble back to the cell where the trouble began.
import { type CellName, cellKeyOf, columnOf, formulaOf, rowOf } from "../../../core/document/access";
import { type Expression, insideOf } from "../../../core/formula/tree";
import { functionNamed } from "../../../engine/functions/index";
import { isTrouble, type Trouble } from "../../../engine/values";
import { namedIn } from "./evaluate";
import { columnValues, type Here, type Named, parsed, type View } from "./view";

/** The cells from this one to where its trouble began, both included; empty where it is in no trouble. */
export function troubleTrail(view: View, cell: CellName): readonly CellName[] {
  const trouble = view.value(cell);
  if (!isTrouble(trouble)) return [];
  const start = trouble.from ?? cell;
  // No formula may name the next step, as when a circle is gone round: then it leads straight to the start.
  return shortest(view, cell, start, isShown(view)) ?? shortest(view, cell, start, () => true) ?? [cell, start];
}

/** Whether a cell is on a sheet for the maker to see. */
function isShown(view: View): (cell: CellName) => boolean {
  return ({ sheet, column }) => columnOf(view.book, sheet, column)?.hidden !== true;
}

/** The shortest way through cells that may be gone through. */
function shortest(
  view: View,
  cell: CellName,
  start: CellName,
  isAllowed: (cell: CellName) => boolean,
): readonly CellName[] | undefined {
  const ways: (readonly CellName[])[] = [[cell]];
  const seen = new Set([cellKeyOf(cell)]);
  for (let way = ways.shift(); way !== undefined; way = ways.shift()) {
    const at = way.at(-1) ?? cell;
    if (cellKeyOf(at) === cellKeyOf(start)) return way;
    for (const next of troubledIn(view, at, start)) {
      if (seen.has(cellKeyOf(next)) || !isAllowed(next)) continue;
      seen.add(cellKeyOf(next));
      ways.push([...way, next]);
    }
  }
  return undefined;
}

/** The cells a formula names that have this trouble; the one where it began first. */
function troubledIn(view: View, cell: CellName, start: CellName): readonly CellName[] {
  const column = columnOf(view.book, cell.sheet, cell.column);
  const row = rowOf(view.book, cell.sheet, cell.row);
  const formula = column && row ? formulaOf(column, row) : undefined;
  const tree = formula === undefined ? undefined : parsed(view, formula);
  if (!tree) return [];
  const found = namesOf(tree, { view, cell }).flatMap((named) => troubledOf(view, named, start));
  return found.sort((a, b) => Number(cellKeyOf(b) === cellKeyOf(start)) - Number(cellKeyOf(a) === cellKeyOf(start)));
}

function troubledOf(view: View, named: Named, start: CellName): CellName[] {
  if (named.is === "cell") return has(view.value(named.cell), named.cell, start) ? [named.cell] : [];
  if (named.is !== "column") return [];
  const { sheet, column } = named;
  const { rows } = view.book.sheets[sheet];
  if (sheet === start.sheet && column === start.column) return [start];
  // Of a whole column one cell stands for the others.
  const values = columnValues(view, sheet, column);
  const first = rows.find(({ id: row }, at) => has(values[at], { sheet, row, column }, start));
  return first === undefined ? [] : [{ sheet, row: first.id, column }];
}

function has(value: ReturnType<View["value"]>, cell: CellName, start: CellName): value is Trouble {
  return isTrouble(value) && cellKeyOf(value.from ?? cell) === cellKeyOf(start);
}

/** Everything an expression names, with the columns that its functions read unasked. */
function namesOf(of: Expression, here: Here): readonly Named[] {
  if (of.kind === "name" || of.kind === "reference") return [namedIn(of, here)];
  const read = of.kind === "call" ? (functionNamed(of.name)?.reads ?? []) : [];
  return [
    ...insideOf(of).flatMap((one) => namesOf(one, here)),
    ...read.map(({ sheet, column }): Named => ({ is: "column", sheet, column })),
  ];
}
