// Numbers as text: written so that they can mean only one thing, and read without guessing what their marks mean.
import { type NumberMarks, readNumber } from "../core/entry";

export type DecimalMark = NumberMarks["decimal"];

/** No number anybody writes is longer; longer text is not looked at. */
const LONGEST_NUMBER = 60;
const spaces = /[\s\u00a0\u202f']/g;

/**
 * A number with the fewest digits that give the same number back. One with exactly three decimals after one to three
 * digits, such as 1.234, gets a nought more: 1.2340 can't be taken for one thousand two hundred and thirty-four.
 */
export function numberText(value: number, decimal: DecimalMark): string {
  return clearDecimals(String(value)).replace(".", decimal);
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
  const text = point > 21 || point < -5 ? `${mantissa}e${Number(exponent) + 2}` : withPoint(digits, point);
  return `${fraction < 0 ? "-" : ""}${clearDecimals(text).replace(".", decimal)}%`;
}

/** Puts the decimal point after so many digits, with noughts where there are none. */
function withPoint(digits: string, point: number): string {
  if (point <= 0) return `0.${"0".repeat(-point)}${digits}`;
  const decimals = digits.slice(point);
  return `${digits.slice(0, point).padEnd(point, "0")}${decimals === "" ? "" : `.${decimals}`}`;
}

/** The fraction that a percentage stands for, with or without its sign; otherwise as `readNumber`. */
export function readPercent(text: string, marks: NumberMarks): number | "ambiguous" | undefined {
  const bare = text.trim().replace(/%$/, "");
  const number = readNumber(bare, marks, false);
  if (typeof number !== "number") return number;
  // The exponent is moved and nothing divided, so that 12.345678901234567 % is the double nearest to it.
  const [digits = "", exponent = "0"] = plainDigits(bare, marks).toLowerCase().split("e");
  return Number(`${digits}e${Number(exponent) - 2}`);
}

function plainDigits(text: string, marks: NumberMarks): string {
  const other = marks.decimal === "." ? "," : ".";
  return text.replace(spaces, "").replace("\u2212", "-").replaceAll(other, "").replace(marks.decimal, ".");
}

/** What the marks in a number say of the decimal mark: one of the two, "either" where it could be both, or nothing. */
export type MarkEvidence = DecimalMark | "either" | undefined;

/** What can be told from one text; undefined where it is no number or has no mark. */
export function markEvidence(text: string): MarkEvidence {
  if (text.length > LONGEST_NUMBER || !(text.includes(".") || text.includes(","))) return undefined;
  const bare = text
    .replace(spaces, "")
    .replace(/^[-+\u2212]/, "")
    .replace(/%$/, "");
  const single = /^(\d*)([.,])(\d*)([eE][-+]?\d+)?$/.exec(bare);
  if (single) {
    const [, whole = "", mark = ".", decimals = "", exponent] = single;
    if (whole === "" && decimals === "") return undefined;
    const couldBeGrouped = /^[1-9]\d{0,2}$/.test(whole) && decimals.length === 3 && exponent === undefined;
    return couldBeGrouped ? "either" : (mark as DecimalMark);
  }
  if (/^[1-9]\d{0,2}(,\d{3})+(\.\d*)?$/.test(bare)) return ".";
  if (/^[1-9]\d{0,2}(\.\d{3})+(,\d*)?$/.test(bare)) return ",";
  return undefined;
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

/** Takes thousands marks out of a number that has them at the right places; any other text is given back as it is. */
export function withoutThousandsMarks(text: string, decimal: DecimalMark): string {
  const bare = text.replace(spaces, "");
  const grouped =
    decimal === "." ? /^[-+\u2212]?\d{1,3}(,\d{3})+(\.\d*)?%?$/ : /^[-+\u2212]?\d{1,3}(\.\d{3})+(,\d*)?%?$/;
  return grouped.test(bare) ? bare.replaceAll(decimal === "." ? "," : ".", "") : text;
}
