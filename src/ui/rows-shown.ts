// How each sheet is looked at, and the rows that leaves. Rows are picked once for each state, however many parts ask for them.
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import type { Session } from "../app/session";
import { rowsInView, type SheetView, WHOLE_VIEW } from "../app/view";
import type { SheetKey } from "../core/workbook";

const views = signal<Partial<Record<SheetKey, SheetView>>>({});
const rowsOf = new WeakMap<Session, ReadonlySignal<readonly string[]>>();

/** The view of a sheet. */
export function viewOf(sheet: SheetKey): SheetView {
  return views.value[sheet] ?? WHOLE_VIEW;
}

/** Changes the view of a sheet; columns keep the widths they were given. */
export function setView(sheet: SheetKey, view: SheetView): void {
  const widths = view.widths ?? viewOf(sheet).widths;
  views.value = { ...views.value, [sheet]: widths === undefined ? view : { ...view, widths } };
}

/** Whether rows come and go in a view, or change places, when values move. */
export function viewNeedsValues(view: SheetView): boolean {
  return view.sort !== undefined || view.filter !== "all";
}

/** Rows of the sheet in view, in view order. */
export function shownRows(session: Session): readonly string[] {
  const known = rowsOf.get(session) ?? computed(() => pickRows(session));
  rowsOf.set(session, known);
  return known.value;
}

function pickRows(session: Session): readonly string[] {
  const sheet = session.sheet.value;
  const view = viewOf(sheet);
  if (viewNeedsValues(view)) session.valuesVersion.value;
  return rowsInView(session.book.value, sheet, view, (row, column) => session.valueIn(sheet, row, column));
}
