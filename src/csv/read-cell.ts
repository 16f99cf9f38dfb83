// One cell of a file, read for one cell of a sheet. `readEntry` has the last word; before it come only the questions that
// typing does not raise: which mark is the decimal one, and whether a percentage is a fraction.
import { type CellName, specOf } from "../core/document/access";
import { allowedFor, isAllowed, readEntry, readNumber } from "../core/document/entry";
import type { CellSpec, Column, Raw, Row, SheetKey, Workbook } from "../core/document/workbook";
import { fail, ok, problem, type Result } from "../core/problem";
import { type ChoiceTexts, choiceTexts } from "./choice-text";
import { type DateReading, readDate } from "./date-text";
import { UNREADABLE } from "./encoding";
import type { PercentForm } from "./headers";
import type { ImportOptions } from "./import-options";
import { type DecimalReading, markEvidence } from "./number-text";
import { unguardText } from "./text-guard";

/** What cells of one import are read with. */
export interface CellReading {
  readonly book: Workbook;
  readonly sheet: SheetKey;
  readonly decimal: DecimalReading;
  readonly dates: DateReading;
  readonly options: ImportOptions;
}

/** A column of the file that goes into an input column of the sheet. */
export interface ImportedColumn {
  readonly at: number;
  readonly header: string;
  readonly column: Column;
  readonly percent: PercentForm;
}

/** Reads cells of one column; undefined in an ok result means blank. */
export type CellParser = (row: Row, found: string) => Result<Raw | undefined>;

/** Prepares the reading of a column. What was read once is not read again, since most columns say the same thing often. */
export function columnReader(reading: CellReading, imported: ImportedColumn): CellParser {
  const { column } = imported;
  let choices: ChoiceTexts | undefined;
  const known = new Map<string, Result<Raw | undefined>>();
  const read: CellParser = (row, found) => {
    const spec = specOf(column, row);
    if (spec.type === "choice") choices ??= choiceTexts(reading.book, spec);
    const cell = { sheet: reading.sheet, row: row.id, column: column.key };
    return readCell(reading, imported.percent, { cell, spec, found, choices });
  };
  return (row, found) => {
    if (column.unique || specOf(column, row) !== column) return read(row, found);
    const earlier = known.get(found);
    if (earlier) return earlier;
    const result = read(row, found);
    known.set(found, result);
    return result;
  };
}

interface Asked {
  readonly cell: CellName;
  readonly spec: CellSpec;
  readonly found: string;
  readonly choices: ChoiceTexts | undefined;
}

function readCell(reading: CellReading, percent: PercentForm, asked: Asked): Result<Raw | undefined> {
  const { book } = reading;
  const { cell, spec } = asked;
  if (asked.found.includes(UNREADABLE))
    return refuse(asked, "csv.encoding", "letters that can be read", "Choose another encoding, or mend the file.");
  const { text, isLiteral } = unguardText(asked.found);
  const marks = { decimal: reading.decimal.decimal ?? "." };
  if (text.trim() === "") return readEntry(book, cell, "", marks);
  if (spec.type === "number" && !text.trim().startsWith("="))
    return readNumberCell(reading, percent, { ...asked, found: text.trim() });
  if (spec.type === "date" && !text.trim().startsWith("=")) return readDateCell(reading, asked, text.trim());
  const value = asked.choices?.valueOfTitle(text);
  if (value !== undefined) return ok(value);
  const read = readEntry(book, cell, text, marks);
  // A guarded text is taken to the letter, with the spaces at its ends.
  return read.ok && isLiteral && spec.type === "text" ? ok(text) : read;
}

function readDateCell(reading: CellReading, asked: Asked, text: string): Result<Raw | undefined> {
  const day = readDate(text, reading.dates.order);
  if (day === "ambiguous")
    return refuse(asked, "csv.date", "a date such as 2026-11-25", "Say which comes first in the dates.");
  return readEntry(reading.book, asked.cell, day ?? text, { decimal: reading.decimal.decimal ?? "." });
}

function readNumberCell(reading: CellReading, form: PercentForm, asked: Asked): Result<Raw | undefined> {
  const { book, decimal, options } = reading;
  const { cell, spec } = asked;
  if (decimal.decimal === undefined && markEvidence(asked.found) !== undefined)
    return refuse(asked, "csv.decimal", "a number whose decimal mark is sure", "Say which mark is the decimal one.");
  const marks = { decimal: decimal.decimal ?? ".", isGrouped: options.grouped === true } as const;
  const text = asked.found;
  if (spec.format !== "percent") return readEntry(book, cell, text, marks);
  const says = form === "ask" ? options.percent : form;
  const isSigned = text.endsWith("%");
  const number = readNumber(text, marks, isSigned || says === "percent" ? "percent" : "number");
  if (typeof number !== "number") return readEntry(book, cell, text, marks);
  if (says === undefined && !isSigned && number !== 0)
    return refuse(
      asked,
      "csv.percent",
      "a percentage with its sign, as in 12.5%",
      "Say whether the column holds percentages or fractions.",
    );
  return isAllowed(book, spec, number) ? ok(number) : refuse(asked, "entry.range", allowedFor(book, spec), "");
}

function refuse(asked: Asked, code: string, allowed: string, fix: string): Result<Raw | undefined> {
  return fail(problem({ code, where: asked.cell.column, found: asked.found, allowed, fix }));
}
