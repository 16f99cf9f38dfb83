// What several batches say together, held to a published meta-analysis, to a reference library, and to draws of batches that
// really differ.
import * as jstat from "jstat";
import { describe, expect, test } from "vitest";
import { meanAcross, pooled, rateAcross, studentQuantile } from "../../src/ceramics/across";
import { wilson } from "../../src/ceramics/intervals";

/** The thirteen trials of BCG vaccine in G. A. Colditz et al., JAMA 271 (1994) 698–702: cases and others, vaccinated and not. */
const BCG = [
  [4, 119, 11, 128],
  [6, 300, 29, 274],
  [3, 228, 11, 209],
  [62, 13_536, 248, 12_619],
  [33, 5036, 47, 5761],
  [180, 1361, 372, 1079],
  [8, 2537, 10, 619],
  [505, 87_886, 499, 87_892],
  [29, 7470, 45, 7232],
  [17, 1699, 65, 1600],
  [186, 50_448, 141, 27_197],
  [5, 2493, 3, 2338],
  [27, 16_886, 29, 17_825],
] as const;

/** Mean, correlation and profile-likelihood interval (95 %) of a beta-binomial, searched on a grid with the reference library's log of the beta function. */
function betaBinomial(batches: readonly { readonly lost: number; readonly entered: number }[]) {
  const likelihood = (mean: number, correlation: number) => {
    const size = 1 / correlation - 1;
    const [a, b] = [mean * size, (1 - mean) * size];
    return batches.reduce(
      (sum, { lost, entered }) => sum + jstat.betaln(lost + a, entered - lost + b) - jstat.betaln(a, b),
      0,
    );
  };
  const correlations = Array.from({ length: 80 }, (_, at) => Math.exp(-8 + at * 0.09));
  const profile = Array.from({ length: 240 }, (_, at) => {
    const mean = 0.02 + at * 0.004;
    const tried = correlations.map((correlation) => [likelihood(mean, correlation), correlation] as const);
    const [best, correlation] = tried.reduce((one, other) => (other[0] > one[0] ? other : one));
    return { mean, best, correlation };
  });
  const top = profile.reduce((one, other) => (other.best > one.best ? other : one));
  const within = profile.filter(({ best }) => 2 * (top.best - best) <= jstat.chisquare.inv(0.95, 1));
  return { ...top, low: within[0]?.mean ?? 0, high: within.at(-1)?.mean ?? 1 };
}

describe("means over batches", () => {
  test("are those of the random-effects analysis of the BCG trials (W. Viechtbauer, J. Stat. Softw. 36:3, 2010)", () => {
    const ratios = BCG.map(([a, b, c, d]) => Math.log(a / (a + b) / (c / (c + d))));
    const variances = BCG.map(([a, b, c, d]) => 1 / a - 1 / (a + b) + 1 / c - 1 / (c + d));
    const known = pooled(ratios, variances, 0.95);
    expect(known.value).toBeCloseTo(-0.7141, 4);
    expect(known.low).toBeCloseTo(-1.0644, 4);
    expect(known.high).toBeCloseTo(-0.3638, 4);
    expect(known.between ** 2).toBeCloseTo(0.3088, 4);
  });

  test("of one batch have Student's interval", () => {
    const known = meanAcross([{ count: 12, mean: 16.2, sd: 2.4 }], 0.95);
    const half = (jstat.studentt.inv(0.975, 11) * 2.4) / Math.sqrt(12);
    expect(known.ok && known.value.high - 16.2).toBeCloseTo(half, 3);
  });

  test("Student's quantile is the reference library's within 0.2 %, beyond 2.5 % within 1 %", () => {
    for (const degrees of [1, 2, 3, 4, 5, 8, 20, 130])
      for (const chance of [0.005, 0.025, 0.1, 0.6, 0.95, 0.995]) {
        const expected = jstat.studentt.inv(chance, degrees);
        const off = Math.abs(studentQuantile(chance, degrees) / expected - 1);
        expect(off, `${chance} ${degrees}`).toBeLessThan(Math.abs(chance - 0.5) > 0.475 ? 0.01 : 0.002);
      }
  });

  test("that differ from batch to batch are less sure than the pieces of all in one heap", () => {
    const batches = [
      { count: 60, mean: 12, sd: 2 },
      { count: 60, mean: 16, sd: 2 },
      { count: 60, mean: 20, sd: 2 },
    ];
    const [apart, alike] = [batches, batches.map((one) => ({ ...one, mean: 16 }))].map((one) => meanAcross(one, 0.95));
    if (!apart?.ok || !alike?.ok) throw new Error("no mean");
    expect(apart.value.value).toBeCloseTo(16, 12);
    expect(apart.value.high - apart.value.low).toBeGreaterThan(8);
    expect(alike.value.high - alike.value.low).toBeLessThan(0.6);
  });
});

describe("rates over batches", () => {
  test("of one batch have Wilson's interval", () => {
    const [known, alone] = [rateAcross([{ entered: 48, lost: 3 }], 0.95), wilson(3, 48, 0.95)];
    if (!known.ok || !alone.ok) throw new Error("no interval");
    expect(known.value.low).toBeCloseTo(alone.value.low, 12);
    expect(known.value.high).toBeCloseTo(alone.value.high, 12);
  });

  test("the correlation within batches follows from the reference library's analysis of variance", () => {
    const batches = [
      { entered: 20, lost: 1 },
      { entered: 20, lost: 9 },
      { entered: 20, lost: 3 },
      { entered: 20, lost: 12 },
    ];
    const pieces = batches.map(({ entered, lost }) => Array.from({ length: entered }, (_, at) => (at < lost ? 1 : 0)));
    const ratio = jstat.anovafscore(...pieces);
    const known = rateAcross(batches, 0.95);
    // With batches of one size m and F = between ÷ within, ρ = (F − 1) ÷ (F + m − 1).
    expect(known.ok && known.value.between).toBeCloseTo((ratio - 1) / (ratio + 19), 12);
  });

  // M. J. Crowder, Beta-binomial Anova for proportions, Applied Statistics 27 (1978) 34–37: seeds of Orobanche that germinated,
  // of those on each plate, by kind of seed and extract of root.
  test.each([
    ["aegyptiaca 75, bean", [10, 39, 23, 62, 23, 81, 26, 51, 17, 39]],
    ["aegyptiaca 75, cucumber", [5, 6, 53, 74, 55, 72, 32, 51, 46, 79, 10, 13]],
    ["aegyptiaca 73, bean", [8, 16, 10, 30, 8, 28, 23, 45, 0, 4]],
    ["aegyptiaca 73, cucumber", [3, 12, 22, 41, 15, 30, 32, 51, 3, 7]],
  ] as const)("of Crowder's plates (%s) are those of the beta-binomial of greatest likelihood", (_, numbers) => {
    const plates = numbers.flatMap((lost, at) => (at % 2 === 0 ? [{ lost, entered: numbers[at + 1] ?? 0 }] : []));
    const known = rateAcross(plates, 0.95);
    const fitted = betaBinomial(plates);
    if (!known.ok) throw new Error("no rate");
    expect(Math.abs(known.value.value - fitted.mean)).toBeLessThan(0.015);
    expect(Math.abs(known.value.between - fitted.correlation)).toBeLessThan(0.03);
    expect(Math.abs(known.value.low - fitted.low)).toBeLessThan(0.05);
    expect(Math.abs(known.value.high - fitted.high)).toBeLessThan(0.05);
    // One binomial of all seeds in a heap would be surer than the plates allow.
    const total = (of: "lost" | "entered") => plates.reduce((sum, plate) => sum + plate[of], 0);
    const heap = wilson(total("lost"), total("entered"), 0.95);
    expect(heap.ok && known.value.high - known.value.low).toBeGreaterThan(
      heap.ok ? heap.value.high - heap.value.low : 1,
    );
  });

  test("the interval holds a rate that varies from batch to batch, where that of one binomial does not", () => {
    let seed = 7;
    const draw = () => {
      seed = (seed * 1_664_525 + 1_013_904_223) % 4_294_967_296;
      return (seed + 0.5) / 4_294_967_296;
    };
    let [held, heldByOne] = [0, 0];
    const runs = 400;
    for (let run = 0; run < runs; run += 1) {
      const batches = Array.from({ length: 12 }, () => {
        const rate = jstat.beta.inv(draw(), 2, 18);
        const lost = Array.from({ length: 60 }, draw).filter((one) => one < rate).length;
        return { entered: 60, lost };
      });
      const known = rateAcross(batches, 0.95);
      const all = batches.reduce((sum, { lost }) => sum + lost, 0);
      const one = wilson(all, 720, 0.95);
      if (known.ok && known.value.low <= 0.1 && known.value.high >= 0.1) held += 1;
      if (one.ok && one.value.low <= 0.1 && one.value.high >= 0.1) heldByOne += 1;
    }
    expect(held / runs).toBeGreaterThan(0.88);
    expect(heldByOne / runs).toBeLessThan(0.75);
  });
});

describe("what can't be known", () => {
  test("is said: no batches, an empty one, more lost than entered", () => {
    for (const batches of [[], [{ entered: 0, lost: 0 }], [{ entered: 3, lost: 4 }]])
      expect(rateAcross(batches, 0.95).ok).toBe(false);
    expect(meanAcross([], 0.95).ok).toBe(false);
    const alone = meanAcross([{ count: 1, mean: 5, sd: 0 }], 0.95);
    expect(alone.ok && alone.value.high).toBe(Number.POSITIVE_INFINITY);
  });

  test("batches without a loss, or with nothing else, have rates from 0 and up to 1", () => {
    const none = rateAcross(
      [
        { entered: 30, lost: 0 },
        { entered: 40, lost: 0 },
      ],
      0.95,
    );
    const all = rateAcross(
      [
        { entered: 30, lost: 30 },
        { entered: 4, lost: 4 },
      ],
      0.95,
    );
    expect(none.ok && [none.value.value, none.value.low]).toEqual([0, 0]);
    expect(all.ok && [all.value.value, all.value.high]).toEqual([1, 1]);
  });

  test("measures that are all the same in each batch spread as the batches do", () => {
    const known = meanAcross(
      [
        { count: 9, mean: 4, sd: 0 },
        { count: 3, mean: 6, sd: 0 },
      ],
      0.95,
    );
    expect(known.ok && known.value.value).toBe(5);
    expect(known.ok && known.value.between).toBeCloseTo(Math.SQRT2, 12);
  });
});
