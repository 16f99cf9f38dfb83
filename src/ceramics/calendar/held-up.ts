// What holds the calendar up: from the last task back to the first, each link the reason why the one after it did not
// begin earlier, and how the time from first to last splits over them.
import type { Schedule } from "./schedule";
import type { Slot } from "./task";

/** One link of the chain. */
export interface ChainLink {
  readonly slot: Slot;
  /** Minutes from the end of the link before it to its beginning that are rest, and those the studio was closed. */
  readonly restMinutes: number;
  readonly closedMinutes: number;
}

/** Something that takes time on the chain. */
export interface HoldUp {
  readonly kind: "kiln" | "work" | "rest" | "closed" | "date";
  /** The kiln, the step worked at, or the step after which pieces rest; blank for closed time. */
  readonly name: string;
  readonly minutes: number;
  /** Links it has on the chain. */
  readonly times: number;
}

/** Gives the chain of tasks that the last end hangs on, in the order of time. */
export function criticalChain({ slots }: Schedule): readonly ChainLink[] {
  const byId = new Map(slots.map((slot) => [slot.task.id, slot]));
  const chain: ChainLink[] = [];
  let slot: Slot | undefined = slots.reduce<Slot | undefined>(
    (last, one) => (last && last.end >= one.end ? last : one),
    undefined,
  );
  while (slot) {
    const { hold }: Slot = slot;
    const before: Slot | undefined = "task" in hold ? byId.get(hold.task) : undefined;
    // Hands are free as soon as the work is done; a kiln and a piece only when it has cooled.
    const freeAt = before && (hold.kind === "hands" ? before.workEnd : before.end);
    const rest = hold.kind === "task" ? hold.restMinutes : 0;
    const closedMinutes = freeAt === undefined ? 0 : Math.max(0, slot.start - freeAt - rest);
    chain.unshift({ slot, restMinutes: rest, closedMinutes });
    slot = before;
  }
  return chain;
}

/** Adds up what the chain is made of, the longest first; `from` is the minute at which the calendar begins. */
export function holdUps(chain: readonly ChainLink[], from: number): readonly HoldUp[] {
  const found = new Map<string, HoldUp>();
  const add = (kind: HoldUp["kind"], name: string, minutes: number) => {
    if (minutes <= 0) return;
    const key = `${kind} ${name}`;
    const held = found.get(key);
    found.set(key, { kind, name, minutes: (held?.minutes ?? 0) + minutes, times: (held?.times ?? 0) + 1 });
  };
  chain.forEach(({ slot, restMinutes, closedMinutes }, at) => {
    const { task } = slot;
    const next = chain[at + 1];
    const before = chain[at - 1];
    const goesOnAtWorkEnd = next?.slot.hold.kind === "hands";
    if (at === 0 && slot.hold.kind === "date") add("date", task.title, slot.start - from);
    else if (at === 0) add("closed", "", slot.start - from);
    add("closed", "", closedMinutes + (slot.workEnd - slot.start - task.workMinutes));
    add("rest", before?.slot.task.title ?? "", restMinutes);
    if (task.kiln !== undefined && !goesOnAtWorkEnd) add("kiln", task.kiln, task.workMinutes + task.kilnMinutes);
    else add("work", task.title, task.workMinutes);
  });
  return [...found.values()].sort((a, b) => b.minutes - a.minutes);
}
