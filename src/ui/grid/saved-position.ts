// Remembers by id where the reader is and what is selected, and finds it again in another model.

import type { GridModel } from "./port";
import type { RangeHolder } from "./range";
import type { ShownSheet } from "./sheet-view";
import { ROW_HEIGHT } from "./sizes";

/** One end of the selection: a cell, or a header over a column (level -1 is the lowest header row). */
interface Corner {
  readonly level: number | undefined;
  readonly rowIndex: number;
  readonly row: string | undefined;
  readonly columnIndex: number;
  readonly column: string | undefined;
  readonly group: string | undefined;
}

/** Where the reader was. */
export interface SavedPosition {
  readonly scrollTop: number;
  readonly scrollLeft: number;
  readonly model: GridModel;
  readonly highlight: Corner | undefined;
  readonly from: Corner | undefined;
  readonly to: Corner | undefined;
}

/** Where to go in the new model: px to scroll to, and the selection as row and column indexes. */
export interface RestoredPosition {
  readonly scrollTop: number;
  readonly scrollLeft: number;
  readonly selection: { readonly from: readonly [number, number]; readonly to: readonly [number, number] } | undefined;
  /** Whether the very cell that was selected is still there. */
  readonly isSameCell: boolean;
}

function cornerAt(row: number | null, column: number | null, view: ShownSheet): Corner {
  const rowIndex = row ?? 0;
  const columnIndex = column ?? 0;
  const isGroupLevel = rowIndex < -1;
  return {
    level: rowIndex < 0 ? rowIndex : undefined,
    rowIndex,
    row: view.model.rows[rowIndex],
    columnIndex,
    column: view.columnAt(columnIndex)?.key,
    group: isGroupLevel ? view.spanAt(columnIndex)?.group?.id : undefined,
  };
}

/** Remembers scroll position and selection. */
export function savePosition(
  grid: RangeHolder,
  view: ShownSheet,
  scrolled: Pick<Element, "scrollTop" | "scrollLeft">,
): SavedPosition {
  const range = grid.getSelectedRangeLast();
  return {
    scrollTop: scrolled.scrollTop,
    scrollLeft: scrolled.scrollLeft,
    model: view.model,
    highlight: range && cornerAt(range.highlight.row, range.highlight.col, view),
    from: range && cornerAt(range.from.row, range.from.col, view),
    to: range && cornerAt(range.to.row, range.to.col, view),
  };
}

function nearest(index: number, count: number): number {
  return Math.max(0, Math.min(index, count - 1));
}

function findColumn(corner: Corner, view: ShownSheet): number {
  const group = corner.group;
  const span = group === undefined ? undefined : view.spans.find((one) => one.group?.id === group);
  if (span !== undefined) return span.first;
  const found = corner.column === undefined ? undefined : view.columnIndex(corner.column);
  return found ?? nearest(corner.columnIndex, view.model.columns.length);
}

function findRow(corner: Corner, view: ShownSheet): number {
  if (corner.level !== undefined) return view.hasGroups ? corner.level : -1;
  const found = corner.row === undefined ? undefined : view.rowIndex(corner.row);
  return found ?? nearest(corner.rowIndex, view.model.rows.length);
}

function isStillThere(corner: Corner, view: ShownSheet): boolean {
  if (corner.level !== undefined) return true;
  return (
    corner.row !== undefined &&
    corner.column !== undefined &&
    view.rowIndex(corner.row) !== undefined &&
    view.columnIndex(corner.column) !== undefined
  );
}

/** Whether the same rows are there in another order: then the reader stays where the sheet was scrolled to. */
function isReordered(kept: SavedPosition, view: ShownSheet): boolean {
  return (
    kept.model.rows.length === view.model.rows.length &&
    kept.model.rows.every((row) => view.rowIndex(row) !== undefined)
  );
}

/** Keeps a row in sight at its height: the selected one if it was in sight, else the first one that is still there. */
function findScrollTop(kept: SavedPosition, view: ShownSheet, height: number): number {
  if (kept.model.rows === view.model.rows || isReordered(kept, view)) return kept.scrollTop;
  const first = Math.floor(kept.scrollTop / ROW_HEIGHT);
  const last = first + Math.ceil(height / ROW_HEIGHT);
  const selected = kept.highlight?.level === undefined ? (kept.highlight?.rowIndex ?? -1) : -1;
  const isSelectedInSight = selected >= first && selected <= last;
  if (kept.scrollTop === 0 && !isSelectedInSight) return 0;
  const candidates = isSelectedInSight ? [selected] : [];
  for (let index = first; index <= last; index += 1) candidates.push(index);
  for (const index of candidates) {
    const now = view.rowIndex(kept.model.rows[index] ?? "");
    if (now !== undefined) return Math.max(0, kept.scrollTop + (now - index) * ROW_HEIGHT);
  }
  return kept.scrollTop;
}

/** Left edges in px of the columns that scroll, by key. */
function leftEdges(model: GridModel): ReadonlyMap<string, number> {
  const edges = new Map<string, number>();
  let left = 0;
  for (const column of model.columns.slice(model.frozen)) {
    edges.set(column.key, left);
    left += column.width;
  }
  return edges;
}

/** Keeps the first column in sight that is still there where it was. */
function findScrollLeft(kept: SavedPosition, view: ShownSheet): number {
  if (kept.model.columns === view.model.columns || kept.scrollLeft === 0) return kept.scrollLeft;
  const now = leftEdges(view.model);
  for (const [key, left] of leftEdges(kept.model)) {
    const found = now.get(key);
    if (left >= kept.scrollLeft && found !== undefined) return Math.max(0, kept.scrollLeft + found - left);
  }
  return kept.scrollLeft;
}

function findSelection(kept: SavedPosition, view: ShownSheet): RestoredPosition["selection"] {
  const { highlight, from, to } = kept;
  if (highlight === undefined || from === undefined || to === undefined) return undefined;
  if (view.model.columns.length === 0) return undefined;
  if (view.model.rows.length === 0 && highlight.level === undefined) return undefined;
  // On a header only because there was no row: what is typed next is meant for a cell.
  if (kept.model.rows.length === 0 && view.model.rows.length > 0 && highlight.level !== undefined) {
    const first = [0, findColumn(highlight, view)] as const;
    return { from: first, to: first };
  }
  const cell = (corner: Corner) => [findRow(corner, view), findColumn(corner, view)] as const;
  const isWhole = isStillThere(from, view) && isStillThere(to, view);
  return isWhole ? { from: cell(from), to: cell(to) } : { from: cell(highlight), to: cell(highlight) };
}

/** Whether the model now on show is of another sheet, with nothing in it of the one before. */
function isOtherSheet(kept: SavedPosition, view: ShownSheet): boolean {
  return kept.model.label !== view.model.label && !kept.model.rows.some((row) => view.rowIndex(row) !== undefined);
}

/** Finds the saved position in the model now on show; `height` is that of the scrolling part, in px. */
export function restorePosition(kept: SavedPosition, view: ShownSheet, height: number): RestoredPosition {
  if (isOtherSheet(kept, view)) return { scrollTop: 0, scrollLeft: 0, selection: undefined, isSameCell: false };
  return {
    scrollTop: findScrollTop(kept, view, height),
    scrollLeft: findScrollLeft(kept, view),
    selection: findSelection(kept, view),
    isSameCell: kept.highlight !== undefined && isStillThere(kept.highlight, view),
  };
}
