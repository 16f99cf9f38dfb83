// Edition and Results as they stand in the grid: lines under headings, with words that wrap.
import { displayOf } from "../../app/edition/display";
import { linesInGroups } from "../../app/edition/line-groups";
import type { Session } from "../../app/edition/session";
import type { SheetView } from "../../app/edition/view";
import { rowOf } from "../../core/document/access";
import type { Row, SheetKey, Workbook } from "../../core/document/workbook";
import type { GridColumn, GridModel } from "../grid/port";
import { HEADING_HEIGHT, LINE_HEIGHT, ROW_HEIGHT } from "../grid/sizes";
import { AROUND } from "./column-widths";
import { lineCount } from "./text-width";

/** The lines of a sheet group by group. */
export const inGroups = (sheet: SheetKey) => (rows: readonly Row[]) => [...linesInGroups(sheet, rows).keys()];

/** The headings of rows in their own order, each by the row that it stands above. */
export function headingsOf(book: Workbook, sheet: SheetKey, rows: readonly string[]): ReadonlyMap<string, string> {
  const headings = new Map<string, string>();
  const groupOf = linesInGroups(sheet, book.sheets[sheet].rows);
  let last: string | undefined;
  for (const id of rows) {
    const row = rowOf(book, sheet, id);
    const group = row && groupOf.get(row);
    if (group && group !== last) headings.set(id, group);
    last = group;
  }
  return headings;
}

/** Headings and heights of the rows of a sheet that is read line by line. */
export function lineRows(
  session: Session,
  sheet: SheetKey,
  view: SheetView,
  rows: readonly string[],
  columns: readonly GridColumn[],
): Pick<GridModel, "headings" | "rowHeights"> {
  const headings = view.sort === undefined ? headingsOf(session.book.value, sheet, rows) : new Map<string, string>();
  const wrapped = columns.filter(({ wraps }) => wraps);
  const rowHeights = rows.map((row) => {
    const lines = wrapped.reduce((most, { key, width }, at) => {
      const { text } = displayOf(session, { sheet, row, column: key });
      return Math.max(most, lineCount(text, width - AROUND, at === 0 ? "600 13px" : "13px"));
    }, 1);
    return ROW_HEIGHT + (lines - 1) * LINE_HEIGHT + (headings.has(row) ? HEADING_HEIGHT : 0);
  });
  return { headings, rowHeights };
}
