// Edits of the studio's calendar: each is one step of the one undo stack.
import { dayNumber, isoDay } from "../../ceramics/calendar/days";
import { editMeta } from "../../core/document/edits";
import { type Problem, problem } from "../../core/problem";
import type { Session } from "../edition/session";
import { type StudioCalendar, USUAL_CALENDAR } from "./calendar";

function change(
  session: Session,
  is: Partial<StudioCalendar>,
  label: string,
  problems: readonly Problem[] = [],
): boolean {
  if (problems.length > 0) {
    session.refuse(problems);
    return false;
  }
  const { due, from, ...rest } = { ...(session.book.value.meta.calendar ?? USUAL_CALENDAR), ...is };
  // A day that was taken away leaves no trace.
  const calendar = { ...rest, ...(due ? { due } : {}), ...(from ? { from } : {}) };
  if (JSON.stringify(calendar) === JSON.stringify(session.book.value.meta.calendar)) return true;
  session.commit(editMeta(session.book.value, { calendar }, label));
  return true;
}

function dayProblems(where: string, iso: string): readonly Problem[] {
  return iso === "" || dayNumber(iso) !== undefined
    ? []
    : [problem({ code: "calendar.day", where, found: iso, allowed: "a day such as 2026-12-24" })];
}

/** Sets the due date; blank takes it away. */
export function setDue(session: Session, iso: string): boolean {
  return change(session, { due: iso }, iso === "" ? "No due date" : `Due ${iso}`, dayProblems("Due", iso));
}

/** Sets the day before which no work begins; blank is today. */
export function setStart(session: Session, iso: string): boolean {
  return change(session, { from: iso }, iso === "" ? "Begin today" : `Begin ${iso}`, dayProblems("Begin", iso));
}

const DAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"] as const;

/** Sets the working hours of a day of the week, Monday being 0. */
export function setHours(session: Session, weekday: number, hours: number): boolean {
  const name = DAYS[weekday] ?? "";
  const isBad = !(hours >= 0 && hours <= 24);
  const wrong = problem({ code: "calendar.hours", where: name, found: hours, allowed: "0 to 24 hours" });
  const now = session.book.value.meta.calendar ?? USUAL_CALENDAR;
  return change(session, { hours: now.hours.with(weekday, hours) }, `${name}: ${hours} h`, isBad ? [wrong] : []);
}

/** Sets how many people work at once. */
export function setPeople(session: Session, people: number): boolean {
  const isBad = !(Number.isInteger(people) && people >= 1 && people <= 100);
  const wrong = problem({ code: "calendar.people", where: "People", found: people, allowed: "1 to 100, whole" });
  return change(session, { people }, `${people} at work`, isBad ? [wrong] : []);
}

/** Adds days off, first to last; without a last day it is one. */
export function addDaysOff(session: Session, first: string, last: string): boolean {
  const [from, to] = [dayNumber(first), dayNumber(last === "" ? first : last)];
  const now = session.book.value.meta.calendar ?? USUAL_CALENDAR;
  if (from === undefined || to === undefined || to < from || to - from > 366)
    return change(session, {}, "", [
      problem({
        code: "calendar.closed",
        where: "Days off",
        found: last === "" ? first : `${first} to ${last}`,
        allowed: "a day, or a first and a last day within a year",
      }),
    ]);
  const days = Array.from({ length: to - from + 1 }, (_, at) => isoDay(from + at));
  const closed = [...new Set([...now.closed, ...days])].sort();
  return change(session, { closed }, days.length === 1 ? `Day off ${first}` : `Days off ${first} to ${last}`);
}

/** Takes days off back. */
export function removeDaysOff(session: Session, days: readonly string[]): boolean {
  const now = session.book.value.meta.calendar ?? USUAL_CALENDAR;
  const closed = now.closed.filter((day) => !days.includes(day));
  return change(session, { closed }, `Open again ${days.join(", ")}`);
}
