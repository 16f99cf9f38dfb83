// The causes between plan and run as a table: a line a cause, then a line for each thing it is made of. Texts are guarded as
// everywhere; amounts have every digit of the currency, and those of the causes add up to real − planned.
import Papa from "papaparse";
import { minorUnitsText } from "../core/money";
import { guardText } from "./text-guard";
import type { CsvWriteOptions } from "./write";

export interface AgainstLine {
  readonly group: string;
  readonly cause: string;
  /** A step or a tier; blank where the line is the whole cause. */
  readonly of: string;
  readonly unit: string;
  readonly planned: number | undefined;
  readonly real: number | undefined;
  readonly minor: number;
  /** Adverse or favourable. */
  readonly verdict: string;
}

const HEADER = ["group", "cause", "of", "unit", "planned", "real", "amount", "is"];

/** The margins and the causes as the text of a CSV file. */
export function writeAgainstCsv(
  lines: readonly AgainstLine[],
  digits: number,
  { delimiter, decimal }: Pick<CsvWriteOptions, "delimiter" | "decimal">,
): string {
  const marked = (text: string) => text.replace(".", decimal);
  const number = (value: number | undefined) =>
    value === undefined ? "" : marked(String(Number(value.toPrecision(12))));
  const rows = lines.map(({ group, cause, of, unit, planned, real, minor, verdict }) => [
    ...[group, cause, of, unit].map(guardText),
    ...[number(planned), number(real), marked(minorUnitsText(minor, digits)), guardText(verdict)],
  ]);
  return `${Papa.unparse([HEADER, ...rows], { delimiter, newline: "\r\n" })}\r\n`;
}
