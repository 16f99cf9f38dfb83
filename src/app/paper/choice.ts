// What the maker has chosen to put on paper. The size and margins of the paper are remembered in the browser; which pieces
// and firings, as long as the edition is open.
import { signal } from "@preact/signals";
import type { Workbook } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import { chooseRows } from "../../core/record/choose-pieces";
import type { PaperSetup } from "../../storage/preferences";
import { perSession } from "../edition/per-session";

/** The papers there are. */
export type PaperName = "bench" | "firing" | "card" | "label" | "certificate" | "statement" | "editions";

export interface PaperChoice {
  readonly paper: PaperName;
  /** Pieces as text such as `41-60, 66, 70-`; blank is all. */
  readonly pieces: string;
  /** Firings by the same rules. */
  readonly firings: string;
  /** Steps left off the bench sheet. */
  readonly without: ReadonlySet<string>;
  /** Whether a piece card says what the piece cost and what was noted of it. */
  readonly withCost: boolean;
  /** Whether every card begins a page of its own. */
  readonly cardAPage: boolean;
  /** At which place of the first sheet labels begin, counted from one. */
  readonly startAt: number;
}

const FIRST_CHOICE: PaperChoice = {
  ...{ paper: "bench", pieces: "", firings: "", without: new Set(), withCost: false, cardAPage: true, startAt: 1 },
};

/** What was last chosen in an open edition. */
export const paperChoiceOf = perSession(() => signal(FIRST_CHOICE));

/** Row ids named by a text; undefined for a blank one, which is all. */
export function namedRows(
  book: Workbook,
  sheet: "pieces" | "firings",
  text: string,
): Result<ReadonlySet<string> | undefined> {
  if (text.trim() === "") return ok(undefined);
  const rows = chooseRows(book, sheet, text);
  return rows.ok ? ok(new Set(rows.value)) : rows;
}

// Countries whose everyday paper is Letter (Unicode CLDR, paper size US-Letter).
const LETTER_COUNTRIES = ["US", "CA", "MX", "BZ", "CL", "CO", "CR", "GT", "NI", "PA", "PH", "PR", "SV", "VE"];

/** The paper a maker most likely has, by the country of a locale. */
export function usualPaper(locale: string): PaperSetup {
  const country = /[-_]([A-Z]{2})\b/.exec(locale)?.[1] ?? "";
  return { size: LETTER_COUNTRIES.includes(country) ? "Letter" : "A4", marginMm: 15 };
}
