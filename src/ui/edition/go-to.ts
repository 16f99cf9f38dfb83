// Going to a cell from anywhere: its sheet is shown, it is selected, and the grid brings it into sight.
import { signal } from "@preact/signals";
import { perSession } from "../../app/edition/per-session";
import type { Page, Session } from "../../app/edition/session";
import type { CellName } from "../../core/document/access";
import { columnOf } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import { askAfterDialog } from "../controls/after-dialog";

/** A cell that the grid is to go to, and whether the keyboard goes along. */
interface Wanted {
  readonly cell: CellName;
  readonly how: "select" | "reveal";
}

/** Where the grid is to go next; taken by the sheet pane once it shows that sheet. */
export const wantedCellOf = perSession(() => signal<Wanted | undefined>(undefined));

/** A question that the page of what-if is to be opened with. */
export const askWishOf = perSession(() => signal<"losses" | undefined>(undefined));

/** Rises when the keyboard is to go to the sheet. */
export const focusWish = signal(0);

/** Whether a phone shows sheets as grids, not as lists. */
export const asGridOf = perSession(() => signal(false));

/** Shows a page in the place of the sheet. */
export function showPage(session: Session, page: Page): void {
  session.page.value = page;
  session.selection.value = undefined;
}

/** Shows a sheet; a selection on another one goes. */
export function showSheet(session: Session, sheet: SheetKey): void {
  session.page.value = undefined;
  session.sheet.value = sheet;
  if (session.selection.value?.sheet !== sheet) session.selection.value = undefined;
}

/** Shows and selects a cell, unfolding the step it stands in; `reveal` leaves the keyboard where it is. */
export function goTo(session: Session, cell: CellName, how: Wanted["how"] = "select"): void {
  const step = columnOf(session.book.value, cell.sheet, cell.column)?.step;
  if (step !== undefined && session.folded.value.has(step)) {
    const open = new Set(session.folded.value);
    open.delete(step);
    session.folded.value = open;
  }
  session.page.value = undefined;
  session.sheet.value = cell.sheet;
  session.selection.value = {
    sheet: cell.sheet,
    anchor: { row: cell.row, column: cell.column },
    rows: [cell.row],
    columns: [cell.column],
  };
  wantedCellOf(session).value = { cell, how };
  if (how === "select")
    askAfterDialog(() => {
      focusWish.value += 1;
    });
}
