// What has changed on the standard sheets, oldest first. Editions take today's sheets whenever they are opened, so a change
// here moves numbers in editions that are kept already: the maker is told once, in these words.
import type { SheetKey } from "../workbook";

export interface SheetChange {
  /** Checksum of tests/fixtures/standard-sheets.json with the change in it; the test prints it. */
  readonly sum: string;
  /** Computed columns and lines whose numbers move, as `sheet:key`; none where nothing that was there moves. */
  readonly moves: readonly `${SheetKey}:${string}`[];
  /** What is different and why, in the maker's words; empty where there is nothing to tell. */
  readonly words: string;
}

/** Changes since documents hold only what is the maker's: `SHEETS_VERSION` is how many there are. */
export const SHEET_CHANGES: readonly SheetChange[] = [];

/** Changes before that: told where a document's own formula of a column or line is not today's. */
export const EARLIER_CHANGES: readonly Omit<SheetChange, "sum">[] = [];
