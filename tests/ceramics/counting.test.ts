import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import * as jstat from "jstat";
import { describe, expect, it } from "vitest";
import { binomialAtLeast, binomialSplit, reaches, smallestWhole } from "../../src/ceramics/counting";

describe("the chance of reaching a count", () => {
  // Computed with mpmath at 40 digits (regularised incomplete beta function; the last but one by summing the terms).
  it.each([
    [5000, 5400, 0.93, 0.8843194739726948],
    [5000, 5300, 0.9, 3.9646947690207136e-30],
    [190, 200, 0.5, 1.4738538021484267e-44],
    [500_000, 1_000_500, 0.5, 0.6917703685639714],
    [99, 100, 0.999, 0.9953619316095758],
  ])("of %i of %i at a yield of %d", (good, starts, yieldFraction, chance) => {
    expect(binomialAtLeast(good, starts, yieldFraction) / chance).toBeCloseTo(1, 11);
  });

  // The same source: the chance of falling short, where it is far too small to be seen as 1 − chance.
  it.each([
    [120, 200, 0.9, 1.0431950399186442e-29],
    [10, 1000, 0.5, 2.503319603882797e-280],
    [5000, 5400, 0.93, 0.11568052602730519],
  ])("of missing %i of %i at a yield of %d", (good, starts, yieldFraction, chance) => {
    expect(binomialSplit(good, starts, yieldFraction).below / chance).toBeCloseTo(1, 11);
  });

  it("agrees with two libraries of statistics", () => {
    for (const starts of [1, 2, 7, 40, 150, 613, 2000])
      for (const yieldFraction of [0.003, 0.08, 0.3333, 0.5, 0.77, 0.9, 0.985, 0.9999])
        for (let at = 0; at <= 10; at += 1) {
          const good = Math.max(1, Math.round((starts * at) / 10));
          const ours = binomialAtLeast(good, starts, yieldFraction);
          expect(ours).toBeCloseTo(1 - binomialCdf(good - 1, starts, yieldFraction), 10);
          expect(ours).toBeCloseTo(1 - jstat.binomial.cdf(good - 1, starts, yieldFraction), 9);
        }
  });

  it("is sure at the edges", () => {
    expect(binomialAtLeast(0, 0, 0.5)).toBe(1);
    expect(binomialAtLeast(0, 5, 0)).toBe(1);
    expect(binomialAtLeast(1, 5, 0)).toBe(0);
    expect(binomialAtLeast(6, 5, 1)).toBe(0);
    expect(binomialAtLeast(5, 5, 1)).toBe(1);
    expect(binomialAtLeast(1, 1, 5e-324)).toBe(5e-324);
    expect(binomialAtLeast(1, 1, 1 - 2 ** -53)).toBe(1 - 2 ** -53);
    expect(binomialAtLeast(10_000_000, 10_000_000, 0.5)).toBe(0);
  });

  it("counts for one piece as the yield itself, and for all as its power", () => {
    for (const yieldFraction of [0.01, 0.3, 0.5, 0.9, 0.999]) {
      expect(binomialAtLeast(1, 1, yieldFraction)).toBeCloseTo(yieldFraction, 14);
      expect(binomialAtLeast(30, 30, yieldFraction) / yieldFraction ** 30).toBeCloseTo(1, 11);
    }
  });
});

describe("reaching a confidence", () => {
  it("counts a tie in decimals as reached, and a true miss as missed", () => {
    expect(reaches({ below: 0.1, atLeast: 0.9 }, 0.9)).toBe(true);
    expect(reaches({ below: 0.1 + 1e-15, atLeast: 0.9 - 1e-15 }, 0.9)).toBe(true);
    expect(reaches({ below: 0.1 + 1e-10, atLeast: 0.9 - 1e-10 }, 0.9)).toBe(false);
    expect(reaches({ below: 0.9, atLeast: 0.1 }, 0.1)).toBe(true);
    expect(reaches({ below: 0.9 + 1e-10, atLeast: 0.1 - 1e-10 }, 0.1)).toBe(false);
    expect(reaches({ below: 2e-12, atLeast: 1 - 2e-12 }, 1 - 1e-12)).toBe(false);
    expect(reaches({ below: 1, atLeast: 1e-30 }, 1e-20)).toBe(false);
  });
});

describe("the search for the smallest whole number", () => {
  it("finds it from any guess", () => {
    for (let answer = 3; answer <= 40; answer += 1)
      for (const guess of [Number.NEGATIVE_INFINITY, 0, 3, answer, answer + 1, 17.4, 40, 1e9, Number.POSITIVE_INFINITY])
        expect(smallestWhole(3, 40, guess, (count) => count >= answer)).toBe(answer);
    expect(smallestWhole(3, 40, 10, () => false)).toBeUndefined();
    expect(smallestWhole(3, 3, 10, () => true)).toBe(3);
  });

  it("takes few looks when the guess is near", () => {
    let calls = 0;
    const answer = smallestWhole(1, 10_000_000, 5003, (count) => {
      calls += 1;
      return count >= 5000;
    });
    expect(answer).toBe(5000);
    expect(calls).toBeLessThan(8);
  });
});
