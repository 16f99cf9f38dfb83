// Where rows and columns lie, and which of them are to be drawn. Sums only: nothing here touches the page.
import type { ShownSheet } from "../sheet-view";
import { headerHeights, ROW_HEIGHT } from "../sizes";
import type { Position } from "./position";

/** What of the sheet is in sight, in px. */
export interface Viewport {
  readonly top: number;
  readonly left: number;
  readonly width: number;
  readonly height: number;
}

/** The indexes from first to last and, in order, one more that must not be lost. */
function indexesWith(first: number, last: number, kept: number | undefined, count: number): number[] {
  const indexes: number[] = [];
  if (kept !== undefined && kept >= 0 && kept < first) indexes.push(kept);
  for (let index = first; index <= last; index += 1) indexes.push(index);
  if (kept !== undefined && kept > last && kept < count) indexes.push(kept);
  return indexes;
}

/** Where each of several sizes begins, and where the last ends. */
function sumsOf(sizes: readonly number[]): readonly number[] {
  const sums = [0];
  for (const size of sizes) sums.push((sums.at(-1) ?? 0) + size);
  return sums;
}

/** The sizes that follow from a model. */
export class Geometry {
  readonly rowCount: number;
  readonly columnCount: number;
  readonly frozen: number;
  readonly headHeights: readonly number[];
  readonly headHeight: number;
  readonly width: number;
  readonly height: number;
  /** Left edges of the columns, and the right edge of the last. */
  readonly #edges: readonly number[];
  /** Tops of the rows below the headers and the bottom of the last, where they are not all alike. */
  readonly #tops: readonly number[] | undefined;

  constructor(view: ShownSheet) {
    const { columns, rows, rowHeights, frozen } = view.model;
    this.#edges = sumsOf(columns.map(({ width }) => width));
    this.rowCount = rows.length;
    this.columnCount = columns.length;
    this.frozen = Math.min(frozen, columns.length);
    this.headHeights = headerHeights(view);
    this.headHeight = this.headHeights.reduce((sum, height) => sum + height, 0);
    this.width = this.#edges.at(-1) ?? 0;
    this.#tops = rowHeights && sumsOf(rowHeights);
    this.height = this.headHeight + this.topOf(rows.length);
  }

  leftOf(column: number): number {
    return this.#edges[column] ?? 0;
  }

  rightOf(column: number): number {
    return this.#edges[column + 1] ?? this.width;
  }

  /** The top of a row below the headers. */
  topOf(row: number): number {
    return this.#tops?.[row] ?? row * ROW_HEIGHT;
  }

  heightOf(row: number): number {
    return this.topOf(row + 1) - this.topOf(row);
  }

  get frozenWidth(): number {
    return this.leftOf(this.frozen);
  }

  /** The column over a distance in px from the sheet's left edge. */
  columnOver(x: number): number {
    let low = 0;
    let high = this.columnCount - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.leftOf(middle) <= x) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** The row over a distance in px below the headers. */
  rowOver(y: number): number {
    const row = this.#tops ? this.#tops.findLastIndex((top) => top <= y) : Math.floor(y / ROW_HEIGHT);
    return Math.max(0, Math.min(this.rowCount - 1, row));
  }

  /** The rows to draw; `kept` has the keyboard and is always drawn. */
  rowsIn({ top, height }: Viewport, kept: number | undefined): readonly number[] {
    if (this.rowCount === 0) return [];
    const bottom = top + Math.max(0, height - this.headHeight);
    // A row that begins where the view ends is not in it.
    return indexesWith(this.rowOver(top), this.rowOver(bottom - 0.01), kept, this.rowCount);
  }

  /** The columns to draw: the frozen ones, those in sight, and the one that has the keyboard. */
  columnsIn({ left, width }: Viewport, kept: number | undefined): readonly number[] {
    const frozen = Array.from({ length: this.frozen }, (_, index) => index);
    if (this.columnCount === this.frozen) return frozen;
    const first = Math.max(this.frozen, this.columnOver(left + this.frozenWidth));
    const last = Math.min(this.columnCount - 1, this.columnOver(left + width));
    const loose = kept === undefined || kept < this.frozen ? undefined : kept;
    return [...frozen, ...indexesWith(first, last, loose, this.columnCount)];
  }

  /** The farthest that can be scrolled. */
  farthest({ width, height }: Viewport): { readonly top: number; readonly left: number } {
    return { top: Math.max(0, this.height - height), left: Math.max(0, this.width - width) };
  }

  /** How far to scroll so that a cell is wholly in sight. */
  scrolledTo(viewport: Viewport, { row, col }: Position): { readonly top: number; readonly left: number } {
    const { top, left, width, height } = viewport;
    const bottom = this.topOf(row + 1) - (height - this.headHeight);
    const newTop = row < 0 ? top : Math.min(Math.max(top, bottom), this.topOf(row));
    if (col < this.frozen) return { top: newTop, left };
    const right = this.rightOf(col) - width;
    return { top: newTop, left: Math.min(Math.max(left, right), this.leftOf(col) - this.frozenWidth) };
  }
}
