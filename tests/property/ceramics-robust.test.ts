// Whatever number a cell may hold, a formula gives a number or says what is wrong: it never throws, and never gives NaN.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coatGrams, shrink, slipDryGramsPerLitre } from "../../src/ceramics/coats";
import { coneTemperature } from "../../src/ceramics/cones";
import { goodDistribution } from "../../src/ceramics/good-distribution";
import { clopperPearson, wilson } from "../../src/ceramics/intervals";
import { filmGrams, fineMetal, lustreGrams } from "../../src/ceramics/metal";
import { bandArea, discArea, profileArea, zoneArea } from "../../src/ceramics/shapes";
import { startsUnderUncertainYield } from "../../src/ceramics/uncertain-yield";
import { chanceOf, startsNeeded, wantedOverYield, yieldChain } from "../../src/ceramics/yields";
import type { Result } from "../../src/core/problem";

type Formula = (a: number, b: number, c: number, d: number) => Result<unknown>;

const formulas: Readonly<Record<string, Formula>> = {
  coatGrams,
  slipDryGramsPerLitre,
  shrink,
  coneTemperature: (a, b) => coneTemperature(a, b),
  wilson,
  clopperPearson,
  lustreGrams,
  filmGrams,
  fineMetal,
  bandArea,
  discArea,
  zoneArea,
  profileArea: (a, b, c, d) => profileArea([a, b], [c, d]),
  startsUnderUncertainYield: (a, b, c, d) => startsUnderUncertainYield(a, b, c, d),
  yieldChain: (a, b, c) => yieldChain([a, b, c]),
  startsNeeded,
  chanceOf,
  wantedOverYield,
  goodDistribution: (a, b, c) => goodDistribution(a % 5000, [b, c]),
};

const odd = fc.constantFrom(
  Number.NaN,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  -0,
  5e-324,
  Number.MAX_VALUE,
  1 - 2 ** -53,
  1 + 2 ** -52,
  10_000_000,
);
const anyNumber = fc.oneof(
  odd,
  fc.integer({ min: -3, max: 400 }),
  fc.double({ min: 0, max: 1, noNaN: true }),
  fc.double({ min: 0, max: 3000, noNaN: true }),
  fc.double(),
);

function everyNumberIsFinite(value: unknown): boolean {
  if (typeof value === "number") return Number.isFinite(value);
  if (value instanceof Float64Array) return value.every((one) => Number.isFinite(one));
  return Object.values(value as object).every((one) => typeof one !== "number" || Number.isFinite(one));
}

describe("any number at all", () => {
  it.each(Object.entries(formulas))("%s", (_name, formula) => {
    fc.assert(
      fc.property(anyNumber, anyNumber, anyNumber, anyNumber, (a, b, c, d) => {
        const result = formula(a, b, c, d);
        if (result.ok) expect(everyNumberIsFinite(result.value)).toBe(true);
        else {
          expect(result.problems.length).toBeGreaterThan(0);
          for (const { message, where, found, allowed } of result.problems) {
            expect(message.startsWith(`${where}: found ${found}, but it takes ${allowed}.`)).toBe(true);
            expect(message).not.toContain("undefined");
          }
        }
      }),
      { seed: 1630, numRuns: 300 },
    );
  });

  it.each(Object.entries(formulas))("%s names every argument that is not a number", (_name, formula) => {
    const result = formula(Number.NaN, Number.NaN, Number.NaN, Number.NaN);
    expect(result.ok).toBe(false);
    if (!result.ok) expect(result.problems.every((one) => one.found === "NaN")).toBe(true);
  });
});
