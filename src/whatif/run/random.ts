// Seeded draws: the same seed gives the same numbers on every machine.

/** A source of numbers from 0 up to but not including 1. */
export type Draw = () => number;

/** A source from a whole-number seed: the generator sfc32 by C. Doty-Humphrey, which passes the usual batteries. */
export function drawsFrom(seed: number): Draw {
  let [a, b, c, count] = [seed | 0, Math.imul(seed, 0x9e3779b9) | 0, 0x243f6a88 | 0, 1];
  const next = (): number => {
    const sum = (((a + b) | 0) + count) | 0;
    count = (count + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    return sum >>> 0;
  };
  for (let round = 0; round < 20; round += 1) next();
  // 53 bits, so that small chances are drawn as well.
  return () => ((next() >>> 5) * 2 ** 26 + (next() >>> 6)) / 2 ** 53;
}

/** How many of `count` things happen, each with this chance; exact, in time that grows with the losses or their root. */
export function drawCount(draw: Draw, count: number, chance: number): number {
  if (count <= 0 || chance <= 0) return 0;
  if (chance >= 1) return count;
  if (chance > 0.5) return count - drawCount(draw, count, 1 - chance);
  return count * chance < 40 ? byGaps(draw, count, chance) : fromPeak(draw, count, chance);
}

/** Jumps from one happening to the next: the gaps between them are geometric. */
function byGaps(draw: Draw, count: number, chance: number): number {
  const scale = Math.log1p(-chance);
  let happened = -1;
  for (let at = 0; at <= count; happened += 1) at += Math.floor(Math.log1p(-draw()) / scale) + 1;
  return happened;
}

/** Goes outwards from the likeliest count until the chances gone by make up the number drawn. */
function fromPeak(draw: Draw, count: number, chance: number): number {
  const odds = chance / (1 - chance);
  const peak = Math.floor((count + 1) * chance);
  const atPeak = Math.exp(logChance(count, peak, chance));
  let left = draw() - atPeak;
  let [up, down] = [atPeak, atPeak];
  for (let away = 1; left > 0 && away <= count; away += 1) {
    const [above, below] = [peak + away, peak - away];
    up = above <= count ? (up * (count - above + 1) * odds) / above : 0;
    left -= up;
    if (left <= 0) return above;
    down = below >= 0 ? (down * (below + 1)) / ((count - below) * odds) : 0;
    left -= down;
    if (left <= 0) return below;
    if (up + down < 1e-300) break;
  }
  return peak;
}

function logChance(count: number, happened: number, chance: number): number {
  const ways = logFactorial(count) - logFactorial(happened) - logFactorial(count - happened);
  return ways + happened * Math.log(chance) + (count - happened) * Math.log1p(-chance);
}

/** ln n!, by Stirling's series; below 10 by multiplying. */
function logFactorial(n: number): number {
  if (n < 10) {
    let product = 1;
    for (let factor = 2; factor <= n; factor += 1) product *= factor;
    return Math.log(product);
  }
  const x = n + 1;
  return (
    (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + 1 / (12 * x) - 1 / (360 * x ** 3) + 1 / (1260 * x ** 5)
  );
}

/** A number between `low` and `high`, likeliest at `usual`: the triangular distribution. */
export function drawBetween(draw: Draw, low: number, usual: number, high: number): number {
  const part = draw();
  if (!(high > low)) return low;
  const peak = Math.min(high, Math.max(low, usual));
  const peakShare = (peak - low) / (high - low);
  return part < peakShare
    ? low + Math.sqrt(part * (high - low) * (peak - low))
    : high - Math.sqrt((1 - part) * (high - low) * (high - peak));
}
