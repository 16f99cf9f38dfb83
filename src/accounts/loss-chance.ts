// How likely a run is to lose as many pieces as it did, were every piece lost at the planned rates and by chance alone.

/** Pieces that entered a step and its planned loss rate, 0 to below 1. */
export interface PlannedLoss {
  readonly entered: number;
  readonly plannedRate: number;
}

/** Chances of the counts from `from` up. */
interface Counts {
  readonly from: number;
  readonly chances: Float64Array;
}

// What is less likely than this beside the likeliest count changes no digit of a chance that anybody acts on.
const NEGLIGIBLE = 1e-18;

/**
 * The chance of losing at least `lost` pieces over all steps: the binomial counts of the steps, added up exactly
 * (convolution). Takes whole counts and rates from 0 to below 1, checked by the caller.
 */
export function chanceOfAsMany(steps: readonly PlannedLoss[], lost: number): number {
  let total: Counts = { from: 0, chances: Float64Array.of(1) };
  for (const { entered, plannedRate } of steps)
    if (entered > 0 && plannedRate > 0) total = added(total, binomial(entered, plannedRate));
  const { from, chances } = total;
  let [below, atLeast] = [0, 0];
  for (let at = 0; at < chances.length; at += 1)
    if (from + at < lost) below += chances[at] ?? 0;
    else atLeast += chances[at] ?? 0;
  return atLeast / (below + atLeast);
}

/**
 * Whether so many losses are more than chance explains: fewer than 1 run in `runs` would have as many. A chance that equals
 * 1 in `runs` in decimals is not, whatever its last binary digit says. Without `runs`, every loss beyond plan is.
 */
export function isBeyondChance(chance: number, runs: number): boolean {
  return runs <= 0 || chance * runs < 1 - 1e-11;
}

/** Terms walked outwards from the likeliest count, as far as they matter. */
function binomial(entered: number, rate: number): Counts {
  const peak = Math.min(entered, Math.floor((entered + 1) * rate));
  const odds = rate / (1 - rate);
  const rising = [1];
  for (let k = peak + 1, term = 1; k <= entered; k += 1) {
    term *= ((entered - k + 1) / k) * odds;
    if (term < NEGLIGIBLE) break;
    rising.push(term);
  }
  const falling: number[] = [];
  for (let k = peak, term = 1; k > 0; k -= 1) {
    term *= k / ((entered - k + 1) * odds);
    if (term < NEGLIGIBLE) break;
    falling.push(term);
  }
  const terms = [...falling.reverse(), ...rising];
  const sum = terms.reduce((all, term) => all + term, 0);
  return { from: peak - falling.length, chances: Float64Array.from(terms, (term) => term / sum) };
}

function added(a: Counts, b: Counts): Counts {
  const chances = new Float64Array(a.chances.length + b.chances.length - 1);
  for (let i = 0; i < a.chances.length; i += 1)
    for (let j = 0; j < b.chances.length; j += 1)
      chances[i + j] = (chances[i + j] ?? 0) + (a.chances[i] ?? 0) * (b.chances[j] ?? 0);
  let [start, end] = [0, chances.length];
  while (start + 1 < end && (chances[start] ?? 0) < NEGLIGIBLE) start += 1;
  while (end - 1 > start && (chances[end - 1] ?? 0) < NEGLIGIBLE) end -= 1;
  return { from: a.from + b.from + start, chances: chances.subarray(start, end) };
}
