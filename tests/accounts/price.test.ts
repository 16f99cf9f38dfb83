import { describe, expect, test } from "vitest";
import { breakEvenCount, breakEvenSold } from "../../src/accounts/break-even";
import { carryOverhead, wearOfMoulds } from "../../src/accounts/overhead";
import { leftAfterFees, netPrice, priceForMargin } from "../../src/accounts/price";
import { codesOf, must, problemsOf } from "./results";

const terms = { feeRate: 0.03, feeFixed: 0.3, taxRate: 0.2 };

describe("price for a margin", () => {
  test("leaves the margin on the price without tax, once fees on the price with tax are off", () => {
    // 120 with tax: 100 without; fees 3.60 + 0.30; cost 56.10 leaves 40 of 100.
    expect(must(priceForMargin(56.1, 0.4, 0.03, 0.3, 0.2))).toBeCloseTo(120, 10);
    expect(must(priceForMargin(60, 0.4))).toBeCloseTo(100, 10);
    expect(must(priceForMargin(60, -0.2))).toBeCloseTo(50, 10);
    expect(must(priceForMargin(0, 0, 0, 0, 0))).toBe(0);
  });

  test.each([
    ["a margin of 100 %", [10, 1], "number.range"],
    ["a margin in percent", [10, 40], "number.range"],
    ["a negative cost", [-1, 0.4], "number.range"],
    ["a fee of everything", [10, 0, 1], "number.range"],
    ["a negative tax", [10, 0.4, 0, 0, -0.1], "number.range"],
    ["a cost that is no number", [Number.NaN, 0.4], "number.missing"],
    ["numbers beyond counting", [1e308, 0.99], "number.overflow"],
    ["a margin that fees and tax leave no room for", [10, 0.97, 0.03], "price.unreachable"],
  ] as const)("refuses %s", (_, given, code) => {
    const [cost, margin, ...rest] = given as readonly number[];
    expect(codesOf(priceForMargin(cost!, margin!, ...rest))).toEqual([code]);
  });

  test("says which margins can be had", () => {
    expect(problemsOf(priceForMargin(10, 0.98, 0.03, 0, 0.2))[0]?.message).toBe(
      "Price for a margin: found “a margin of 0.98 with a fee of 0.03 and tax of 0.2”, but it takes a margin below 0.964, because margin, fee and tax together leave nothing to carry the cost. Lower the margin or the fee.",
    );
  });
});

describe("what a price leaves", () => {
  test("is net of tax and of fees on the price with tax", () => {
    expect(netPrice(120, 0.2)).toBeCloseTo(100, 12);
    expect(leftAfterFees(120, terms)).toBeCloseTo(96.1, 12);
  });
});

describe("break-even", () => {
  test.each([
    [0.3, 0.4, 0.3, 3],
    [0.7, 0.8, 0.7, 7],
    [1, 0.3, 0, 4],
    [0, 10, 5, 0],
    [100, 10, 0, 10],
    [100.01, 10, 0, 11],
    [0.1 + 0.2, 0.1, 0, 3],
  ])("fixed %d, price %d, variable %d: %i", (fixed, price, variable, count) => {
    expect(must(breakEvenCount(fixed, price, variable))).toBe(count);
  });

  test("with tax and fees counts what is left of the price", () => {
    // 120 leaves 96.10; 96.10 − 56.10 = 40 a piece.
    expect(must(breakEvenSold(400, 120, 56.1, terms))).toBe(10);
    expect(must(breakEvenSold(400.01, 120, 56.1, terms))).toBe(11);
    expect(codesOf(breakEvenSold(400, 36, 40, terms))).toEqual(["price.never-pays"]);
    expect(codesOf(breakEvenSold(400, 0.3, 0, terms))).toEqual(["price.never-pays"]);
    expect(codesOf(breakEvenSold(400, 36, 1, { ...terms, taxRate: -1 }))).toEqual(["number.range"]);
  });

  test.each([
    [100, 10, 10, "price.never-pays"],
    [0, 5, 10, "price.never-pays"],
    [-1, 10, 5, "number.range"],
    [1, Number.POSITIVE_INFINITY, 5, "number.missing"],
    [1e15, 1e-15, 0, "count.too-many"],
  ])("fixed %d, price %d, variable %d is refused", (fixed, price, variable, code) => {
    expect(codesOf(breakEvenCount(fixed, price, variable))).toEqual([code]);
  });

  test("says why no count pays", () => {
    expect(problemsOf(breakEvenCount(100, 10, 12))[0]?.message).toBe(
      "Break-even: found “10 brought in and 12 spent for each piece”, but it takes a piece that brings in more than it costs. No number of pieces pays the fixed costs. Raise the price or lower the cost of a piece.",
    );
  });
});

describe("overhead and wear", () => {
  test("idle hours are a cost of the period; busy ones lower the rate", () => {
    const terms = { ratePerHour: 6, paid: 1000, normalHours: 100 };
    expect(must(carryOverhead(terms, 80))).toEqual({ perHour: 10, carried: 800, idle: 200 });
    expect(must(carryOverhead(terms, 125))).toEqual({ perHour: 8, carried: 1000, idle: 0 });
    expect(must(carryOverhead(terms, 0))).toEqual({ perHour: 10, carried: 0, idle: 1000 });
    expect(codesOf(carryOverhead({ ...terms, normalHours: 0 }, 10))).toEqual(["number.range"]);
    expect(codesOf(carryOverhead(terms, -1))).toEqual(["number.range"]);
  });

  test("without normal hours the rate is the one typed; without a bill nothing is idle", () => {
    expect(must(carryOverhead({ ratePerHour: 6, paid: 1000 }, 80))).toEqual({ perHour: 6, carried: 480, idle: 520 });
    expect(must(carryOverhead({ ratePerHour: 20, paid: 1000 }, 80))).toEqual({ perHour: 12.5, carried: 1000, idle: 0 });
    expect(must(carryOverhead({ ratePerHour: 6 }, 80))).toEqual({ perHour: 6, carried: 480, idle: 0 });
  });

  test("a mould wears by the cast and never beyond its cost", () => {
    const mould = { cost: 45, salvage: 5, lifeCasts: 80, made: 1 };
    expect(must(wearOfMoulds(mould, 30))).toEqual({ perCast: 0.5, made: 1, worn: 15, left: 30, charged: 0 });
    expect(must(wearOfMoulds(mould, 100))).toEqual({ perCast: 0.4, made: 1, worn: 40, left: 5, charged: 0 });
    expect(codesOf(wearOfMoulds({ ...mould, salvage: 50 }, 1))).toEqual(["number.range"]);
    expect(codesOf(wearOfMoulds({ ...mould, lifeCasts: 0 }, 1))).toEqual(["number.range"]);
  });

  test("as many moulds as the casts need, and what is left of them carried or charged", () => {
    const mould = { cost: 45, salvage: 5, lifeCasts: 80 };
    expect(must(wearOfMoulds(mould, 120))).toEqual({ perCast: 0.5, made: 2, worn: 60, left: 30, charged: 0 });
    expect(must(wearOfMoulds({ ...mould, isRestCharged: true }, 120)).charged).toBe(20);
    expect(must(wearOfMoulds(mould, 0))).toEqual({ perCast: 0.5, made: 0, worn: 0, left: 0, charged: 0 });
  });
});
