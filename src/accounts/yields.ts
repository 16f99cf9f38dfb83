// Yields of a route that has been run. First-pass, final and rolled yield answer different questions and are kept apart.
// How many to start, and how sure a rate is, belongs to the ceramics layer.
import { fail, ok, type Result } from "../core/problem";
import { need, needPart, needWhole } from "./checks";

/** What became of the pieces of an edition; those still in progress are left out, as nothing is known of them yet. */
export interface OutcomeCounts {
  /** Good with no refire, rescue or other rework. */
  readonly goodAtOnce: number;
  /** Good after a refire, rescue or other rework. */
  readonly goodAfterRescue: number;
  readonly seconds: number;
  readonly lost: number;
}

export interface EditionYields {
  /** Pieces whose outcome is known. */
  readonly decided: number;
  /** Good at once ÷ decided. */
  readonly firstPass: number;
  /** Good, rescued ones included ÷ decided. */
  readonly final: number;
  /** Good and seconds ÷ decided. */
  readonly saleable: number;
}

/** First-pass, final and saleable yield of the pieces whose outcome is known. */
export function editionYields(counts: OutcomeCounts): Result<EditionYields> {
  const { goodAtOnce, goodAfterRescue, seconds, lost } = counts;
  const decided = goodAtOnce + goodAfterRescue + seconds + lost;
  const problems = [
    ...needWhole("Good at once", goodAtOnce),
    ...needWhole("Good after rescue", goodAfterRescue),
    ...needWhole("Seconds", seconds),
    ...needWhole("Lost", lost),
    ...need(decided !== 0, "Pieces whose outcome is known", 0, "at least 1", { code: "yield.undecided" }),
  ];
  if (problems.length > 0) return fail(...problems);
  const good = goodAtOnce + goodAfterRescue;
  return ok({ decided, firstPass: goodAtOnce / decided, final: good / decided, saleable: (good + seconds) / decided });
}

/** Pieces that entered a step, and those of them that were lost or reworked there. */
export interface StepCounts {
  readonly step: string;
  readonly entered: number;
  readonly lost: number;
  readonly reworked: number;
}

/** The part of the pieces that come through one step with neither loss nor rework. */
export function stepFirstPassYield(counts: StepCounts): Result<number> {
  const { step, entered, lost, reworked } = counts;
  const problems = [
    ...needWhole(`${step}, entered`, entered, 1),
    ...needWhole(`${step}, lost`, lost),
    ...needWhole(`${step}, reworked`, reworked),
    ...need(
      lost + reworked <= entered,
      `${step}, lost and reworked`,
      lost + reworked,
      `at most the ${entered} entered`,
    ),
  ];
  return problems.length > 0 ? fail(...problems) : ok((entered - lost - reworked) / entered);
}

/** Rolled throughput yield, the product of the steps' first-pass yields: the chance of passing every step untouched. */
export function rolledYield(stepYields: readonly number[]): Result<number> {
  const problems = stepYields.flatMap((stepYield, at) => needPart(`Yield of step ${at + 1}`, stepYield));
  return problems.length > 0
    ? fail(...problems)
    : ok(stepYields.reduce((product, stepYield) => product * stepYield, 1));
}
