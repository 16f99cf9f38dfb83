// Days and times as they are written everywhere, on screens, pictures and papers: 11 Dec 2026, Fri 11 Dec 2026, 14:30.
// What is typed, kept and put into CSV stays ISO 8601.

const made = new Map<string, Intl.DateTimeFormat>();

/** A time (milliseconds) as its day of UTC, and more where it is asked for. */
export function write(time: number, locale: string | undefined, more: Intl.DateTimeFormatOptions): string {
  const key = `${locale} ${Object.keys(more)}`;
  const format =
    made.get(key) ?? new Intl.DateTimeFormat(locale, { day: "numeric", month: "short", timeZone: "UTC", ...more });
  made.set(key, format);
  return format.format(time);
}

/** A day with its year. */
export const YEAR = { year: "numeric" } as const;

/** Milliseconds of a day that is ISO 8601 text or the engine's number (day 0 is 30 December 1899). */
export function timeOf(day: unknown): number {
  if (typeof day === "number") return Date.UTC(1899, 11, 30 + day);
  return typeof day === "string" ? Date.parse(day.slice(0, 10)) : Number.NaN;
}

/** A day such as 21 Sept 2026; blank where there is none. */
export function dayText(day: unknown, locale: string): string {
  const time = timeOf(day);
  return Number.isNaN(time) ? "" : write(time, locale, YEAR);
}

/** A sentence in which days stand as they are kept, with each written as all are. */
export function withDaysWritten(text: string, locale: string): string {
  return text.replace(/\b\d{4}-\d{2}-\d{2}\b/g, (day) => dayText(day, locale) || day);
}

/** The time of a moment (ISO 8601) of where the maker is, such as 14:30, with the hours of the sheets. */
export function clockText(at: string): string {
  return new Date(at).toTimeString().slice(0, 5);
}

/** Day of a moment (ISO 8601) where the maker is, ISO 8601 too. */
export function localDay(at: string): string {
  const time = new Date(at);
  const two = (n: number) => String(n).padStart(2, "0");
  return `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())}`;
}

/** A moment (ISO 8601) as a day and a time of where the maker is; what is no moment is given back as it is. */
export function momentText(at: string, locale: string | undefined): string {
  const here = new Date(at);
  const day = Date.UTC(here.getFullYear(), here.getMonth(), here.getDate());
  return Number.isNaN(day) ? at : `${write(day, locale, YEAR)}, ${clockText(at)}`;
}
