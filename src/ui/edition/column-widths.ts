// How wide columns are unless the maker has said otherwise, and how wide they must be: a number is never cut.
import { displayOf, displayText, textInUnit } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { isLineSheet } from "../../app/edition/sheet-ways";
import { columnOf, overridesIn } from "../../core/document/access";
import type { Column, SheetKey } from "../../core/document/workbook";
import { scaleOfUnit } from "../../core/units/shown";
import type { GridColumn } from "../grid/port";
import { possibleWidth } from "../grid/sizes";
import { lineCount, textWidth, widestWord } from "./text-width";

const TYPE_WIDTHS = { number: 72, text: 110, choice: 104, date: 98, time: 70 } as const;
/** Padding at both sides and the line at the edge. */
export const AROUND = 18;
/** The mark before a value given by hand. */
const MARK = 18;
/** The mark before the title of a group that folds, and the padding around it. */
const FOLD = 32;
/** Of more rows than this so many are looked at, evenly spread; there the widest number may have a digit more. */
const MOST_ROWS = 1000;
/** Different numbers of one column that are written out. */
const MOST_NUMBERS = 300;

/** What says how wide a column of a sheet is in px, by the title and the unit above it. */
export function columnWidths(
  session: Session,
  sheet: SheetKey,
): (shown: Pick<GridColumn, "key" | "title" | "unit">) => number {
  const marked = new Set(overridesIn(session.book.value, sheet).map(({ column }) => column));
  return ({ key, title, unit }) => {
    const column = columnOf(session.book.value, sheet, key);
    if (!column) return 0;
    const isWhole = column.type === "number" || column.type === "date";
    const numbers = isWhole ? numbersWidth(session, sheet, column, marked.has(column.key)) : 0;
    if (column.width !== undefined) return Math.max(column.width, numbers);
    const words = Math.max(widestWord(title, "600 13px"), textWidth(unit, "12px"));
    return possibleWidth(Math.max(TYPE_WIDTHS[column.type], numbers, Math.ceil(words) + AROUND));
  };
}

/** A day of each month: their names are written in different lengths. */
const EACH_MONTH = Array.from({ length: 12 }, (_, month) => `2028-${String(month + 1).padStart(2, "0")}-28`);

/** The width in which every number or date of a column is whole; 0 where there is none. */
function numbersWidth(session: Session, sheet: SheetKey, column: Column, hasMark: boolean): number {
  const widest = textsOf(session, sheet, column).reduce((most, text) => Math.max(most, textWidth(text, "13px")), 0);
  return widest === 0 ? 0 : possibleWidth(Math.ceil(widest) + AROUND + (hasMark ? MARK : 0));
}

/** Texts of a column among which is the widest number. */
function textsOf(session: Session, sheet: SheetKey, column: Column): readonly string[] {
  const { rows } = session.book.value.sheets[sheet];
  if (column.type === "date") return EACH_MONTH.map((day) => displayText(session, column, day));
  if (isLineSheet(sheet)) return rows.map(({ id: row }) => displayOf(session, { sheet, row, column: column.key }).text);
  const step = Math.ceil(rows.length / MOST_ROWS);
  // How many digits follow the mark depends on the number: then each is written out.
  const isLoose = column.format !== "money" && column.format !== "whole" && column.decimals === undefined;
  const hasScale = scaleOfUnit(column.unit, session.book.value.meta) !== undefined;
  const read = session.columnIn(sheet, column.key);
  const each = new Set<number>();
  let [least, most] = [0, 0];
  for (let at = 0; at < rows.length; at += step) {
    const row = rows[at];
    const value = row && read(row);
    if (typeof value !== "number") continue;
    least = Math.min(least, value);
    most = Math.max(most, value);
    if ((isLoose || hasScale) && each.size < MOST_NUMBERS) each.add(value);
  }
  const sure = step > 1 ? 10 : 1;
  return [least * sure, most * sure, ...each]
    .filter((value) => value !== 0)
    .map((value) => textInUnit(session, column, column.unit, value));
}

/** Columns wide enough for the titles of the groups they stand under: the last of a group takes what is missing. */
export function widenedForGroups(
  columns: readonly GridColumn[],
  titleOf: (group: string) => string,
): readonly GridColumn[] {
  return columns.map((column, at) => {
    if (column.group === "" || columns[at + 1]?.group === column.group) return column;
    const together = columns.filter(({ group }) => group === column.group).reduce((sum, { width }) => sum + width, 0);
    const missing = Math.ceil(textWidth(titleOf(column.group), "600 13px")) + FOLD - together;
    return missing > 0 ? { ...column, width: column.width + missing } : column;
  });
}

/** How many lines the longest title takes. */
export function titleLines(columns: readonly GridColumn[]): number {
  return columns.reduce((most, { title, width }) => Math.max(most, lineCount(title, width - AROUND, "600 13px")), 1);
}
