import { describe, expect, it } from "vitest";
import {
  beliefAfter,
  betaBinomialSplit,
  startsUnderUncertainYield,
  type YieldPrior,
} from "../../src/ceramics/uncertain-yield";
import { startsNeeded } from "../../src/ceramics/yields";
import { messagesOf, problemsOf, valueIn } from "./read-reference";

describe("the chance when the yield is only known from counts", () => {
  // Computed with mpmath at 40 digits by summing the beta-binomial terms.
  it.each([
    [500, 560, 180, 200, "Jeffreys", 0.618490861012052],
    [40, 60, 3, 4, "uniform", 0.554761759481484],
    [5, 400, 0, 10, "Jeffreys", 0.622763096580324],
    [30, 30, 20, 20, "Jeffreys", 0.63483130625144],
    [1, 127, 0, 0, "Jeffreys", 0.949985521005287],
  ] as const)("of %i of %i, %i of %i seen, %s", (good, starts, seenGood, seenTotal, prior, chance) => {
    expect(betaBinomialSplit(good, starts, beliefAfter(seenGood, seenTotal, prior)).atLeast).toBeCloseTo(chance, 12);
  });

  it("is a plain count where nothing is known: with a uniform prior every number of good pieces is as likely", () => {
    for (let good = 1; good <= 20; good += 1)
      expect(betaBinomialSplit(good, 20, beliefAfter(0, 0, "uniform")).atLeast).toBeCloseTo((21 - good) / 21, 13);
  });

  it("is sure at the edges", () => {
    expect(betaBinomialSplit(0, 0, beliefAfter(3, 4, "Jeffreys")).atLeast).toBe(1);
    expect(betaBinomialSplit(5, 4, beliefAfter(3, 4, "Jeffreys")).atLeast).toBe(0);
  });
});

describe("starts when the yield is only known from counts", () => {
  it("come to those of a known yield when very many have been seen, and are more when few have", () => {
    const known = valueIn(startsNeeded(120, 0.9, 0.95));
    expect(valueIn(startsUnderUncertainYield(120, 900_000, 1_000_000, 0.95))).toBe(known);
    expect(valueIn(startsUnderUncertainYield(120, 9, 10, 0.95))).toBeGreaterThan(known + 20);
  });

  it("do not rise on a tie", () => {
    // Uniform, nothing seen: one piece is good with a chance of a half, two with at least one good 2/3.
    expect(valueIn(startsUnderUncertainYield(1, 0, 0, 0.5, "uniform"))).toBe(1);
    expect(valueIn(startsUnderUncertainYield(1, 0, 0, 0.75, "uniform"))).toBe(3);
    expect(valueIn(startsUnderUncertainYield(1, 0, 0, 0.95, "uniform"))).toBe(19);
    // 9 of 10 seen, uniform: 10/12 for one piece is 0.8333…, so 0.83 is reached and 0.84 is not.
    expect(valueIn(startsUnderUncertainYield(1, 9, 10, 0.83, "uniform"))).toBe(1);
    expect(valueIn(startsUnderUncertainYield(1, 9, 10, 0.84, "uniform"))).toBe(2);
  });

  it("are nothing for nothing, and say so when too little has been seen", () => {
    for (const confidence of [0.1, 0.5, 0.9]) expect(valueIn(startsUnderUncertainYield(0, 3, 4, confidence))).toBe(0);
    expect(messagesOf(startsUnderUncertainYield(1000, 0, 10, 0.99))).toEqual([
      "starts: found “1000 good wanted, when 0 of 10 were good”, but it takes an edition that takes at most 1\u202f000\u202f000 starts. Fire more test pieces, or ask for less confidence.",
    ]);
  });

  it("refuse what can't be", () => {
    expect(messagesOf(startsUnderUncertainYield(1.5, 11, 10, 95, "flat" as YieldPrior))).toEqual([
      "good: found 1.5, but it takes a whole number from 0 to 1\u202f000\u202f000.",
      "good ones seen: found 11, but it takes a whole number from 0 to 10.",
      "prior: found “flat”, but it takes “Jeffreys” or “uniform”.",
      "confidence: found 95, but it takes a fraction above 0 and below 1. Write a percentage as a fraction: 65 % is 0.65.",
    ]);
    expect(problemsOf(startsUnderUncertainYield(1, Number.NaN, -1, 0.5)).map((one) => one.where)).toEqual([
      "pieces seen",
      "good ones seen",
    ]);
  });
});
