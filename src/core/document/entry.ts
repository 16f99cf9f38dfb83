// What a maker types, pastes or imports into a cell, read by one set of rules. Nothing is guessed.

import { checkTypedFormula } from "../formula/typed-formula";
import { isIsoDay } from "../iso-day";
import { fail, ok, problem, type Result } from "../problem";
import { isStepKind, routeColumns } from "../sheets/step-kinds";
import { type NumberMarks, readNumber } from "../units/number-text";
import { readOwnUnit } from "../units/own-unit";
import { type Scale, scaleOfUnit } from "../units/shown";
import { type NumberReading, readBareNumber, readTypedNumber } from "../units/typed-number";
import { type CellName, cellKeyOf, describeCell, resolveCell, rowLabel } from "./access";
import { tooLongText } from "./check-size";
import { RAW_MOST } from "./limits";
import type { CellSpec, Column, Raw, Row, SheetKey, Workbook } from "./workbook";

export { type NumberMarks, readNumber };

/** A typed entry that could be read. */
export interface TypedEntry {
  /** What the cell is to hold; undefined where it is to be blank. */
  readonly value: Raw | undefined;
  /** What another unit came to, such as “12 in = 30.48 cm”. */
  readonly message?: string;
}

/** Reads what a maker typed for a cell: in the unit that is shown there, or with another unit of the same dimension. */
export function readTyped(book: Workbook, cell: CellName, typed: string, marks: NumberMarks): Result<TypedEntry> {
  const read = readCell(book, cell, typed, (text, isPercent, unit, held) =>
    readTypedNumber(text, marks, { unit, isPercent, held, meta: book.meta }),
  );
  const isUnit = cell.sheet === "edition" && cell.column === "unit";
  if (!isUnit || !read.ok || typeof read.value.value !== "string") return read;
  const unit = readOwnUnit(read.value.value, book.meta.currency, describeCell(book, cell));
  return unit.ok ? ok({ value: unit.value }) : unit;
}

/** Reads text for a cell as it is kept, as in a file: numbers are in the column's own unit and have none beside them. */
export function readEntry(book: Workbook, cell: CellName, typed: string, marks: NumberMarks): Result<Raw | undefined> {
  const keptBook = { ...book, meta: { ...book.meta, units: "metric", temperature: "C" } } as const;
  const read = readCell(keptBook, cell, typed, (text, isPercent, unit) => {
    const bare = readBareNumber(text, marks, { unit, isPercent });
    const isUnitful = bare.kind === "no number" && bare.fix === undefined && /^\s*[-+\u2212.,]?\s?\d/.test(text);
    return isUnitful ? { ...bare, fix: FILE_NUMBERS } : bare;
  });
  return read.ok ? ok(read.value.value) : read;
}

const FILE_NUMBERS = "Numbers in a file are in their column's unit and have none beside them.";

type ReadNumber = (text: string, isPercent: boolean, unit: string, held: Raw | undefined) => NumberReading;

function readCell(book: Workbook, cell: CellName, typed: string, readNumberText: ReadNumber): Result<TypedEntry> {
  const found = resolveCell(book, cell);
  if (!found) throw new Error(`no such cell: ${cellKeyOf(cell)}`);
  const { row, spec, unit } = found;
  const text = typed.trim();
  const where = describeCell(book, cell);
  if (text === "") {
    if (spec.required && spec.formula === undefined)
      return fail(problem({ code: "entry.required", where, found: "", allowed: allowedFor(book, spec) }));
    return ok({ value: undefined });
  }
  if (text.startsWith("=") && spec.type !== "text" && spec.type !== "choice" && spec.type !== "time") {
    const formula = checkTypedFormula(book, cell.sheet, text);
    if (!formula.ok) return fail(...formula.problems.map((p) => ({ ...p, where, message: `${where}: ${p.message}` })));
    if (formula.value.length > RAW_MOST.f) return fail(tooLongText("f", where, formula.value.length, RAW_MOST.f));
    return ok({ value: { f: formula.value } });
  }
  if (spec.type === "number") {
    const reading = readNumberText(text, spec.format === "percent", unit, row.cells[cell.column]);
    return numberEntry(book, spec, { text, where, unit }, reading);
  }
  const raw = readText(book, spec, text, where);
  if (raw.ok && spec.unique && isTaken(book, cell, raw.value))
    return fail(problem({ code: "entry.unique", where, found: text, allowed: "a name that no other row has" }));
  return raw.ok ? ok({ value: raw.value }) : raw;
}

function numberEntry(
  book: Workbook,
  spec: CellSpec,
  { text, where, unit }: { readonly text: string; readonly where: string; readonly unit: string },
  reading: NumberReading,
): Result<TypedEntry> {
  const scale = spec.format === "percent" ? undefined : scaleOfUnit(unit, book.meta);
  const allowed = allowedFor(book, spec, scale);
  const refuse = (code: string, fix?: string) =>
    fail(problem({ code, where, found: text, allowed, ...(fix ? { fix } : {}) }));
  switch (reading.kind) {
    case "ambiguous":
      return refuse("entry.ambiguous", "Leave the thousands mark out, so that it can mean only one thing.");
    case "no number":
      return refuse("entry.number", reading.fix);
    case "wrong unit": {
      const shown = (scale?.unit ?? unit).replace("¤", book.meta.currency);
      const inUnit = shown === "" || spec.format === "percent" ? allowed : withUnit(allowed, shown);
      return fail(problem({ code: "entry.unit", where, found: text, allowed: inUnit, fix: reading.fix }));
    }
    case "number":
      if (!inRange(spec, reading.value)) return refuse("entry.range");
      return ok({ value: reading.value, ...(reading.message === undefined ? {} : { message: reading.message }) });
  }
}

const withUnit = (allowed: string, unit: string) => allowed.replace(/^[^,]*/, (noun) => `${noun} in ${unit}`);

/** Characters that may be typed into a cell of text. */
const TEXT_MOST = 5000;

function readText(book: Workbook, spec: CellSpec, text: string, where: string): Result<Raw> {
  const refuse = (code: string, fix?: string) =>
    fail(problem({ code, where, found: text, allowed: allowedFor(book, spec), ...(fix ? { fix } : {}) }));
  switch (spec.type) {
    case "date":
      return isIsoDay(text) ? ok(text) : refuse("entry.date", "Write the year first, as in 2026-11-25.");
    case "time":
      return isTime(text) ? ok(text.padStart(5, "0")) : refuse("entry.time", "Write hours and minutes, as in 07:30.");
    case "choice":
      return readChoice(book, spec, text) ?? refuse("entry.choice");
    default:
      return text.length > TEXT_MOST
        ? refuse("entry.long", `Shorten it to ${TEXT_MOST} characters or fewer.`)
        : ok(text);
  }
}

function isTime(text: string): boolean {
  return /^([01]?\d|2[0-3]):[0-5]\d$/.test(text);
}

function readChoice(book: Workbook, spec: CellSpec, text: string): Result<Raw> | undefined {
  const choices = choicesOf(book, spec);
  const wanted = text.toLowerCase();
  // What is shown comes first: a step may be titled like the id of another.
  const hit =
    choices.find((choice) => choice.label.toLowerCase() === wanted) ??
    choices.find((choice) => choice.value.toLowerCase() === wanted);
  return hit ? ok(hit.value) : undefined;
}

function inRange(spec: CellSpec, number: number): boolean {
  return (
    Number.isFinite(number) &&
    !(spec.whole && !Number.isInteger(number)) &&
    !(spec.min !== undefined && number < spec.min) &&
    !(spec.max !== undefined && number > spec.max) &&
    !(spec.below !== undefined && number >= spec.below)
  );
}

/** Whether a value that did not come from typing (a file, a template) may stand in a cell. */
export function isAllowed(book: Workbook, spec: CellSpec, raw: Raw): boolean {
  if (typeof raw === "object") return spec.type === "number" || spec.type === "date";
  switch (spec.type) {
    case "number":
      return typeof raw === "number" && inRange(spec, raw);
    case "text":
      return typeof raw === "string";
    case "date":
      return typeof raw === "string" && isIsoDay(raw);
    case "time":
      return typeof raw === "string" && raw.length === 5 && isTime(raw);
    case "choice":
      return typeof raw === "string" && choicesOf(book, spec).some((choice) => choice.value === raw);
  }
}

/** Whether an input column means anything for a row: a cast has no coats, a step keeps its kind, results are read only. */
export function takesEntry(sheet: SheetKey, row: Row, column: Column): boolean {
  if (sheet === "results") return column.key === "value" || column.own === true;
  if (sheet === "edition" && (column.key === "label" || column.key === "unit")) return row.own === true;
  if (sheet !== "route" || column.own) return true;
  const kind = row.cells.kind;
  return (
    isStepKind(kind) && (column.key === "method" || column.key === "who" || routeColumns(kind).includes(column.key))
  );
}

/** One thing that may be chosen: what is kept and what is shown. */
export interface Choice {
  readonly value: string;
  readonly label: string;
}

/** What may be chosen in a cell, each once: a fixed list, or the rows of another sheet. */
export function choicesOf(book: Workbook, spec: CellSpec): readonly Choice[] {
  if (spec.from === undefined) return (spec.choices ?? []).map((value) => ({ value, label: value }));
  const [sheet, column = ""] = spec.from.split(":") as [SheetKey, string?];
  const { rows } = book.sheets[sheet];
  // A programme is a row a ramp: its name is one choice all the same.
  return remembered(choicesByRows, rows, column, () => {
    const byValue = new Map<string, Choice>();
    for (const row of rows) {
      const value = row.cells[column];
      if (typeof value === "string" && !byValue.has(value)) byValue.set(value, { value, label: rowLabel(sheet, row) });
    }
    return [...byValue.values()];
  });
}

function isTaken(book: Workbook, cell: CellName, raw: Raw | undefined): boolean {
  const { rows } = book.sheets[cell.sheet];
  const holders = remembered(holdersByRows, rows, cell.column, () => {
    const byName = new Map<string, string[]>();
    for (const row of rows) {
      const name = String(row.cells[cell.column] ?? "").toLowerCase();
      const holders = byName.get(name);
      if (holders) holders.push(row.id);
      else byName.set(name, [row.id]);
    }
    return byName;
  });
  return (holders.get(String(raw).toLowerCase()) ?? []).some((id) => id !== cell.row);
}

// Looked up once for a list of rows, not once for each of thousands of cells pasted or imported.
const choicesByRows = new WeakMap<readonly Row[], Map<string, readonly Choice[]>>();
const holdersByRows = new WeakMap<readonly Row[], Map<string, ReadonlyMap<string, readonly string[]>>>();

function remembered<T>(
  store: WeakMap<readonly Row[], Map<string, T>>,
  rows: readonly Row[],
  column: string,
  make: () => T,
): T {
  const byColumn = store.get(rows) ?? new Map<string, T>();
  store.set(rows, byColumn);
  const value = byColumn.get(column) ?? make();
  byColumn.set(column, value);
  return value;
}

/** What a cell takes, in words. */
export function allowedFor(book: Workbook, spec: CellSpec, scale?: Scale): string {
  const percent = spec.format === "percent";
  const show = (n: number) =>
    percent ? `${Number((n * 100).toPrecision(12))} %` : `${scale ? Number(scale.toShown(n).toPrecision(6)) : n}`;
  switch (spec.type) {
    case "text":
      return "text";
    case "date":
      return "a date such as 2026-11-25";
    case "time":
      return "a time of day such as 07:30";
    case "choice": {
      const labels = choicesOf(book, spec).map((choice) => choice.label);
      if (labels.length === 0) return "a choice, of which there are none yet";
      return `one of ${labels.slice(0, 12).join(", ")}${labels.length > 12 ? `, … (${labels.length} in all)` : ""}`;
    }
    case "number": {
      const noun = spec.whole ? "a whole number" : percent ? "a percentage" : "a number";
      const limits = [
        spec.min === undefined ? "" : `${show(spec.min)} or more`,
        spec.max === undefined ? "" : `${show(spec.max)} or less`,
        spec.below === undefined ? "" : `below ${show(spec.below)}`,
      ].filter(Boolean);
      return [noun, limits.join(" and ")].filter(Boolean).join(", ");
    }
  }
}
