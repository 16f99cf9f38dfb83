// A CSV file as a table: its delimiter and decimal mark are found in the data and told, and every row knows its line in the file.
import Papa from "papaparse";
import { type Problem, problem } from "../core/problem";
import { type DecimalMark, type NumberSeen, readDecimalMark } from "./number-text";
import { type Quote, quoteMark, seesHeader, sniffDelimiter, sniffQuote } from "./sniff";
import { unguardText } from "./text-guard";
import type { Delimiter } from "./write";

export interface TableRow {
  /** The line of the file on which the row begins, counted from 1; line breaks inside quotes count. */
  readonly line: number;
  readonly cells: readonly string[];
}

export interface SheetTable {
  readonly delimiter: Delimiter;
  /** The mark around cells that hold a delimiter or a line break; "" where there is none. */
  readonly quote: Quote;
  /** Whether the first line holds names. */
  readonly hasHeader: boolean;
  /** The decimal mark that all numbers in the file agree on; undefined where the data does not say. */
  readonly decimal: DecimalMark | undefined;
  /** The names in the first line, in order; “column 1” and so on where it holds none. */
  readonly header: readonly string[];
  /** The other lines, without those that are blank. */
  readonly rows: readonly TableRow[];
  readonly problems: readonly Problem[];
}

export interface CsvReadOptions {
  /** Set by hand, in place of what the data suggests. */
  readonly delimiter?: Delimiter;
  readonly quote?: Quote;
  readonly hasHeader?: boolean;
  /** Whether a text is a name that a column of ours has; with one of those in it, the first line is a header. */
  readonly isName?: (text: string) => boolean;
  /** The name of the file, for messages. */
  readonly where?: string;
}

/** Reads the text of a CSV file. */
export function readSheetCsv(text: string, options: CsvReadOptions = {}): SheetTable {
  const where = options.where ?? "The file";
  const problems: Problem[] = [];
  const bare = text.replace(/^\uFEFF/, "");
  const quote = options.quote ?? sniffQuote(bare);
  const { text: clean, newline } = oneLineBreak(bare, quote);
  const sniffed = sniffDelimiter(clean, newline, quote);
  const delimiter = options.delimiter ?? sniffed.delimiter;
  if (options.delimiter === undefined && sniffed.others.length > 0)
    problems.push(unsureDelimiter(where, delimiter, sniffed.others));
  const parsed = Papa.parse<string[]>(clean, {
    delimiter,
    newline,
    quoteChar: quoteMark(quote),
    skipEmptyLines: false,
  });
  const all = withLines(parsed.data);
  for (const error of parsed.errors)
    if (error.type === "Quotes") problems.push(quoteProblem(where, all[error.row ?? 0]?.line ?? 1));
  const filled = all.filter((row) => row.cells.some((cell) => cell.trim() !== ""));
  const [first] = filled;
  const hasHeader = options.hasHeader ?? seesHeader(filled, options.isName);
  const rows = hasHeader ? filled.slice(1) : filled;
  const header = first?.cells.map((cell, at) => (hasHeader ? nameIn(cell) : `column ${at + 1}`)) ?? [];
  if (!first) problems.push(emptyProblem(where));
  problems.push(...rows.flatMap((row) => lengthProblem(where, header.length, row)));
  const { decimal } = readDecimalMark(numbersIn(header, rows));
  return { delimiter, quote, hasHeader, decimal, header, rows, problems };
}

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
    line += 1 + cells.reduce((sum, cell) => sum + (cell.match(/\r\n|\r|\n/g)?.length ?? 0), 0);
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
    found: `columns that could be parted by ${[taken, ...others].map((mark) => NAMES[mark]).join(" or ")}`,
    allowed: "one mark between columns",
    fix: `It is read with ${NAMES[taken]}: look at the preview and choose another if the columns are wrong.`,
  });
}

function quoteProblem(where: string, line: number): Problem {
  return problem({
    code: "csv.quotes",
    where: `${where}, line ${line}`,
    found: "a quotation mark without its other half, or text after the closing one",
    allowed: "quotation marks around the whole cell, doubled inside it",
    fix: "Mend that line in the program the file comes from.",
  });
}

function emptyProblem(where: string): Problem {
  return problem({ code: "csv.empty", where, found: "", allowed: "a line of column names and lines below it" });
}

function lengthProblem(where: string, width: number, row: TableRow): Problem[] {
  const isShort = row.cells.length < width;
  if (!isShort && !isTooLong(row, width)) return [];
  return [
    problem({
      code: isShort ? "csv.short" : "csv.long",
      where: `${where}, line ${row.line}`,
      found: `${row.cells.length} ${row.cells.length === 1 ? "cell" : "cells"}`,
      allowed: `${width}, as many as there are column names`,
      fix: isShort
        ? "Its missing cells are left as they are."
        : "The line is not imported: its cells have slipped, as by a decimal comma without quotation marks.",
    }),
  ];
}
