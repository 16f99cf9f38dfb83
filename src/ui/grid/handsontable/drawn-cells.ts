// The cells and headers the library has drawn: what stands where, and painting them from the model.
import { paintBlank, paintBlankHead, paintCell, paintColumnHead, paintGroupHead } from "../paint";
import type { ShownSheet } from "../sheet-view";

/** Where a cell element stands in the view. */
export interface CellIndex {
  readonly row: number;
  readonly column: number;
}

/** Paints cells and headers as the library draws them, and anew when values have moved. */
export class DrawnCells {
  readonly #host: HTMLElement;
  readonly #view: ShownSheet;
  readonly #indices = new WeakMap<Element, CellIndex>();
  #frameRequest: number | undefined;

  constructor(host: HTMLElement, view: ShownSheet) {
    this.#host = host;
    this.#view = view;
  }

  /** Paints a cell that the library has just drawn. */
  drawn(cell: HTMLTableCellElement, row: number, column: number): void {
    this.#indices.set(cell, { row, column });
    this.#paint(cell, row, column);
  }

  /** Where the cell stands that was pressed, if it was one. */
  cellIndexOf(target: EventTarget | null): CellIndex | undefined {
    const cell = target instanceof Element ? target.closest("td") : null;
    return cell === null ? undefined : this.#indices.get(cell);
  }

  /** Paints all cells in sight at the next frame, however often it is asked to. */
  repaint(): void {
    this.#frameRequest ??= requestAnimationFrame(() => {
      this.#frameRequest = undefined;
      for (const cell of this.#host.querySelectorAll<HTMLTableCellElement>(".htCore > tbody > tr > td")) {
        const index = this.#indices.get(cell);
        if (index !== undefined) this.#paint(cell, index.row, index.column);
      }
    });
  }

  stop(): void {
    if (this.#frameRequest !== undefined) cancelAnimationFrame(this.#frameRequest);
  }

  #paint(cell: HTMLTableCellElement, rowIndex: number, columnIndex: number): void {
    const { model } = this.#view;
    const row = model.rows[rowIndex];
    const column = model.columns[columnIndex];
    if (row === undefined || column === undefined) return;
    const isName = columnIndex === 0 && model.frozen > 0;
    // The frozen columns are drawn twice; the copy below is out of sight and is not asked for.
    const isUnder = columnIndex < model.frozen && cell.closest(".ht_master") !== null;
    cell.toggleAttribute("data-under", isUnder);
    cell.toggleAttribute("data-name", isName);
    cell.toggleAttribute("data-ends-part", this.#view.endsPart(columnIndex));
    if (isUnder) {
      paintBlank(cell);
      return;
    }
    if (isName) cell.setAttribute("role", "rowheader");
    paintCell(cell, model.display(row, column.key), column, this.#view.headingAt(row, columnIndex));
  }

  /** Paints a header that the library has just drawn; level 0 is the topmost row of headers. */
  drawnHead(header: HTMLTableCellElement, columnIndex: number, level: number): void {
    const span = this.#view.spanAt(columnIndex);
    const column = this.#view.columnAt(columnIndex);
    if (span === undefined || column === undefined) return;
    const isTop = level === 0 && this.#view.hasGroups;
    const isUnder = columnIndex < this.#view.model.frozen && header.closest(".ht_clone_top") !== null;
    const isCovered = isTop ? columnIndex !== span.first : span.group === undefined && this.#view.hasGroups;
    // The library counts from the first column in sight.
    header.setAttribute("aria-colindex", String(columnIndex + 1));
    header.toggleAttribute("data-under", isUnder);
    header.toggleAttribute("data-ends-part", this.#view.endsPart(isTop ? span.first + span.count - 1 : columnIndex));
    if (isCovered || isUnder) paintBlankHead(header);
    else if (isTop && span.group !== undefined) paintGroupHead(header, span.group);
    else paintColumnHead(header, column);
  }
}
