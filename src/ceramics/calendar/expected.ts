// What the plan expects of the pieces ahead, in whole pieces: those that will be lost on the way, and those that will need
// a step which only some pieces have. Expectations add up from step to step, and a piece goes once they have come to a
// whole one, to the nearest; those furthest behind are taken, so that no load waits for another one's losses.
import type { CalendarPiece } from "./route-tasks";

/** What the plan says of a step, in the order of the route. */
export interface PlannedRate {
  readonly id: string;
  /** Share of the pieces entering that are lost there. */
  readonly loss: number;
  /** Of a step that only some need: the share of the pieces coming this far; undefined of any other step. */
  readonly needed?: number;
}

/** Whole pieces at a step. */
export interface ExpectedCount {
  readonly step: string;
  readonly pieces: number;
}

/** The pieces as the plan expects them to go on. */
export interface Expected {
  readonly pieces: readonly CalendarPiece[];
  readonly lost: readonly ExpectedCount[];
  readonly again: readonly ExpectedCount[];
}

interface Going {
  readonly piece: CalendarPiece;
  readonly ahead: string[];
  isLost: boolean;
}

/** Lets planned losses and steps as needed happen to pieces, in whole pieces. */
export function expectedOf(rates: readonly PlannedRate[], pieces: readonly CalendarPiece[]): Expected {
  const going = inOrder(rates, pieces).map((piece): Going => ({ piece, ahead: [], isLost: false }));
  const [lost, again]: [ExpectedCount[], ExpectedCount[]] = [[], []];
  let [awaited, gone] = [0, 0];
  for (const [at, { id, loss, needed }] of rates.entries()) {
    const here = going.filter(({ piece, isLost }) => !isLost && (piece.behind ?? 0) <= at);
    const entering =
      needed === undefined ? here.filter(({ piece }) => piece.ahead.includes(id)) : lastOf(here, here.length * needed);
    for (const one of entering) one.ahead.push(id);
    if (needed !== undefined && entering.length > 0) again.push({ step: id, pieces: entering.length });
    // What is planned into a firing has that step behind it, and may still be lost in it.
    const fired = going.filter(({ piece }) => piece.planned !== undefined && piece.behind === at + 1);
    awaited += loss * (fired.length + (needed === undefined ? entering.length : here.length * needed));
    const losing = lastOf([...fired, ...entering], awaited - gone);
    for (const one of losing) one.isLost = true;
    gone += losing.length;
    if (losing.length > 0) lost.push({ step: id, pieces: losing.length });
  }
  return { pieces: going.map(({ piece, ahead }) => ({ ...piece, ahead })), lost, again };
}

/** Those furthest along first, as loads are filled. */
function inOrder(rates: readonly PlannedRate[], pieces: readonly CalendarPiece[]): readonly CalendarPiece[] {
  const indices = new Map(rates.map(({ id }, at) => [id, at]));
  const progress = ({ ahead }: CalendarPiece) => indices.get(ahead[0] ?? "") ?? rates.length;
  return [...pieces].sort((a, b) => progress(b) - progress(a) || b.ahead.length - a.ahead.length);
}

/** The last so many, to the nearest whole number; halves up, but for what binary fractions leave below them. */
function lastOf<T>(all: readonly T[], count: number): readonly T[] {
  return all.slice(Math.max(0, all.length - Math.floor(Math.max(0, count) + 0.5 + 1e-9)));
}
