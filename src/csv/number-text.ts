// Numbers as text: written so that they can mean only one thing, and read without guessing what their marks mean.
import { type NumberMarks, readNumber } from "../core/document/entry";

export type DecimalMark = NumberMarks["decimal"];

/**
 * A number with the fewest digits that give the same number back. One with exactly three decimals after one to three
 * digits, such as 1.234, gets a nought more: 1.2340 can't be taken for one thousand two hundred and thirty-four. The
 * exponent's E is a capital: W3C, Tabular Data Model 6.4.2, knows no other where a decimal mark is declared.
 */
export function numberText(value: number, decimal: DecimalMark): string {
  return clearDecimals(String(value).replace("e", "E")).replace(".", decimal);
}

function clearDecimals(text: string): string {
  return /^-?[1-9]\d{0,2}\.\d{3}$/.test(text) ? `${text}0` : text;
}

/** A fraction as a percentage with its sign, moved by digits and not by arithmetic, so that nothing is rounded. */
export function percentText(fraction: number, decimal: DecimalMark): string {
  if (fraction === 0) return "0%";
  const [mantissa = "", exponent = "0"] = Math.abs(fraction).toExponential().split("e");
  const digits = mantissa.replace(".", "");
  const point = Number(exponent) + 3;
  const text = point > 21 || point < -5 ? `${mantissa}E${Number(exponent) + 2}` : withPoint(digits, point);
  return `${fraction < 0 ? "-" : ""}${clearDecimals(text).replace(".", decimal)}%`;
}

/** Puts the decimal point after so many digits, with noughts where there are none. */
function withPoint(digits: string, point: number): string {
  if (point <= 0) return `0.${"0".repeat(-point)}${digits}`;
  const decimals = digits.slice(point);
  return `${digits.slice(0, point).padEnd(point, "0")}${decimals === "" ? "" : `.${decimals}`}`;
}

/** What the marks in a number say of the decimal mark: one of the two, "either" where it could be both, or nothing. */
export type MarkEvidence = DecimalMark | "either" | undefined;

/** What can be known from one text; undefined where it is no number or has no mark. */
export function markEvidence(text: string): MarkEvidence {
  if (!(text.includes(".") || text.includes(","))) return undefined;
  // Nearly every number: one mark, and no group of three behind it.
  const common = /^-?\d{1,17}([.,])(?!\d{3}$)\d{1,17}$/.exec(text)?.[1];
  if (common) return common as DecimalMark;
  const point = readNumber(text, { decimal: "." });
  const comma = readNumber(text, { decimal: "," });
  if (point !== undefined && comma !== undefined) return "either";
  return point !== undefined ? "." : comma !== undefined ? "," : undefined;
}

/** One number from the data, where it stands. */
export interface NumberSeen {
  readonly line: number;
  readonly column: string;
  readonly found: string;
}

/** What all numbers together say: the decimal mark where it is sure, and otherwise why it is not. */
export interface DecimalReading {
  readonly decimal: DecimalMark | undefined;
  /** "shown" by the data, "none" has a mark, "unclear" where each could be both, "mixed" where they contradict. */
  readonly why: "shown" | "none" | "unclear" | "mixed";
  readonly examples: readonly NumberSeen[];
}

/** Finds the decimal mark of many numbers. */
export function readDecimalMark(numbers: Iterable<NumberSeen>): DecimalReading {
  const first: { "."?: NumberSeen; ","?: NumberSeen; either?: NumberSeen } = {};
  for (const number of numbers) {
    const evidence = markEvidence(number.found);
    if (evidence !== undefined) first[evidence] ??= number;
    if (first["."] && first[","]) break;
  }
  const point = first["."];
  const comma = first[","];
  if (point && comma) return { decimal: undefined, why: "mixed", examples: [point, comma] };
  if (point) return { decimal: ".", why: "shown", examples: [point] };
  if (comma) return { decimal: ",", why: "shown", examples: [comma] };
  return first.either
    ? { decimal: undefined, why: "unclear", examples: [first.either] }
    : { decimal: undefined, why: "none", examples: [] };
}
