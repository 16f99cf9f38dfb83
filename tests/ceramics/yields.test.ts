import { describe, expect, it } from "vitest";
import { chanceOf, startsNeeded, wantedOverYield, yieldChain } from "../../src/ceramics/yields";
import { exactStarts } from "./exact-chance";
import { messagesOf, problemsOf, valueIn } from "./read-reference";

describe("a chain of losses", () => {
  it("multiplies what is kept", () => {
    expect(valueIn(yieldChain([0.5, 0.5, 0.2]))).toBeCloseTo(0.2, 14);
    expect(valueIn(yieldChain([]))).toBe(1);
    expect(valueIn(yieldChain([0, 0]))).toBe(1);
  });

  it("refuses losses that are none", () => {
    expect(messagesOf(yieldChain([0.1, 1, -0.1, Number.NaN]))).toEqual([
      "loss 2 of the list: found 1, but it takes a fraction from 0 to below 1. Write a percentage as a fraction: 65 % is 0.65.",
      "loss 3 of the list: found -0.1, but it takes a fraction from 0 to below 1.",
      "loss 4 of the list: found NaN, but it takes a fraction from 0 to below 1.",
    ]);
  });
});

describe("starts needed", () => {
  it("agrees with whole-number arithmetic over a wide table", () => {
    for (const good of [1, 2, 3, 5, 8, 13, 24])
      for (const yieldText of ["0.2", "0.37", "0.5", "0.75", "0.8", "0.9", "0.96", "0.995"])
        for (const confidenceText of ["0.01", "0.5", "0.64", "0.75", "0.9", "0.96", "0.99", "0.999999"])
          expect(valueIn(startsNeeded(good, Number(yieldText), Number(confidenceText)))).toBe(
            exactStarts(good, yieldText, confidenceText),
          );
  });

  // Computed with mpmath at 40 digits by summing the terms at n and at n − 1.
  it.each([
    [5000, 0.93, 0.95, 5410],
    [5000, 0.62, 0.99, 8230],
    [2000, 0.803, 0.9, 2522],
    [5000, 0.99, 0.999, 5074],
    [3000, 0.03, 0.95, 102_976],
    [10_000, 0.85, 0.95, 11_840],
  ])("of %i at a yield of %d with confidence %d", (good, yieldFraction, confidence, starts) => {
    expect(valueIn(startsNeeded(good, yieldFraction, confidence))).toBe(starts);
  });

  it("does not rise on an exact tie", () => {
    // Of 2N − 1 fair throws, at least N fall one way with a chance of exactly a half.
    for (const good of [1, 2, 3, 10, 77, 1000, 20_000])
      expect(valueIn(startsNeeded(good, 0.5, 0.5))).toBe(2 * good - 1);
    // All of them: the chance is a power of the yield.
    expect(valueIn(startsNeeded(2, 0.9, 0.81))).toBe(2);
    expect(valueIn(startsNeeded(3, 0.7, 0.343))).toBe(3);
    expect(valueIn(startsNeeded(5, 0.8, 0.32768))).toBe(5);
    // At least one: 1 − 0.3³ = 0.973, 1 − 0.1⁴ = 0.9999.
    expect(valueIn(startsNeeded(1, 0.7, 0.973))).toBe(3);
    expect(valueIn(startsNeeded(1, 0.9, 0.9999))).toBe(4);
    expect(valueIn(startsNeeded(1, 0.9, 0.999999999))).toBe(9);
  });

  it("does not rise on a tie when the yield is itself a product of decimals", () => {
    // 0.7 × 0.7 is 0.48999999999999994 in binary; two starts at 0.49 give 1 − 0.51² = 0.7399.
    expect(valueIn(startsNeeded(1, valueIn(yieldChain([0.3, 0.3])), 0.7399))).toBe(2);
  });

  it("rises when the confidence lies just beyond the tie", () => {
    expect(valueIn(startsNeeded(1, 0.9, 0.9000000001))).toBe(2);
    expect(valueIn(startsNeeded(1, 0.9, 0.99000001))).toBe(3);
    expect(valueIn(startsNeeded(100, 0.5, 0.500000001))).toBe(200);
  });

  it("is nothing for nothing, and all of them at a yield of 1", () => {
    for (const confidence of [0.01, 0.5, 0.99]) expect(valueIn(startsNeeded(0, 0.5, confidence))).toBe(0);
    expect(valueIn(startsNeeded(7, 1, 0.999999))).toBe(7);
    expect(valueIn(startsNeeded(10_000_000, 1, 0.5))).toBe(10_000_000);
    expect(valueIn(startsNeeded(12, 0.9, 1e-30))).toBe(12);
  });

  it("refuses what can't be", () => {
    expect(messagesOf(startsNeeded(-1, 0, 1))).toEqual([
      "good: found -1, but it takes a whole number from 0 to 10\u202f000\u202f000.",
      "yield: found 0, but it takes a fraction above 0 and up to 1.",
      "confidence: found 1, but it takes a fraction above 0 and below 1. Write a percentage as a fraction: 65 % is 0.65.",
    ]);
    for (const bad of [1.5, Number.NaN, Number.POSITIVE_INFINITY, 1e9])
      expect(problemsOf(startsNeeded(bad, 0.9, 0.9))[0]?.where).toBe("good");
    expect(messagesOf(startsNeeded(10, 1e-9, 0.95))).toEqual([
      "starts: found “10 good at a yield of 1e-9”, but it takes an edition that takes at most 10\u202f000\u202f000 starts. Check the losses: almost nothing comes through.",
    ]);
    expect(problemsOf(startsNeeded(1, 5e-324, 0.95))[0]?.code).toBe("starts.too-many");
  });
});

describe("wanted over yield, and the chance it gives", () => {
  it("rounds up, but not a whole number of pieces", () => {
    expect(valueIn(wantedOverYield(21, 0.7))).toBe(30);
    expect(valueIn(wantedOverYield(57, 0.57))).toBe(100);
    expect(valueIn(wantedOverYield(147, valueIn(yieldChain([0.3, 0.3]))))).toBe(300);
    expect(valueIn(wantedOverYield(147, 0.4899999))).toBe(301);
    expect(valueIn(wantedOverYield(50, 0.7))).toBe(72);
    expect(valueIn(wantedOverYield(0, 0.7))).toBe(0);
    expect(problemsOf(wantedOverYield(1.5, 0)).map((one) => one.where)).toEqual(["good", "yield"]);
    expect(problemsOf(wantedOverYield(10, 1e-9))[0]?.code).toBe("starts.too-many");
  });

  it("gives the chance", () => {
    expect(valueIn(chanceOf(2, 2, 0.9))).toBeCloseTo(0.81, 14);
    expect(valueIn(chanceOf(0, 0, 0.9))).toBe(1);
    expect(valueIn(chanceOf(3, 2, 0.9))).toBe(0);
    expect(valueIn(chanceOf(3, 5, 0))).toBe(0);
    expect(problemsOf(chanceOf(-1, 0.5, 2)).map((one) => one.where)).toEqual(["good", "starts", "yield"]);
  });
});
