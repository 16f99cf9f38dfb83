// The calendar in words: sentences, a table and what the picture shows.

import { DAY_MINUTES, dayNumber, isoDay, weekdayOf } from "../../ceramics/calendar/days";
import type { HoldUp } from "../../ceramics/calendar/held-up";
import type { Ready } from "../../ceramics/calendar/ready";
import type { Remedy, RemedyWay } from "../../ceramics/calendar/remedies";
import type { CalendarStep } from "../../ceramics/calendar/route-tasks";
import type { Slot, Task } from "../../ceramics/calendar/task";
import type { CalendarBar, CalendarPicture } from "../../charts/calendar-plots";
import { counted } from "../../core/counted";
import { dayName } from "../edition/day-name";
import { showNumber } from "../edition/format";

/** A minute of the clock as a day and an hour. */
export function timeName(minute: number, locale: string): string {
  const day = Math.floor(minute / DAY_MINUTES);
  const into = Math.floor(minute - day * DAY_MINUTES);
  const two = (part: number) => String(part).padStart(2, "0");
  return `${dayName(isoDay(day), locale, "short")} ${two(Math.floor(into / 60))}:${two(into % 60)}`;
}

/** “1 day”, “2 days”. */
export const days = (count: number) => counted(count, "day");

/** The answer in one sentence. */
export function headline({ slots, finish, due, slackDays }: Ready, locale: string): string {
  if (slots.length === 0) return "Nothing is left to be done.";
  const ready = dayName(finish, locale);
  if (due === undefined || slackDays === undefined) return `Ready on ${ready}.`;
  if (slackDays < 0) return `Too late by ${days(-slackDays)}: ready on ${ready}, due on ${dayName(due, locale)}.`;
  return slackDays === 0
    ? `Ready on ${ready}, the day it is due.`
    : `Ready on ${ready}, ${days(slackDays)} before it is due.`;
}

/** A length of time as days, or as hours where it is less than one. */
function howLong(minutes: number, locale: string): string {
  const [count, unit] = minutes < DAY_MINUTES ? [minutes / 60, "hour"] : [minutes / DAY_MINUTES, "day"];
  const text = showNumber(count, 0, 1, locale);
  return `${text} ${unit}${text === "1" ? "" : "s"}`;
}

/** What the time is made of along the tasks that the end hangs on, the largest part first. */
export function holdUpSentences(ready: Ready, locale: string): readonly string[] {
  const all = ready.holdUps.reduce((sum, { minutes }) => sum + minutes, 0);
  const shown = (minutes: number) => howLong(minutes, locale);
  const [most] = ready.holdUps.filter(({ kind }) => kind !== "closed");
  if (!most) return [];
  const what = most.kind === "kiln" ? `its ${counted(most.times, "firing")}` : holdUpWords(most);
  const takes = most.kind === "kiln" && most.times > 1 ? "take" : "takes";
  const lead = `${holdUpName(most)} holds it up most: ${what} ${takes} ${shown(most.minutes)} out of ${shown(all)}.`;
  const rest = ready.holdUps.filter((one) => one !== most);
  if (rest.length === 0) return [lead];
  return [lead, `The rest is ${rest.map((one) => `${holdUpWords(one)}, ${shown(one.minutes)}`).join("; ")}.`];
}

function holdUpName({ kind, name }: HoldUp): string {
  if (kind === "kiln") return name;
  return kind === "rest" ? "Drying and resting" : kind === "date" ? "The day of a planned firing" : name;
}

function holdUpWords({ kind, name, times }: HoldUp): string {
  switch (kind) {
    case "kiln":
      return `${counted(times, "firing")} in ${name}`;
    case "work":
      return `work at ${name}`;
    case "rest":
      return `rest after ${name}`;
    case "date":
      return `waiting for the day of ${name}`;
    case "closed":
      return "nights and days off";
  }
}

const WEEKDAYS = ["Mondays", "Tuesdays", "Wednesdays", "Thursdays", "Fridays", "Saturdays", "Sundays"];

/** A remedy in words. */
export function remedyWords(way: RemedyWay, locale: string): string {
  switch (way.kind) {
    case "day":
      return `work on ${WEEKDAYS[way.weekday]}, ${counted(way.hours, "hour", "hours", showNumber(way.hours, 0, 1, locale))}`;
    case "hours":
      return `work ${counted(way.more, "hour")} more on every working day`;
    case "days off":
      return way.days.length === 1
        ? `work on the day off, ${dayName(way.days[0] ?? "", locale, "short")}`
        : `work on the ${counted(way.days.length, "day")} off`;
    case "person":
      return "one more person working";
    case "kiln":
      return `a second kiln like ${way.kiln}`;
    case "fewer":
      return `deliver ${way.pieces} of the ${way.of} pieces then, those furthest along`;
    case "both":
      return way.ways.map((one) => remedyWords(one, locale)).join(", and ");
  }
}

/** What comes of a remedy. */
export function remedyOutcome(remedy: Remedy, locale: string): string {
  const gained = `${days(remedy.daysGained)} earlier`;
  if (remedy.way.kind === "fewer") return `ready on ${dayName(remedy.finish, locale, "short")}`;
  return `ready on ${dayName(remedy.finish, locale, "short")}, ${gained}${remedy.meetsDue ? "" : "; not enough alone"}`;
}

/** What a task is called: its step, and which load. */
export function taskName(task: Task, steps: readonly CalendarStep[]): string {
  if (task.step === "") return `Firing ${task.title}`;
  const [, load = "", firing] = /^\S+ (\d+)(?: of (\S+))?$/.exec(task.id) ?? [];
  const of = firing === undefined ? "" : ` for ${steps.find(({ id }) => id === firing)?.title ?? firing}`;
  return `${task.title}, load ${load}${of}`;
}

/** Why a task begins when it does. */
export function holdWords({ hold }: Slot, ready: Ready, steps: readonly CalendarStep[]): string {
  const named = (id: string) => {
    const slot = ready.slots.find(({ task }) => task.id === id);
    return slot ? taskName(slot.task, steps) : id;
  };
  switch (hold.kind) {
    case "task":
      return hold.restMinutes > 0 ? `rests after ${named(hold.task)}` : `waits for ${named(hold.task)}`;
    case "kiln":
      return `the kiln is in use for ${named(hold.task)}`;
    case "hands":
      return `everyone is busy with ${named(hold.task)}`;
    case "date":
      return "its day is set";
    case "nothing":
      return "";
  }
}

/** Shows so many days around today, the calendar and the due date. */
export function pictureOf(
  ready: Ready,
  steps: readonly CalendarStep[],
  today: string,
  locale: string,
): CalendarPicture {
  const first = Math.min(ready.fromDay, dayNumber(today) ?? ready.fromDay);
  const due = ready.due === undefined ? undefined : dayNumber(ready.due);
  const last = Math.max(dayNumber(ready.finish) ?? first, due ?? first) + 2;
  const all = daysFrom(first, last);
  const bars = barsOf(ready, steps);
  const kilns = [...new Set(ready.slots.flatMap(({ task }) => task.kiln ?? []))];
  const titles = steps.map(({ title }) => title).filter((title) => bars.some(({ lane }) => lane === title));
  return {
    lanes: [...kilns, ...titles],
    bars,
    first,
    last,
    closed: all.filter((day) => !ready.calendar.time.isOpen(day)),
    ticks: dayTicks(first, last, locale),
    today: dayNumber(today) ?? first,
    due,
  };
}

const daysFrom = (first: number, last: number) => Array.from({ length: last - first }, (_, at) => first + at);

/** Days that are named under a picture: all of a few, otherwise Mondays, never more than there is room for. */
export function dayTicks(first: number, last: number, locale: string): CalendarPicture["ticks"] {
  const every = Math.max(1, Math.ceil((last - first) / 70));
  const all = daysFrom(first, last);
  const mondays = all.filter((day) => weekdayOf(day) === 0).filter((_, at) => at % every === 0);
  const named = last - first <= 9 ? all : mondays;
  return named.map((day) => ({ day, label: dayName(isoDay(day), locale, "short").replace(/^\S+ /, "") }));
}

function barsOf(ready: Ready, steps: readonly CalendarStep[]): readonly CalendarBar[] {
  const chain = new Set(ready.chain);
  return ready.slots.flatMap((slot): CalendarBar[] => {
    const { task } = slot;
    const from = slot.start / DAY_MINUTES;
    const label = task.step === "" ? task.title : String(task.pieces.length);
    const holdsUp = chain.has(task.id);
    if (task.kiln !== undefined)
      return [{ lane: task.kiln, from, to: slot.end / DAY_MINUTES, kind: "firing", holdsUp, label }];
    const work: CalendarBar = { lane: task.title, from, to: slot.end / DAY_MINUTES, kind: "work", holdsUp, label };
    const rest = steps.find(({ id }) => id === task.step)?.restDays ?? 0;
    if (rest === 0) return [work];
    return [
      work,
      { lane: task.title, from: work.to, to: work.to + rest, kind: "rest", holdsUp: false, label: "rests" },
    ];
  });
}

/** A row of the table by step: loads, pieces, from when to when. */
export interface StepRow {
  readonly title: string;
  readonly loads: number;
  readonly pieces: number;
  readonly from: number;
  readonly to: number;
}

/** The calendar step by step, planned firings first. */
export function stepRows(ready: Ready): readonly StepRow[] {
  const rows = new Map<string, StepRow>();
  for (const { task, start, end } of ready.slots) {
    const title = task.step === "" ? "Planned firings" : task.title;
    const held = rows.get(title);
    rows.set(title, {
      title,
      loads: (held?.loads ?? 0) + 1,
      pieces: (held?.pieces ?? 0) + task.pieces.length,
      from: Math.min(held?.from ?? start, start),
      to: Math.max(held?.to ?? end, end),
    });
  }
  return [...rows.values()].sort((a, b) => a.from - b.from || a.to - b.to);
}
