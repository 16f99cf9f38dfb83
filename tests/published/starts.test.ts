// Pieces to start against exact arithmetic and published tables.
import { describe, expect, it } from "vitest";
import {
  beliefAfter,
  betaBinomialSplit,
  startsUnderUncertainYield,
  type YieldPrior,
} from "../../src/ceramics/uncertain-yield";
import { chanceOf, startsNeeded, wantedOverYield, yieldChain } from "../../src/ceramics/yields";
import { readReference, valueIn } from "../ceramics/read-reference";

describe("starts at a known yield", () => {
  // tests/fixtures/reference/starts.csv: exact whole-number arithmetic; `exact_tie` rows reach the confidence exactly.
  const rows = readReference("starts").map((row) => ({
    yieldFraction: Number(row.y),
    good: Number(row.N),
    confidence: Number(row.p),
    starts: Number(row.n),
    chance: Number(row.P_at_n),
    chanceBefore: Number(row.P_at_n_minus_1),
    naive: Number(row.naive_ceil_N_over_y),
    naiveChance: Number(row.P_at_naive),
    tie: row.exact_tie === "yes",
  }));

  it("reads every row", () => {
    expect(rows).toHaveLength(107);
    expect(rows.filter((row) => row.tie)).toHaveLength(3);
  });

  it.each(rows)("$good at $yieldFraction with $confidence: $starts", (row) => {
    expect(valueIn(startsNeeded(row.good, row.yieldFraction, row.confidence))).toBe(row.starts);
    expect(valueIn(chanceOf(row.good, row.starts, row.yieldFraction))).toBeCloseTo(row.chance, 13);
    expect(valueIn(chanceOf(row.good, row.starts - 1, row.yieldFraction))).toBeCloseTo(row.chanceBefore, 13);
    expect(valueIn(wantedOverYield(row.good, row.yieldFraction))).toBe(row.naive);
    expect(valueIn(chanceOf(row.good, row.naive, row.yieldFraction))).toBeCloseTo(row.naiveChance, 6);
    if (row.tie) expect(valueIn(chanceOf(row.good, row.starts, row.yieldFraction))).toBeCloseTo(row.confidence, 14);
  });

  it("Wilks' sample sizes: y = 0.05, confidence 0.95, N = 1…5 (from memory, recomputed in exact arithmetic)", () => {
    const sizes = [1, 2, 3, 4, 5].map((good) => valueIn(startsNeeded(good, 0.05, 0.95)));
    expect(sizes).toEqual([59, 93, 124, 153, 181]);
  });

  it("y = 0.10, N = 4, confidence 0.95: 76 (published sample-size table)", () => {
    expect(valueIn(startsNeeded(4, 0.1, 0.95))).toBe(76);
  });
});

describe("yields", () => {
  it("rolled throughput .95 × .84 × .88 = .70224, published as .70", () => {
    expect(valueIn(yieldChain([0.05, 0.16, 0.12]))).toBeCloseTo(0.70224, 12);
  });

  it("50 good at .95 · .97 · .93 · .98: yield .83985, 59.53 starts, so 60 (stages as in toptimeceramics.com)", () => {
    const kept = valueIn(yieldChain([0.05, 0.03, 0.07, 0.02]));
    expect(Math.abs(kept - 0.83985)).toBeLessThan(1e-5);
    expect(50 / kept).toBeCloseTo(59.53, 2);
    expect(valueIn(wantedOverYield(50, kept))).toBe(60);
  });
});

describe("starts at a yield known only from counts", () => {
  // tests/fixtures/reference/starts_uncertain_yield.csv: beta-binomial, exact fractions.
  const rows = readReference("starts_uncertain_yield").map((row) => ({
    prior: row.prior as YieldPrior,
    seenGood: Number(row.good_seen),
    seenTotal: Number(row.fired_seen),
    good: Number(row.N),
    confidence: Number(row.p),
    starts: Number(row.n),
    chance: Number(row.P_at_n),
    chanceBefore: Number(row.P_at_n_minus_1),
  }));

  it("reads every row", () => {
    expect(rows).toHaveLength(80);
  });

  it.each(rows)("$good when $seenGood of $seenTotal were good, $confidence, $prior: $starts", (row) => {
    const { good, seenGood, seenTotal, confidence, prior, starts } = row;
    expect(valueIn(startsUnderUncertainYield(good, seenGood, seenTotal, confidence, prior))).toBe(starts);
    const belief = beliefAfter(seenGood, seenTotal, prior);
    const chance = (count: number) => betaBinomialSplit(good, count, belief).atLeast;
    expect(Math.abs(chance(starts) - row.chance)).toBeLessThan(6e-13);
    expect(Math.abs(chance(starts - 1) - row.chanceBefore)).toBeLessThan(6e-13);
  });

  it("50 good, confidence .95: 60 at a known .90, 63 after 45 of 50, 76 after 9 of 10 (exact fractions, Jeffreys)", () => {
    expect(valueIn(startsNeeded(50, 0.9, 0.95))).toBe(60);
    expect(valueIn(startsUnderUncertainYield(50, 45, 50, 0.95))).toBe(63);
    expect(valueIn(startsUnderUncertainYield(50, 9, 10, 0.95))).toBe(76);
  });
});
