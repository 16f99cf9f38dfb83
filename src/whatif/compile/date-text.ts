// Texts that the engine takes for a day or a time when it computes or compares with them: 2026-02-03, 22:30, both.
// Copied from the rules of hyperformula 3.5.0 for the formats this app gives it.

const LOOKS_LIKE_ONE = /^[0-9/.\-: ]+[ap]?m?$/;
const DAYS_BEFORE = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];
const DAYS_IN = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** The number of days since 30 December 1899 that a text stands for, times as parts of a day; undefined where it is neither. */
export function dayOfText(text: string): number | undefined {
  let rest = text.replace(/\s+/, " ").trim().toLowerCase();
  if (!LOOKS_LIKE_ONE.test(rest)) return undefined;
  const half = /(am|pm|a|p)$/.exec(rest)?.[0];
  if (half !== undefined) rest = rest.slice(0, -half.length).trim();
  const dateItems = rest.split(/[ /.-]/);
  const beforeLast = dateItems.at(-2);
  if (beforeLast?.includes(":")) dateItems.splice(-2, 2, `${beforeLast}.${dateItems.at(-1)}`);
  const timeItems = (dateItems.at(-1) ?? "").split(":");
  const hasTime = timeItems.length > 1 || half !== undefined;
  if (dateItems.length === 1) return timeOf(timeItems, half);
  if (!hasTime) return dayOf(dateItems);
  const day = dayOf(dateItems.slice(0, -1));
  const time = timeOf(timeItems, half);
  return day === undefined || time === undefined ? undefined : time + day;
}

function timeOf(items: readonly string[], half: string | undefined): number | undefined {
  if (items.length !== 2 && items.length !== 3) return undefined;
  const [hours, minutes, seconds] = [Number(items[0]), Number(items[1]), Number(items[2] ?? "0")];
  if (!Number.isInteger(hours) || !Number.isInteger(minutes) || !Number.isFinite(seconds)) return undefined;
  if (half !== undefined && (hours < 0 || hours > 12)) return undefined;
  const hour = half === undefined ? hours : (hours % 12) + (half.startsWith("p") ? 12 : 0);
  return ((Math.round(seconds * 1000) / 1000 / 60 + minutes) / 60 + hour) / 24;
}

function dayOf(items: readonly string[]): number | undefined {
  if (items.length !== 3) return undefined;
  const [typedYear, month, day] = [Number(items[0]), Number(items[1]), Number(items[2])];
  if (![typedYear, month, day].every(Number.isInteger)) return undefined;
  if (items[0] !== "" && (typedYear < 1000 || typedYear > 9999)) return undefined;
  const year = items[0] === "" ? 2000 : typedYear;
  if (year < 1582 || month < 1 || month > 12 || day < 1) return undefined;
  const longest = month === 2 && isLeap(year) ? 29 : (DAYS_IN[month - 1] ?? 0);
  return day > longest ? undefined : fromYearZero(year, month, day) - fromYearZero(1899, 12, 30);
}

function isLeap(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

function fromYearZero(year: number, month: number, day: number): number {
  const leaps = month <= 2 ? year - 1 : year;
  const leapDays = Math.floor(leaps / 4) - Math.floor(leaps / 100) + Math.floor(leaps / 400);
  return 365 * year + (DAYS_BEFORE[month - 1] ?? 0) + day - 1 + leapDays;
}
