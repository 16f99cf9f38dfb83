import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { describe, expect, it } from "vitest";
import { goodDistribution } from "../../src/ceramics/good-distribution";
import { messagesOf, valueIn } from "./read-reference";

describe("the spread of good pieces", () => {
  it("by hand: two pieces that come through with 0.9 × 0.8", () => {
    const spread = valueIn(goodDistribution(2, [0.1, 0.2]));
    expect(spread).toBeInstanceOf(Float64Array);
    expect([...spread].map((chance) => Number(chance.toFixed(12)))).toEqual([0.0784, 0.4032, 0.5184]);
  });

  it("adds up to 1, with mean n·y and variance n·y·(1 − y)", () => {
    for (const [starts, losses] of [
      [137, [0.04, 0.02, 0.06, 0.03]],
      [5000, [0.5]],
      [60, [0.999]],
      [100_000, [0.001]],
    ] as const) {
      const spread = valueIn(goodDistribution(starts, losses));
      const kept = losses.reduce((all, loss) => all * (1 - loss), 1);
      const sum = spread.reduce((all, chance) => all + chance, 0);
      const mean = spread.reduce((all, chance, good) => all + chance * good, 0);
      const variance = spread.reduce((all, chance, good) => all + chance * (good - mean) ** 2, 0);
      expect(spread).toHaveLength(starts + 1);
      expect(sum).toBeCloseTo(1, 11);
      expect(mean / (starts * kept)).toBeCloseTo(1, 10);
      expect(variance / (starts * kept * (1 - kept))).toBeCloseTo(1, 9);
    }
  });

  it("adds up to the chances of a library of statistics", () => {
    const spread = valueIn(goodDistribution(150, [0.07, 0.11]));
    let sum = 0;
    for (const [good, chance] of spread.entries()) {
      sum += chance;
      expect(sum).toBeCloseTo(binomialCdf(good, 150, 0.93 * 0.89), 11);
    }
  });

  it("has all its weight on all when nothing is lost", () => {
    expect([...valueIn(goodDistribution(3, []))]).toEqual([0, 0, 0, 1]);
    expect([...valueIn(goodDistribution(0, [0.5]))]).toEqual([1]);
  });

  it("refuses what can't be", () => {
    expect(messagesOf(goodDistribution(1.5, [2]))).toEqual([
      "starts: found 1.5, but it takes a whole number from 0 to 1\u202f000\u202f000.",
      "loss 1 of the list: found 2, but it takes a fraction from 0 to below 1. Write a percentage as a fraction: 65 % is 0.65.",
    ]);
    expect(goodDistribution(1_000_001, []).ok).toBe(false);
    expect(goodDistribution(Number.NaN, []).ok).toBe(false);
  });
});
