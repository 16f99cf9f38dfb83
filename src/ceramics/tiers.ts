// How many to start for two tiers that must both be delivered. A piece is for one tier from the start; special pieces pass the
// steps of all and steps of their own, and a special one lost is a special one short. The counts of good pieces are
// independent, so the chance that both tiers are delivered is the product of their chances.
import { fail, ok, type Problem, type Result } from "../core/problem";
import { checked, mostPieces, part, partAboveZero, partInside, present, whole } from "./checks";
import { binomialSplit, reaches, type SplitChance, smallestWhole } from "./counting";
import { startsNeeded, tooManyStarts } from "./yields";

/** Good pieces wanted of each tier, what the steps for all leave of a piece, and what those for special ones leave besides. */
export interface TierPlan {
  readonly standard: number;
  readonly special: number;
  readonly yieldOfAll: number;
  readonly yieldOfSpecial: number;
}

/**
 * The fewest pieces to start so that both tiers are delivered together with this confidence, when as many of them are for
 * special pieces as make that likeliest.
 */
export function startsForTiers(plan: TierPlan, confidence: number): Result<number> {
  const problems = [...planProblems(plan), ...present([partInside("confidence", confidence)])];
  if (problems.length > 0) return fail(...problems);
  const { standard, special, yieldOfAll, yieldOfSpecial } = plan;
  if (special === 0) return startsNeeded(standard, yieldOfAll, confidence);
  if (standard === 0) return startsNeeded(special, yieldOfAll * yieldOfSpecial, confidence);
  // Each tier by itself at the root of the confidence comes close.
  const [ofStandard, ofSpecial] = [
    startsNeeded(standard, yieldOfAll, Math.sqrt(confidence)),
    startsNeeded(special, yieldOfAll * yieldOfSpecial, Math.sqrt(confidence)),
  ];
  if (!ofStandard.ok) return ofStandard;
  if (!ofSpecial.ok) return ofSpecial;
  const starts = smallestWhole(standard + special, mostPieces, ofStandard.value + ofSpecial.value, (count) =>
    reaches(jointSplit(plan, count, likeliestSplit(plan, count)), confidence),
  );
  return starts === undefined ? fail(tooManyStarts(`${standard} and ${special} good`)) : ok(starts);
}

/** How many of the starts are to be for special pieces, so that both tiers are likeliest to be delivered. */
export function specialAmong(starts: number, plan: TierPlan): Result<number> {
  const problems = [...present([whole("starts", starts)]), ...planProblems(plan)];
  return problems.length > 0 ? fail(...problems) : ok(likeliestSplit(plan, starts));
}

/** The chance that both tiers are delivered (0 to 1), when that many of the starts are for special pieces. */
export function chanceOfTiers(starts: number, specialStarts: number, plan: TierPlan): Result<number> {
  return checked(
    [
      whole("starts", starts),
      whole("starts for special pieces", specialStarts, 0, Number.isInteger(starts) ? starts : mostPieces),
      whole("standard", plan.standard),
      whole("special", plan.special),
      part("yield", plan.yieldOfAll),
      part("yield of special pieces", plan.yieldOfSpecial),
    ],
    () => jointSplit(plan, starts, specialStarts).atLeast,
    "chance",
  );
}

function likeliestSplit(plan: TierPlan, starts: number): number {
  return bestSplit(plan, starts, plan.special / plan.yieldOfSpecial, (count) => jointSplit(plan, starts, count));
}

/**
 * The number of special starts with the best chance; of equals the one nearest to the share that losses alone ask for,
 * `specialWeight` ÷ (`specialWeight` + standard). The chance rises up to the best number and falls after it, since each
 * tier's chance is log-concave in its starts.
 */
export function bestSplit(
  { standard, special }: Pick<TierPlan, "standard" | "special">,
  starts: number,
  specialWeight: number,
  chance: (specialStarts: number) => SplitChance,
): number {
  if (special === 0) return 0;
  if (standard === 0) return starts;
  const usual = Math.round((starts * specialWeight) / (specialWeight + standard));
  const [least, most] = [special, starts - standard];
  // With too few starts for both no split delivers; the usual one stands.
  if (least > most) return Math.min(starts, usual);
  const known = new Map<number, SplitChance>();
  const at = (count: number) => {
    const found = known.get(count) ?? chance(count);
    known.set(count, found);
    return found;
  };
  const from = Math.min(most, Math.max(least, usual));
  const up = smallestWhole(from, most, from, (count) => count === most || !isBetter(at(count + 1), at(count))) ?? from;
  if (up > from) return up;
  const down = smallestWhole(0, from - least, 0, (back) => {
    const count = from - back;
    return count === least || !isBetter(at(count - 1), at(count));
  });
  return from - (down ?? 0);
}

const slack = 1e-11;

function isBetter(one: SplitChance, other: SplitChance): boolean {
  return other.atLeast < 0.5 ? one.atLeast > other.atLeast * (1 + slack) : one.below < other.below * (1 - slack);
}

/** The chance of both, with its opposite. */
function both(a: SplitChance, b: SplitChance): SplitChance {
  return { below: a.below + b.below - a.below * b.below, atLeast: a.atLeast * b.atLeast };
}

function jointSplit(
  { standard, special, yieldOfAll, yieldOfSpecial }: TierPlan,
  starts: number,
  specialStarts: number,
) {
  return both(
    binomialSplit(standard, starts - specialStarts, yieldOfAll),
    binomialSplit(special, specialStarts, yieldOfAll * yieldOfSpecial),
  );
}

function planProblems({ standard, special, yieldOfAll, yieldOfSpecial }: TierPlan): readonly Problem[] {
  return present([
    whole("standard", standard),
    whole("special", special),
    partAboveZero("yield", yieldOfAll),
    partAboveZero("yield of special pieces", yieldOfSpecial),
  ]);
}
