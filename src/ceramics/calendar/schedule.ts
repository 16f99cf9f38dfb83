// A calendar by list scheduling, as planners call it: of all tasks that may begin, the one of the lowest rank and then the
// one with the longest way still ahead of it is put in first, at the earliest time at which everything before it is done,
// a pair of hands is free and its kiln is empty. Nothing is moved afterwards. (Serial schedule generation; R. Kolisch, European Journal of
// Operational Research 90, 1996, 320–333.) Ties go by the order of the tasks, so the same tasks give the same calendar.
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { Board } from "./board";
import { DAY_MINUTES } from "./days";
import { LeastFirst } from "./least-first";
import type { Slot, Task } from "./task";
import { LONGEST_YEARS, type StudioHours, type WorkTime, weekMinutes, workTime } from "./work-time";

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
  const board = new Board(input.kilns, input.studio.people, input.firstDay, time.value);
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
      allowed: "steps of this calendar that come before it",
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
    for (const { task: before, restMinutes } of task.after) {
      const behind = next.get(before);
      if (behind) behind.push({ task, rest: restMinutes });
      else next.set(before, [{ task, rest: restMinutes }]);
    }
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

/** The tasks as they are put in: always one whose predecessors are all in, the lowest rank and the longest way first. */
function inOrder(tasks: readonly Task[], tail: ReadonlyMap<string, number>): Result<readonly Task[]> {
  const ranked = tasks
    .map((task, at) => ({ task, at }))
    .sort(
      (a, b) =>
        (a.task.rank ?? 0) - (b.task.rank ?? 0) ||
        (tail.get(b.task.id) ?? 0) - (tail.get(a.task.id) ?? 0) ||
        a.at - b.at,
    )
    .map(({ task }) => task);
  const behind = new Map<string, number[]>();
  const waitsFor = ranked.map(({ after }, at) => {
    for (const { task } of after) {
      const known = behind.get(task);
      if (known) known.push(at);
      else behind.set(task, [at]);
    }
    return after.length;
  });
  const free = new LeastFirst();
  for (const [at, count] of waitsFor.entries()) if (count === 0) free.add(at);
  const order: Task[] = [];
  for (let at = free.take(); at !== undefined; at = free.take()) {
    const task = ranked[at] as Task;
    order.push(task);
    for (const next of behind.get(task.id) ?? []) {
      waitsFor[next] = (waitsFor[next] ?? 0) - 1;
      if (waitsFor[next] === 0) free.add(next);
    }
  }
  if (order.length === tasks.length) return ok(order);
  const put = new Set(order);
  return fail(circle(ranked.filter((task) => !put.has(task))));
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
    allowed: "steps that do not wait for each other in a circle",
    fix: "Put the steps in the order in which they are done.",
  });
}
