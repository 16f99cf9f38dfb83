// A CSV file as a table: its delimiter and decimal mark are found in the data and shown, and every row knows its line in the file.

import Papa from "papaparse";
import { counted } from "../core/counted";
import { type Problem, problem } from "../core/problem";
import { type DecimalMark, type NumberSeen, readDecimalMark } from "./number-text";
import { findHeader, isRemark, type Quote, quoteMark, seesRemarks, sniffDelimiter, sniffQuote } from "./sniff";
import { unguardText } from "./text-guard";
import { DELIMITERS, type Delimiter } from "./write";

export interface TableRow {
  /** The line of the file on which the row begins, counted from 1; line breaks inside quotes count. */
  readonly line: number;
  readonly cells: readonly string[];
  /** The line of a quotation mark without its other half that takes this line in: its cells are not to be trusted. */
  readonly brokenBy?: number;
}

export interface SheetTable {
  readonly delimiter: Delimiter;
  /** The mark around cells that hold a delimiter or a line break; "" where there is none. */
  readonly quote: Quote;
  /** The line that holds the names; 0 where none does. Lines above it are left out. */
  readonly headerLine: number;
  /** Whether lines that begin with # are left out; undefined where there are none. */
  readonly remarks: boolean | undefined;
  /** The decimal mark that all numbers in the file agree on; undefined where the data does not say. */
  readonly decimal: DecimalMark | undefined;
  /** The names of columns, in order and each once; “column 1” and so on where there is none over a column with values. */
  readonly header: readonly string[];
  /** Names that the file does not give, over columns with values. */
  readonly nameless: readonly string[];
  /** Names that the file gives twice, by the name that the second one has here. */
  readonly repeated: Readonly<Record<string, string>>;
  /** The other lines, without those that are blank. */
  readonly rows: readonly TableRow[];
  /** The first lines that could hold the names, as they were parted. */
  readonly beginning: readonly TableRow[];
  readonly problems: readonly Problem[];
}

export interface CsvReadOptions {
  /** Set by hand, in place of what the data suggests. */
  readonly delimiter?: Delimiter;
  readonly quote?: Quote;
  readonly headerLine?: number;
  readonly remarks?: boolean;
  /** Whether a text is a name that a column of ours has; a line with some of those in it is the header. */
  readonly isName?: (text: string) => boolean;
  /** The name of the file, for messages. */
  readonly where?: string;
}

/** No sheet comes near so many; parting more would take all the memory there is. */
const MOST_CELLS = 10_000_000;
const MOST_COLUMNS = 2000;
const BEGINNING_LINES = 12;

/** Reads the text of a CSV file. */
export function readSheetCsv(text: string, options: CsvReadOptions = {}): SheetTable {
  const where = options.where ?? "The file";
  const problems: Problem[] = [];
  const { bare, declared } = takeDeclared(text.replace(/^\uFEFF/, ""));
  const quote = options.quote ?? sniffQuote(bare);
  const { text: clean, newline } = oneLineBreak(bare, quote);
  const sniffed = sniffDelimiter(clean, newline, quote);
  const delimiter = options.delimiter ?? declared ?? sniffed.delimiter;
  if (options.delimiter === undefined && declared === undefined && sniffed.others.length > 0)
    problems.push(unsureDelimiter(where, delimiter, sniffed.others));
  const isTooMuch = countMarks(clean, delimiter) > MOST_CELLS;
  if (isTooMuch) problems.push(tooMuch(where, "cells", MOST_CELLS));
  const form = { delimiter, newline, quoteChar: quoteMark(quote), skipEmptyLines: false } as const;
  const parsed = Papa.parse<string[]>(isTooMuch ? "" : clean, form);
  const parted = withLines(parsed.data);
  const broken = new Set(parsed.errors.flatMap(({ type, row }) => (type === "Quotes" ? [row ?? 0] : [])));
  const all = broken.size === 0 ? parted : spreadBroken(parted, broken, clean, delimiter);
  problems.push(...quoteProblems(where, all));
  const filled = all.filter((row) => row.cells.some((cell) => cell.trim() !== ""));
  const seen = seesRemarks(filled);
  const remarks = seen === undefined ? undefined : (options.remarks ?? seen);
  const body = remarks ? filled.filter((row) => !isRemark(row)) : filled;
  const headerLine = options.headerLine ?? findHeader(body, options.isName);
  const from = body.findIndex(({ line }) => line >= headerLine);
  const rows = headerLine === 0 ? body : from < 0 ? [] : body.slice(from + 1);
  const named = headerLine === 0 ? undefined : body[from];
  const names = namesOf(named, rows, Math.max(0, ...rows.slice(0, 1).map(({ cells }) => cells.length)));
  const isTooWide = names.header.length > MOST_COLUMNS;
  if (isTooWide) problems.push(tooMuch(where, "columns", MOST_COLUMNS));
  if (filled.length === 0 && !isTooMuch) problems.push(emptyProblem(where));
  const { header, nameless, repeated } = isTooWide ? namesOf(undefined, [], 0) : names;
  const kept = isTooWide ? [] : rows;
  problems.push(...kept.flatMap((row) => lengthProblem(where, header.length, row)));
  const { decimal } = readDecimalMark(numbersIn(header, kept));
  const beginning = filled.slice(0, BEGINNING_LINES);
  const found = { delimiter, quote, headerLine, remarks, decimal, header, nameless, repeated };
  return { ...found, rows: kept, beginning, problems };
}

/** Some programs write the mark between columns on a line of its own, as `sep=;`: used, and kept blank for the count of lines. */
function takeDeclared(text: string): { readonly bare: string; readonly declared: Delimiter | undefined } {
  const found = /^"?sep=([^\r\n])"?[ \t]*(?=\r|\n|$)/i.exec(text);
  const mark = DELIMITERS.find((one) => one === found?.[1]);
  return found && mark ? { bare: text.slice(found[0].length), declared: mark } : { bare: text, declared: undefined };
}

function countMarks(text: string, delimiter: Delimiter): number {
  let count = 0;
  for (let at = text.indexOf(delimiter); at >= 0 && count <= MOST_CELLS; at = text.indexOf(delimiter, at + 1))
    count += 1;
  return count;
}

/** Lines that a broken quotation mark has made one, each for itself again. */
function spreadBroken(
  rows: readonly TableRow[],
  broken: ReadonlySet<number>,
  text: string,
  delimiter: Delimiter,
): readonly TableRow[] {
  const lines = text.split(LINE_BREAKS);
  return rows.flatMap((row, at): readonly TableRow[] => {
    if (!broken.has(at)) return [row];
    const next = rows[at + 1]?.line ?? lines.length + 1;
    return lines
      .slice(row.line - 1, next - 1)
      .map((line, index) => ({ line: row.line + index, cells: line.split(delimiter), brokenBy: row.line }))
      .filter(({ cells }) => cells.some((cell) => cell.trim() !== ""));
  });
}

interface ColumnNames {
  readonly header: readonly string[];
  readonly nameless: readonly string[];
  readonly repeated: Readonly<Record<string, string>>;
}

function namesOf(named: TableRow | undefined, rows: readonly TableRow[], width: number): ColumnNames {
  const given = named?.cells.map(nameIn) ?? Array.from({ length: width }, () => "");
  const counts = new Map<string, number>();
  const nameless: string[] = [];
  const repeated: [string, string][] = [];
  const header = given.map((name, at) => {
    if (name === "") {
      const hasValues = named === undefined || rows.some(({ cells }) => (cells[at] ?? "").trim() !== "");
      if (!hasValues) return "";
      if (named) nameless.push(`column ${at + 1}`);
      return `column ${at + 1}`;
    }
    const count = (counts.get(name) ?? 0) + 1;
    counts.set(name, count);
    if (count === 1) return name;
    repeated.push([`${name}, column ${at + 1}`, name]);
    return `${name}, column ${at + 1}`;
  });
  return { header, nameless, repeated: Object.fromEntries(repeated) };
}

const LINE_BREAKS = /\r\n|\r|\n/g;

function nameIn(cell: string): string {
  return unguardText(cell).text.trim();
}

/** Whether a row has more cells than the header, not counting blank ones at its end: then they have slipped. */
export function isTooLong(row: TableRow, width: number): boolean {
  return row.cells.slice(width).some((cell) => cell.trim() !== "");
}

/** Gives each row the line on which it begins; a row takes one line, and one more for each line break in its cells. */
function withLines(rows: readonly (readonly string[])[]): TableRow[] {
  let line = 1;
  return rows.map((cells) => {
    const row = { line, cells };
    line += 1 + cells.reduce((sum, cell) => sum + (cell.match(LINE_BREAKS)?.length ?? 0), 0);
    return row;
  });
}

/** The line break of a text; where several are mixed, those outside quotes are made one. */
function oneLineBreak(text: string, quote: Quote): { readonly text: string; readonly newline: "\r\n" | "\n" | "\r" } {
  const kinds = new Set<string>();
  const marks = quote === "'" ? /'|\r\n|\r|\n/g : quote === '"' ? /"|\r\n|\r|\n/g : /\r\n|\r|\n/g;
  let isQuoted = false;
  for (const [mark] of text.matchAll(marks)) {
    if (mark === quote) isQuoted = !isQuoted;
    else if (!isQuoted) kinds.add(mark);
  }
  const [only] = kinds;
  if (kinds.size === 1 && only) return { text, newline: only as "\r\n" | "\n" | "\r" };
  if (kinds.size === 0) return { text, newline: "\n" };
  isQuoted = false;
  const even = text.replace(marks, (mark) => {
    if (mark === quote) isQuoted = !isQuoted;
    return mark === quote || isQuoted ? mark : "\n";
  });
  return { text: even, newline: "\n" };
}

function* numbersIn(header: readonly string[], rows: readonly TableRow[]): Generator<NumberSeen> {
  for (const { line, cells } of rows)
    for (const [at, found] of cells.entries()) yield { line, column: header[at] ?? "", found };
}

const NAMES: Readonly<Record<Delimiter, string>> = { ",": "comma", ";": "semicolon", "\t": "tab", "|": "upright bar" };

function unsureDelimiter(where: string, taken: Delimiter, others: readonly Delimiter[]): Problem {
  return problem({
    code: "csv.delimiter",
    where,
    found: `columns that could be separated by ${[taken, ...others].map((mark) => NAMES[mark]).join(" or ")}`,
    allowed: "one mark between columns",
    fix: `It is read with ${NAMES[taken]}: look at the preview and choose another if the columns are wrong.`,
  });
}

/** A problem for each run of lines that a quotation mark takes in. */
function quoteProblems(where: string, rows: readonly TableRow[]): Problem[] {
  const lastOf = new Map<number, number>();
  for (const { line, brokenBy } of rows) if (brokenBy !== undefined) lastOf.set(brokenBy, line);
  return [...lastOf].map(([first, last]) =>
    problem({
      code: "csv.quotes",
      where: `${where}, ${first === last ? `line ${first}` : `lines ${first} to ${last}`}`,
      found: "a quotation mark without its other half, or text after the closing one",
      allowed: "quotation marks around the whole cell, doubled inside it",
      fix: "Nothing of these lines is brought in. Mend them in the program the file comes from.",
    }),
  );
}

function tooMuch(where: string, what: string, most: number): Problem {
  const found = `more than ${most} ${what}`;
  return problem({
    code: "csv.size",
    where,
    found,
    allowed: "a table of one sheet",
    fix: "Split it into smaller files.",
  });
}

function emptyProblem(where: string): Problem {
  return problem({ code: "csv.empty", where, found: "", allowed: "a line of column names and lines below it" });
}

function lengthProblem(where: string, width: number, row: TableRow): Problem[] {
  if (row.brokenBy !== undefined) return [];
  const isShort = row.cells.length < width;
  if (!isShort && !isTooLong(row, width)) return [];
  return [
    problem({
      code: isShort ? "csv.short" : "csv.long",
      where: `${where}, line ${row.line}`,
      found: counted(row.cells.length, "cell"),
      allowed: `${width}, as many as there are column names`,
      fix: isShort
        ? "Its missing cells are left as they are."
        : "The line is not imported: its cells stand under the wrong names, as happens when a number with a decimal comma has no quotation marks around it.",
    }),
  ];
}
