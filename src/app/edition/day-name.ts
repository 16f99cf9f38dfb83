import { timeOf, write, YEAR } from "./written-days";

/** A day with its weekday, such as Fri 11 Dec 2026; what is no day is given back as it is. */
export function dayName(iso: string, locale: string, length: "with year" | "short" = "with year"): string {
  const time = timeOf(iso);
  return Number.isNaN(time) ? iso : write(time, locale, { weekday: "short", ...(length === "short" ? {} : YEAR) });
}
