// How many good pieces a run gives. Standard and special pieces are two streams: each piece is for one tier from the start,
// as the plan has it, and passes the steps that are for it. Both counts are binomial, so everything here is exact.
import { goodDistribution } from "../../ceramics/good-distribution";
import { fail, ok, type Problem, type Result } from "../../core/problem";

/** A run as planned: how many pieces of each tier are started and wanted, and the loss rates each tier meets. */
export interface TierRun {
  readonly tier: "standard" | "special";
  readonly starts: number;
  readonly wanted: number;
  readonly losses: readonly number[];
}

/** The chances of a count from `from` up. */
export interface Spread {
  readonly from: number;
  readonly chances: Float64Array;
}

const NEGLIGIBLE = 1e-18;

/** The spread of good pieces of one tier, its negligible ends cut off. */
export function spreadOf(run: Pick<TierRun, "starts" | "losses">): Result<Spread> {
  const terms = goodDistribution(run.starts, run.losses);
  if (!terms.ok) return terms;
  let [from, to] = [0, terms.value.length];
  while (from + 1 < to && (terms.value[from] ?? 0) < NEGLIGIBLE) from += 1;
  while (to - 1 > from && (terms.value[to - 1] ?? 0) < NEGLIGIBLE) to -= 1;
  return ok({ from, chances: terms.value.slice(from, to) });
}

/** The spread of the sum of independent counts. */
export function sumOfSpreads(spreads: readonly Spread[]): Spread {
  return spreads.reduce(
    (total, one) => {
      const chances = new Float64Array(total.chances.length + one.chances.length - 1);
      total.chances.forEach((a, at) => {
        one.chances.forEach((b, to) => {
          chances[at + to] = (chances[at + to] ?? 0) + a * b;
        });
      });
      return { from: total.from + one.from, chances };
    },
    { from: 0, chances: Float64Array.of(1) },
  );
}

/** What a spread of good pieces means for a wanted number. */
export interface Delivery {
  readonly expectedGood: number;
  /** Chance of at least as many as are wanted. */
  readonly chance: number;
  /** Pieces expected to be missing, and beyond what is wanted, on average over all outcomes. */
  readonly expectedShort: number;
  readonly expectedOver: number;
}

/** How well a spread delivers a wanted number. */
export function deliveryOf({ from, chances }: Spread, wanted: number): Delivery {
  let [expectedGood, chance, expectedShort, expectedOver] = [0, 0, 0, 0];
  chances.forEach((part, at) => {
    const good = from + at;
    expectedGood += part * good;
    if (good >= wanted) chance += part;
    expectedShort += part * Math.max(0, wanted - good);
    expectedOver += part * Math.max(0, good - wanted);
  });
  return { expectedGood, chance: Math.min(1, chance), expectedShort, expectedOver };
}

/** The smallest count with at least this chance of that many or fewer. */
export function quantileOf({ from, chances }: Spread, chance: number): number {
  let sum = 0;
  for (let at = 0; at < chances.length; at += 1) {
    sum += chances[at] ?? 0;
    if (sum >= chance - 1e-12) return from + at;
  }
  return from + chances.length - 1;
}

/** The spreads of all tiers, or what is wrong with their losses. */
export function spreadsOf(runs: readonly TierRun[]): Result<readonly Spread[]> {
  const spreads: Spread[] = [];
  const problems: Problem[] = [];
  for (const run of runs) {
    const spread = spreadOf(run);
    if (spread.ok) spreads.push(spread.value);
    else problems.push(...spread.problems);
  }
  return problems.length > 0 ? fail(...problems) : ok(spreads);
}
