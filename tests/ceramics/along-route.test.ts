import { describe, expect, it } from "vitest";
import { keptBefore, type PositionedValue, sumUpTo, valueBefore } from "../../src/ceramics/along-route";
import { valueIn } from "./read-reference";

const placed = (...pairs: readonly (readonly [number, number | undefined])[]): PositionedValue[] =>
  pairs.map(([order, value]) => ({ order, value }));

describe("what is left before a step", () => {
  // Rolled throughput yield .95 × .84 × .88 = .70224: as in tests/published/accounts-yields.test.ts.
  const losses = placed([1, 0.05], [2, 0.16], [3, 0.12]);
  it("is everything at the first, and the product of what came before at the others", () => {
    expect(valueIn(keptBefore(1, losses))).toBe(1);
    expect(valueIn(keptBefore(3, losses))).toBeCloseTo(0.798, 12);
    expect(valueIn(keptBefore(9, losses))).toBeCloseTo(0.70224, 12);
  });
  it("goes by order, not by position, and between whole numbers too", () => {
    expect(valueIn(keptBefore(2.5, [...losses].reverse()))).toBeCloseTo(0.798, 12);
  });
  it("refuses a loss of everything, and counts a blank as none", () => {
    const lost = keptBefore(2, placed([1, 1]));
    expect(lost.ok ? "" : lost.problems[0]?.message).toContain("0 to below 1");
    expect(valueIn(keptBefore(2, placed([1, undefined])))).toBe(1);
  });
  it("refuses an order that is none", () => {
    expect(keptBefore(Number.NaN, losses).ok).toBe(false);
    expect(sumUpTo(Number.NaN, losses).ok).toBe(false);
  });
});

describe("what adds up to a step", () => {
  it("holds the step itself and passes over blanks", () => {
    expect(valueIn(sumUpTo(2, placed([1, 4], [3, 100], [2, 5], [1.5, undefined])))).toBe(9);
  });
});

describe("the nearest value before a step", () => {
  it("passes over blanks and later steps", () => {
    expect(valueIn(valueBefore(4, placed([2, 38], [1, 40], [3, undefined], [4, 7])))).toBe(38);
  });
  it("is refused where there is none", () => {
    expect(valueBefore(1, placed([1, 3]))).toMatchObject({ ok: false });
  });
});
