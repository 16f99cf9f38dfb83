// When the studio works: minutes of the clock (from day 0, 00:00) against minutes worked since a first day.
// Work goes on where it stopped when the studio opens again, so on the scale of minutes worked every task is in one piece.
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { DAY_MINUTES, dayNumber, weekdayOf } from "./days";

/** When the studio is open. */
export interface StudioHours {
  /** Working hours of Monday to Sunday, 0 to 24. */
  readonly hours: readonly number[];
  /** Days off, ISO 8601. */
  readonly closed: readonly string[];
  /** Hands that work at once. */
  readonly people: number;
}

/** Work begins at nine, or as much earlier as long hours need. */
const OPENS_AT_HOUR = 9;
/** What takes longer than this is not planned. */
export const LONGEST_YEARS = 10;

/** The two scales of time. */
export interface WorkTime {
  /** Minutes worked before a minute of the clock. */
  readonly workedBefore: (minute: number) => number;
  /** The minute of the clock at which a minute of work begins; infinite beyond the last planned year. */
  readonly startOf: (worked: number) => number;
  /** The minute of the clock at which so many minutes have been worked. */
  readonly endOf: (worked: number) => number;
  /** Whether the studio works on a day at all. */
  readonly isOpen: (day: number) => boolean;
  /** First and last minute of work of a day, counted from its midnight. */
  readonly openMinutes: (day: number) => { readonly from: number; readonly to: number };
}

/** Minutes worked in a week without days off. */
export function weekMinutes({ hours }: StudioHours): number {
  return hours.reduce((total, each) => total + Math.round(each * 60), 0);
}

/** Problems of working hours, each with what is allowed. */
function hoursProblems({ hours, closed, people }: StudioHours): readonly Problem[] {
  const found: Problem[] = [];
  const where = "Working hours";
  if (hours.length !== 7 || hours.some((each) => !(each >= 0 && each <= 24)))
    found.push(
      problem({
        code: "calendar.hours",
        where,
        found: hours.join(", "),
        allowed: "0 to 24 hours for each of seven days",
      }),
    );
  else if (weekMinutes({ hours, closed, people }) === 0)
    found.push(
      problem({
        code: "calendar.no-hours",
        where,
        found: "no hours on any day of the week",
        allowed: "hours on one day or more",
        fix: "Without working hours nothing is ever ready.",
      }),
    );
  if (!(Number.isInteger(people) && people >= 1))
    found.push(problem({ code: "calendar.people", where: "People", found: people, allowed: "one or more" }));
  for (const day of closed)
    if (dayNumber(day) === undefined)
      found.push(problem({ code: "calendar.day", where: "Days off", found: day, allowed: "a day such as 2026-12-24" }));
  return found;
}

/** Makes the two scales from the first day on. */
export function workTime(studio: StudioHours, firstDay: number): Result<WorkTime> {
  const problems = hoursProblems(studio);
  if (problems.length > 0) return fail(...problems);
  const closed = new Set(studio.closed.map(dayNumber));
  const openMinutes = (day: number) => {
    const length = closed.has(day) ? 0 : Math.round((studio.hours[weekdayOf(day)] ?? 0) * 60);
    const from = Math.min(OPENS_AT_HOUR * 60, DAY_MINUTES - length);
    return { from, to: from + length };
  };
  const days = LONGEST_YEARS * 366;
  const sums = new Float64Array(days + 1);
  for (let at = 0; at < days; at += 1) {
    const { from, to } = openMinutes(firstDay + at);
    sums[at + 1] = (sums[at] ?? 0) + to - from;
  }
  const startOf = (worked: number) => {
    const at = dayHolding(sums, worked);
    if (at === undefined) return Number.POSITIVE_INFINITY;
    return (firstDay + at) * DAY_MINUTES + openMinutes(firstDay + at).from + worked - (sums[at] ?? 0);
  };
  return ok({
    workedBefore: (minute) => {
      const at = Math.floor(minute / DAY_MINUTES) - firstDay;
      if (at < 0) return 0;
      if (at >= days) return Number.POSITIVE_INFINITY;
      const { from, to } = openMinutes(firstDay + at);
      const into = minute - (firstDay + at) * DAY_MINUTES;
      return (sums[at] ?? 0) + Math.min(Math.max(0, into - from), to - from);
    },
    startOf,
    endOf: (worked) => (worked <= 0 ? startOf(0) : startOf(worked - 1) + 1),
    isOpen: (day) => openMinutes(day).to > openMinutes(day).from,
    openMinutes,
  });
}

/** The last day by whose beginning no more than so many minutes had been worked, of those that hold the minute. */
function dayHolding(sums: Float64Array, worked: number): number | undefined {
  let [low, high] = [0, sums.length - 1];
  if (!(worked < (sums[high] ?? 0))) return undefined;
  // Invariant: sums[low] <= worked < sums[high].
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((sums[middle] ?? 0) <= worked) low = middle;
    else high = middle;
  }
  return low;
}
