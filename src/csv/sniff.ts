// The mark between columns, found by trying each: the right one gives every line as many cells as the first.
import Papa from "papaparse";
import type { Delimiter } from "./write";

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
export function sniffDelimiter(text: string, newline: "\r\n" | "\n" | "\r"): SniffedDelimiter {
  const tried = CANDIDATES.map((delimiter) => ({ delimiter, ...fitOf(text, delimiter, newline) }));
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
): { readonly width: number; readonly share: number } {
  const { data } = Papa.parse<string[]>(text, { delimiter, newline, preview: LINES_TRIED });
  const filled = data.filter((cells) => cells.some((cell) => cell.trim() !== ""));
  const width = filled[0]?.length ?? 0;
  if (width < 2) return { width, share: 0 };
  return { width, share: filled.filter((cells) => cells.length === width).length / filled.length };
}
