// Numbers as a maker reads them. Rounding here is for the eye only; the sheet keeps full precision.
import type { CellSpec } from "../../core/document/workbook";

export interface Formats {
  readonly locale: string;
  readonly currency: string;
}

/** The first of a browser's languages that numbers and dates can be written in; some name none, such as "C". */
export function usableLocale(languages: readonly string[]): string {
  for (const language of languages)
    try {
      return Intl.getCanonicalLocales(language)[0] ?? "en";
    } catch {
      // Not a language tag: the next one may be.
    }
  return "en";
}

/** Writes numbers, and what stands in them between thousands and before those below nothing. */
interface Writer {
  readonly write: (value: number) => string;
  readonly group: string;
  readonly minus: string;
}

const GROUP = "\u202f";
const MINUS = "\u2212";
const made = new Map<string, Writer>();

function writer(locale: string, least: number, most: number): Writer {
  const key = `${locale} ${least} ${most}`;
  let held = made.get(key);
  if (!held) {
    const format = new Intl.NumberFormat(locale, { minimumFractionDigits: least, maximumFractionDigits: most });
    const parts = format.formatToParts(-1e9);
    const mark = (wanted: string) => parts.find(({ type }) => type === wanted)?.value;
    held = { write: format.format, group: mark("group") ?? GROUP, minus: mark("minusSign") ?? MINUS };
    made.set(key, held);
  }
  return held;
}

const decimalMarks = new Map<string, "." | ",">();

/** The mark between whole and fraction in a locale. */
export function decimalMark(locale: string): "." | "," {
  let mark = decimalMarks.get(locale);
  if (!mark) {
    const part = new Intl.NumberFormat(locale).formatToParts(1.5).find(({ type }) => type === "decimal");
    mark = part?.value === "," ? "," : ".";
    decimalMarks.set(locale, mark);
  }
  return mark;
}

const symbols = new Map<string, string>();

/** The sign a currency goes by in a locale, such as €; its code where it has none. */
export function currencySymbol({ locale, currency }: Formats): string {
  const key = `${locale} ${currency}`;
  let symbol = symbols.get(key);
  if (symbol === undefined) {
    const parts = new Intl.NumberFormat(locale, { style: "currency", currency }).formatToParts(1);
    symbol = parts.find(({ type }) => type === "currency")?.value ?? currency;
    symbols.set(key, symbol);
  }
  return symbol;
}

/** A number with thin spaces between thousands. */
export function showNumber(value: number, least: number, most: number, locale: string): string {
  const { write, group, minus } = writer(locale, least, most);
  const text = write(value).replace(minus, MINUS).replaceAll(group, GROUP);
  return /^\u22120([.,]0*)?$/.test(text) ? text.slice(1) : text;
}

/** A value of a cell as it is shown, without its unit. `digits` are the currency's. */
export function showValue(value: number, spec: CellSpec, formats: Formats, digits: number): string {
  switch (spec.format) {
    case "money":
      return showNumber(value, digits, digits, formats.locale);
    case "whole":
      return showNumber(value, 0, 0, formats.locale);
    case "percent":
      return `${showNumber(value * 100, 0, spec.decimals ?? 1, formats.locale)}\u202f%`;
    default:
      return spec.decimals === undefined
        ? showNumber(value, 0, 6, formats.locale)
        : showNumber(value, spec.decimals, spec.decimals, formats.locale);
  }
}

/** A value as it is put into an editor: every digit, in the maker's marks, percent as percent. */
export function editableNumber(value: number, spec: CellSpec, locale: string): string {
  const shown = spec.format === "percent" ? Number((value * 100).toPrecision(15)) : value;
  return String(shown).replace(".", decimalMark(locale));
}

/** A unit with the currency's code in the place of ¤. */
export function showUnit(unit: string, currency: string): string {
  return unit.replace("¤", currency);
}
