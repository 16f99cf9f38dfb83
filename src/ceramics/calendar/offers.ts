// A firing's free room, offered to the other editions: to pieces that are ready for a firing of the same kind in the same
// kiln when it is loaded, and would otherwise wait for a later one. Shelf is shared by parts of a full load.
import { nameKey } from "../../core/same-name";
import { DAY_MINUTES } from "./days";
import { editionsOf } from "./one-calendar";
import type { LoadFacts, Slot } from "./task";

/** Room that a firing leaves, and who could use it. */
export interface Offer {
  /** The firing with room to spare. */
  readonly slot: Slot;
  readonly takers: readonly Taker[];
}

/** Pieces of another edition that could go along. */
interface Taker {
  readonly edition: string;
  /** Pieces of that edition there is room for. */
  readonly room: number;
  /** Pieces of it that are ready by then and wait for a later firing. */
  readonly waiting: number;
}

/** Offers of free room, in the order of the firings. */
export function offersOf(slots: readonly Slot[]): readonly Offer[] {
  const byId = new Map(slots.map((slot) => [slot.task.id, slot]));
  const firings = slots.filter(({ task }) => task.kiln !== undefined && task.load !== undefined);
  const readyAt = new Map(firings.map((slot) => [slot, readyFor(slot, byId)]));
  const byKiln = new Map<string, Slot[]>();
  for (const slot of firings) byKiln.set(slot.task.kiln ?? "", [...(byKiln.get(slot.task.kiln ?? "") ?? []), slot]);
  return firings.flatMap((slot): Offer[] => {
    const share = freeShare(slot);
    if (share <= 0) return [];
    const waiting = new Map<string, { room: number; waiting: number }>();
    for (const later of byKiln.get(slot.task.kiln ?? "") ?? []) {
      const { edition, load, pieces, step } = later.task;
      if (
        edition === undefined ||
        editionsOf(slot.task).includes(edition) ||
        step === "" ||
        !load ||
        later.start <= slot.start
      )
        continue;
      if ((readyAt.get(later) ?? 0) > slot.start || !isAlike(slot.task.load, load)) continue;
      const held = waiting.get(edition);
      const room = Math.floor(share * load.room + 1e-9);
      waiting.set(edition, { room: held?.room ?? room, waiting: (held?.waiting ?? 0) + pieces.length });
    }
    const takers = [...waiting].filter(([, { room }]) => room >= 1).map(([edition, of]) => ({ edition, ...of }));
    return takers.length === 0 ? [] : [{ slot, takers }];
  });
}

/** The part of a full load that is left. */
const freeShare = ({ task: { load, pieces } }: Slot): number =>
  load ? 1 - (load.filled ?? pieces.length) / load.room : 0;

/** When the pieces of a firing could go into a kiln. */
function readyFor({ task }: Slot, byId: ReadonlyMap<string, Slot>): number {
  return task.after.reduce(
    (ready, { task: before, restMinutes }) => Math.max(ready, (byId.get(before)?.end ?? 0) + restMinutes),
    task.notBefore ?? 0,
  );
}

/** As hot: much nearer than one cone is to the next, since a cone falls at somewhat other temperatures at other speeds. */
const AS_HOT_C = 5;

/** Whether two firings could be one: as hot where both are described, otherwise by the same programme. */
function isAlike(one: LoadFacts | undefined, other: LoadFacts): boolean {
  if (!one) return false;
  const same = (a: string, b: string) => a !== "" && nameKey(a) === nameKey(b);
  if (one.peak !== undefined && other.peak !== undefined) return Math.abs(one.peak - other.peak) <= AS_HOT_C;
  return same(one.programme, other.programme);
}

/** The day a firing is loaded. */
export const dayOfSlot = ({ start }: Slot): number => Math.floor(start / DAY_MINUTES);
