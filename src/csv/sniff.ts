// The mark between columns, found by trying each: the right one gives every line as many cells as the first.
import Papa from "papaparse";
import type { Delimiter } from "./write";

const CANDIDATES: readonly Delimiter[] = [",", ";", "\t"];
/** Enough lines to tell, few enough to be quick. */
const LINES_TRIED = 200;

export interface SniffedDelimiter {
  readonly delimiter: Delimiter;
  /** Other marks that fit just as well; then the choice has to be shown. */
  readonly others: readonly Delimiter[];
}

/** Finds the mark between columns; a comma where there is only one column. */
export function sniffDelimiter(text: string, newline: "\r\n" | "\n" | "\r"): SniffedDelimiter {
  const tried = CANDIDATES.map((delimiter) => ({ delimiter, fit: fitOf(text, delimiter, newline) }));
  const best = Math.max(...tried.map((one) => one.fit));
  if (best === 0) return { delimiter: ",", others: [] };
  const [first, ...others] = tried.filter((one) => one.fit === best).map((one) => one.delimiter);
  return { delimiter: first ?? ",", others };
}

/** The share of lines with as many cells as the first line, 0 where that has one cell only. */
function fitOf(text: string, delimiter: Delimiter, newline: "\r\n" | "\n" | "\r"): number {
  const { data } = Papa.parse<string[]>(text, { delimiter, newline, preview: LINES_TRIED });
  const filled = data.filter((cells) => cells.some((cell) => cell.trim() !== ""));
  const width = filled[0]?.length ?? 0;
  if (width < 2) return 0;
  return filled.filter((cells) => cells.length === width).length / filled.length;
}
