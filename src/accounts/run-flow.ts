// How the pieces of a run came through, at standard cost: what was lost, done over again, left out or added, and what is still
// expected of the pieces on their way.
import type { MadeTier, RealPiece } from "./plan-records";
import { aheadOf, isOnWay, MADE_TIERS, type Standards } from "./plan-standards";

/** What a step saw. */
interface Seen {
  had: number;
  /** Pieces that had it, or were lost at it before it was done. */
  entered: number;
  /** Pieces that have come to it or beyond, of their own way. */
  came: number;
  lost: number;
  /** Standard cost, until then, of the pieces lost at it. */
  lostCost: number;
  /** The same, expected of pieces that are still on their way. */
  lostAhead: number;
  /** Standard cost of this step where a piece came through without it, less where it was no step of the piece's way. */
  leftOut: number;
}

export interface Flow {
  /** By id; those at which a piece was lost though the plan did not have them come last. */
  readonly steps: ReadonlyMap<string, Readonly<Seen>>;
  /** Finished pieces, and good ones to expect of those not finished yet. */
  readonly finished: Readonly<Record<MadeTier, number>>;
  readonly ahead: Readonly<Record<MadeTier, number>>;
  /** Planned cost of the work that pieces not finished yet have ahead of them. */
  readonly workAhead: number;
}

/** Goes through the pieces of a run once. */
export function flowOf({ steps }: Standards, pieces: readonly RealPiece[]): Flow {
  const seen = new Map(steps.map(({ id }): [string, Seen] => [id, unseen()]));
  const finished = { standard: 0, special: 0 };
  const ahead = { standard: 0, special: 0 };
  let workAhead = 0;
  for (const piece of pieces) {
    const had = new Set(piece.had);
    const reached = placeOf(steps, piece, had);
    const spent = spentOn(steps, seen, piece, had, reached);
    if (piece.state === "finished") finished[piece.tier] += 1;
    if (piece.state === "finished") leave(steps, seen, piece, had, reached, 1);
    if (piece.state === "lost") lose(seen, piece, spent);
    if (piece.state === "finished" || piece.state === "lost") continue;
    const still = aheadOf(steps, piece.tier, reached, spent);
    ahead[piece.tier] += still.yield;
    workAhead += still.work;
    leave(steps, seen, piece, had, reached, still.yield);
    for (const [id, cost] of still.lost) at(seen, id).lostAhead += cost;
  }
  return { steps: seen, finished, ahead, workAhead };
}

/** How far a piece has come, in the order of the plan. */
function placeOf(steps: Standards["steps"], piece: RealPiece, had: ReadonlySet<string>): number {
  if (piece.state === "finished") return Number.POSITIVE_INFINITY;
  const reached = steps.filter(({ id }) => had.has(id) || id === piece.lostAt).map(({ order }) => order);
  return Math.max(Number.NEGATIVE_INFINITY, ...reached);
}

/** Counts the steps of a piece; gives its standard cost so far, with the expected share of what is done as needed. */
function spentOn(
  steps: Standards["steps"],
  seen: Map<string, Seen>,
  piece: RealPiece,
  had: ReadonlySet<string>,
  reached: number,
): number {
  let spent = 0;
  for (const step of steps) {
    const held = at(seen, step.id);
    const isHad = had.has(step.id);
    if (isHad) held.had += 1;
    if (isHad || piece.lostAt === step.id) held.entered += 1;
    const hasCome = step.order <= reached && isOnWay(step, piece.tier);
    if (hasCome) held.came += 1;
    if (step.who === "as needed") spent += hasCome ? step.share * step.cost : 0;
    else if (isHad) spent += step.cost;
  }
  return spent;
}

/** A step as needed is planned by its share, so that only the others can be left out, or be one too many. */
function leave(
  steps: Standards["steps"],
  seen: Map<string, Seen>,
  { tier }: RealPiece,
  had: ReadonlySet<string>,
  reached: number,
  part: number,
): void {
  for (const step of steps) {
    if (step.who === "as needed" || step.order > reached) continue;
    const planned = isOnWay(step, tier) ? 1 : 0;
    at(seen, step.id).leftOut += part * (planned - (had.has(step.id) ? 1 : 0)) * step.cost;
  }
}

function lose(seen: Map<string, Seen>, { lostAt = "" }: RealPiece, spent: number): void {
  const held = at(seen, lostAt);
  held.lost += 1;
  held.lostCost += spent;
}

const unseen = (): Seen => ({ had: 0, entered: 0, came: 0, lost: 0, lostCost: 0, lostAhead: 0, leftOut: 0 });

/** What was counted of a step; one that the plan did not have begins with nothing. */
function at(seen: Map<string, Seen>, id: string): Seen {
  const held = seen.get(id) ?? unseen();
  seen.set(id, held);
  return held;
}

/** Pieces of a tier that are finished or expected to be. */
export const comesThrough = ({ finished, ahead }: Flow, tier: MadeTier) => finished[tier] + ahead[tier];

/** The same over both tiers, each times what an amount is for it. */
export const overTiers = (of: (tier: MadeTier) => number) => MADE_TIERS.reduce((sum, tier) => sum + of(tier), 0);
