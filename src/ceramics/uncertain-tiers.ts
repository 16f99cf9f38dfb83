// Starts for two tiers when both yields are known only from counted pieces. Pieces of both tiers pass the steps for all, whose
// yield nobody knows for sure: many good special pieces speak for many good standard ones, so the tiers are not independent.
import { fail, ok, type Problem, type Result } from "../core/problem";
import { partInside, present, whole } from "./checks";
import { reaches, type SplitChance, smallestWhole } from "./counting";
import { bestSplit, type TierPlan } from "./tiers";
import {
  type Belief,
  beliefAfter,
  betaBinomialSplit,
  mostSearched,
  seenProblems,
  startsUnderUncertainYield,
} from "./uncertain-yield";

/** Good pieces wanted of each tier, and what was counted: through the steps for all, and through those for special pieces. */
export interface SeenTiers extends Pick<TierPlan, "standard" | "special"> {
  readonly seenGood: number;
  readonly seen: number;
  /** 0 of 0 where special pieces have no steps of their own. */
  readonly specialSeenGood: number;
  readonly specialSeen: number;
}

/** The fewest pieces to start so that both tiers are delivered together with this confidence; Jeffreys' prior for each yield. */
export function startsForTiersUnsure(tiers: SeenTiers, confidence: number): Result<number> {
  const problems = [...tierProblems(tiers), ...present([partInside("confidence", confidence)])];
  if (problems.length > 0) return fail(...problems);
  const { standard, special, seenGood, seen } = tiers;
  if (special === 0) return startsUnderUncertainYield(standard, seenGood, seen, confidence);
  const alone = startsUnderUncertainYield(standard + special, seenGood, seen, confidence);
  if (!alone.ok) return alone;
  const starts = smallestWhole(standard + special, mostSearched, alone.value + 1, (count) => {
    const chance = (specialStarts: number) => jointSplit(tiers, count, specialStarts);
    return reaches(chance(bestSplit(tiers, count, special / yieldSeen(tiers), chance)), confidence);
  });
  return starts === undefined ? alone : ok(starts);
}

/** The chance that both tiers are delivered (0 to 1), when that many of the starts are for special pieces. */
export function chanceOfTiersUnsure(starts: number, specialStarts: number, tiers: SeenTiers): Result<number> {
  const problems = [
    ...present([
      whole("starts", starts, 0, mostSearched),
      whole("starts for special pieces", specialStarts, 0, starts),
    ]),
    ...tierProblems(tiers),
  ];
  return problems.length > 0 ? fail(...problems) : ok(jointSplit(tiers, starts, specialStarts).atLeast);
}

const yieldSeen = ({ specialSeenGood, specialSeen }: SeenTiers) =>
  specialSeen === 0 ? 1 : (specialSeenGood + 0.5) / (specialSeen + 1);

const NEGLIGIBLE = 1e-18;

/** Over every number of special pieces that may come through the steps for all: what it says of both tiers after that. */
function jointSplit(tiers: SeenTiers, starts: number, specialStarts: number): SplitChance {
  const { standard, special, seenGood, seen, specialSeenGood, specialSeen } = tiers;
  const belief = beliefAfter(seenGood, seen, "Jeffreys");
  const own = beliefAfter(specialSeenGood, specialSeen, "Jeffreys");
  const weights = betaBinomialTerms(specialStarts, belief);
  const enough = specialSeen === 0 ? undefined : reachingBy(special, specialStarts, own);
  let [atLeast, sum] = [0, 0];
  weights.chances.forEach((weight, at) => {
    const through = weights.from + at;
    sum += weight;
    if (through < special) return;
    const updated = { good: belief.good + through, lost: belief.lost + specialStarts - through };
    const ofStandard = betaBinomialSplit(standard, starts - specialStarts, updated).atLeast;
    atLeast += weight * (enough ? (enough[through] ?? 0) : 1) * ofStandard;
  });
  const chance = Math.min(1, atLeast / sum);
  return { below: 1 - chance, atLeast: chance };
}

/** Chances of each number of good pieces, not yet divided by their sum, as far as they matter. */
function betaBinomialTerms(starts: number, { good, lost }: Belief) {
  const ratio = (k: number) => ((starts - k + 1) / k) * ((k - 1 + good) / (starts - k + lost));
  const peak = Math.min(starts, Math.floor((starts * good) / (good + lost)));
  const rising = [1];
  for (let k = peak + 1, term = 1; k <= starts; k += 1) {
    term *= ratio(k);
    if (term < NEGLIGIBLE) break;
    rising.push(term);
  }
  const falling: number[] = [];
  for (let k = peak, term = 1; k > 0; k -= 1) {
    term /= ratio(k);
    if (term < NEGLIGIBLE) break;
    falling.push(term);
  }
  return { from: peak - falling.length, chances: [...falling.reverse(), ...rising] };
}

/** For each number of pieces up to `most` the chance that at least `good` of them are: one more helps where one was missing. */
function reachingBy(good: number, most: number, belief: Belief): readonly number[] {
  const all = belief.good + belief.lost;
  const chances = new Array<number>(most + 1).fill(0);
  let oneMissing = 1;
  for (let k = 0; k < good - 1; k += 1) oneMissing *= (belief.good + k) / (all + k);
  for (let count = good - 1; count < most; count += 1) {
    chances[count + 1] = (chances[count] ?? 0) + oneMissing * ((belief.good + good - 1) / (all + count));
    oneMissing *= ((count + 1) / (count + 2 - good)) * ((belief.lost + count - good + 1) / (all + count));
  }
  return chances;
}

function tierProblems(tiers: SeenTiers): readonly Problem[] {
  return present([
    whole("standard", tiers.standard, 0, mostSearched),
    whole("special", tiers.special, 0, mostSearched),
    ...seenProblems(tiers.seenGood, tiers.seen, "Jeffreys"),
    ...seenProblems(tiers.specialSeenGood, tiers.specialSeen, "Jeffreys"),
  ]);
}
