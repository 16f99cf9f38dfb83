// Where a key leads from a cell or header. Row −1 is the row of titles, −2 the row of groups above it.
import type { ShownSheet } from "../sheet-view";

/** A cell or header by index. */
export interface Position {
  readonly row: number;
  readonly col: number;
}

function within(index: number, count: number): number {
  return Math.max(0, Math.min(count - 1, index));
}

/** One step up or down; the first row leads into the headers. */
function stepDown({ row, col }: Position, step: 1 | -1, view: ShownSheet): Position {
  const rows = view.model.rows.length;
  const hasGroup = view.spanAt(col)?.group !== undefined;
  if (row >= 0) return { row: row + step < 0 ? -1 : within(row + step, rows), col };
  if (step === -1) return { row: hasGroup ? -2 : row, col };
  if (row === -2 && hasGroup) return { row: -1, col };
  return { row: rows > 0 ? 0 : row, col };
}

/** One step to the side; a group counts as one. */
export function stepAcross({ row, col }: Position, step: 1 | -1, view: ShownSheet): Position {
  const columns = view.model.columns.length;
  const span = row === -2 ? view.spanAt(col) : undefined;
  if (span === undefined) return { row, col: within(col + step, columns) };
  const next = view.spanAt(step === 1 ? span.first + span.count : span.first - 1);
  if (next === undefined) return { row, col: span.first };
  return { row: next.group === undefined ? -1 : row, col: next.first };
}

/** Where an arrow key leads; with Control to the end. Undefined for other keys. */
export function arrowMove(
  from: Position,
  key: string,
  view: ShownSheet,
  reach: "step" | "end" = "step",
): Position | undefined {
  const toEnd = reach === "end";
  const { rows, columns } = view.model;
  const isForward = key === "ArrowDown" || key === "ArrowRight";
  if (key === "ArrowDown" || key === "ArrowUp") {
    if (!toEnd) return stepDown(from, isForward ? 1 : -1, view);
    return rows.length === 0 ? undefined : { row: isForward ? rows.length - 1 : 0, col: from.col };
  }
  if (key !== "ArrowLeft" && key !== "ArrowRight") return undefined;
  if (!toEnd) return stepAcross(from, isForward ? 1 : -1, view);
  return { row: from.row, col: isForward ? columns.length - 1 : 0 };
}

/** Where Home and End lead; with Control to the corners. Undefined for other keys. */
export function endMove(from: Position, key: string, view: ShownSheet, reach: "line" | "corner"): Position | undefined {
  const { rows, columns } = view.model;
  if (key !== "Home" && key !== "End") return undefined;
  const col = key === "End" ? columns.length - 1 : 0;
  if (reach === "line" || rows.length === 0) return { row: from.row, col };
  return { row: key === "End" ? rows.length - 1 : 0, col };
}
