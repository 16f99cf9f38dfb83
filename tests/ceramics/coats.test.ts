import { describe, expect, it } from "vitest";
import { coatGrams, shrink, slipDryGramsPerLitre } from "../../src/ceramics/coats";
import { messagesOf, problemsOf, valueIn } from "./read-reference";

describe("coats", () => {
  it("use area × coats × laydown ÷ transfer", () => {
    // By hand: 200 cm² × 3 × 0.05 = 30 g; a quarter of what is sprayed stays, so 120 g.
    expect(valueIn(coatGrams(200, 3, 0.05, 0.25))).toBeCloseTo(120, 12);
    expect(valueIn(coatGrams(200, 3, 0.05, 1))).toBeCloseTo(30, 12);
    expect(valueIn(coatGrams(200, 0, 0.05, 0.25))).toBe(0);
    expect(valueIn(coatGrams(200, 1.5, 0.05, 1))).toBeCloseTo(15, 12);
  });

  it("refuse what can't be", () => {
    expect(messagesOf(coatGrams(-1, -1, -1, 0))).toEqual([
      "area: found -1, but it takes a number from 0 up, in cm².",
      "coats: found -1, but it takes a number from 0 up.",
      "laydown: found -1, but it takes a number from 0 up, in g/cm² for one coat.",
      "transfer: found 0, but it takes a fraction above 0 and up to 1.",
    ]);
    expect(problemsOf(coatGrams(Number.NaN, 1, 1, 1))[0]?.where).toBe("area");
    expect(problemsOf(coatGrams(1, 1, 1, 1.01))[0]?.where).toBe("transfer");
  });
});

describe("slip", () => {
  it("is all water at 1000 g and all solids at 1000 × their density", () => {
    expect(valueIn(slipDryGramsPerLitre(1000, 2.6))).toBe(0);
    expect(valueIn(slipDryGramsPerLitre(2600, 2.6))).toBeCloseTo(2600, 9);
  });

  it("fills the litre: solids ÷ density + water ÷ 1 = 1000 cm³", () => {
    for (const litre of [1400, 1750, 1810])
      for (const density of [2.5, 2.65, 2.9]) {
        const dry = valueIn(slipDryGramsPerLitre(litre, density));
        expect(dry / density + (litre - dry)).toBeCloseTo(1000, 9);
      }
  });

  it("refuses slip lighter than water or heavier than its solids", () => {
    expect(messagesOf(slipDryGramsPerLitre(999, 2.6))).toEqual([
      "litre weight: found 999, but it takes a number from 1000 to 2600, in g. A litre weighs 1000 g as water and 1000 × the density as solid.",
    ]);
    expect(slipDryGramsPerLitre(2601, 2.6).ok).toBe(false);
    expect(messagesOf(slipDryGramsPerLitre(1700, 1))).toEqual([
      "solids density: found 1, but it takes a number from 1.5 to 10, in g/cm³.",
    ]);
    expect(problemsOf(slipDryGramsPerLitre(1.75, Number.NaN)).map((one) => one.where)).toEqual([
      "solids density",
      "litre weight",
    ]);
  });
});

describe("shrinkage", () => {
  it("fires the dry length, not the wet", () => {
    // By hand: 100 loses 10 to 90, which loses a tenth to 81.
    expect(valueIn(shrink(100, 0.1, 0.1))).toBeCloseTo(81, 10);
    expect(valueIn(shrink(100, 0, 0))).toBe(100);
  });

  it("refuses what can't be", () => {
    for (const bad of [-0.01, 1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(problemsOf(shrink(1, bad, 0))[0]?.where).toBe("drying shrinkage");
      expect(problemsOf(shrink(1, 0, bad))[0]?.where).toBe("firing shrinkage");
    }
    expect(problemsOf(shrink(-1, 0, 0))[0]?.where).toBe("length");
  });
});
