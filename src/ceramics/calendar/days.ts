// Calendar days as whole numbers, day 0 being Thursday 1 January 1970. Calculated in universal time only, so that no
// time zone and no summer time moves a day.
import { isIsoDay } from "../../core/iso-day";

const DAY_MS = 86_400_000;

/** Minutes in a day. */
export const DAY_MINUTES = 1440;

/** The number of a day written as in ISO 8601, such as 2026-12-01; undefined where there is no such day. */
export function dayNumber(iso: string): number | undefined {
  return isIsoDay(iso) ? Date.parse(iso) / DAY_MS : undefined;
}

/** The day of a number, written as in ISO 8601. */
export function isoDay(day: number): string {
  return new Date(day * DAY_MS).toISOString().slice(0, 10);
}

/** The day of the week, Monday being 0. */
export function weekdayOf(day: number): number {
  return (((Math.floor(day) + 3) % 7) + 7) % 7;
}
