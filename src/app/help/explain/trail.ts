// The way from a cell with an error back to the cell where the error began.
import { type CellName, cellKeyOf, resolveCell } from "../../../core/document/access";
import { type Expression, insideOf } from "../../../core/formula/tree";
import { functionNamed } from "../../../engine/functions/index";
import { type CellError, isCellError } from "../../../engine/values";
import { namedIn } from "./evaluate";
import { type CellContext, columnValues, type Named, parsed, type View } from "./view";

/** The cells from this one to where its error began, both included; empty where it has none. */
export function errorTrail(view: View, cell: CellName): readonly CellName[] {
  const error = view.value(cell);
  if (!isCellError(error)) return [];
  const start = error.from ?? cell;
  const trail = [cell];
  const seen = new Set([cellKeyOf(cell)]);
  for (let at = cell; cellKeyOf(at) !== cellKeyOf(start); ) {
    const next = errorsIn(view, at, start).find((one) => !seen.has(cellKeyOf(one)));
    // A step that no formula names, as when a circle is gone round: it leads straight to the start.
    at = next ?? start;
    seen.add(cellKeyOf(at));
    trail.push(at);
  }
  return trail;
}

/** The cells a formula names that have this error; the one where it began first. */
function errorsIn(view: View, cell: CellName, start: CellName): readonly CellName[] {
  const formula = resolveCell(view.book, cell)?.formula;
  const tree = formula === undefined ? undefined : parsed(view, formula);
  if (!tree) return [];
  const found = namesOf(tree, { view, cell }).flatMap((named) => errorsOf(view, named, start));
  return found.sort((a, b) => Number(cellKeyOf(b) === cellKeyOf(start)) - Number(cellKeyOf(a) === cellKeyOf(start)));
}

function errorsOf(view: View, named: Named, start: CellName): CellName[] {
  if (named.kind === "cell") return has(view.value(named.cell), named.cell, start) ? [named.cell] : [];
  if (named.kind !== "column") return [];
  const { sheet, column } = named;
  const { rows } = view.book.sheets[sheet];
  return columnValues(view, sheet, column).flatMap((value, at) => {
    const cell = { sheet, row: rows[at]?.id ?? "", column };
    return has(value, cell, start) ? [cell] : [];
  });
}

function has(value: ReturnType<View["value"]>, cell: CellName, start: CellName): value is CellError {
  return isCellError(value) && cellKeyOf(value.from ?? cell) === cellKeyOf(start);
}

/** Everything an expression names, with the columns that its functions read unasked. */
function namesOf(of: Expression, here: CellContext): readonly Named[] {
  if (of.kind === "name" || of.kind === "reference") return [namedIn(of, here)];
  const read = of.kind === "call" ? (functionNamed(of.name)?.reads ?? []) : [];
  return [
    ...insideOf(of).flatMap((one) => namesOf(one, here)),
    ...read.map(({ sheet, column }): Named => ({ kind: "column", sheet, column })),
  ];
}
