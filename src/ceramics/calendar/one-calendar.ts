// One calendar for several editions: the same kilns, matched by name, the same hands, hours and days off. Editions are put
// in one after the other, in the order given: the first has the studio to itself, each next one takes the time that is
// left. What is planned for a day comes before all of them, by its day, since it is promised to nobody anew.
import { fail, ok, type Problem, type Result } from "../../core/problem";
import { nameKey } from "../../core/same-name";
import { DAY_MINUTES, dayNumber, isoDay } from "./days";
import { inputProblems } from "./ready";
import { type PlannedFiring, tasksAhead, type WorkAhead } from "./route-tasks";
import { schedule } from "./schedule";
import type { Slot, Task } from "./task";
import type { StudioHours } from "./work-time";

/** An edition's work ahead; days are ISO 8601. */
export interface CalendarEdition {
  readonly id: string;
  readonly title: string;
  readonly work: WorkAhead;
  /** The day before which none of its work begins. */
  readonly from: string;
  readonly due?: string;
}

/** Editions in the order in which they are put in, and the studio they share. */
export interface OneCalendarInput {
  readonly editions: readonly CalendarEdition[];
  readonly studio: StudioHours;
  readonly from: string;
}

/** When an edition is ready within the one calendar. */
export interface EditionReady {
  readonly id: string;
  /** The day on which its last task ends; undefined where nothing is left to do. */
  readonly finish: string | undefined;
  readonly due: string | undefined;
  /** Days between the end and the due date; negative where it is too late. */
  readonly slackDays: number | undefined;
}

/** The calendar of a studio, as plain data. */
export interface OneCalendar {
  /** In the order in which they begin. */
  readonly slots: readonly Slot[];
  readonly editions: readonly EditionReady[];
  readonly fromDay: number;
  /** Kilns as they are first written, in the order in which they are first fired. */
  readonly kilns: readonly string[];
  /** Days from the first to the last on which the studio is closed. */
  readonly closed: readonly number[];
}

/** Dated firings are put in before everything, by their day; day numbers are far below this. */
const DATED = 1_000_000;

/** Why an edition can't be put into a calendar; nothing where it can. */
export function calendarProblems({ work, from, due }: CalendarEdition): readonly Problem[] {
  return inputProblems({ ...work, from, ...(due === undefined ? {} : { due }) });
}

/** Lays the work of several editions on one studio, or says what makes it impossible. */
export function oneCalendar({ editions, studio, from }: OneCalendarInput): Result<OneCalendar> {
  const problems = editions.flatMap(calendarProblems);
  if (problems.length > 0) return fail(...problems);
  const fromDay = dayNumber(from) ?? 0;
  const kilns = new Map<string, string>();
  const tasks = withShared(editions.flatMap((edition, rank) => tasksOf(edition, rank, kilns)));
  const made = schedule({ tasks, studio, kilns: {}, firstDay: fromDay });
  if (!made.ok) return made;
  const { slots, time } = made.value;
  const ends = new Map<string, number>();
  for (const { task, end } of slots)
    for (const id of editionsOf(task)) ends.set(id, Math.max(end, ends.get(id) ?? fromDay * DAY_MINUTES + 1));
  const last = Math.max(fromDay, ...[...ends.values()].map(dayOfEnd));
  const days = Array.from({ length: last - fromDay + 3 }, (_, at) => fromDay + at);
  return ok({
    slots,
    editions: editions.map((one) => readyOf(one, ends.get(one.id))),
    fromDay,
    kilns: [...new Set(slots.flatMap(({ task }) => task.kiln ?? []))],
    closed: days.filter((day) => !time.isOpen(day)),
  });
}

/** What ends at midnight is ready on the day before. */
const dayOfEnd = (end: number) => Math.ceil(end / DAY_MINUTES) - 1;

function readyOf({ id, due }: CalendarEdition, end: number | undefined): EditionReady {
  const dueDay = due === undefined ? undefined : dayNumber(due);
  const finish = end === undefined ? undefined : dayOfEnd(end);
  return {
    ...{ id, due, finish: finish === undefined ? undefined : isoDay(finish) },
    slackDays: dueDay === undefined || finish === undefined ? undefined : dueDay - finish,
  };
}

/** Tasks of work that was put in already: what moves is tried with the same work in other orders. */
const KNOWN = new WeakMap<WorkAhead, readonly Task[]>();

function tasksFor(work: WorkAhead): readonly Task[] {
  const tasks = KNOWN.get(work) ?? tasksAhead(work);
  KNOWN.set(work, tasks);
  return tasks;
}

/** The tasks of an edition among those of others: under names of their own, in its turn, in kilns by their shared names. */
function tasksOf({ id, work, from }: CalendarEdition, rank: number, kilns: Map<string, string>): readonly Task[] {
  const notBefore = (dayNumber(from) ?? 0) * DAY_MINUTES;
  const dated = new Map(work.planned.flatMap((one) => datedTask(one)));
  const kilnOf = (name: string) => {
    const key = nameKey(name);
    const known = kilns.get(key) ?? name.trim();
    kilns.set(key, known);
    return known;
  };
  return tasksFor(work).map((task) => {
    const day = dated.get(task.id);
    return {
      ...task,
      id: taskId(id, task.id),
      edition: id,
      rank: day === undefined ? rank : day - DATED,
      after: task.after.map((one) => ({ ...one, task: taskId(id, one.task) })),
      ...(task.kiln === undefined ? {} : { kiln: kilnOf(task.kiln) }),
      ...(task.after.length === 0 ? { notBefore: Math.max(notBefore, task.notBefore ?? 0) } : {}),
    };
  });
}

const datedTask = ({ id, day }: PlannedFiring): readonly [string, number][] => {
  const number = day === undefined ? undefined : dayNumber(day);
  return number === undefined ? [] : [[`planned ${id}`, number]];
};

/** Editions with pieces in a task: whose it is first. */
export const editionsOf = ({ edition, guests = [] }: Task): readonly string[] => [
  ...(edition === undefined ? [] : [edition]),
  ...guests,
];

/** A load that several editions have pieces in is fired once, for all of them, when the last of its days has come. */
function withShared(tasks: readonly Task[]): readonly Task[] {
  const loads = new Map<string, Task>();
  const known = new Map<string, string>();
  for (const task of tasks) {
    if (task.shared === undefined) continue;
    const load = loads.get(task.shared);
    loads.set(task.shared, load ? together(load, task) : task);
    known.set(task.id, load?.id ?? task.id);
  }
  if (loads.size === 0) return tasks;
  return tasks
    .filter(({ id, shared }) => shared === undefined || loads.get(shared)?.id === id)
    .map(({ shared, ...task }) => ({
      ...((shared !== undefined && loads.get(shared)) || task),
      after: task.after.map((one) => ({ ...one, task: known.get(one.task) ?? one.task })),
    }));
}

function together(one: Task, other: Task): Task {
  const guests = [...(one.guests ?? []), ...editionsOf(other)].filter((id) => id !== one.edition);
  const filled = [one, other].map(({ load, pieces }) => load?.filled ?? pieces.length);
  return {
    ...one,
    guests,
    pieces: [...one.pieces, ...other.pieces],
    workMinutes: Math.max(one.workMinutes, other.workMinutes),
    kilnMinutes: Math.max(one.kilnMinutes, other.kilnMinutes),
    notBefore: Math.max(one.notBefore ?? 0, other.notBefore ?? 0),
    rank: Math.min(one.rank ?? 0, other.rank ?? 0),
    ...(one.load ? { load: { ...one.load, filled: Math.max(...filled) } } : {}),
  };
}

const taskId = (edition: string, task: string) => `${edition}\n${task}`;

/** What a task was called in its own edition. */
export const ownTaskId = ({ id, edition }: Task): string => (edition === undefined ? id : id.slice(edition.length + 1));

/** How another edition's end moves: days later where positive. */
export interface Move {
  readonly edition: string;
  readonly days: number;
  /** Whether it is late by that, and was not before. */
  readonly isNowLate: boolean;
  /** Whether it was late, and is no longer. */
  readonly isNowInTime: boolean;
}

/** What moves when one edition is put first, in the order of the calendar. */
export function movesWhenFirst(input: OneCalendarInput, now: OneCalendar, id: string): Result<readonly Move[]> {
  const first = input.editions.filter((one) => one.id === id);
  const others = input.editions.filter((one) => one.id !== id);
  const then = oneCalendar({ ...input, editions: [...first, ...others] });
  if (!then.ok) return then;
  const after = new Map(then.value.editions.map((one) => [one.id, one]));
  return ok(
    now.editions.flatMap((one): Move[] => {
      const other = after.get(one.id);
      if (one.finish === undefined || other?.finish === undefined) return [];
      const days = (dayNumber(other.finish) ?? 0) - (dayNumber(one.finish) ?? 0);
      const [wasLate, isLate] = [one, other].map(({ slackDays }) => slackDays !== undefined && slackDays < 0);
      const news = { isNowLate: isLate === true && !wasLate, isNowInTime: wasLate === true && !isLate };
      return days === 0 ? [] : [{ edition: one.id, days, ...news }];
    }),
  );
}
