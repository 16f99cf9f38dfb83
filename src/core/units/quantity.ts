// An amount as a maker types it with its unit: `12 in`, `3/4 in`, `2 lb 3 oz`, `5' 7"`, `1,5 kg`, `2232 F`.

import { convert, isConvertible } from "./convert";
import { dimensionName, PLAIN, sameDimension } from "./dimension";
import { NUMBER_MOST, type NumberMarks, readNumber } from "./number-text";
import { nearUnit, parseUnit, type Unit } from "./parse";

/** What came of reading an amount: a number in the wanted unit, or why there is none. */
export type QuantityReading =
  | { readonly kind: "amount"; readonly value: number }
  | { readonly kind: "ambiguous" }
  | { readonly kind: "wrong unit"; readonly fix: string }
  /** No number with a unit at all. */
  | { readonly kind: "nothing" };

const PART =
  /^(?:(?<whole>\d+)[\s\u00a0]+)?(?<top>\d+)\s*[/\u2044]\s*(?<bottom>\d+)|^(?<number>(?:\d+(?:[\s\u00a0\u202f'](?=\d{3}(?!\d))\d{3}|[.,]\d+)*[.,]?|[.,]\d+)(?:[eE][-+]?\d+)?)\s*(?<vulgar>[¼½¾⅓⅔⅛⅜⅝⅞])?|^(?<only>[¼½¾⅓⅔⅛⅜⅝⅞])/;
/** Up to the next number; a 2 or 3 right behind a letter is a power where the unit ends or goes on with a sign. */
const UNIT = /^(?:[^\d¼½¾⅓⅔⅛⅜⅝⅞]|(?<=[A-Za-z^])[23](?=\s*(?:$|[/·*])))*/;
const VULGAR: Readonly<Record<string, number>> = {
  "¼": 1 / 4,
  "½": 1 / 2,
  "¾": 3 / 4,
  "⅓": 1 / 3,
  "⅔": 2 / 3,
  "⅛": 1 / 8,
  "⅜": 3 / 8,
  "⅝": 5 / 8,
  "⅞": 7 / 8,
};

interface Part {
  readonly number: number | "ambiguous";
  readonly unit: string;
}

/**
 * Reads an amount for a cell kept in `kept`. Parts without a unit are in `assumed`, which only a fraction may be; currency
 * signs and codes stand for ¤ where they are those of `currency`.
 */
export function readQuantity(
  typed: string,
  marks: NumberMarks,
  kept: Unit,
  { assumed, currency }: { readonly assumed: Unit; readonly currency: string },
): QuantityReading {
  if (typed.length > NUMBER_MOST) return { kind: "nothing" };
  const isNegative = /^[-\u2212]/.test(typed);
  const parts = partsOf(withoutCurrency(typed.replace(/^[-+\u2212]\s*/, ""), currency), marks);
  if (!parts) return { kind: "nothing" };
  let total = 0;
  for (const { number, unit } of parts) {
    const read = unit === "" || isMoneyOf(unit, kept) ? assumed : parseUnit(unit);
    if (unit === "" && parts.length > 1) return { kind: "wrong unit", fix: "Give each part its unit." };
    if (!read || !isConvertible(read, kept)) return { kind: "wrong unit", fix: misfit(unit, read, kept) };
    if (number === "ambiguous") return { kind: "ambiguous" };
    if (parts.length > 1 && read.zero) return { kind: "wrong unit", fix: "Give one temperature." };
    total += convert(number, read, kept);
  }
  const value = isNegative ? negative(total, parts, kept) : total;
  return Number.isFinite(value)
    ? { kind: "amount", value: parts.length > 1 ? Number(value.toPrecision(15)) : value }
    : { kind: "nothing" };
}

/** A currency's sign says no more than that money is meant: € 20 in a cell of ¤/h is 20 an hour. */
function isMoneyOf(unit: string, kept: Unit): boolean {
  return unit === "¤" && kept.terms[0]?.unit.symbol === "¤";
}

/** Below its own zero a temperature is not minus what it is above it. */
function negative(total: number, [only]: readonly Part[], kept: Unit): number {
  const unit = only && kept.zero ? parseUnit(only.unit) : undefined;
  return unit && only && typeof only.number === "number" ? convert(-only.number, unit, kept) : -total;
}

function partsOf(typed: string, marks: NumberMarks): readonly Part[] | undefined {
  const parts: Part[] = [];
  let rest = typed.trim();
  while (rest !== "") {
    const found = PART.exec(rest);
    if (!found) return undefined;
    const number = numberOf(found.groups ?? {}, marks);
    if (number === undefined) return undefined;
    rest = rest.slice(found[0].length);
    const unit = UNIT.exec(rest)?.[0] ?? "";
    rest = rest.slice(unit.length);
    parts.push({ number, unit: unit.trim() });
  }
  return parts.length > 0 && parts.length < 5 ? parts : undefined;
}

function numberOf(
  { whole, top, bottom, number, vulgar, only }: Readonly<Record<string, string | undefined>>,
  marks: NumberMarks,
): number | "ambiguous" | undefined {
  if (top !== undefined) return Number(bottom) === 0 ? undefined : Number(whole ?? 0) + Number(top) / Number(bottom);
  if (only !== undefined) return VULGAR[only];
  const read = readNumber(number ?? "", marks);
  return typeof read === "number" && vulgar !== undefined ? read + (VULGAR[vulgar] ?? 0) : read;
}

/** Signs of currencies, and the codes each may stand for. */
export const SIGNS: Readonly<Record<string, readonly string[]>> = {
  "€": ["EUR"],
  "£": ["GBP"],
  "¥": ["JPY", "CNY"],
  $: ["USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN"],
};

/** The currency's sign or code before or after the number, as the unit ¤ after it. */
function withoutCurrency(typed: string, currency: string): string {
  const signs = [currency, ...Object.keys(SIGNS).filter((sign) => SIGNS[sign]?.includes(currency))];
  for (const sign of signs) {
    if (typed.startsWith(sign))
      return `${typed.slice(sign.length).trim()} ¤`.replace(/^([\d.,'\s]+)(\/.*) ¤$/, "$1 ¤$2");
    if (typed.includes(sign)) return typed.replace(sign, "¤");
  }
  return typed;
}

function misfit(unit: string, read: Unit | undefined, kept: Unit): string {
  const isVolume = dimensionName(kept.dimension) === "volume";
  const isWeight = dimensionName(kept.dimension) === "weight";
  if (/^tons?$/i.test(unit)) return "A ton is 1000 kg, 2000 lb or 2240 lb: write t, kg or lb.";
  if (!read) {
    const near = nearUnit(unit);
    return near ? `“${unit}” is no unit known here. Did you mean ${near}?` : `“${unit}” is no unit known here.`;
  }
  if (isVolume && read.text === "oz") return "An ounce (oz) is a weight; a volume is in fl oz.";
  if (isWeight && read.text === "fl oz") return "A fluid ounce (fl oz) is a volume; a weight is in oz.";
  if (sameDimension(read.dimension, kept.dimension))
    return `${read.text} is ${read.zero ? "a reading of a thermometer" : "a difference of temperatures"}.`;
  const wanted = isPlain(kept) ? "this is a plain number" : `this is ${withArticle(dimensionName(kept.dimension))}`;
  return isPlain(read)
    ? `${read.text} are counted, and ${wanted}.`
    : `${read.text} is a unit of ${dimensionName(read.dimension)}, and ${wanted}.`;
}

const isPlain = (unit: Unit) => sameDimension(unit.dimension, PLAIN);

const withArticle = (noun: string) => `${/^[aeiou]/.test(noun) ? "an" : "a"} ${noun}`;
