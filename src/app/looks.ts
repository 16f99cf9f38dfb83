// How a cell looks and what it is called, from the document and the engine's values.
import { type CellName, columnOf, formulaOf, isOverride, rowOf, specOf } from "../core/access";
import { choicesOf, takesEntry } from "../core/entry";
import { type Scale, scaleOf } from "../core/temperature";
import type { CellSpec, Column, Row } from "../core/workbook";
import { isTrouble, type Value } from "../engine/values";
import { editableNumber, showUnit, showValue } from "./format";
import type { Session } from "./session";

/** A cell as it is shown. */
export interface Look {
  readonly text: string;
  readonly isInput: boolean;
  readonly isOverride: boolean;
  readonly isDefault: boolean;
  readonly isTrouble: boolean;
  readonly isFaded: boolean;
  readonly description: string;
}

const BLANK: Look = {
  text: "",
  isInput: false,
  isOverride: false,
  isDefault: false,
  isTrouble: false,
  isFaded: false,
  description: "",
};

/** The look of a cell in an open edition. */
export function lookOf(session: Session, cell: CellName): Look {
  const book = session.book.value;
  const column = columnOf(book, cell.sheet, cell.column);
  const row = rowOf(book, cell.sheet, cell.row);
  if (!column || !row) return BLANK;
  const spec = specOf(column, row);
  const isInput = spec.kind === "input" && takesEntry(cell.sheet, row, column);
  const overridden = isOverride(column, row);
  const value = session.value(cell);
  const isFaded = cell.sheet === "pieces" && isLost(session, row);
  const isDefault = spec.kind === "input" && spec.formula !== undefined && row.cells[column.key] === undefined;
  if (isTrouble(value))
    return {
      ...BLANK,
      text: value.trouble,
      isInput,
      isOverride: overridden,
      isTrouble: true,
      isFaded,
      description: value.message,
    };
  const scale = scaleOf(book, column);
  const shown = value === undefined ? "…" : textOf(session, spec, scaled(scale, value));
  const text = cell.column === "unit" ? showUnit(shown, session.formats.currency) : shown;
  return {
    text: isFaded && cell.column === "piece" ? `${text} lost` : text,
    isInput,
    isOverride: overridden,
    isDefault: isDefault && text !== "",
    isTrouble: false,
    isFaded,
    description: overridden ? `${text}, given by hand` : isDefault && text !== "" ? `${text}, not typed here` : "",
  };
}

function isLost(session: Session, row: Row): boolean {
  const raw = row.cells.lost_at;
  return raw !== undefined && session.sheet.value === "pieces";
}

/** A value in the scale it is shown in. */
function scaled(scale: Scale | undefined, value: Value): Value {
  return scale && typeof value === "number" ? scale.toShown(value) : value;
}

/** The text of a cell's value, in the scale the maker reads. */
export function shownText(session: Session, cell: CellName): string {
  const column = columnOf(session.book.value, cell.sheet, cell.column);
  const row = rowOf(session.book.value, cell.sheet, cell.row);
  const value = session.value(cell);
  if (!column || !row || value === undefined) return "";
  return textOf(session, specOf(column, row), scaled(scaleOf(session.book.value, column), value));
}

/** A value as text, without its unit. */
export function textOf(session: Session, spec: CellSpec, value: Value | undefined): string {
  if (value === undefined || value === null) return "";
  if (isTrouble(value)) return value.trouble;
  if (typeof value === "number" && spec.type === "number")
    return showValue(value, spec, session.formats, session.digits);
  if (typeof value === "number" && spec.type === "date") return dateOf(value);
  if (spec.type === "choice")
    return choicesOf(session.book.value, spec).find((choice) => choice.value === value)?.label ?? String(value);
  return String(value);
}

/** A date from the engine's day number (day 0 is 30 December 1899). */
function dateOf(day: number): string {
  return new Date(Date.UTC(1899, 11, 30) + day * 86_400_000).toISOString().slice(0, 10);
}

/** The text an editor starts with: what was typed, or for computed cells the value in full. */
export function editTextOf(session: Session, cell: CellName): string {
  const book = session.book.value;
  const column = columnOf(book, cell.sheet, cell.column);
  const row = rowOf(book, cell.sheet, cell.row);
  if (!column || !row) return "";
  const spec = specOf(column, row);
  const raw = row.cells[column.key];
  if (typeof raw === "object") return raw.f;
  const value = raw ?? session.value(cell);
  if (value === undefined || value === null || isTrouble(value)) return "";
  if (typeof value === "number")
    return spec.type === "date"
      ? dateOf(value)
      : editableNumber(scaleOf(book, column)?.toShown(value) ?? value, spec, session.formats.locale);
  return textOf(session, spec, value);
}

/** The unit of a column, as the maker reads it. */
export function unitOfColumn(session: Session, column: Pick<Column, "unit">): string {
  return showUnit(scaleOf(session.book.value, column)?.unit ?? column.unit, session.formats.currency);
}

/** The unit of a cell, with the currency's code. */
export function unitOf(session: Session, cell: CellName): string {
  const column = columnOf(session.book.value, cell.sheet, cell.column);
  const row = rowOf(session.book.value, cell.sheet, cell.row);
  if (cell.column !== "value") return column ? unitOfColumn(session, column) : "";
  return showUnit(String(row?.cells.unit ?? ""), session.formats.currency);
}

/** The formula that gives a cell its value, if one does. */
export function formulaAt(session: Session, cell: CellName): string | undefined {
  const column = columnOf(session.book.value, cell.sheet, cell.column);
  const row = rowOf(session.book.value, cell.sheet, cell.row);
  return column && row ? formulaOf(column, row) : undefined;
}
