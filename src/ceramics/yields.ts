// From loss rates to the number of pieces to start.
import { fail, ok, type Problem, problem, type Result, wholeText } from "../core/problem";
import { checked, mostPieces, part, partAboveZero, partBelowOne, partInside, present, whole } from "./checks";
import { binomialAtLeast, binomialSplit, reaches, smallestWhole } from "./counting";
import { normalQuantile } from "./normal";

/** The fraction of pieces that comes through a chain of loss rates, Π(1 − loss); each loss is from 0 to below 1, and no losses give 1. */
export function yieldChain(losses: readonly number[]): Result<number> {
  return checked(
    losses.map((loss, at) => partBelowOne(`loss ${at + 1} of the list`, loss)),
    () => losses.reduce((kept, loss) => kept * (1 - loss), 1),
    "yield",
  );
}

/** The fewest pieces to start so that at least `good` come good with this confidence: the smallest n with P(Bin(n, yield) ≥ good) ≥ confidence; an exact tie counts as reached. */
export function startsNeeded(good: number, yieldFraction: number, confidence: number): Result<number> {
  const problems = present([
    whole("good", good),
    partAboveZero("yield", yieldFraction),
    partInside("confidence", confidence),
  ]);
  if (problems.length > 0) return fail(...problems);
  if (good === 0) return ok(0);
  const guess = guessStarts(good, yieldFraction, confidence);
  const starts = smallestWhole(good, mostPieces, guess, (count) =>
    reaches(binomialSplit(good, count, yieldFraction), confidence),
  );
  return starts === undefined ? fail(tooManyStarts(`${good} good at a yield of ${yieldFraction}`)) : ok(starts);
}

/** The chance that at least `good` of `starts` pieces come good at this yield (0 to 1). */
export function chanceOf(good: number, starts: number, yieldFraction: number): Result<number> {
  return checked(
    [whole("good", good), whole("starts", starts), part("yield", yieldFraction)],
    () => binomialAtLeast(good, starts, yieldFraction),
    "chance",
  );
}

/** Wanted ÷ yield, rounded up: the usual guess, shown beside the right answer with the chance it really gives. */
export function wantedOverYield(good: number, yieldFraction: number): Result<number> {
  const problems = present([whole("good", good), partAboveZero("yield", yieldFraction)]);
  if (problems.length > 0) return fail(...problems);
  const quotient = good / yieldFraction;
  // 21 ÷ 0.7 is 30.000000000000004 in binary: a whole number of pieces is not rounded up to the next.
  const nearest = Math.round(quotient);
  const starts = Math.abs(quotient - nearest) <= quotient * 1e-12 ? nearest : Math.ceil(quotient);
  return starts <= mostPieces ? ok(starts) : fail(tooManyStarts(`${good} good at a yield of ${yieldFraction}`));
}

/** Nothing the largest edition could deliver; `found` says what was asked for. */
export function tooManyStarts(found: string): Problem {
  return problem({
    code: "starts.too-many",
    where: "starts",
    found,
    allowed: `an edition that takes at most ${wholeText(mostPieces)} starts`,
    fix: "Check the losses: almost nothing comes through.",
  });
}

/** The normal approximation with a half-piece correction, solved for n: only where the search begins. */
function guessStarts(good: number, yieldFraction: number, confidence: number): number {
  const spread = normalQuantile(confidence) * Math.sqrt(1 - yieldFraction);
  const root = (spread + Math.sqrt(spread * spread + 4 * (good - 0.5))) / 2;
  return (root * root) / yieldFraction;
}
