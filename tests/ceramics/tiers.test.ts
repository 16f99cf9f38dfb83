// Starts for two tiers, against chances summed over every outcome.
import { describe, expect, test } from "vitest";
import { chanceOfTiers, specialAmong, startsForTiers, type TierPlan } from "../../src/ceramics/tiers";
import { chanceOfTiersUnsure, startsForTiersUnsure } from "../../src/ceramics/uncertain-tiers";
import { startsUnderUncertainYield } from "../../src/ceramics/uncertain-yield";
import { startsNeeded } from "../../src/ceramics/yields";
import { must } from "../accounts/results";
import { bestChance, fewest, fewestUnsure, likeliest, unsureChance } from "../tools/independent-starts";

const plan = (standard: number, special: number, yieldOfAll: number, yieldOfSpecial: number): TierPlan => ({
  ...{ standard, special, yieldOfAll, yieldOfSpecial },
});
const plainly = ({ standard, special, yieldOfAll, yieldOfSpecial }: TierPlan) => ({
  ...{ standard, special, all: yieldOfAll, own: yieldOfSpecial },
});

describe("starts for two tiers", () => {
  test("of two pieces, by hand", () => {
    // Six started, four of them special: (1 − ½²)(1 − ¾⁴) = .5127; five give .434 at best.
    const one = plan(1, 1, 0.5, 0.5);
    expect(must(startsForTiers(one, 0.5))).toBe(6);
    expect(must(specialAmong(6, one))).toBe(4);
    expect(must(chanceOfTiers(6, 4, one))).toBeCloseTo(0.75 * (1 - 0.75 ** 4), 14);
  });

  test.each([
    [plan(96, 24, 0.904, 0.98), 0.9],
    [plan(96, 24, 0.904, 0.98), 0.99],
    [plan(10, 10, 0.8, 1), 0.9],
    [plan(3, 17, 0.7, 0.5), 0.95],
    [plan(40, 1, 0.95, 0.6), 0.5],
    [plan(5, 5, 1, 1), 0.9],
    [plan(5, 5, 1, 0.4), 0.3],
  ])("%j at %d are the fewest that deliver both", (tiers, confidence) => {
    const starts = must(startsForTiers(tiers, confidence));
    expect(starts).toBe(fewest(plainly(tiers), confidence));
    const special = must(specialAmong(starts, tiers));
    expect(special).toBe(likeliest(plainly(tiers), starts));
    const chance = must(chanceOfTiers(starts, special, tiers));
    expect(chance).toBeCloseTo(bestChance(plainly(tiers), starts), 11);
    expect(chance).toBeGreaterThanOrEqual(confidence);
  });

  test("of one tier are those of one yield", () => {
    expect(must(startsForTiers(plan(50, 0, 0.9, 0.5), 0.95))).toBe(60);
    expect(must(startsForTiers(plan(0, 50, 0.95, 0.9), 0.95))).toBe(must(startsNeeded(50, 0.95 * 0.9, 0.95)));
    expect(must(specialAmong(60, plan(50, 0, 0.9, 0.5)))).toBe(0);
    expect(must(specialAmong(60, plan(0, 50, 0.9, 0.5)))).toBe(60);
    expect(must(startsForTiers(plan(0, 0, 0.9, 0.5), 0.95))).toBe(0);
  });

  test("of thousands are found at once, and of too few a share is given", () => {
    const many = plan(8000, 2000, 0.88, 0.95);
    const starts = must(startsForTiers(many, 0.9));
    const special = must(specialAmong(starts, many));
    expect(must(chanceOfTiers(starts, special, many))).toBeGreaterThanOrEqual(0.9);
    const fewer = must(specialAmong(starts - 1, many));
    expect(must(chanceOfTiers(starts - 1, fewer, many))).toBeLessThan(0.9);
    expect(must(specialAmong(10, plan(12, 3, 0.9, 1)))).toBe(2);
  });

  test("a certainty met exactly is met, whatever the last binary digit says", () => {
    expect(must(startsForTiers(plan(1, 1, 0.9, 1), 0.81))).toBe(2);
  });

  test("refuse what is none", () => {
    expect(startsForTiers(plan(1.5, 1, 0.9, 1), 0.9).ok).toBe(false);
    expect(startsForTiers(plan(1, 1, 0, 1), 0.9).ok).toBe(false);
    expect(startsForTiers(plan(1, 1, 0.9, 1), 1).ok).toBe(false);
    expect(chanceOfTiers(5, 6, plan(1, 1, 0.9, 1)).ok).toBe(false);
  });
});

describe("starts for two tiers from counted pieces", () => {
  const seen = (standard: number, special: number, all: [number, number], own: [number, number] = [0, 0]) => ({
    ...{ standard, special, seenGood: all[0], seen: all[1], specialSeenGood: own[0], specialSeen: own[1] },
  });

  test("are the fewest by every draw of an urn", () => {
    for (const [tiers, confidence] of [
      [seen(12, 4, [9, 10], [4, 5]), 0.9],
      [seen(6, 6, [45, 50], [9, 10]), 0.95],
      [seen(10, 3, [18, 20]), 0.8],
    ] as const) {
      const own = tiers.specialSeen === 0 ? undefined : { good: tiers.specialSeenGood, of: tiers.specialSeen };
      const all = { good: tiers.seenGood, of: tiers.seen };
      expect(must(startsForTiersUnsure(tiers, confidence))).toBe(fewestUnsure(tiers, confidence, all, own));
      for (const of of [3, 6, 8])
        expect(must(chanceOfTiersUnsure(24, of, tiers))).toBeCloseTo(unsureChance(tiers, 24, of, all, own), 12);
    }
  });

  test("of one tier are those of one yield, and many pieces seen come to what a known yield asks for", () => {
    expect(must(startsForTiersUnsure(seen(50, 0, [45, 50]), 0.95))).toBe(
      must(startsUnderUncertainYield(50, 45, 50, 0.95)),
    );
    const much = must(startsForTiersUnsure(seen(96, 24, [904_000, 1_000_000], [980_000, 1_000_000]), 0.9));
    expect(much).toBe(must(startsForTiers(plan(96, 24, 0.904, 0.98), 0.9)));
  });
});
