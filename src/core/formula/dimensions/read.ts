// The unit of what a formula names.
import { columnOf, rowOf, specOf, unitTextOf } from "../../document/access";
import type { Column, Row, SheetKey, Workbook } from "../../document/workbook";
import { columnNamed, type Reference } from "../reference";
import { inUnit, type Measure, OPEN } from "./measure";

/** What an input of the Edition sheet comes to. */
export function measureOfName(book: Workbook, name: string): Measure {
  const row = rowOf(book, "edition", name);
  const column = columnOf(book, "edition", "value");
  return row && column ? measureOfCell(column, row) : OPEN;
}

/** What a reference in braces comes to; `row` is the row it is read from, where it is one. */
export function measureOfReference(book: Workbook, to: Reference, sheet: SheetKey, row: string | undefined): Measure {
  const at = to.kind === "own" ? sheet : to.sheet;
  const column = columnNamed(book, at, to.column);
  if (!column) return OPEN;
  const id = to.kind === "cell" ? to.row : to.kind === "own" ? row : undefined;
  const held = id === undefined ? undefined : rowOf(book, at, id);
  if (held) return measureOfCell(column, held);
  const isByLine = column.key === "value" && (at === "edition" || at === "results");
  return isByLine || column.type !== "number" ? OPEN : inUnit(column.unit);
}

function measureOfCell(column: Column, row: Row): Measure {
  return specOf(column, row).type === "number" ? inUnit(unitTextOf(column, row)) : OPEN;
}
