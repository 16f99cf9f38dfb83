// The mark between columns, found by trying each: the right one gives every line as many cells as the first.
import Papa from "papaparse";
import { markEvidence } from "./number-text";
import type { Delimiter } from "./write";

/** The mark around a cell; "" where a file has none. */
export type Quote = '"' | "'" | "";

const CANDIDATES: readonly Delimiter[] = [",", ";", "\t"];
/** Enough lines to tell, few enough to be quick. */
const LINES_TRIED = 200;
/** A mark that gives this many times the columns of another is the right one; the other is then part of names and texts. */
const CLEARLY_MORE = 2;

export interface SniffedDelimiter {
  readonly delimiter: Delimiter;
  /** Other marks that fit as well; then the choice has to be shown. */
  readonly others: readonly Delimiter[];
}

/** Finds the mark between columns; a comma where there is only one column. */
export function sniffDelimiter(text: string, newline: "\r\n" | "\n" | "\r", quote: Quote = '"'): SniffedDelimiter {
  const tried = CANDIDATES.map((delimiter) => ({ delimiter, ...fitOf(text, delimiter, newline, quote) }));
  const best = Math.max(...tried.map((one) => one.share));
  const fitting = tried.filter((one) => one.share === best && one.width > 1).sort((a, b) => b.width - a.width);
  const [first, ...rest] = fitting;
  if (!first) return { delimiter: ",", others: [] };
  const others = rest.filter((one) => one.width * CLEARLY_MORE > first.width).map((one) => one.delimiter);
  return { delimiter: first.delimiter, others };
}

/** How many cells the first line has, and the share of lines with as many; 0 where that is one cell only. */
function fitOf(
  text: string,
  delimiter: Delimiter,
  newline: "\r\n" | "\n" | "\r",
  quote: Quote,
): { readonly width: number; readonly share: number } {
  const { data } = Papa.parse<string[]>(text, {
    delimiter,
    newline,
    quoteChar: quoteMark(quote),
    preview: LINES_TRIED,
  });
  const filled = data.filter((cells) => cells.some((cell) => cell.trim() !== ""));
  const width = filled[0]?.length ?? 0;
  if (width < 2) return { width, share: 0 };
  return { width, share: filled.filter((cells) => cells.length === width).length / filled.length };
}

/** What stands for a quotation mark to the parser; where there is none, a character that no text has. */
export function quoteMark(quote: Quote): string {
  return quote === "" ? "\uf8ff" : quote;
}

/** The mark around cells: the apostrophe only where every name in the first line stands in a pair of them. */
export function sniffQuote(text: string): Quote {
  if (text.includes('"')) return '"';
  const first = /^[^\r\n]*/.exec(text.trimStart())?.[0] ?? "";
  return /^'[^']*'([,;\t]'[^']*')*$/.test(first) ? "'" : '"';
}

/** Whether the first line holds names. It does not where it has numbers like those beneath it and no name of ours. */
export function seesHeader(
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
