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

/** The model of a sheet in a view; `rows` are the ids in view order. */
export function gridModelOf(session: Session, view: SheetView, rows: readonly string[]): GridModel {
  const sheet = session.sheet.value;
  const book = session.book.value;
  const shownColumns = columnsInView(book, sheet, session.folded.value);
  const groupOf = groupsBy(session, sheet, shownColumns);
  const groups = groupsOf(session, sheet, shownColumns, groupOf);
  const widthOf = columnWidths(session, sheet);
  const columns = widenedForGroups(
    shownColumns.map((column) => toGridColumn(session, column, groupOf(column), view, widthOf)),
    (id) => groups.find((group) => group.id === id)?.title ?? "",
  );
  return {
    ...(isLineSheet(sheet) ? sheetPart(session, sheet)?.lineRows(session, sheet, view, rows, columns) : {}),
    titleLines: titleLines(columns),
    label: `${book.sheets[sheet].title} of ${book.meta.title}`,
    rows,
    frozen: 1,
    columns,
    groups,
    display: (row, column) => displayOf(session, { sheet, row, column }),
    editText: (row, column) => editTextOf(session, { sheet, row, column }),
    choices: (row, column) => {
      const found = resolveCell(session.book.value, { sheet, row, column });
      return found ? choicesOf(session.book.value, found.spec).map((choice) => choice.label) : [];
    },
  };
}

function toGridColumn(
  session: Session,
  column: Column,
  group: string,
  view: SheetView,
  widthOf: ReturnType<typeof columnWidths>,
): GridColumn {
  const sheet = session.sheet.value;
  const arrow = view.sort?.column === column.key ? (view.sort.descending ? " ↓" : " ↑") : "";
  const title = column.title + arrow;
  const unit = column.format === "percent" ? "" : shownUnit(session, column.unit);
  return {
    key: column.key,
    title,
    unit,
    align: column.type === "number" ? "end" : "start",
    width: widthOf(column, title, unit),
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
