// Days written as in ISO 8601.

/** Whether a text is a day that there is, written as in 2026-11-25. */
export function isIsoDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const day = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}

const DAY = 86_400_000;
const shifted = (day: string, days: number) =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY).toISOString().slice(0, 10);

/** The day before a day, ISO 8601. */
export const dayBefore = (day: string): string => shifted(day, -1);

/** The day after a day, ISO 8601. */
export const dayAfter = (day: string): string => shifted(day, 1);

/** The last day of the month of a day, ISO 8601. */
export function endOfMonth(day: string): string {
  const [year, month] = day.split("-").map(Number);
  return new Date(Date.UTC(year ?? 0, month ?? 1, 0)).toISOString().slice(0, 10);
}
