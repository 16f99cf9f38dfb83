// Typing into cells: which cell the text field is open in, what becomes of its text, and where it goes on when the sheet
// changes beneath it.
import { type Area, entriesOver } from "../area";
import type { GridWriting } from "../grid-writing";
import type { GridEntry, GridEvents } from "../port";
import type { ShownSheet } from "../sheet-view";
import { CellField, type EditedText } from "./cell-field";
import type { BlockSelection } from "./selection";
import type { GridTable } from "./sheet-table";

/** What editing needs of its grid. */
export interface EditedGrid {
  readonly container: HTMLElement;
  readonly view: ShownSheet;
  readonly table: GridTable;
  readonly selection: BlockSelection;
  readonly writing: GridWriting;
  readonly events: GridEvents;
  selectedArea(): Area | undefined;
}

/** What becomes of what was typed: written into its cell, into every selected cell, or forgotten. */
export type EditEnd = "written" | "into block" | "given up";

export class CellEditing {
  readonly field: CellField;
  readonly #grid: EditedGrid;

  constructor(grid: EditedGrid) {
    this.#grid = grid;
    this.field = new CellField(grid.container, {
      picked: () => this.finish("written"),
      begun: () => this.open("nothing"),
    });
  }

  get isOpen(): boolean {
    return this.field.position !== undefined;
  }

  /** Whether the field stands open in this cell. */
  isAt(row: number, col: number): boolean {
    return this.field.position?.row === row && this.field.position.col === col;
  }

  /** Opens the cell that has the keyboard: on its text, or empty for what is typed over it; `draft` is a text to go on with. */
  open(on: EditedText, draft?: string): void {
    const { selection, table, view, events } = this.#grid;
    const { highlight } = selection;
    if (highlight === undefined || highlight.row < 0) return;
    table.reveal(highlight);
    const element = table.elementAt(highlight);
    const cell = this.#grid.view.cellAt(highlight.row, highlight.col);
    if (element === undefined || cell === undefined) return;
    events.beginTyping(cell);
    this.field.open(element, highlight, view.model, on, draft);
  }

  /** Closes the field and reports what was typed. The cell has the keyboard again if the field had it. */
  finish(as: EditEnd): void {
    const { table, view, writing, selectedArea } = this.#grid;
    const { position } = this.field;
    if (position === undefined) return;
    const typed = this.field.close(table.elementAt(position));
    table.paintAt(position);
    table.markAll();
    if (typed === undefined || as === "given up") return;
    const cell = this.#grid.view.cellAt(typed.row, typed.col);
    const area = as === "into block" ? selectedArea() : undefined;
    if (area !== undefined) writing.typed(entriesOver(area, typed.text, view.model));
    else if (typed.isChange && cell !== undefined) writing.typed([{ ...cell, typed: typed.text }]);
  }

  /** What is being typed, and where; undefined where the text is as it was. */
  draft(): GridEntry | undefined {
    const { position, typed } = this.field;
    const cell = position && this.#grid.view.cellAt(position.row, position.col);
    return cell === undefined || typed === undefined ? undefined : { ...cell, typed };
  }

  /** Goes on with a draft in its own cell, wherever that is now; where it is gone the page keeps the text. */
  takeUp(draft: GridEntry, on: EditedText): void {
    const { selection, view, events } = this.#grid;
    const row = view.rowIndex(draft.row);
    const col = view.columnIndex(draft.column);
    if (row === undefined || col === undefined) events.keep(draft.typed, draft);
    else {
      selection.selectCell(row, col);
      this.open(on, draft.typed);
    }
  }

  /** The field is gone for good; what was being typed is the page's to keep. */
  close(): void {
    const draft = this.draft();
    if (draft !== undefined) this.#grid.events.keep(draft.typed, draft);
    this.field.close();
  }
}
