// The run log as a table: a line an entry, texts guarded as everywhere.
import Papa from "papaparse";
import { guardText } from "./text-guard";
import type { Delimiter } from "./write";

/** An entry of the run log as it stands in a file. Moments are ISO 8601. */
export interface LogLine {
  readonly at: string;
  readonly act: string;
  readonly what: string;
  readonly steps: readonly string[];
  readonly pieces: readonly string[];
  /** How many cells it wrote. */
  readonly cells: number;
  readonly note: string;
  readonly takenBack: string;
}

const HEADER = ["when", "act", "what", "steps", "pieces", "number of pieces", "cells written", "note", "taken back"];

/** Entries as the text of a CSV file. */
export function writeLogCsv(lines: readonly LogLine[], delimiter: Delimiter): string {
  const rows = lines.map(({ at, act, what, steps, pieces, cells, note, takenBack }) =>
    [at, act, what, steps.join(", "), pieces.join(" "), String(pieces.length), String(cells), note, takenBack].map(
      guardText,
    ),
  );
  return `${Papa.unparse([HEADER, ...rows], { delimiter, newline: "\r\n" })}\r\n`;
}
