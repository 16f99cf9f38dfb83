import { describe, expect, it } from "vitest";
import { filmGrams, fineMetal, lustreGrams, metalDensityGPerCm3 } from "../../src/ceramics/metal";
import { messagesOf, problemsOf, valueIn } from "./read-reference";

describe("lustre", () => {
  it("draws area × coats × laydown ÷ (1 − waste)", () => {
    // By hand: 40 cm² × 2 × 0.003 = 0.24 g on the piece; a fifth stays in brush and vial, so 0.3 g is drawn.
    expect(valueIn(lustreGrams(40, 2, 0.003, 0.2))).toBeCloseTo(0.3, 12);
    expect(valueIn(lustreGrams(40, 2, 0.003, 0))).toBeCloseTo(0.24, 12);
    expect(valueIn(lustreGrams(0, 2, 0.003, 0.2))).toBe(0);
  });

  it("refuses what can't be", () => {
    expect(messagesOf(lustreGrams(-1, Number.NaN, -1, 1))).toEqual([
      "area: found -1, but it takes a number from 0 up, in cm².",
      "coats: found NaN, but it takes a number from 0 up.",
      "laydown: found -1, but it takes a number from 0 up, in g/cm² for one coat.",
      "waste: found 1, but it takes a fraction from 0 to below 1. Write a percentage as a fraction: 65 % is 0.65.",
    ]);
  });
});

describe("a film", () => {
  it("weighs area × thickness × density", () => {
    // By hand: 10,000 cm² × 100 nm (1e-5 cm) = 0.1 cm³.
    expect(valueIn(filmGrams(10_000, 100, "gold"))).toBeCloseTo(1.932, 12);
    expect(valueIn(filmGrams(10_000, 100, " Silver "))).toBeCloseTo(1.05, 12);
    expect(valueIn(filmGrams(10_000, 100, 2))).toBeCloseTo(0.2, 12);
    for (const [metal, density] of Object.entries(metalDensityGPerCm3))
      expect(valueIn(filmGrams(1, 1, metal))).toBe(valueIn(filmGrams(1, 1, density)));
  });

  it("refuses what can't be", () => {
    expect(messagesOf(filmGrams(-1, -1, "brass"))).toEqual([
      "area: found -1, but it takes a number from 0 up, in cm².",
      "film: found -1, but it takes a number from 0 up, in nm.",
      "metal: found “brass”, but it takes gold, silver, platinum, palladium, or a density in g/cm³.",
    ]);
    expect(messagesOf(filmGrams(1, 1, 0))).toEqual([
      "metal: found 0, but it takes a number above 0, in g/cm³ (its density), or a metal's name.",
    ]);
    expect(problemsOf(filmGrams(1, 1, "toString"))[0]?.code).toBe("metal.unknown");
  });
});

describe("fine metal", () => {
  it("is grams × fraction × carat ÷ 24", () => {
    // By hand: 12 g at a tenth is 1.2 g of alloy, 18/24 of it fine.
    expect(valueIn(fineMetal(12, 0.1, 18))).toBeCloseTo(0.9, 12);
    expect(valueIn(fineMetal(12, 0, 18))).toBe(0);
    expect(valueIn(fineMetal(12, 1, 24))).toBe(12);
  });

  it("refuses what can't be", () => {
    expect(messagesOf(fineMetal(-1, 10, 25))).toEqual([
      "grams: found -1, but it takes a number from 0 up, in g.",
      "metal fraction: found 10, but it takes a fraction from 0 to 1. Write a percentage as a fraction: 65 % is 0.65.",
      "carat: found 25, but it takes a number above 0 and up to 24. 24 carat is pure, 22 carat is 22 parts in 24.",
    ]);
    for (const carat of [0, -22, Number.NaN]) expect(problemsOf(fineMetal(1, 0.1, carat))[0]?.where).toBe("carat");
  });
});
