// Days as text: year first is sure; day and month before the year are told apart by the data, or asked.
import { isIsoDay } from "../core/iso-day";
import type { NumberSeen } from "./number-text";

/** Which part of a day comes first. */
export type DateOrder = "dmy" | "mdy" | "ymd";

interface DateParts {
  readonly parts: readonly [number, number, number];
  /** Whether the year stands first with four digits, so that there is nothing to ask. */
  readonly isYearFirst: boolean;
  /** Whether the year has two digits, so that it could be any of the three. */
  readonly isShort: boolean;
}

/** Many programs write midnight behind a day. */
const MIDNIGHT = /[T ]0{1,2}:00(:00(\.0+)?)?Z?$/;

function partsOf(found: string): DateParts | undefined {
  const text = found.trim().replace(MIDNIGHT, "");
  const first = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})$/.exec(text);
  if (first)
    return { parts: [Number(first[1]), Number(first[3]), Number(first[4])], isYearFirst: true, isShort: false };
  const last = /^(\d{1,2})([-/.])\s?(\d{1,2})\2\s?(\d{4}|\d{2})$/.exec(text);
  if (!last) return undefined;
  return {
    parts: [Number(last[1]), Number(last[3]), Number(last[4])],
    isYearFirst: false,
    isShort: last[4]?.length === 2,
  };
}

/** What one text says of the order: nothing where it can mean one day only, "either" where it could be several. */
export function dateEvidence(found: string): "dmy" | "mdy" | "either" | undefined {
  const date = partsOf(found);
  if (!date || date.isYearFirst) return undefined;
  const [a, b] = date.parts;
  if (date.isShort) return "either";
  if (a > 12 && b <= 12) return "dmy";
  if (b > 12 && a <= 12) return "mdy";
  return a === b || a > 12 ? undefined : "either";
}

/** What all dates together say. */
export interface DateReading {
  readonly order: DateOrder | undefined;
  /** "shown" by the data or chosen, "none" has to be asked, "unclear" where each could be both, "mixed" where they contradict. */
  readonly why: "shown" | "none" | "unclear" | "mixed";
  readonly examples: readonly NumberSeen[];
}

/** Finds the order of day and month in many dates. */
export function readDateOrder(dates: Iterable<NumberSeen>): DateReading {
  const first: { dmy?: NumberSeen; mdy?: NumberSeen; either?: NumberSeen } = {};
  for (const date of dates) {
    const evidence = dateEvidence(date.found);
    if (evidence !== undefined) first[evidence] ??= date;
    if (first.dmy && first.mdy) break;
  }
  const { dmy, mdy, either } = first;
  if (dmy && mdy) return { order: undefined, why: "mixed", examples: [dmy, mdy] };
  const isShort = either !== undefined && partsOf(either.found)?.isShort;
  if (isShort) return { order: undefined, why: "unclear", examples: [either] };
  if (dmy) return { order: "dmy", why: "shown", examples: [dmy] };
  if (mdy) return { order: "mdy", why: "shown", examples: [mdy] };
  return either
    ? { order: undefined, why: "unclear", examples: [either] }
    : { order: undefined, why: "none", examples: [] };
}

/** The day a text stands for, as ISO 8601; "ambiguous" where the order has to be known first; undefined where it is none. */
export function readDate(found: string, order: DateOrder | undefined): string | "ambiguous" | undefined {
  const date = partsOf(found);
  if (!date) return undefined;
  const [a, b, c] = date.parts;
  if (date.isYearFirst) return isoDay(a, b, c);
  const sure = dateEvidence(found);
  if (order === undefined && sure === "either") return "ambiguous";
  const used = order ?? (sure === "mdy" ? "mdy" : "dmy");
  if (used === "ymd") return date.isShort ? isoDay(century(a), b, c) : undefined;
  const year = date.isShort ? century(c) : c;
  return used === "dmy" ? isoDay(year, b, a) : isoDay(year, a, b);
}

function century(short: number): number {
  return 2000 + short;
}

function isoDay(year: number, month: number, day: number): string | undefined {
  const text = `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
  return isIsoDay(text) ? text : undefined;
}
