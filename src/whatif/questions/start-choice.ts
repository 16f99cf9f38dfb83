// How many to start when a piece too few and a piece too many both cost something. Every number of starts is weighed by
// what it is expected to leave; the losses are exact, and the cost of a run is what the plan says of it, whole loads and all.
import type { Result } from "../../core/problem";
import { ok } from "../../core/problem";
import { deliveryOf, spreadsOf, type TierRun } from "./good-count";

/** What a run is weighed by, in the edition's currency. */
export interface Stakes {
  /** What a delivered piece of each tier brings in, after tax, fees and packing. */
  readonly worth: Readonly<Record<TierRun["tier"], number>>;
  /** What each piece short costs beyond the sale that is not made. */
  readonly shortfall: number;
  /** What each good piece beyond those wanted costs, or less than nothing where it fetches something. */
  readonly surplus: number;
  /** Costs of the edition that do not depend on the starts. */
  readonly fixed: number;
}

/** A number of starts, split by tier, with what the plan says the run costs. */
export interface StartOption {
  readonly starts: number;
  readonly runs: readonly TierRun[];
  readonly cost: number;
}

export interface WeighedStarts {
  readonly starts: number;
  readonly cost: number;
  /** Expected profit: deliveries less cost, shortfall, surplus and fixed costs. */
  readonly profit: number;
  /** Chance that no tier is short. */
  readonly chance: number;
  readonly expectedGood: number;
  readonly expectedShort: number;
  readonly expectedOver: number;
}

/** What one number of starts is expected to leave. */
export function weigh({ starts, runs, cost }: StartOption, stakes: Stakes): Result<WeighedStarts> {
  const spreads = spreadsOf(runs);
  if (!spreads.ok) return spreads;
  const sums = { profit: -cost - stakes.fixed, chance: 1, expectedGood: 0, expectedShort: 0, expectedOver: 0 };
  runs.forEach((run, at) => {
    const spread = spreads.value[at];
    if (!spread) return;
    const of = deliveryOf(spread, run.wanted);
    sums.profit += (run.wanted - of.expectedShort) * stakes.worth[run.tier];
    sums.profit -= of.expectedShort * stakes.shortfall + of.expectedOver * stakes.surplus;
    sums.chance *= of.chance;
    sums.expectedGood += of.expectedGood;
    sums.expectedShort += of.expectedShort;
    sums.expectedOver += of.expectedOver;
  });
  return ok({ starts, cost, ...sums });
}

/** The number of starts with the highest expected profit; the fewest of equals. Options without a cost are left out. */
export function bestOf(weighed: readonly WeighedStarts[]): WeighedStarts | undefined {
  let best: WeighedStarts | undefined;
  for (const one of weighed)
    if (!Number.isNaN(one.profit) && (!best || one.profit > best.profit + 1e-9 * Math.max(1, Math.abs(best.profit))))
      best = one;
  return best;
}

/**
 * How sure to be of delivering, where one more is either needed (and its lack costs `tooFew`) or not (and it costs
 * `tooMany`): the critical ratio of the newsvendor, tooFew ÷ (tooFew + tooMany).
 */
export function sureEnough(tooFew: number, tooMany: number): number {
  return tooFew + tooMany > 0 ? Math.min(1, Math.max(0, tooFew / (tooFew + tooMany))) : Number.NaN;
}

/** Numbers of starts worth weighing: from those wanted to well beyond what the plan starts, at most `most` of them. */
export function startsToWeigh(wanted: number, planned: number, most: number): Float64Array {
  const low = Math.max(0, Math.floor(wanted));
  const high = Math.max(low + 8, Math.ceil(planned * 1.15 + 6));
  const stride = Math.max(1, Math.ceil((high - low) / (most - 1)));
  const count = Math.floor((high - low) / stride) + 1;
  return Float64Array.from({ length: count }, (_, at) => low + at * stride);
}
