// Starts when the yield is itself known only from counted pieces. With a Beta prior the count of good pieces among n starts
// is beta-binomial; fewer pieces seen means more starts. Jeffreys' prior adds half a piece to each side, the uniform prior one.
import { fail, ok, type Problem, problem, type Result, wholeText } from "../core/problem";
import { mostPieces, partInside, present, whole } from "./checks";
import { reaches, type SplitChance, smallestWhole, splitChance } from "./counting";
import { normalQuantile } from "./normal";

/** What is believed of the yield before any piece is seen. */
export type YieldPrior = "Jeffreys" | "uniform";

// Each look takes time in proportion to the starts, for the tails are long: fewer are searched than for a known yield.
export const mostSearched = 1_000_000;

/** The fewest pieces to start so that at least `good` come good with this confidence, when `seenGood` of `seenTotal` earlier pieces did. */
export function startsUnderUncertainYield(
  good: number,
  seenGood: number,
  seenTotal: number,
  confidence: number,
  prior: YieldPrior = "Jeffreys",
): Result<number> {
  const problems = present([
    whole("good", good, 0, mostSearched),
    ...seenProblems(seenGood, seenTotal, prior),
    partInside("confidence", confidence),
  ]);
  if (problems.length > 0) return fail(...problems);
  if (good === 0) return ok(0);
  const belief = beliefAfter(seenGood, seenTotal, prior);
  const starts = smallestWhole(good, mostSearched, guessStarts(good, belief, confidence), (count) =>
    reaches(betaBinomialSplit(good, count, belief), confidence),
  );
  return starts === undefined ? fail(tooLittleSeen(good, seenGood, seenTotal)) : ok(starts);
}

/** Pieces seen good and lost, with what the prior adds to each. */
export interface Belief {
  readonly good: number;
  readonly lost: number;
}

/** What counted pieces say of a yield. */
export function beliefAfter(seenGood: number, seenTotal: number, prior: YieldPrior): Belief {
  const added = prior === "uniform" ? 1 : 0.5;
  return { good: seenGood + added, lost: seenTotal - seenGood + added };
}

/** Chance that at least `good` of `starts` come good under a belief, with its opposite. */
export function betaBinomialSplit(good: number, starts: number, belief: Belief): SplitChance {
  if (good <= 0) return { below: 0, atLeast: 1 };
  if (good > starts) return { below: 1, atLeast: 0 };
  const start = Math.min(starts, Math.floor((starts * belief.good) / (belief.good + belief.lost)));
  return splitChance(
    starts,
    good,
    start,
    (k) => ((starts - k + 1) / k) * ((k - 1 + belief.good) / (starts - k + belief.lost)),
  );
}

/** Wanted over a cautious yield: only where the search begins. */
function guessStarts(good: number, belief: Belief, confidence: number): number {
  const seen = belief.good + belief.lost;
  const mean = belief.good / seen;
  const spread = Math.sqrt((mean * (1 - mean)) / (seen + 1) + (mean * (1 - mean)) / (good / mean));
  const cautious = mean - normalQuantile(confidence) * spread;
  return good / Math.min(1, Math.max(cautious, mean / 10));
}

/** What is wrong with counts of pieces seen. */
export function seenProblems(seenGood: number, seenTotal: number, prior: YieldPrior): readonly (Problem | undefined)[] {
  const total = whole("pieces seen", seenTotal);
  return [total, whole("good ones seen", seenGood, 0, total ? mostPieces : seenTotal), priorProblem(prior)];
}

function priorProblem(prior: string): Problem | undefined {
  if (prior === "Jeffreys" || prior === "uniform") return undefined;
  return problem({ code: "prior.unknown", where: "prior", found: prior, allowed: "“Jeffreys” or “uniform”" });
}

function tooLittleSeen(good: number, seenGood: number, seenTotal: number): Problem {
  return problem({
    code: "starts.too-many",
    where: "starts",
    found: `${good} good wanted, when ${seenGood} of ${seenTotal} were good`,
    allowed: `an edition that takes at most ${wholeText(mostSearched)} starts`,
    fix: "Fire more test pieces, or ask for less confidence.",
  });
}
