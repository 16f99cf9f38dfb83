// What is selected: a range and, within it, the cell that has the keyboard.
import type { Area } from "../area";
import type { CellRange, RangeSelector } from "../range";
import type { Position } from "./position";

interface PositionRange extends CellRange {
  readonly from: Position;
  readonly to: Position;
  readonly highlight: Position;
}

/** Whether what is reached is selected anew, or the selection goes on to it. */
export type SelectHow = "anew" | "extend";

/** Says that another range is selected; `shown` is to be brought into sight. */
type OnSelect = (shown: Position | undefined) => void;

/** Holds the selected range. */
export class BlockSelection implements RangeSelector {
  #range: PositionRange | undefined;
  readonly #onSelect: OnSelect;

  constructor(onSelect: OnSelect) {
    this.#onSelect = onSelect;
  }

  getSelectedRangeLast(): PositionRange | undefined {
    return this.#range;
  }

  /** The cell or header that has the keyboard. */
  get highlight(): Position | undefined {
    return this.#range?.highlight;
  }

  get isBlock(): boolean {
    const range = this.#range;
    return range !== undefined && (range.from.row !== range.to.row || range.from.col !== range.to.col);
  }

  /** Selects one cell or header, and brings it into sight. */
  selectCell(row: number, col: number): void {
    const cell = { row, col };
    this.#range = { from: cell, to: cell, highlight: cell };
    this.#onSelect(cell);
  }

  /** Selects a range without scrolling to it. */
  selectRange(from: Position, to: Position): void {
    // A whole column is chosen from its header on; the keyboard is then in its first cell.
    const highlight = from.row < 0 && to.row >= 0 ? { row: 0, col: from.col } : from;
    this.#range = { from, to, highlight };
    this.#onSelect(undefined);
  }

  selectArea({ top, left, bottom, right }: Area): void {
    this.selectRange({ row: top, col: left }, { row: bottom, col: right });
  }

  /** Lets the range end somewhere else. */
  extendTo(to: Position): void {
    if (this.#range === undefined || (this.#range.highlight.row < 0 && to.row >= 0)) return;
    this.#range = { ...this.#range, to };
    this.#onSelect(to);
  }

  /** Moves the keyboard to the next cell of the block, row by row or column by column, and round its end. */
  walk(step: 1 | -1, way: "down" | "across"): void {
    if (this.#range === undefined) return;
    const { from, to, highlight } = this.#range;
    const top = Math.max(0, Math.min(from.row, to.row));
    const left = Math.max(0, Math.min(from.col, to.col));
    const height = Math.max(from.row, to.row) - top + 1;
    const width = Math.max(from.col, to.col) - left + 1;
    const row = highlight.row - top;
    const col = highlight.col - left;
    const count = height * width;
    const isDown = way === "down";
    const at = ((isDown ? col * height + row : row * width + col) + step + count) % count;
    const next = isDown
      ? { row: top + (at % height), col: left + Math.floor(at / height) }
      : { row: top + Math.floor(at / width), col: left + (at % width) };
    this.#range = { ...this.#range, highlight: next };
    this.#onSelect(next);
  }

  clear(): void {
    this.#range = undefined;
    this.#onSelect(undefined);
  }
}
