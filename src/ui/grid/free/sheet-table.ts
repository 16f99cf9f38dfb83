// The table in the page: only the rows and columns in sight are drawn, each once, in one row element from the frozen columns
// to the last. The table itself stays where it is (`position: sticky`) and its parts are moved as the scroller reports; so a
// scroll that runs ahead of the page shows the rows before, never a blank.
import { paintCell } from "../paint";
import type { ShownSheet } from "../sheet-view";
import { ROW_HEIGHT } from "../sizes";
import { Geometry, type Viewport } from "./geometry";
import type { Position } from "./position";
import { isSameIndexes, putInOrder, redistribute } from "./recycle";
import { SheetHead } from "./sheet-head";

interface DrawnCell {
  readonly element: HTMLTableCellElement;
  index: number;
  marks: string;
}

interface DrawnRow {
  readonly element: HTMLTableRowElement;
  index: number;
  cells: readonly DrawnCell[];
  columns: readonly number[];
}

/** What the table asks of the grid while it draws. */
export interface TableQuestions {
  /** The cell or header that has the keyboard, or would get it. */
  keyboardPosition(): Position;
  /** The words for the style sheet that say how a cell is selected, e.g. "in current". */
  marksOf(row: number, column: number): string;
  /** Whether the cell is being typed into, so that its field must stay. */
  isEdited(row: number, column: number): boolean;
}

export class GridTable {
  readonly scroller = document.createElement("div");
  readonly table = document.createElement("table");
  readonly #view: ShownSheet;
  readonly #ask: TableQuestions;
  readonly #sizer = document.createElement("div");
  readonly #head: SheetHead;
  readonly #body = document.createElement("tbody");
  readonly #handle = document.createElement("span");
  #geometry: Geometry;
  #viewport: Viewport = { top: 0, left: 0, width: 0, height: 0 };
  #rows: readonly DrawnRow[] = [];
  #columns: readonly number[] = [];
  #frameRequest: number | undefined;
  #tabStop: HTMLElement | undefined;

  constructor(container: HTMLElement, view: ShownSheet, ask: TableQuestions) {
    this.#view = view;
    this.#ask = ask;
    this.#geometry = new Geometry(view);
    this.#head = new SheetHead(view);
    this.scroller.className = "free-scroller";
    this.#sizer.className = "free-sizer";
    this.table.className = "free-table";
    this.table.setAttribute("role", "grid");
    this.table.setAttribute("aria-multiselectable", "true");
    this.#body.setAttribute("role", "rowgroup");
    this.#handle.className = "free-handle";
    this.#handle.setAttribute("aria-hidden", "true");
    this.table.append(this.#head.element, this.#body);
    this.#sizer.append(this.table);
    this.scroller.append(this.#sizer);
    container.append(this.scroller);
  }

  get geometry(): Geometry {
    return this.#geometry;
  }

  get viewport(): Viewport {
    return this.#viewport;
  }

  /** How many rows fit into the view. */
  get rowsInSight(): number {
    return Math.floor((this.#viewport.height - this.#geometry.headHeight) / ROW_HEIGHT);
  }

  /** Takes over another model's sizes; drawing follows. */
  reshape(): void {
    this.#geometry = new Geometry(this.#view);
    const { width, height, headHeight, headHeights, rowCount, columnCount } = this.#geometry;
    this.#sizer.style.width = `${width}px`;
    this.#sizer.style.height = `${height}px`;
    this.#body.style.top = `${headHeight}px`;
    this.#body.style.width = `${width}px`;
    this.table.setAttribute("aria-rowcount", String(rowCount + headHeights.length));
    this.table.setAttribute("aria-colcount", String(columnCount));
    this.#columns = [];
    for (const row of this.#rows) row.columns = [];
    this.measure();
  }

  /** Takes over the size that the view has now. */
  measure(): void {
    const { clientWidth: width, clientHeight: height, scrollTop: top, scrollLeft: left } = this.scroller;
    this.table.style.width = `${width}px`;
    this.table.style.height = `${height}px`;
    this.#viewport = { top, left, width, height };
    this.#shift();
  }

  /** Follows the scroller. */
  followScroll(): void {
    const { scrollTop: top, scrollLeft: left } = this.scroller;
    if (top === this.#viewport.top && left === this.#viewport.left) return;
    this.#viewport = { ...this.#viewport, top, left };
    this.draw();
  }

  /** Draws what has come into sight. */
  draw(): void {
    this.#draw({ anew: false });
  }

  /** Draws and paints all that is in sight. */
  drawAnew(): void {
    this.#draw({ anew: true });
  }

  #draw({ anew }: { readonly anew: boolean }): void {
    const keyboard = this.#ask.keyboardPosition();
    const rows = this.#geometry.rowsIn(this.#viewport, keyboard.row < 0 ? undefined : keyboard.row);
    const columns = this.#geometry.columnsIn(this.#viewport, keyboard.col);
    const isSameColumns = isSameIndexes(columns, this.#columns);
    const isSameRows = this.#rows.length === rows.length && this.#rows.every((row, at) => row.index === rows[at]);
    if (!isSameColumns || anew) this.#head.draw(this.#geometry, columns);
    if (!isSameColumns || !isSameRows || anew) this.#drawRows(rows, columns, anew);
    this.#shift();
    if (!isSameColumns || !isSameRows || anew) this.markAll();
  }

  #drawRows(rows: readonly number[], columns: readonly number[], anew: boolean): void {
    this.#columns = columns;
    const fresh = new Set<DrawnRow>();
    const drawn = redistribute(this.#rows, rows, makeRow, (row, index) => {
      fresh.add(row);
      row.index = index;
      this.#placeRow(row);
    });
    this.#rows = drawn;
    for (const row of drawn) {
      const isAnew = anew || fresh.has(row);
      // Rows of another sheet may be higher at the same index.
      if (anew) this.#placeRow(row);
      if (isAnew) row.element.setAttribute("aria-rowindex", String(row.index + this.#geometry.headHeights.length + 1));
      if (!isSameIndexes(row.columns, columns)) this.#drawCells(row, columns, isAnew);
      else if (isAnew) for (const cell of row.cells) this.#paint(row, cell);
    }
    putInOrder(
      this.#body,
      drawn.map((row) => row.element),
    );
  }

  #placeRow({ element, index }: DrawnRow): void {
    element.style.top = `${this.#geometry.topOf(index)}px`;
    element.style.height = `${this.#geometry.heightOf(index)}px`;
  }

  /** Paints all drawn cells at the next frame, however often it is asked to. */
  repaintSoon(): void {
    this.#frameRequest ??= requestAnimationFrame(() => {
      this.#frameRequest = undefined;
      for (const row of this.#rows) for (const cell of row.cells) this.#paint(row, cell);
    });
  }

  /** Paints one cell at once, where it is drawn. */
  paintAt(position: Position): void {
    const row = this.#rows.find((one) => one.index === position.row);
    const cell = row?.cells.find((one) => one.index === position.col);
    if (row !== undefined && cell !== undefined) this.#paint(row, cell);
  }

  /** Shows on every drawn cell whether it is selected, and lets Tab find the one that has the keyboard. */
  markAll(): void {
    let foot: HTMLElement | undefined;
    for (const row of this.#rows)
      for (const cell of row.cells) {
        const marks = this.#ask.marksOf(row.index, cell.index);
        if (marks !== cell.marks) mark(cell, marks);
        if (marks.includes("foot")) foot = cell.element;
      }
    if (foot === undefined || foot.hasAttribute("data-edited")) this.#handle.remove();
    else if (this.#handle.parentElement !== foot) foot.append(this.#handle);
    const stop = this.elementAt(this.#ask.keyboardPosition());
    if (stop === this.#tabStop) return;
    if (this.#tabStop !== undefined) this.#tabStop.tabIndex = -1;
    if (stop !== undefined) stop.tabIndex = 0;
    this.#tabStop = stop;
  }

  elementAt(position: Position): HTMLElement | undefined {
    if (position.row < 0) return this.#head.elementAt(position);
    const row = this.#rows.find((one) => one.index === position.row);
    return row?.cells.find((one) => one.index === position.col)?.element;
  }

  /** The cell or header that a drawn element belongs to. */
  positionOf(target: EventTarget | null): Position | undefined {
    const element = target instanceof Element ? target.closest("td, th") : null;
    if (element === null) return undefined;
    if (element.tagName === "TH") return this.#head.positionOf(element);
    const row = this.#rows.find((one) => one.element === element.parentElement);
    const cell = row?.cells.find((one) => one.element === element);
    return row === undefined || cell === undefined ? undefined : { row: row.index, col: cell.index };
  }

  isHandle(target: EventTarget | null): boolean {
    return target === this.#handle;
  }

  /** The cell under a point of the screen, or the nearest one in sight. */
  positionUnder(clientX: number, clientY: number): Position {
    const box = this.scroller.getBoundingClientRect();
    const { frozenWidth, headHeight } = this.#geometry;
    const { top, left, width, height } = this.#viewport;
    const x = Math.max(0, Math.min(width - 1, clientX - box.left));
    const y = Math.max(headHeight, Math.min(height - 1, clientY - box.top));
    const col = this.#geometry.columnOver(x < frozenWidth ? x : x + left);
    return { row: this.#geometry.rowOver(y - headHeight + top), col };
  }

  /** Scrolls until the cell is wholly in sight, and draws it. */
  reveal(position: Position): void {
    const { top, left } = this.#geometry.scrolledTo(this.#viewport, position);
    this.scrollTo(top, left);
    this.draw();
    // Where the page is higher than its window, that has to show the sheet.
    this.scroller.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** Scrolls as far as the sheet goes; drawing follows. */
  scrollTo(top: number, left: number): void {
    const farthest = this.#geometry.farthest(this.#viewport);
    const newTop = Math.max(0, Math.min(top, farthest.top));
    const newLeft = Math.max(0, Math.min(left, farthest.left));
    if (this.#viewport.top !== newTop) this.scroller.scrollTop = newTop;
    if (this.#viewport.left !== newLeft) this.scroller.scrollLeft = newLeft;
    this.#viewport = { ...this.#viewport, top: newTop, left: newLeft };
  }

  remove(): void {
    if (this.#frameRequest !== undefined) cancelAnimationFrame(this.#frameRequest);
    this.scroller.remove();
  }

  /** Moves what is drawn to where the view was scrolled to. */
  #shift(): void {
    const { top, left } = this.#viewport;
    this.#body.style.transform = `translate(${-left}px, ${-top}px)`;
    this.#head.scrollTo(left, this.#geometry.frozenWidth);
    for (const row of this.#rows)
      for (const cell of row.cells) {
        if (cell.index >= this.#geometry.frozen) break;
        cell.element.style.transform = `translateX(${left}px)`;
      }
  }

  #drawCells(row: DrawnRow, columns: readonly number[], isAnew: boolean): void {
    const fresh = new Set<DrawnCell>();
    const cells = redistribute(row.cells, columns, makeCell, (cell) => fresh.add(cell));
    const isPlacedAnew = row.columns.length === 0;
    for (const cell of cells) {
      const isFresh = fresh.has(cell);
      if (isFresh || isPlacedAnew) this.#place(cell);
      if (isFresh || isAnew) this.#paint(row, cell);
    }
    row.cells = cells;
    row.columns = columns;
    putInOrder(
      row.element,
      cells.map((cell) => cell.element),
    );
  }

  #place({ element, index }: DrawnCell): void {
    const geometry = this.#geometry;
    const isFrozen = index < geometry.frozen;
    const isName = index === 0 && geometry.frozen > 0;
    element.style.left = `${geometry.leftOf(index)}px`;
    element.style.width = `${geometry.rightOf(index) - geometry.leftOf(index)}px`;
    if (!isFrozen) element.style.transform = "";
    element.toggleAttribute("data-frozen", isFrozen);
    element.toggleAttribute("data-name", isName);
    element.toggleAttribute("data-ends-part", this.#view.endsPart(index));
    element.setAttribute("role", isName ? "rowheader" : "gridcell");
    element.setAttribute("aria-colindex", String(index + 1));
  }

  #paint(row: DrawnRow, { element, index }: DrawnCell): void {
    const { model } = this.#view;
    const id = model.rows[row.index];
    const column = model.columns[index];
    if (id === undefined || column === undefined || this.#ask.isEdited(row.index, index)) return;
    paintCell(element, model.display(id, column.key), column, this.#view.headingAt(id, index));
  }
}

function makeRow(): DrawnRow {
  const element = document.createElement("tr");
  element.setAttribute("role", "row");
  return { element, index: -1, cells: [], columns: [] };
}

function makeCell(): DrawnCell {
  const element = document.createElement("td");
  element.tabIndex = -1;
  return { element, index: -1, marks: "" };
}

function mark(cell: DrawnCell, marks: string): void {
  cell.marks = marks;
  if (marks === "") {
    cell.element.removeAttribute("data-selected");
    cell.element.removeAttribute("aria-selected");
  } else {
    cell.element.setAttribute("data-selected", marks);
    cell.element.setAttribute("aria-selected", "true");
  }
}
