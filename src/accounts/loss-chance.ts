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

// A chance above this is as exact when it is what the chance of fewer leaves of 1: thirteen digits of it at least.
const LIKELY = 1e-3;

/**
 * The chance of losing at least `lost` pieces over all steps: the binomial counts of the steps, added up exactly
 * (convolution). Takes whole counts and rates from 0 to below 1, checked by the caller.
 */
export function chanceOfAsMany(steps: readonly PlannedLoss[], lost: number): number {
  const counts = steps
    .filter(({ entered, plannedRate }) => entered > 0 && plannedRate > 0)
    .map(({ entered, plannedRate }) => binomial(entered, plannedRate));
  // Fewer counts are below than above as a rule, and those above need not be added up for them.
  const chance =
    1 -
    sumOf(
      counts.reduce((total, one) => added(total, one, lost - 1), NONE_LOST),
      0,
      lost,
    );
  if (chance > LIKELY) return chance;
  const total = counts.reduce((so, one) => added(so, one, Number.POSITIVE_INFINITY), NONE_LOST);
  const atLeast = sumOf(total, lost, Number.POSITIVE_INFINITY);
  return atLeast / (sumOf(total, 0, lost) + atLeast);
}

const NONE_LOST: Counts = { from: 0, chances: Float64Array.of(1) };

/** The chance of a count from `least` up to below `end`. */
function sumOf({ from, chances }: Counts, least: number, end: number): number {
  let sum = 0;
  for (let at = Math.max(0, least - from); at < chances.length && from + at < end; at += 1) sum += chances[at] ?? 0;
  return sum;
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
  let sum = 1;
  for (let k = peak + 1, term = 1; k <= entered; k += 1) {
    term *= ((entered - k + 1) / k) * odds;
    if (term < NEGLIGIBLE) break;
    rising.push(term);
    sum += term;
  }
  const falling: number[] = [];
  for (let k = peak, term = 1; k > 0; k -= 1) {
    term *= k / ((entered - k + 1) * odds);
    if (term < NEGLIGIBLE) break;
    falling.push(term);
    sum += term;
  }
  const below = falling.length;
  const chances = new Float64Array(below + rising.length);
  // Written out: a what-if asks for ten thousand of them.
  for (let at = 0; at < below; at += 1) chances[below - 1 - at] = (falling[at] as number) / sum;
  for (let at = 0; at < rising.length; at += 1) chances[below + at] = (rising[at] as number) / sum;
  return { from: peak - below, chances };
}

/** The counts of both together, up to `most`. */
function added(a: Counts, b: Counts, most: number): Counts {
  const from = a.from + b.from;
  const [left, right] = [a.chances, b.chances];
  const length = Math.min(left.length + right.length - 1, Math.max(0, most - from + 1));
  const chances = new Float64Array(length);
  const rows = Math.min(left.length, length);
  for (let i = 0; i < rows; i += 1) {
    const one = left[i] as number;
    const end = Math.min(right.length, length - i);
    for (let j = 0; j < end; j += 1) chances[i + j] = (chances[i + j] as number) + one * (right[j] as number);
  }
  let [start, end] = [0, length];
  while (start + 1 < end && (chances[start] ?? 0) < NEGLIGIBLE) start += 1;
  while (end - 1 > start && (chances[end - 1] ?? 0) < NEGLIGIBLE) end -= 1;
  return { from: from + start, chances: chances.subarray(start, end) };
}
