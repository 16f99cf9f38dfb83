// How each sheet is looked at, and the rows that leaves. Rows are picked once for each state, however many parts ask for them.
import { computed } from "@preact/signals";
import { textInUnit } from "../../app/edition/display";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { isLineSheet } from "../../app/edition/sheet-ways";
import { rowsInView, type SheetView, WHOLE_VIEW } from "../../app/edition/view";
import { specOf, unitTextOf } from "../../core/document/access";
import type { Column, Row, SheetKey } from "../../core/document/workbook";
import type { Value } from "../../engine/values";
import { sheetPart } from "./sheet-part";

/** The view of a sheet; it belongs to the open edition. */
export function sheetViewOf(session: Session, sheet: SheetKey): SheetView {
  return session.views.value[sheet] ?? WHOLE_VIEW;
}

/** Changes the view of a sheet. */
export function setView(session: Session, sheet: SheetKey, view: SheetView): void {
  session.views.value = { ...session.views.value, [sheet]: view };
}

/** Whether rows come and go in a view, or change places, when values move. */
export function viewNeedsValues(view: SheetView): boolean {
  return view.sort !== undefined || view.filter !== "all" || view.find !== "";
}

const rowsOf = perSession((session) => computed(() => pickRows(session)));

/** Rows of the sheet in view, in view order. */
export function shownRows(session: Session): readonly string[] {
  return rowsOf(session).value;
}

function pickRows(session: Session): readonly string[] {
  const sheet = session.sheet.value;
  const view = sheetViewOf(session, sheet);
  if (viewNeedsValues(view)) session.valuesVersion.value;
  const read = session.readerOf(sheet);
  const order = isLineSheet(sheet) ? sheetPart(session, sheet)?.inGroups(sheet) : undefined;
  return rowsInView(session.book.value, sheet, view, read, shownTexts(session, read), order);
}

/** A cell as it is shown; a column's values come again and again, and each is written out once. */
function shownTexts(
  session: Session,
  read: (row: Row, column: string) => Value | undefined,
): (row: Row, column: Column) => string {
  const known = new Map<Column, Map<Value | undefined, string>>();
  return (row, column) => {
    const value = read(row, column.key);
    // A line has rules of its own.
    const texts = (row.line ? undefined : known.get(column)) ?? new Map<Value | undefined, string>();
    if (!row.line) known.set(column, texts);
    const text = texts.get(value) ?? textInUnit(session, specOf(column, row), unitTextOf(column, row), value ?? "");
    texts.set(value, text);
    return text;
  };
}
