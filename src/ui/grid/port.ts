// The one door to the grid library. Another grid can take its place by keeping this contract.
// The grid is a view: it owns no data, holds no formulas, keeps no undo. It asks what cells show and reports wishes.

import type { CellDisplay } from "../../app/edition/display";

/** One column as it is shown. */
export interface GridColumn {
  readonly key: string;
  readonly title: string;
  /** Shown small under the title; empty where there is none. */
  readonly unit: string;
  readonly align: "start" | "end";
  readonly width: number;
  readonly isInput: boolean;
  /** Id of the group the column stands in; consecutive columns of one group share a header above them. */
  readonly group: string;
  /** Whether the cells take a choice; the grid then asks `choices`. */
  readonly hasChoices: boolean;
  /** Whether its words go on in another line; the model then says how high each row is. */
  readonly wraps?: boolean;
  /** How the rows are sorted by this column, if they are. */
  readonly sort?: "ascending" | "descending" | undefined;
}

/** A header above several columns. A folded group shows only the columns the model lists for it. */
export interface GridGroup {
  readonly id: string;
  readonly title: string;
  readonly note: string;
  readonly canFold: boolean;
  readonly isFolded: boolean;
}

/** What the grid shows. Rows are ids in view order: sorted and filtered by the app, never by the grid. */
export interface GridModel {
  readonly label: string;
  readonly columns: readonly GridColumn[];
  readonly groups: readonly GridGroup[];
  readonly rows: readonly string[];
  /** How many leading columns stay in sight. */
  readonly frozen: number;
  /** Lines of the highest title; one where nothing is said. */
  readonly titleLines?: number;
  /** Height of each row in px, headings included; all are alike where nothing is said. */
  readonly rowHeights?: readonly number[];
  /** What stands above a row, by its id: the name of the group that begins there. */
  readonly headings?: ReadonlyMap<string, string>;
  display(row: string, column: string): CellDisplay;
  /** The text an editor starts with. */
  editText(row: string, column: string): string;
  choices(row: string, column: string): readonly string[];
}

export interface GridCell {
  readonly row: string;
  readonly column: string;
}

export interface GridEntry extends GridCell {
  readonly typed: string;
}

/** A selected block, from the cell where it began to the one where it ended. */
export interface GridSelection {
  readonly anchor: GridCell;
  readonly rows: readonly string[];
  readonly columns: readonly string[];
}

/** What the grid reports. The app decides what becomes of it. */
export interface GridEvents {
  /** Typed, pasted, filled down or cleared; `overflow` counts pasted cells that fell outside the sheet. */
  write(entries: readonly GridEntry[], how: "typed" | "pasted" | "filled" | "cleared", overflow: number): void;
  select(selection: GridSelection): void;
  /** Typing begins in a cell. What is typed is written only if that is the cell the page names. */
  beginTyping(cell: GridCell): void;
  /** Text that was being typed when its cell went out of the sheet, or the sheet was closed: it is written nowhere. */
  keep(text: string, cell: GridCell): void;
  toggleGroup(group: string): void;
  /** A column title was activated: the app sorts its view. */
  activateColumn(column: string): void;
  /** A column was given another width in px, or is to fit what stands in it. A grid may leave the pointer's way out. */
  resizeColumn(column: string, width: number | "fit"): void;
  /** The text for the clipboard of one copied cell. */
  copyText(row: string, column: string): string;
  /** Asked for by keyboard or pointer on a cell: open the card for it. */
  explain(cell: GridCell): void;
}

/** A living grid. */
export interface Grid {
  /** Shows another model; keeps the position and the selection where the same rows and columns are still there. */
  show(model: GridModel): void;
  /** Paints anew because values moved. */
  repaint(): void;
  /** Selects a cell, brings it into sight and takes the keyboard. */
  select(cell: GridCell): void;
  /** Brings a cell into sight and leaves selection and keyboard as they are. */
  reveal(cell: GridCell): void;
  focus(): void;
  close(): void;
}

export type CreateGrid = (host: HTMLElement, model: GridModel, events: GridEvents) => Grid;
