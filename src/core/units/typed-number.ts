// A number typed into a cell, in the unit it is shown in or with a unit of its own.

import type { Meta, Raw } from "../document/workbook";
import { dimensionName, PLAIN, sameDimension } from "./dimension";
import { isOnlyMarks, NUMBER_MOST, type NumberMarks, readNumber, whyNoNumber } from "./number-text";
import { parseUnit } from "./parse";
import { readQuantity } from "./quantity";
import { scaleOfUnit } from "./shown";

/** What came of a typed number: what is to be kept and the message for it, or why it can't be read. */
export type NumberReading =
  | { readonly kind: "number"; readonly value: number; readonly message?: string }
  | { readonly kind: "ambiguous" }
  | { readonly kind: "wrong unit"; readonly fix: string }
  | { readonly kind: "no number"; readonly fix?: string | undefined };

interface NumberCell {
  /** The unit that the cell's numbers are kept in. */
  readonly unit: string;
  readonly isPercent: boolean;
  /** What the cell holds. */
  readonly held: Raw | undefined;
  readonly meta: Meta;
}

/** Reads a typed number for a cell; what was shown and is typed again is what was kept, to the last digit. */
export function readTypedNumber(text: string, marks: NumberMarks, cell: NumberCell): NumberReading {
  const { unit, meta, held } = cell;
  const scale = cell.isPercent ? undefined : scaleOfUnit(unit, meta);
  const bare = readBareNumber(text, marks, cell);
  if (bare.kind === "number") {
    const isAsShown = scale !== undefined && typeof held === "number" && scale.toShown(held) === bare.value;
    return { kind: "number", value: isAsShown ? held : (scale?.toKept(bare.value) ?? bare.value) };
  }
  if (bare.kind !== "no number" || isOnlyMarks(text) || text.length > NUMBER_MOST) return bare;
  const kept = parseUnit(unit);
  if (!kept) return bare;
  const assumed = parseUnit(scale?.unit ?? unit) ?? kept;
  const read = readQuantity(text, marks, kept, { assumed, currency: meta.currency });
  if (read.kind === "nothing") return bare;
  if (read.kind !== "amount") return read;
  const shown = scale ? scale.toShown(read.value) : read.value;
  const digits = String(Number(shown.toPrecision(7))).replace(".", marks.decimal);
  const amount = `${digits} ${(scale?.unit ?? unit).replace("¤", meta.currency)}`.trim();
  const isSame = text.replaceAll(/\s/g, "") === amount.replaceAll(/\s/g, "");
  return { kind: "number", value: read.value, ...(isSame ? {} : { message: `${text} = ${amount}` }) };
}

/** Reads a number without a unit, in a cell or in a file: one rule for both. */
export function readBareNumber(
  text: string,
  marks: NumberMarks,
  { unit, isPercent }: Pick<NumberCell, "unit" | "isPercent">,
): NumberReading {
  if (text.length > NUMBER_MOST) return { kind: "no number", fix: whyNoNumber(text, marks) };
  const isShare = text.trimEnd().endsWith("%") && !isPercent;
  const number = isFeet(text)
    ? undefined
    : readNumber(isShare && unit === "%" ? text.replace("%", "") : text, marks, isPercent ? "percent" : "number");
  if (number === undefined) return { kind: "no number", fix: whyNoNumber(text, marks) };
  if (isShare && unit !== "" && unit !== "%") return { kind: "wrong unit", fix: shareMisfit(unit) };
  return number === "ambiguous" ? { kind: number } : { kind: "number", value: number };
}

function shareMisfit(unit: string): string {
  const known = parseUnit(unit);
  const what = known && !sameDimension(known.dimension, PLAIN) ? `a ${dimensionName(known.dimension)}` : `in ${unit}`;
  return `A percentage is a share of something, and this is ${what}.`;
}

/** `5'` and `5' 7"` are feet and inches, not a number with a thousands mark. */
function isFeet(text: string): boolean {
  return /\d\s{0,9}['\u2032\u2019](?!\d{3}(?!\d))/.test(text);
}
