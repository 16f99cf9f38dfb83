// A calendar by list scheduling, as planners call it: of all tasks that may begin, the one with the longest way still
// ahead of it is put in first, at the earliest time at which everything before it is done, a pair of hands is free and
// its kiln is empty. Nothing is moved afterwards. (Serial schedule generation; R. Kolisch, European Journal of
// Operational Research 90, 1996, 320–333.) Ties go by the order of the tasks, so the same tasks give the same calendar.
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { DAY_MINUTES } from "./days";
import { LONGEST_YEARS, type StudioHours, type WorkTime, weekMinutes, workTime } from "./work-time";

/** Something to be done. Minutes are whole. */
export interface Task {
  readonly id: string;
  /** The step it belongs to, and what it is called. */
  readonly step: string;
  readonly title: string;
  readonly pieces: readonly string[];
  /** Work of one person in working hours; for a firing, its loading and unloading. */
  readonly workMinutes: number;
  /** The kiln it needs from its beginning on, and how long it stays shut after the work, day and night. */
  readonly kiln?: string;
  readonly kilnMinutes: number;
  /** What must be done before, and how long that must rest then, day and night. */
  readonly after: readonly { readonly task: string; readonly restMinutes: number }[];
  /** Minute of the clock before which it must not begin. */
  readonly notBefore?: number;
}

/** Why a task did not begin earlier. */
type Hold =
  | { readonly by: "nothing" }
  | { readonly by: "date" }
  | { readonly by: "task"; readonly task: string; readonly restMinutes: number }
  | { readonly by: "kiln"; readonly task: string }
  | { readonly by: "hands"; readonly task: string };

/** A task in the calendar, in minutes of the clock. */
export interface Slot {
  readonly task: Task;
  readonly start: number;
  readonly workEnd: number;
  readonly end: number;
  /** Which pair of hands does it, from 0; undefined where it takes no work. */
  readonly person: number | undefined;
  /** Which of its kilns of one name, from 0. */
  readonly oven: number;
  readonly hold: Hold;
}

/** What the calendar is made from. */
export interface ScheduleInput {
  readonly tasks: readonly Task[];
  readonly studio: StudioHours;
  /** How many there are of each kiln; one where nothing is said. */
  readonly kilns: Readonly<Record<string, number>>;
  readonly firstDay: number;
}

export interface Schedule {
  /** In the order in which they begin. */
  readonly slots: readonly Slot[];
  readonly time: WorkTime;
}

/** Puts every task into the calendar; says what stands in the way where that is not possible. */
export function schedule(input: ScheduleInput): Result<Schedule> {
  const time = workTime(input.studio, input.firstDay);
  if (!time.ok) return time;
  const wrong = taskProblems(input.tasks);
  if (wrong.length > 0) return fail(...wrong);
  const order = inOrder(input.tasks, tails(input));
  if (!order.ok) return order;
  const board = new Board(input, time.value);
  for (const task of order.value) {
    const slot = board.put(task);
    if (!Number.isFinite(slot.end)) return fail(tooLong(task));
  }
  return ok({ slots: board.all().sort((a, b) => a.start - b.start || a.end - b.end), time: time.value });
}

function taskProblems(tasks: readonly Task[]): readonly Problem[] {
  const known = new Set(tasks.map(({ id }) => id));
  const lost = tasks.flatMap(({ title, after }) =>
    after.filter(({ task }) => !known.has(task)).map(({ task }) => ({ title, task })),
  );
  return lost.map(({ title, task }) =>
    problem({
      code: "calendar.unknown",
      where: title,
      found: task,
      allowed: "tasks of this calendar to come before it",
    }),
  );
}

function tooLong(task: Task): Problem {
  return problem({
    code: "calendar.long",
    where: task.title,
    found: `an end more than ${LONGEST_YEARS} years away`,
    allowed: "a calendar that ends sooner",
    fix: "Give more working hours, or fewer pieces.",
  });
}

/** For each task the minutes from its beginning to the end of everything behind it, work stretched over the week. */
function tails({ tasks, studio }: ScheduleInput): ReadonlyMap<string, number> {
  const stretch = (7 * DAY_MINUTES) / Math.max(1, weekMinutes(studio));
  const next = new Map<string, { readonly task: Task; readonly rest: number }[]>();
  for (const task of tasks)
    for (const { task: before, restMinutes } of task.after)
      next.set(before, [...(next.get(before) ?? []), { task, rest: restMinutes }]);
  const known = new Map<string, number>();
  const visit = (task: Task): number => {
    const held = known.get(task.id);
    if (held !== undefined) return held;
    // Said first, so that a circle ends here; the message comes where the order is made.
    known.set(task.id, 0);
    const behind = (next.get(task.id) ?? []).reduce((most, one) => Math.max(most, one.rest + visit(one.task)), 0);
    const tail = task.workMinutes * stretch + task.kilnMinutes + behind;
    known.set(task.id, tail);
    return tail;
  };
  for (const task of tasks) visit(task);
  return known;
}

/** The tasks as they are put in: always one whose predecessors are all in, the longest way ahead first. */
function inOrder(tasks: readonly Task[], tail: ReadonlyMap<string, number>): Result<readonly Task[]> {
  const ranked = tasks
    .map((task, at) => ({ task, at }))
    .sort((a, b) => (tail.get(b.task.id) ?? 0) - (tail.get(a.task.id) ?? 0) || a.at - b.at)
    .map(({ task }) => task);
  const done = new Set<string>();
  const order: Task[] = [];
  let left = ranked;
  while (left.length > 0) {
    const task = left.find((one) => one.after.every(({ task: before }) => done.has(before)));
    if (!task) return fail(circle(left));
    done.add(task.id);
    order.push(task);
    left = left.filter((one) => one !== task);
  }
  return ok(order);
}

function circle(tasks: readonly Task[]): Problem {
  const byId = new Map(tasks.map((task) => [task.id, task]));
  const walked: Task[] = [];
  let task = tasks[0];
  while (task && !walked.includes(task)) {
    walked.push(task);
    const before: Task["after"] = task.after;
    task = before.map((one) => byId.get(one.task)).find((one) => one !== undefined);
  }
  const ring = walked.slice(task ? walked.indexOf(task) : 0).reverse();
  return problem({
    code: "calendar.circle",
    where: "The route",
    found: [...ring, ...ring.slice(0, 1)].map(({ title }) => title).join(" → "),
    allowed: "steps of which none waits for itself",
    fix: "Put the steps in the order in which they are done.",
  });
}

interface Busy {
  readonly from: number;
  readonly to: number;
  readonly task: string;
}

/** The calendar as it fills. Hands are kept in minutes worked, kilns in minutes of the clock. */
class Board {
  private readonly slots = new Map<string, Slot>();
  private readonly hands: Busy[][];
  private readonly kilns = new Map<string, Busy[][]>();
  private readonly input: ScheduleInput;
  private readonly time: WorkTime;

  constructor(input: ScheduleInput, time: WorkTime) {
    this.input = input;
    this.time = time;
    this.hands = Array.from({ length: input.studio.people }, () => []);
  }

  all(): Slot[] {
    return [...this.slots.values()];
  }

  put(task: Task): Slot {
    const { ready, hold } = this.readyFor(task);
    let from = ready;
    let heldBy = hold;
    for (;;) {
      const found = this.place(task, from, heldBy);
      const kiln = this.freeKiln(task, found.start, found.end);
      if (kiln.busyUntil === undefined) {
        const slot: Slot = { task, ...found, oven: kiln.oven };
        this.keep(slot);
        return slot;
      }
      from = kiln.busyUntil;
      heldBy = { by: "kiln", task: kiln.task };
    }
  }

  private readyFor(task: Task): { readonly ready: number; readonly hold: Hold } {
    let ready = this.input.firstDay * DAY_MINUTES;
    let hold: Hold = { by: "nothing" };
    if (task.notBefore !== undefined && task.notBefore > ready) {
      ready = task.notBefore;
      hold = { by: "date" };
    }
    for (const { task: before, restMinutes } of task.after) {
      const end = (this.slots.get(before)?.end ?? 0) + restMinutes;
      if (end > ready) {
        ready = end;
        hold = { by: "task", task: before, restMinutes };
      }
    }
    return { ready, hold };
  }

  /** The earliest time for the work, with no regard to kilns. */
  private place(task: Task, from: number, hold: Hold): Omit<Slot, "task" | "oven"> {
    const worked = this.time.workedBefore(from);
    if (task.workMinutes === 0) {
      const start = this.time.startOf(worked);
      return { start, workEnd: start, end: start + task.kilnMinutes, person: undefined, hold };
    }
    const gaps = this.hands.map((busy) => firstGap(busy, worked, task.workMinutes));
    const person = gaps.reduce((best, gap, at) => (gap.at < (gaps[best]?.at ?? 0) ? at : best), 0);
    const gap = gaps[person] ?? { at: worked, behind: undefined };
    const workEnd = this.time.endOf(gap.at + task.workMinutes);
    return {
      start: this.time.startOf(gap.at),
      workEnd,
      end: workEnd + task.kilnMinutes,
      person,
      hold: gap.behind === undefined ? hold : { by: "hands", task: gap.behind },
    };
  }

  private ovensOf(kiln: string): Busy[][] {
    let ovens = this.kilns.get(kiln);
    if (!ovens) {
      ovens = Array.from({ length: this.input.kilns[kiln] ?? 1 }, () => []);
      this.kilns.set(kiln, ovens);
    }
    return ovens;
  }

  /** Which oven is empty all that time, or when the first one in the way will be. */
  private freeKiln(task: Task, start: number, end: number) {
    if (task.kiln === undefined || !Number.isFinite(end)) return { oven: 0, busyUntil: undefined, task: "" };
    const inTheWay = this.ovensOf(task.kiln).map((busy) => busy.find((one) => one.from < end && one.to > start));
    const oven = inTheWay.indexOf(undefined);
    if (oven >= 0) return { oven, busyUntil: undefined, task: "" };
    const first = inTheWay.reduce((a, b) => ((b?.to ?? 0) < (a?.to ?? 0) ? b : a));
    return { oven: 0, busyUntil: first?.to ?? end, task: first?.task ?? "" };
  }

  private keep(slot: Slot): void {
    const { task, start, end, person, oven } = slot;
    this.slots.set(task.id, slot);
    if (person !== undefined) {
      const from = this.time.workedBefore(start);
      insert(this.hands[person] ?? [], { from, to: from + task.workMinutes, task: task.id });
    }
    if (task.kiln !== undefined && end > start)
      insert(this.ovensOf(task.kiln)[oven] ?? [], { from: start, to: end, task: task.id });
  }
}

/** The first free stretch of so many minutes from a minute on, and the task that ends where it begins, if it had to wait. */
function firstGap(busy: readonly Busy[], from: number, length: number) {
  let [at, behind]: [number, string | undefined] = [from, undefined];
  for (let index = firstAfter(busy, from); index < busy.length; index += 1) {
    const one = busy[index];
    if (!one || one.from >= at + length) break;
    at = one.to;
    behind = one.task;
  }
  return { at, behind };
}

/** The index of the first stretch that ends after a minute; stretches stand in order and apart. */
function firstAfter(busy: readonly Busy[], from: number): number {
  let [low, high] = [0, busy.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((busy[middle]?.to ?? 0) > from) high = middle;
    else low = middle + 1;
  }
  return low;
}

function insert(busy: Busy[], one: Busy): void {
  busy.splice(firstAfter(busy, one.from), 0, one);
}
