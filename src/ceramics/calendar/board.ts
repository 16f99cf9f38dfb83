// Who works when and which kiln is taken, as a calendar fills task by task.
import { DAY_MINUTES } from "./days";
import type { Hold, Slot, Task } from "./task";
import type { WorkTime } from "./work-time";

interface Busy {
  readonly from: number;
  readonly to: number;
  readonly task: string;
}

/** The calendar as it fills. Hands are kept in minutes worked, kilns in minutes of the clock. */
export class Board {
  private readonly slots = new Map<string, Slot>();
  private readonly hands: Busy[][];
  private readonly ovens = new Map<string, Busy[][]>();
  private readonly kilns: Readonly<Record<string, number>>;
  private readonly firstDay: number;
  private readonly time: WorkTime;

  /** `kilns` says how many there are of each; one where nothing is said. */
  constructor(kilns: Readonly<Record<string, number>>, people: number, firstDay: number, time: WorkTime) {
    this.kilns = kilns;
    this.firstDay = firstDay;
    this.time = time;
    this.hands = Array.from({ length: people }, () => []);
  }

  all(): Slot[] {
    return [...this.slots.values()];
  }

  /** Puts a task in at the earliest time there is. */
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
      heldBy = { kind: "kiln", task: kiln.task };
    }
  }

  private readyFor(task: Task): { readonly ready: number; readonly hold: Hold } {
    let ready = this.firstDay * DAY_MINUTES;
    let hold: Hold = { kind: "nothing" };
    if (task.notBefore !== undefined && task.notBefore > ready) {
      ready = task.notBefore;
      hold = { kind: "date" };
    }
    for (const { task: before, restMinutes } of task.after) {
      const end = (this.slots.get(before)?.end ?? 0) + restMinutes;
      if (end > ready) {
        ready = end;
        hold = { kind: "task", task: before, restMinutes };
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
      hold: gap.behind === undefined ? hold : { kind: "hands", task: gap.behind },
    };
  }

  private ovensOf(kiln: string): Busy[][] {
    let ovens = this.ovens.get(kiln);
    if (!ovens) {
      ovens = Array.from({ length: this.kilns[kiln] ?? 1 }, () => []);
      this.ovens.set(kiln, ovens);
    }
    return ovens;
  }

  /** Which oven is empty all that time, or when the first one in the way will be. */
  private freeKiln(task: Task, start: number, end: number) {
    if (task.kiln === undefined || !Number.isFinite(end)) return { oven: 0, busyUntil: undefined, task: "" };
    const inTheWay = this.ovensOf(task.kiln).map((busy) => {
      const next = busy[firstAfter(busy, start)];
      return next && next.from < end ? next : undefined;
    });
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

/** Puts a stretch in its place; those that touch become one, which ends with the later task. */
function insert(busy: Busy[], one: Busy): void {
  const at = firstAfter(busy, one.from);
  const [before, after] = [busy[at - 1], busy[at]];
  const from = before?.to === one.from ? before.from : one.from;
  const { to, task } = after?.from === one.to ? after : one;
  const first = from === one.from ? at : at - 1;
  busy.splice(first, at - first + (to === one.to ? 0 : 1), { from, to, task });
}
