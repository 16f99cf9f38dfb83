// The mark between columns, found by trying each: the right one gives every line as many cells as the first.
import Papa from "papaparse";
import { markEvidence } from "./number-text";
import { DELIMITERS, type Delimiter } from "./write";

/** The mark around a cell; "" where a file has none. */
export type Quote = '"' | "'" | "";

/** Enough lines to tell, few enough to be quick. */
const LINES_TRIED = 200;
/** A mark that gives this many times the columns of another is the right one; the other is then part of names and texts. */
const CLEARLY_MORE = 2;

export interface SniffedDelimiter {
  readonly delimiter: Delimiter;
  /** Other marks that fit as well; then the choice has to be shown. */
  readonly others: readonly Delimiter[];
}

/** Titles may stand above a table; with fewer lines than this share like the first one, the table is looked for below it. */
const FEW_LIKE_FIRST = 0.5;
const MOST_LIKE_FIRST = 0.9;
/** Names stand near the top; a title, a date and some remarks may stand above them. */
const LINES_ABOVE = 30;

/** Finds the mark between columns; a comma where there is only one column. */
export function sniffDelimiter(text: string, newline: "\r\n" | "\n" | "\r", quote: Quote = '"'): SniffedDelimiter {
  const widths = DELIMITERS.map((delimiter) => ({ delimiter, widths: widthsOf(text, delimiter, newline, quote) }));
  const tryFrom = (line: number) => widths.map((one) => ({ delimiter: one.delimiter, ...fitOf(one.widths, line) }));
  const shareOf = (tried: ReturnType<typeof tryFrom>) => Math.max(...tried.map((one) => one.share));
  let tried = tryFrom(0);
  if (shareOf(tried) < FEW_LIKE_FIRST)
    for (let line = 1; line < LINES_ABOVE; line += 1) {
      const below = tryFrom(line);
      if (shareOf(below) < MOST_LIKE_FIRST) continue;
      tried = below;
      break;
    }
  const best = shareOf(tried);
  const fitting = tried.filter((one) => one.share === best && one.width > 1).sort((a, b) => b.width - a.width);
  const [first, ...rest] = fitting;
  if (!first) return { delimiter: ",", others: [] };
  const others = rest.filter((one) => one.width * CLEARLY_MORE > first.width).map((one) => one.delimiter);
  return { delimiter: first.delimiter, others };
}

/** How many cells each of the first lines has, without those that are blank. */
function widthsOf(text: string, delimiter: Delimiter, newline: "\r\n" | "\n" | "\r", quote: Quote): readonly number[] {
  const form = { delimiter, newline, quoteChar: quoteMark(quote), preview: LINES_TRIED } as const;
  const { data } = Papa.parse<string[]>(text, form);
  return data.filter((cells) => cells.some((cell) => cell.trim() !== "")).map(({ length }) => length);
}

/** How many cells a line has, and the share of lines from there on with as many; 0 where that is one cell only. */
function fitOf(all: readonly number[], from: number): { readonly width: number; readonly share: number } {
  const widths = all.slice(from);
  const [width = 0] = widths;
  if (width < 2 || (from > 0 && widths.length < 2)) return { width, share: 0 };
  return { width, share: widths.filter((one) => one === width).length / widths.length };
}

/** The width that most lines have; where several are as common, that of the first line that has one of them. */
function commonWidth(rows: readonly (readonly string[])[]): number {
  const counts = new Map<number, number>();
  for (const { length } of rows) counts.set(length, (counts.get(length) ?? 0) + 1);
  let best = 0;
  for (const [length, count] of counts) if (count > (counts.get(best) ?? 0)) best = length;
  return best;
}

/** What stands for a quotation mark to the parser; where there is none, a character that no text has. */
export function quoteMark(quote: Quote): string {
  return quote === "" ? "\uf8ff" : quote;
}

/** The mark around cells: the apostrophe only where every name in the first line stands in a pair of them. */
export function sniffQuote(text: string): Quote {
  if (text.includes('"')) return '"';
  const first = /^[^\r\n]*/.exec(text.trimStart())?.[0] ?? "";
  return /^'[^']*'([,;|\t]'[^']*')*$/.test(first) ? "'" : '"';
}

interface Line {
  readonly line: number;
  readonly cells: readonly string[];
}

/** The line that holds the names, 0 where none does: that with most names of ours, else the first as wide as the table. */
export function findHeader(rows: readonly Line[], isName: (text: string) => boolean = () => false): number {
  const top = rows.slice(0, LINES_ABOVE);
  const known = top.map(({ cells }) => cells.filter((cell) => cell.trim() !== "" && isName(cell)).length);
  const most = Math.max(0, ...known);
  const [first = 0] = known;
  const named = most > 0 && (first === 0 || most > first + 1) ? top[known.indexOf(most)] : undefined;
  if (named) return named.line;
  const width = commonWidth(rows.slice(0, LINES_TRIED).map(({ cells }) => cells));
  const isTitle = ({ cells }: Line) => width > 1 && cells.filter((cell) => cell.trim() !== "").length < 2;
  const begin =
    first > 0
      ? 0
      : Math.max(
          0,
          top.findIndex((line) => !isTitle(line)),
        );
  const table = rows.slice(begin);
  return seesHeader(table, isName) ? (table[0]?.line ?? 1) : 0;
}

/** Whether a line begins with #, as remarks do, and some pieces. */
export function isRemark({ cells }: Pick<Line, "cells">): boolean {
  return (cells[0] ?? "").trimStart().startsWith("#");
}

/** Whether lines that begin with # are remarks: they are where none has as many cells as the table; undefined without any. */
export function seesRemarks(rows: readonly Line[]): boolean | undefined {
  const marked = rows.filter(isRemark);
  if (marked.length === 0) return undefined;
  const others = rows.filter((row) => !isRemark(row)).slice(0, LINES_TRIED);
  const width = commonWidth(others.map(({ cells }) => cells));
  return width > 1 && marked.every(({ cells }) => cells.length !== width);
}

/** Whether the first line holds names. It does not where it has numbers like those beneath it and no name of ours. */
function seesHeader(
  rows: readonly { readonly cells: readonly string[] }[],
  isName: (text: string) => boolean = () => false,
): boolean {
  const [first, ...rest] = rows.slice(0, LINES_TRIED);
  if (!first || rest.length === 0 || first.cells.some(isName)) return true;
  const beneath = (at: number) => rest.map(({ cells }) => cells[at] ?? "").filter((text) => text.trim() !== "");
  const numeric = first.cells.map((text, at) => ({
    isAbove: isNumber(text),
    isBeneath: beneath(at).length > 0 && beneath(at).every(isNumber),
  }));
  if (numeric.some(({ isAbove, isBeneath }) => !isAbove && isBeneath)) return true;
  return !numeric.some(({ isAbove, isBeneath }) => isAbove && isBeneath);
}

function isNumber(text: string): boolean {
  return /^[-+]?\d+$/.test(text.trim()) || markEvidence(text) !== undefined;
}
