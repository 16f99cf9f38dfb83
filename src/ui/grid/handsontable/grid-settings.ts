// A model in the library's terms. The grid holds no values: its rows are blanks and its columns read nothing.

import type { HeaderSpan, ShownSheet } from "../sheet-view";
import { headerHeights, ROW_HEIGHT } from "../sizes";
import { CellEditor, ChoiceEditor } from "./cell-editor";
import type { LibrarySettings } from "./grid-library";

const BLANK_ROW = Object.freeze({});

// Labels stay empty: the titles are painted as text into the header cells (see paint.ts).
function groupLabel(span: HeaderSpan): { label: string; colspan: number; rowspan: number } {
  return { label: "", colspan: span.count, rowspan: span.group === undefined ? 2 : 1 };
}

function headerRows(view: ShownSheet): NonNullable<LibrarySettings["nestedHeaders"]> {
  const titles = view.model.columns.map(() => "");
  return view.hasGroups ? [view.spans.map(groupLabel), titles] : [titles];
}

/** The settings that follow from the rows. */
export function rowSettings(view: ShownSheet): LibrarySettings {
  const { rows, rowHeights } = view.model;
  return {
    data: Array.from({ length: rows.length }, () => BLANK_ROW),
    rowHeights: rowHeights ? [...rowHeights] : ROW_HEIGHT,
  };
}

/** The settings that follow from the columns and their headers. */
export function columnSettings(view: ShownSheet): LibrarySettings {
  const { columns, frozen } = view.model;
  return {
    columns: columns.map((column) => ({
      // One function each: the library tells columns apart by it.
      data: () => null,
      renderer: (_library, cell) => cell,
      // The library's own types ask for a constructor without parameters, and call it with the grid.
      editor: (column.hasChoices ? ChoiceEditor : CellEditor) as unknown as NonNullable<LibrarySettings["editor"]>,
    })),
    colWidths: columns.map((column) => column.width),
    columnHeaderHeight: [...headerHeights(view)],
    fixedColumnsStart: Math.min(frozen, columns.length),
    nestedHeaders: headerRows(view),
  };
}

/** The settings that hold for every model. */
export function standingSettings(licenceKey: string): LibrarySettings {
  return {
    licenseKey: licenceKey,
    themeName: "ht-theme-saggar",
    width: "100%",
    height: "100%",
    rowHeaders: false,
    colHeaders: true,
    autoRowSize: false,
    autoColumnSize: false,
    minSpareRows: 0,
    undo: false,
    contextMenu: false,
    trimWhitespace: false,
    selectionMode: "range",
    outsideClickDeselects: false,
    navigableHeaders: true,
    autoWrapRow: false,
    autoWrapCol: false,
    enterMoves: { row: 1, col: 0 },
    fillHandle: { direction: "vertical", autoInsertRow: false },
    dragToScroll: true,
  };
}
