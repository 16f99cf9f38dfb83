// The options of an import, what it asks, and what it refuses. Everything that could mean two things is asked, never guessed.
import type { DateOrder } from "./date-text";
import type { Encoding } from "./encoding";
import type { DecimalMark } from "./number-text";
import type { Quote } from "./sniff";
import type { Delimiter } from "./write";

/** How a file is to be read; what is left out is found in the file. */
export interface FileReading {
  readonly encoding?: Encoding;
  readonly delimiter?: Delimiter;
  readonly quote?: Quote;
  /** The line that holds the names; 0 for none. */
  readonly headerLine?: number;
  /** Whether lines that begin with # are left out. */
  readonly remarks?: boolean;
}

export interface ImportOptions {
  /** The decimal mark; without it the numbers of the imported columns have to show which it is. */
  readonly decimal?: DecimalMark;
  /** That the other mark parts thousands, so that with a decimal point 1,234 is one thousand two hundred and thirty-four. */
  readonly grouped?: boolean;
  /** Which comes first in dates such as 03/04/2026; without it the dates have to show which it is. */
  readonly dates?: DateOrder;
  /** What numbers without a percent sign mean in a column of percentages whose header does not say it: 12.5 or 0.125. */
  readonly percent?: "percent" | "fraction";
  /** Whether a blank cell clears what is there. Without it, it leaves that as it is. */
  readonly blankClears?: boolean;
  /** Whether rows that the sheet does not have are added to it. */
  readonly addMissing?: boolean;
  /** Whether rows that the sheet has are changed, as without this, or left as they are. */
  readonly existing?: "update" | "skip";
  /** Whether 7 is the piece 007, which some programs make of it, or another piece. */
  readonly zeros?: "same" | "different";
  /** Whether a number may take the place of a formula typed by hand. */
  readonly replaceFormulas?: boolean;
  /**
   * Column keys for headers, in place of what their names suggest; "" leaves a column out, "+text" and "+number" make a
   * column of the maker's own for it.
   */
  readonly columns?: Readonly<Record<string, string>>;
  /** Which line counts where several are for one row and differ. */
  readonly twice?: "first" | "last";
  /** What becomes of losses an earlier edition had: added to those seen before, put in their place, or left out. */
  readonly losses?: "add" | "replace" | "leave";
  /** What the undo step is called. */
  readonly label?: string;
}

/** One cell of the file, by its line and the name of its column. */
export interface FileCell {
  readonly line: number;
  readonly column: string;
  readonly found: string;
}

/** A cell or a line that is not imported, and why. */
export interface Rejected extends FileCell {
  /** Stable name of the reason, such as `entry.range`. */
  readonly code: string;
  /** What it takes and what to do about it. */
  readonly reason: string;
}

interface ImportAnswer {
  readonly label: string;
  /** The options that give this answer, and how the file is to be read for it. */
  readonly options: ImportOptions;
  readonly reading?: FileReading;
}

/** Something that could mean two things. Until it is answered, what depends on it is not imported. */
export interface ImportQuestion {
  readonly about:
    | "decimal"
    | "thousands"
    | "percent"
    | "dates"
    | "zeros"
    | "missing"
    | "formulas"
    | "unit"
    | "label"
    | "letters"
    | "nameless"
    | "repeated"
    | "twice"
    | "losses";
  readonly text: string;
  readonly examples: readonly FileCell[];
  readonly answers: readonly ImportAnswer[];
}

/** A column of the file that is not imported. */
export interface IgnoredColumn {
  readonly header: string;
  readonly why: "computed" | "left out" | "twice" | "unit" | "unknown";
  readonly reason: string;
}
