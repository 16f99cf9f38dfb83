import { describe, expect, test } from "vitest";
import { editionYields, rolledYield, stepFirstPassYield } from "../../src/accounts/yields";
import { codesOf, must } from "./results";

describe("yields of an edition", () => {
  const counts = { goodAtOnce: 70, goodAfterRescue: 12, seconds: 8, lost: 10 };

  test("keep first-pass, final and saleable apart", () => {
    expect(must(editionYields(counts))).toEqual({ decided: 100, firstPass: 0.7, final: 0.82, saleable: 0.9 });
  });

  test("are not known before any outcome is", () => {
    const none = { goodAtOnce: 0, goodAfterRescue: 0, seconds: 0, lost: 0 };
    expect(codesOf(editionYields(none))).toEqual(["yield.undecided"]);
  });

  test("take whole pieces only", () => {
    expect(codesOf(editionYields({ ...counts, lost: 0.5 }))).toEqual(["number.range"]);
    expect(codesOf(editionYields({ ...counts, seconds: -1 }))).toEqual(["number.range"]);
  });
});

describe("yields of a step", () => {
  test("count neither the lost nor the reworked", () => {
    expect(must(stepFirstPassYield({ step: "Glaze firing", entered: 50, lost: 3, reworked: 7 }))).toBe(0.8);
  });

  test("refuse more than entered, and nothing entered", () => {
    expect(codesOf(stepFirstPassYield({ step: "Bisque", entered: 5, lost: 3, reworked: 3 }))).toEqual(["number.range"]);
    expect(codesOf(stepFirstPassYield({ step: "Bisque", entered: 0, lost: 0, reworked: 0 }))).toEqual(["number.range"]);
  });

  test("roll up to their product", () => {
    expect(must(rolledYield([]))).toBe(1);
    expect(must(rolledYield([0.5, 0.5]))).toBe(0.25);
    expect(codesOf(rolledYield([95]))).toEqual(["number.range"]);
  });
});
