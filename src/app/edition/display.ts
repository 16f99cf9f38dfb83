// How a cell is displayed and what it is called, from the document and the engine's values.
import {
  type CellName,
  isOverride,
  type ResolvedCell,
  resolveCell,
  specOf,
  unitTextOf,
} from "../../core/document/access";
import { choicesOf, takesEntry } from "../../core/document/entry";
import type { CellSpec, Column, Row } from "../../core/document/workbook";
import { isOpenUnit, parseUnit } from "../../core/units/parse";
import { type Scale, scaleOfUnit } from "../../core/units/shown";
import { isCellError, type Value } from "../../engine/values";
import { editableNumber, showNumber, showUnit, showValue } from "./format";
import type { Session } from "./session";
import { dayText } from "./written-days";

/** A cell as it is shown. No meaning rests on colour alone: each state has a mark or a form of its own in the grid. */
export interface CellDisplay {
  readonly text: string;
  /** An input that may be typed into (underlined) or a computed value (plain). */
  readonly isInput: boolean;
  /** A computed value that was given by hand (marked). */
  readonly isOverride: boolean;
  /** An input showing the value it starts from (lighter, slanted). */
  readonly isDefault: boolean;
  /** An error; `text` holds its short title. */
  readonly isError: boolean;
  /** Stands in a row that is out of the run (greyed and named so). */
  readonly isFaded: boolean;
  /** Whole sentence for screen readers and the tooltip; empty where `text` says it all. */
  readonly description: string;
}

const BLANK: CellDisplay = {
  text: "",
  isInput: false,
  isOverride: false,
  isDefault: false,
  isError: false,
  isFaded: false,
  description: "",
};

/** How a cell of an open edition is shown. It is resolved once: this is asked for every cell that is painted. */
export function displayOf(session: Session, cell: CellName): CellDisplay {
  const found = resolveCell(session.book.value, cell);
  if (!found) return BLANK;
  const { column, row, spec } = found;
  const value = session.valueOf(cell.sheet, found);
  const state = {
    isInput: spec.kind === "input" && takesEntry(cell.sheet, row, column),
    isOverride: isOverride(column, row),
    isFaded: cell.sheet === "pieces" && isLost(session, row),
  };
  if (isCellError(value)) return { ...BLANK, ...state, text: value.title, isError: true, description: value.message };
  const shown = value === undefined ? "…" : scaledText(session, found, value);
  const text = cell.column === "unit" ? unitOf(session, { ...cell, column: "value" }) : shown;
  const isStart = spec.kind === "input" && spec.formula !== undefined && row.cells[column.key] === undefined;
  const isDefault = isStart && text !== "";
  return {
    ...state,
    text: state.isFaded && cell.column === "piece" ? `${text} lost` : text,
    isDefault,
    isError: false,
    description: state.isOverride ? `${text}, given by hand` : isDefault ? `${text}, not typed here` : "",
  };
}

function isLost(session: Session, row: Row): boolean {
  const raw = row.cells.lost_at;
  return raw !== undefined && session.sheet.value === "pieces";
}

/** The scale a cell's numbers are shown in; undefined where they are shown as they are kept. */
export function scaleAt(session: Session, column: Column, row: Row): Scale | undefined {
  if (specOf(column, row).format === "percent") return undefined;
  return scaleOfUnit(unitTextOf(column, row), session.book.value.meta);
}

function scaledText(session: Session, { spec, unit }: ResolvedCell, value: Value): string {
  return textInUnit(session, spec, unit, value);
}

/** A value kept in a unit as text in the scale the maker reads, with as many decimals as are worth showing there. */
export function textInUnit(session: Session, spec: CellSpec, unit: string, value: Value): string {
  const scale = spec.format === "percent" ? undefined : scaleOfUnit(unit, session.book.value.meta);
  if (!scale || typeof value !== "number") return displayText(session, spec, value);
  const shown = scale.toShown(value);
  if (spec.decimals === undefined) return displayText(session, spec, Number(shown.toFixed(placesFor(shown))));
  const decimals = Math.min(Math.max(0, spec.decimals + scale.moreDigits), placesFor(shown, 6));
  return displayText(session, { ...spec, decimals }, shown);
}

/** A converted number has endless decimals: so many digits are shown, and four decimals, which tell a sixteenth of an inch. */
function placesFor(value: number, most = 5): number {
  const digits = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value))) + 1;
  return digits < -1 ? Math.min(9, 3 - digits) : Math.min(4, Math.max(0, most - digits));
}

/** The number a cell shows, in the scale the maker reads; undefined where it shows none. */
export function shownNumber(session: Session, cell: CellName): number | undefined {
  const found = resolveCell(session.book.value, cell);
  const value = found && session.valueOf(cell.sheet, found);
  if (!found || typeof value !== "number") return undefined;
  return scaleAt(session, found.column, found.row)?.toShown(value) ?? value;
}

/** The text of a cell's value, in the scale the maker reads. */
export function shownText(session: Session, cell: CellName): string {
  const found = resolveCell(session.book.value, cell);
  const value = found && session.valueOf(cell.sheet, found);
  return found && value !== undefined ? scaledText(session, found, value) : "";
}

/** A value as text, without its unit. */
export function displayText(session: Session, spec: CellSpec, value: Value | undefined): string {
  if (value === undefined || value === null) return "";
  if (isCellError(value)) return value.title;
  if (typeof value === "number" && spec.type === "number")
    return showValue(value, spec, session.formats, session.digits);
  if (spec.type === "date") return dayText(value, session.formats.locale) || String(value);
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
  const found = resolveCell(session.book.value, cell);
  if (!found) return "";
  const { column, row, spec } = found;
  const raw = row.cells[column.key];
  if (typeof raw === "object") return raw.f;
  const value = raw ?? session.valueOf(cell.sheet, found);
  if (value === undefined || value === null || isCellError(value)) return "";
  if (typeof value === "number")
    return spec.type === "date"
      ? dateOf(value)
      : editableNumber(scaleAt(session, column, row)?.toShown(value) ?? value, spec, session.formats.locale);
  return displayText(session, spec, value);
}

/** A unit as the maker reads it, where numbers kept in it stand. */
export function shownUnit(session: Session, unit: string): string {
  if (isOpenUnit(unit)) return "";
  return showUnit(scaleOfUnit(unit, session.book.value.meta)?.unit ?? unit, session.formats.currency);
}

/** Whether a cell's number may be typed with another unit beside it. */
export function takesUnits(column: Column, row: Row): boolean {
  const spec = specOf(column, row);
  const terms = parseUnit(unitTextOf(column, row))?.terms ?? [];
  return spec.type === "number" && terms.some(({ unit }) => unit.dimension.some((power) => power !== 0));
}

/** An amount of a unit as the maker reads it, with its unit; `digits` are those of the unit it is kept in, at `least` some. */
export function shownAmount(session: Session, kept: number, unit: string, digits: number, least = digits): string {
  const scale = scaleOfUnit(unit, session.book.value.meta);
  const places = Math.max(0, digits + (scale?.moreDigits ?? 0));
  const text = showNumber(scale?.toShown(kept) ?? kept, Math.min(least, places), places, session.formats.locale);
  return `${text} ${shownUnit(session, unit)}`.trim();
}

/** What a firing is shared over is in the unit of how it is shared. */
const SHARED_IN: Readonly<Record<string, string>> = { count: "pieces", weight: "kg", "shelf area": "cm²" };

/** The unit of a cell as the maker reads it, with the currency's code. */
export function unitOf(session: Session, cell: CellName): string {
  const found = resolveCell(session.book.value, cell);
  if (found && isOpenUnit(found.unit)) return SHARED_IN[String(session.value({ ...cell, column: "basis" }))] ?? "";
  return found ? shownUnit(session, found.unit) : "";
}

/** The formula that gives a cell its value, if one does. */
export function formulaAt(session: Session, cell: CellName): string | undefined {
  return resolveCell(session.book.value, cell)?.formula;
}
