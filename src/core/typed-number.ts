// A number typed into a cell, in the unit it is shown in or with a unit of its own.
import { type NumberMarks, readNumber } from "./number-text";
import { parseUnit } from "./units/parse";
import { readQuantity } from "./units/quantity";
import { scaleOfUnit } from "./units/shown";
import type { Meta, Raw } from "./workbook";

/** What came of a typed number: what is to be kept and what to tell of it, or why it can't be read. */
export type NumberReading =
  | { readonly is: "number"; readonly value: number; readonly told?: string }
  | { readonly is: "ambiguous" }
  | { readonly is: "wrong unit"; readonly fix: string }
  | { readonly is: "no number" };

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
  const plain = isFeet(text) ? undefined : readNumber(text, marks, cell.isPercent);
  if (plain === "ambiguous") return { is: "ambiguous" };
  if (plain !== undefined) {
    const isAsShown = scale !== undefined && typeof held === "number" && scale.toShown(held) === plain;
    return { is: "number", value: isAsShown ? held : (scale?.toKept(plain) ?? plain) };
  }
  const kept = parseUnit(unit);
  if (!kept) return { is: "no number" };
  const assumed = parseUnit(scale?.unit ?? unit) ?? kept;
  const read = readQuantity(text, marks, kept, { assumed, currency: meta.currency });
  if (read.is === "nothing") return { is: "no number" };
  if (read.is !== "amount") return read;
  const shown = scale ? scale.toShown(read.value) : read.value;
  const digits = String(Number(shown.toPrecision(7))).replace(".", marks.decimal);
  const amount = `${digits} ${(scale?.unit ?? unit).replace("¤", meta.currency)}`.trim();
  const isSame = text.replaceAll(/\s/g, "") === amount.replaceAll(/\s/g, "");
  return { is: "number", value: read.value, ...(isSame ? {} : { told: `${text} = ${amount}` }) };
}

/** `5'` and `5' 7"` are feet and inches, not a number with a thousands mark. */
function isFeet(text: string): boolean {
  return /\d\s*['\u2032\u2019](?!\d{3}(?!\d))/.test(text);
}
