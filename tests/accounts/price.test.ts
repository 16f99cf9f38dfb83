import { describe, expect, test } from "vitest";
import { breakEvenCount, breakEvenSold, breakEvenStarts, fixedCostEach, profitAt } from "../../src/accounts/break-even";
import { carryOverhead, wearOfMoulds } from "../../src/accounts/overhead";
import {
  costForMargin,
  leftAfterFees,
  marginFromPrice,
  markupFromPrice,
  netPrice,
  priceForMargin,
  priceForMarkup,
  tierContributions,
} from "../../src/accounts/price";
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

  test("comes back as the margin", () => {
    const price = must(priceForMargin(41.37, 0.35, 0.065, 0.45, 0.19));
    expect(must(marginFromPrice(price, 41.37, { feeRate: 0.065, feeFixed: 0.45, taxRate: 0.19 }))).toBeCloseTo(
      0.35,
      12,
    );
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
    expect(must(marginFromPrice(120, 106.1, terms))).toBeCloseTo(-0.1, 12);
    expect(must(costForMargin(120, 0.4, terms))).toBeCloseTo(56.1, 12);
  });

  test("is a problem where fees are all there is", () => {
    expect(codesOf(marginFromPrice(0.3, 0, terms))).toEqual(["price.below-fees"]);
    expect(codesOf(marginFromPrice(0, 0, terms))).toEqual(["number.range"]);
    expect(codesOf(costForMargin(1, 0.9, terms))).toEqual(["price.below-fees"]);
    expect(problemsOf(marginFromPrice(0.3, 0, terms))[0]?.message).toBe(
      "Price: found 0.3, but it takes a price above its own fees. Raise the price, or sell where the fees are lower.",
    );
  });

  test("markup is measured on cost", () => {
    expect(must(markupFromPrice(150, 100))).toBe(0.5);
    expect(must(priceForMarkup(100, 0.5))).toBe(150);
    expect(codesOf(markupFromPrice(150, 0))).toEqual(["number.range"]);
    expect(codesOf(priceForMarkup(100, -0.5))).toEqual(["number.range"]);
  });

  test("tier by tier and together", () => {
    const { tiers, total } = must(
      tierContributions(
        [
          { tier: "standard", count: 10, price: 120, costEach: 56.1 },
          { tier: "second", count: 2, price: 36, costEach: 40 },
        ],
        terms,
      ),
    );
    // 120: 100 − 3.90 − 56.10 = 40; 36: 30 − 1.38 − 40 = −11.38.
    expect(tiers[0]).toMatchObject({ tier: "standard" });
    expect(tiers[0]?.feesEach).toBeCloseTo(3.9, 12);
    expect(tiers[0]?.contribution).toBeCloseTo(400, 10);
    expect(tiers[1]?.contributionEach).toBeCloseTo(-11.38, 10);
    expect(total).toBeCloseTo(377.24, 10);
    expect(codesOf(tierContributions([{ tier: "x", count: 1.5, price: -1, costEach: 1 }], terms))).toEqual([
      "number.range",
      "number.range",
    ]);
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

  test("with losses counts the starts", () => {
    // 0.8 × (100 − 5) − 60 = 16 a start; 160 ÷ 16 = 10 starts, 8 good.
    const edition = { fixed: 160, priceEach: 100, costPerStart: 60, costPerGood: 5, yieldFraction: 0.8 };
    expect(must(breakEvenStarts(edition))).toEqual({ starts: 10, expectedGood: 8 });
    expect(must(breakEvenStarts({ ...edition, fixed: 160.01 })).starts).toBe(11);
    expect(codesOf(breakEvenStarts({ ...edition, yieldFraction: 0 }))).toEqual(["price.never-pays"]);
    expect(codesOf(breakEvenStarts({ ...edition, yieldFraction: 0.6 }))).toEqual(["price.never-pays"]);
    expect(codesOf(breakEvenStarts({ ...edition, yieldFraction: 80 }))).toEqual(["number.range"]);
  });

  test("profit and fixed costs a piece", () => {
    expect(profitAt(10, 100, 60, 150)).toBe(250);
    expect(must(fixedCostEach(1800, 120))).toBe(15);
    expect(codesOf(fixedCostEach(1800, 0))).toEqual(["count.none"]);
    expect(codesOf(fixedCostEach(-1, 1))).toEqual(["number.range"]);
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
