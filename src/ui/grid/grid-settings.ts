// A model in the library's terms. The grid holds no values: its rows are blanks and its columns read nothing.
import { CellEditor, ChoiceEditor } from "./cell-editor";
import type { LibrarySettings } from "./grid-library";
import type { GridModel } from "./port";
import type { HeaderSpan, SheetView } from "./sheet-view";

/** Height in px of a row of cells. */
export const ROW_HEIGHT = 26;
const GROUP_ROW_HEIGHT = 27;
const TITLE_ROW_HEIGHT = 27;
const TITLE_WITH_UNIT_ROW_HEIGHT = 42;

const BLANK_ROW = Object.freeze({});

/** Heights in px of the header rows, from the top. */
export function headerHeights(view: SheetView): readonly number[] {
  const hasUnits = view.model.columns.some((column) => column.unit !== "");
  const title = hasUnits ? TITLE_WITH_UNIT_ROW_HEIGHT : TITLE_ROW_HEIGHT;
  return view.hasGroups ? [GROUP_ROW_HEIGHT, title] : [title];
}

// Labels stay empty: the titles are painted as text into the header cells (see paint.ts).
function groupLabel(span: HeaderSpan): { label: string; colspan: number; rowspan: number } {
  return { label: "", colspan: span.count, rowspan: span.group === undefined ? 2 : 1 };
}

function headerRows(view: SheetView): NonNullable<LibrarySettings["nestedHeaders"]> {
  const titles = view.model.columns.map(() => "");
  return view.hasGroups ? [view.spans.map(groupLabel), titles] : [titles];
}

/** The width in px of the columns that stay in sight. */
export function frozenWidth(model: GridModel): number {
  return model.columns.slice(0, model.frozen).reduce((sum, column) => sum + column.width, 0);
}

/** The settings that follow from the rows. */
export function rowSettings(view: SheetView): LibrarySettings {
  return { data: Array.from({ length: view.model.rows.length }, () => BLANK_ROW) };
}

/** The settings that follow from the columns and their headers. */
export function columnSettings(view: SheetView): LibrarySettings {
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
    rowHeights: ROW_HEIGHT,
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
