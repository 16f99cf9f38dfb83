// Chances of counts, from the ratio of each term to the one before it. The terms are walked outwards from near their peak
// and divided by their own sum: no gamma function, nothing to overflow, and both sides of a cut come out with full relative
// accuracy, however small. That is what tells “just reached” from “just missed”.

/** The chance of falling below a cut, and that of reaching it. */
export interface SplitChance {
  readonly below: number;
  readonly atLeast: number;
}

const negligible = 2 ** -60;
// A shortfall of less than one part in 10^11 comes from writing decimals in binary (0.9 is not 9/10), not from the pieces.
const tieSlack = 1e-11;

/** Splits the distribution over 0…`last` at `cut` (0 < cut ≤ last), where `ratio(k)` is term k ÷ term k − 1 and `start` lies near the peak. */
export function splitChance(last: number, cut: number, start: number, ratio: (k: number) => number): SplitChance {
  let below = start < cut ? 1 : 0;
  let atLeast = 1 - below;
  let term = 1;
  for (let k = start + 1; k <= last && term > 0; k += 1) {
    term *= ratio(k);
    if (k < cut) below += term;
    else {
      atLeast += term;
      if (term * (last - k) < atLeast * negligible) break;
    }
  }
  term = 1;
  for (let k = start - 1; k >= 0 && term > 0; k -= 1) {
    term /= ratio(k + 1);
    if (k >= cut) atLeast += term;
    else {
      below += term;
      if (term * k < below * negligible) break;
    }
  }
  const sum = below + atLeast;
  return { below: below / sum, atLeast: atLeast / sum };
}

/** Chance that at least `good` of `starts` come good at this yield, with its opposite; takes whole numbers and 0 ≤ yield ≤ 1, checked by the caller. */
export function binomialSplit(good: number, starts: number, yieldFraction: number): SplitChance {
  if (good <= 0) return { below: 0, atLeast: 1 };
  if (good > starts || yieldFraction <= 0) return { below: 1, atLeast: 0 };
  if (yieldFraction >= 1) return { below: 0, atLeast: 1 };
  const odds = yieldFraction / (1 - yieldFraction);
  const start = Math.min(starts, Math.floor(starts * yieldFraction));
  return splitChance(starts, good, start, (k) => ((starts - k + 1) / k) * odds);
}

/** P(Bin(starts, yield) ≥ good): takes whole numbers and 0 ≤ yield ≤ 1, checked by the caller. */
export function binomialAtLeast(good: number, starts: number, yieldFraction: number): number {
  return binomialSplit(good, starts, yieldFraction).atLeast;
}

/** Whether a chance reaches the confidence; one that equals it in decimals does, whatever the last binary digit says. */
export function reaches(chance: SplitChance, confidence: number): boolean {
  if (confidence < 0.5) return chance.atLeast >= confidence * (1 - tieSlack);
  return chance.below <= (1 - confidence) * (1 + tieSlack) + Number.EPSILON / 2;
}

/** The smallest whole number from `least` to `most` for which `holds`, which must stay true once it is; undefined where none does. Looks near `guess` first. */
export function smallestWhole(
  least: number,
  most: number,
  guess: number,
  holds: (count: number) => boolean,
): number | undefined {
  let misses = least - 1;
  let hits = most + 1;
  let probe = Math.min(most, Math.max(least, Math.round(guess)));
  for (let step = 1; misses + 1 < hits; step *= 2) {
    if (holds(probe)) {
      hits = probe;
      probe = Math.max(misses + 1, probe - step);
    } else {
      misses = probe;
      probe = Math.min(hits - 1, probe + step);
    }
    if (misses >= least && hits <= most) break;
  }
  while (misses + 1 < hits) {
    const middle = Math.floor((misses + hits) / 2);
    if (holds(middle)) hits = middle;
    else misses = middle;
  }
  return hits > most ? undefined : hits;
}
