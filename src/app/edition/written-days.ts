// Days and times as they are written everywhere, on screens, pictures and papers: 11 Dec 2026, Fri 11 Dec 2026, 14:30.
// What is typed, kept and put into CSV stays ISO 8601.

const DAY_MS = 86_400_000;
/** Day 0 of the engine's day numbers. */
const FIRST_DAY = Date.UTC(1899, 11, 30);

type Parts = "day" | "weekday" | "weekday, no year" | "moment" | "clock";

const YEAR = { day: "numeric", month: "short", year: "numeric" } as const;
// Hours as they stand in the sheets, whatever the country.
const HOURS = { hour: "2-digit", minute: "2-digit", hourCycle: "h23" } as const;
const OPTIONS: Readonly<Record<Parts, Intl.DateTimeFormatOptions>> = {
  day: { ...YEAR, timeZone: "UTC" },
  weekday: { ...YEAR, weekday: "short", timeZone: "UTC" },
  "weekday, no year": { day: "numeric", month: "short", weekday: "short", timeZone: "UTC" },
  moment: { ...YEAR, ...HOURS },
  clock: HOURS,
};

const made = new Map<string, Intl.DateTimeFormat>();

function written(parts: Parts, time: number, locale: string): string {
  const key = `${locale} ${parts}`;
  const format = made.get(key) ?? new Intl.DateTimeFormat(locale, OPTIONS[parts]);
  made.set(key, format);
  return format.format(time);
}

/** Milliseconds of a day that is ISO 8601 text or the engine's number (day 0 is 30 December 1899). */
function timeOf(day: unknown): number {
  if (typeof day === "number") return FIRST_DAY + day * DAY_MS;
  return typeof day === "string" && /^\d{4}-\d\d-\d\d/.test(day) ? Date.parse(day.slice(0, 10)) : Number.NaN;
}

/** A day such as 21 Sept 2026; blank where there is none. */
export function dayText(day: unknown, locale: string): string {
  const time = timeOf(day);
  return Number.isNaN(time) ? "" : written("day", time, locale);
}

/** A day with its weekday, such as Fri 11 Dec 2026; what is no day is given back as it is. */
export function dayName(iso: string, locale: string, length: "with year" | "short" = "with year"): string {
  const time = timeOf(iso);
  return Number.isNaN(time) ? iso : written(length === "short" ? "weekday, no year" : "weekday", time, locale);
}

/** A moment (ISO 8601) as a day and a time of where the maker is; what is no moment is given back as it is. */
export function momentText(at: string, locale: string | undefined): string {
  const time = Date.parse(at);
  return Number.isNaN(time) ? at : written("moment", time, locale ?? "en");
}

/** The time of a moment (ISO 8601) of where the maker is, such as 14:30. */
export function clockText(at: string, locale: string): string {
  return written("clock", Date.parse(at), locale);
}
