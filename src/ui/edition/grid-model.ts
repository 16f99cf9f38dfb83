// What the grid is to show of the sheet in view.
import { displayOf, editTextOf, shownUnit } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { isLineSheet } from "../../app/edition/sheet-ways";
import { columnsInView, type SheetView } from "../../app/edition/view";
import { resolveCell, rowLabel, rowOf } from "../../core/document/access";
import { choicesOf } from "../../core/document/entry";
import type { Column, SheetKey } from "../../core/document/workbook";
import type { GridColumn, GridGroup, GridModel } from "../grid/port";
import { columnWidths, titleLines, widenedForGroups } from "./column-widths";
import { sheetPart } from "./sheet-part";

/** A column without the size it is shown in. */
export type SheetColumn = Omit<GridColumn, "width">;

/** What a sheet says in a view, whatever the size it is shown in. */
export interface SheetContent extends Pick<GridModel, "groups" | "display"> {
  readonly columns: readonly SheetColumn[];
}

/** The content of the sheet in view. */
export function sheetContentOf(session: Session, view: SheetView): SheetContent {
  const sheet = session.sheet.value;
  const shownColumns = columnsInView(session.book.value, sheet, session.folded.value);
  const groupOf = groupsBy(session, sheet, shownColumns);
  return {
    groups: groupsOf(session, sheet, shownColumns, groupOf),
    columns: shownColumns.map((column) => toSheetColumn(session, column, groupOf(column), view)),
    display: (row, column) => displayOf(session, { sheet, row, column }),
  };
}

/** The model of a sheet in a view; `rows` are the ids in view order. */
export function gridModelOf(session: Session, view: SheetView, rows: readonly string[]): GridModel {
  const sheet = session.sheet.value;
  const book = session.book.value;
  const content = sheetContentOf(session, view);
  const { groups } = content;
  const widthOf = columnWidths(session, sheet);
  const columns = widenedForGroups(
    content.columns.map((column) => ({ ...column, width: widthOf(column) })),
    (id) => groups.find((group) => group.id === id)?.title ?? "",
  );
  return {
    ...(isLineSheet(sheet) ? sheetPart(session, sheet)?.lineRows(session, sheet, view, rows, columns) : {}),
    ...content,
    titleLines: titleLines(columns),
    label: `${book.sheets[sheet].title} of ${book.meta.title}`,
    rows,
    frozen: 1,
    columns,
    editText: (row, column) => editTextOf(session, { sheet, row, column }),
    choices: (row, column) => {
      const found = resolveCell(session.book.value, { sheet, row, column });
      return found ? choicesOf(session.book.value, found.spec).map((choice) => choice.label) : [];
    },
  };
}

function toSheetColumn(session: Session, column: Column, group: string, view: SheetView): SheetColumn {
  const sheet = session.sheet.value;
  const arrow = view.sort?.column === column.key ? (view.sort.descending ? " ↓" : " ↑") : "";
  return {
    key: column.key,
    title: column.title + arrow,
    unit: column.format === "percent" ? "" : shownUnit(session, column.unit),
    align: column.type === "number" ? "end" : "start",
    wraps: isLineSheet(sheet) && sheetPart(session, sheet) !== undefined && column.type === "text",
    isInput: column.kind === "input",
    group,
    hasChoices: column.type === "choice",
    sort: view.sort?.column === column.key ? (view.sort.descending ? "descending" : "ascending") : undefined,
  };
}

function groupsBy(session: Session, sheet: SheetKey, columns: readonly Column[]): (column: Column) => string {
  if (sheet === "pieces")
    return (column) =>
      column.step ?? (column.key === "piece" ? "piece_number" : column.key === "tier" ? "piece_start" : "piece_end");
  const groups = sheetPart(session, sheet)?.columnGroups(sheet, columns);
  return (column) => groups?.get(column.key)?.id ?? "";
}

function groupsOf(
  session: Session,
  sheet: SheetKey,
  columns: readonly Column[],
  groupOf: (column: Column) => string,
): GridGroup[] {
  const ids = [...new Set(columns.map(groupOf))].filter((id) => id !== "");
  return ids.map((id): GridGroup => {
    const step = sheet === "pieces" ? rowOf(session.book.value, "route", id) : undefined;
    const method = step?.cells.method;
    return {
      id,
      title: step ? rowLabel("route", step) : titleOf(session, sheet, id),
      note: typeof method === "string" ? method : "",
      canFold: step !== undefined,
      isFolded: session.folded.value.has(id),
    };
  });
}

function titleOf(session: Session, sheet: SheetKey, id: string): string {
  if (id === "piece_end") return "What came of it";
  return sheetPart(session, sheet)?.groupTitle(sheet, id) ?? "";
}
