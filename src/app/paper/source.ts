// What papers are made from, and how they write numbers, days and temperatures.
import { rowLabel, rowOf } from "../../core/document/access";
import type { Row, SheetKey, Workbook } from "../../core/document/workbook";
import { fail, problem, type Result } from "../../core/problem";
import { scaleOfUnit } from "../../core/units/shown";
import { isCellError } from "../../engine/values";
import { showNumber } from "../edition/format";
import type { ReadCell } from "../settle/cell-reader";

/** An open edition as papers see it. */
export interface PaperSource {
  readonly book: Workbook;
  readonly read: ReadCell;
  readonly locale: string;
}

/** A short thing that is known: what it is, and what it is like. */
export interface Fact {
  readonly label: string;
  readonly text: string;
}

/** Facts that have something to say. */
export function factsOf(facts: readonly (readonly [label: string, text: string | undefined])[]): readonly Fact[] {
  return facts.flatMap(([label, text]) => (text ? [{ label, text }] : []));
}

/** The number in a cell; undefined where it is blank, an error or not calculated yet. */
export function numberIn(source: PaperSource, sheet: SheetKey, row: string, column: string): number | undefined {
  const value = source.read(sheet, row, column);
  return typeof value === "number" ? value : undefined;
}

/** The text in a cell; blank where there is none. */
export function textIn(row: Row | undefined, column: string): string {
  const raw = row?.cells[column];
  return typeof raw === "string" ? raw : "";
}

/** A number kept in a unit with the unit it is shown in, as in `1 860 g`; `most` decimals are those of the one it is kept in. */
export function withUnit(source: PaperSource, value: number, unit: string, most = 1, least = 0): string {
  const scale = scaleOfUnit(unit, source.book.meta);
  const places = Math.max(least, most + (scale?.moreDigits ?? 0));
  return `${showNumber(scale?.toShown(value) ?? value, least, places, source.locale)}\u00a0${scale?.unit ?? unit}`;
}

/** Minutes as hours and minutes, as in `2 h 05 min`. */
export function minutesText(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole < 60) return `${whole}\u00a0min`;
  return `${Math.floor(whole / 60)}\u00a0h ${String(whole % 60).padStart(2, "0")}\u00a0min`;
}

type Written = Pick<PaperSource, "book" | "locale">;

/** A temperature in both scales, the maker's own first. */
export function temperatureText({ book, locale }: Written, celsius: number): string {
  const show = (degrees: number) => showNumber(degrees, 0, 0, locale);
  const texts = [`${show(celsius)}\u00a0°C`, `${show(celsius * 1.8 + 32)}\u00a0°F`];
  return (book.meta.temperature === "F" ? texts.reverse() : texts).join(" · ");
}

/** A rate of heating in both scales, the maker's own first. */
export function rateText({ book, locale }: Written, celsiusPerHour: number): string {
  const show = (degrees: number) => showNumber(degrees, 0, 0, locale);
  const texts = [`${show(celsiusPerHour)}\u00a0°C/h`, `${show(celsiusPerHour * 1.8)}\u00a0°F/h`];
  return (book.meta.temperature === "F" ? texts.reverse() : texts).join(" · ");
}

/** Why a paper can't be made yet. */
export function stillComputing<T>(where: string): Result<T> {
  return fail(problem({ code: "paper.waiting", where, found: "", allowed: "a value; it is still being computed" }));
}

/** What a cell says, errors included, so that no error is printed as a blank. */
export function shownIn(source: PaperSource, sheet: SheetKey, row: string, column: string): string {
  const value = source.read(sheet, row, column);
  if (isCellError(value)) return value.title;
  return typeof value === "string" ? value : "";
}

/** The name of a step by its id. */
export function stepTitleOfId(book: Workbook, id: unknown): string {
  const row = typeof id === "string" ? rowOf(book, "route", id) : undefined;
  return row ? rowLabel("route", row) : "";
}
