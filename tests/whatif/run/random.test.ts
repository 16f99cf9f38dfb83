import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { describe, expect, test } from "vitest";
import { drawBetween, drawCount, drawsFrom } from "../../../src/whatif/run/random";

const many = <T>(count: number, of: () => T): T[] => Array.from({ length: count }, of);
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** The largest distance between the share of draws up to a count and the chance a library gives it. */
function farthest(drawn: readonly number[], count: number, chance: number): number {
  const rising = [...drawn].sort((a, b) => a - b);
  let worst = 0;
  for (let at = 0; at < rising.length; at += 1)
    if (rising[at] !== rising[at + 1])
      worst = Math.max(worst, Math.abs((at + 1) / rising.length - binomialCdf(rising[at] ?? 0, count, chance)));
  return worst;
}

describe("seeded draws", () => {
  test("are the same for the same seed and others for another", () => {
    const first = many(5, drawsFrom(7));
    expect(many(5, drawsFrom(7))).toEqual(first);
    expect(many(5, drawsFrom(8))).not.toEqual(first);
    expect(many(5, drawsFrom(0))).not.toEqual(many(5, drawsFrom(1)));
  });

  test("are even: mean and spread of a uniform number, in each tenth alike", () => {
    const drawn = many(50_000, drawsFrom(1));
    expect(Math.min(...drawn)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...drawn)).toBeLessThan(1);
    expect(Math.abs(mean(drawn) - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 12 / 50_000));
    const tenths = many(10, () => 0);
    for (const value of drawn) tenths[Math.floor(value * 10)]! += 1;
    const chiSquare = tenths.reduce((sum, seen) => sum + (seen - 5000) ** 2 / 5000, 0);
    // 99.9 % point of χ² with 9 degrees of freedom (tables): 27.88.
    expect(chiSquare).toBeLessThan(27.88);
  });
});

describe("a drawn count", () => {
  // The Kolmogorov–Smirnov bound at 99.9 %: 1.95 ÷ √n (tables); for counts it is on the safe side.
  const bound = 1.95 / Math.sqrt(20_000);
  test.each([
    ["few of few", 24, 0.01],
    ["few of many", 2000, 0.015],
    ["by gaps, up to its limit", 130, 0.3],
    ["from the peak", 141, 0.4],
    ["from the peak of many", 20_000, 0.03],
    ["half", 5000, 0.5],
    ["most", 141, 0.93],
    ["nearly all of many", 20_000, 0.985],
  ])("%s: %i × %f has the chances of a library of statistics", (_, count, chance) => {
    const draw = drawsFrom(11);
    const drawn = many(20_000, () => drawCount(draw, count, chance));
    expect(farthest(drawn, count, chance)).toBeLessThan(bound);
    expect(Math.abs(mean(drawn) - count * chance)).toBeLessThan(
      4 * Math.sqrt((count * chance * (1 - chance)) / 20_000),
    );
    expect(drawn.every((one) => Number.isInteger(one) && one >= 0 && one <= count)).toBe(true);
  });

  test("is all or nothing where there is no doubt", () => {
    const draw = drawsFrom(3);
    expect([drawCount(draw, 10, 0), drawCount(draw, 10, 1), drawCount(draw, 0, 0.5), drawCount(draw, 10, 2)]).toEqual([
      0, 10, 0, 10,
    ]);
  });
});

describe("a drawn price", () => {
  test("lies between its ends, with the mean of a triangle: (low + usual + high) ÷ 3", () => {
    const draw = drawsFrom(5);
    const drawn = many(20_000, () => drawBetween(draw, 90, 112, 160));
    expect(Math.min(...drawn)).toBeGreaterThan(90);
    expect(Math.max(...drawn)).toBeLessThan(160);
    // Variance of a triangle: (a² + b² + c² − ab − ac − bc) ÷ 18.
    const variance = (90 ** 2 + 160 ** 2 + 112 ** 2 - 90 * 160 - 90 * 112 - 160 * 112) / 18;
    expect(Math.abs(mean(drawn) - (90 + 112 + 160) / 3)).toBeLessThan(4 * Math.sqrt(variance / 20_000));
    expect(drawn.filter((one) => one < 112).length / 20_000).toBeCloseTo(22 / 70, 1);
  });

  test("keeps within its range where the usual price lies outside, and is the one price where there is no range", () => {
    const draw = drawsFrom(5);
    expect(many(200, () => drawBetween(draw, 90, 20, 160)).every((one) => one >= 90 && one <= 160)).toBe(true);
    expect(drawBetween(draw, 90, 95, 90)).toBe(90);
  });
});
