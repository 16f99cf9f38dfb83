// Standard-costing variances against textbooks. SAY = Saylor Academy, Managerial Accounting (2012), chapter 10, from memory;
// what is marked (definitions) follows the formulas that ACCA, CIMA and other textbooks share, with figures of our own.
import { describe, expect, test } from "vitest";
import type { Cause, Variance } from "../../src/accounts/plan-causes";
import type { PlannedWork, RealSale, RealWork } from "../../src/accounts/plan-records";
import { planVariances } from "../../src/accounts/plan-variances";
import { stepVariances } from "../../src/accounts/work-variances";
import { plainPlan, work } from "../accounts/plan-runs";

const amountOf = (variances: readonly Variance[], cause: Cause) =>
  Math.round(variances.reduce((sum, one) => sum + (one.cause === cause ? one.amount : 0), 0) * 1e6) / 1e6;

describe("an ice cream maker, 210,000 units made (SAY 10.3 to 10.5, from memory; ours are favourable above 0)", () => {
  // Standard a unit: 2 pounds at 1.00, 0.10 hours at 13.00, variable overhead 5.00 an hour.
  const plan = plainPlan({ wagePerHour: 13, overheadPerHour: 5 });
  const step: PlannedWork = work("make", 1, { grams: 2, pricePerGram: 1, hours: 0.1 });
  const real: RealWork = {
    ...{ id: "make", grams: 399_000, material: 399_000 * 1.2 },
    ...{ hours: 18_900, labour: 283_500, overhead: 100_000, mouldWear: 0 },
  };
  const found = stepVariances(plan, step, real, 210_000);

  test("materials: price 88,000 unfavourable on the 440,000 pounds bought, quantity 21,000 favourable", () => {
    const bought = { ...real, grams: 440_000, material: 528_000 };
    expect(amountOf(stepVariances(plan, step, bought, 210_000), "materialPrice")).toBe(-88_000);
    expect(amountOf(found, "grams")).toBe(21_000);
    // What is left in stock keeps its own price here (D-061), so that price is judged on what was used.
    expect(amountOf(found, "materialPrice")).toBe(-79_800);
  });

  test("labour: rate 37,800 unfavourable, efficiency 27,300 favourable", () => {
    expect(amountOf(found, "wage")).toBe(-37_800);
    expect(amountOf(found, "minutes")).toBe(27_300);
  });

  test("variable overhead: spending 5,500 unfavourable, efficiency 10,500 favourable", () => {
    expect(amountOf(found, "overheadRate")).toBe(-5500);
    expect(amountOf(found, "overheadHours")).toBe(10_500);
  });

  test("together they are the flexible budget less what was spent", () => {
    const flexible = 210_000 * (2 + 0.1 * 13 + 0.1 * 5);
    const spent = 399_000 * 1.2 + 283_500 + 100_000;
    expect(found.reduce((sum, { amount }) => sum + amount, 0)).toBeCloseTo(flexible - spent, 6);
  });
});

/** A plan of two tiers that cost nothing but what is said, sold without tax or fees. */
function twoTiers(steps: readonly PlannedWork[], sold: { standard: number; special: number }) {
  const free = { taxRate: 0, feeRate: 0, feeFixed: 0, packing: 0 };
  return plainPlan({
    ...{ steps, sold, starts: sold, wagePerHour: 10, overheadPerHour: 0, mouldsCharged: 0, fixedCosts: 0 },
    sale: { standard: { ...free, price: 20 }, special: { ...free, price: 50 }, second: { ...free, price: 5 } },
  });
}

const sales = (standard: number, price: number, special: number, specialPrice: number): RealSale[] => {
  const sale = (tier: "standard" | "special", of: number): RealSale => ({
    ...{ tier, isSecond: false, price: of, net: of, fees: 0, packing: 0 },
  });
  return [
    ...Array.from({ length: standard }, () => sale("standard", price)),
    ...Array.from({ length: special }, () => sale("special", specialPrice)),
  ];
};

describe("sales price, mix and quantity (definitions)", () => {
  // Standard margins 20 − 12 = 8 and 50 − 20 = 30; planned 600 and 400; sold 650 at 19 and 450 at 52.
  const steps = [work("make", 1, { hours: 1.2 }), work("band", 2, { hours: 0.8, who: "special" })];
  const plan = twoTiers(steps, { standard: 600, special: 400 });
  const pieces = [
    ...Array.from({ length: 650 }, () => ({ tier: "standard", state: "finished", had: ["make"] }) as const),
    ...Array.from({ length: 450 }, () => ({ tier: "special", state: "finished", had: ["make", "band"] }) as const),
  ];
  const hours = (id: string, count: number, each: number): RealWork => ({
    ...{ id, grams: 0, material: 0, hours: count * each, labour: count * each * 10, overhead: 0, mouldWear: 0 },
  });
  const { planned, real, variances } = planVariances(
    plan,
    {
      ...{ pieces, sales: sales(650, 19, 450, 52), steps: [hours("make", 1100, 1.2), hours("band", 450, 0.8)] },
      ...{ back: 0, emptyFirings: 0, idleOverhead: 0, mouldsCharged: 0, fixedCosts: 0, inProgress: 0 },
      stock: { brings: 0, carried: 0 },
    },
    "once sold",
  );

  test("price: 650 × (19 − 20) + 450 × (52 − 50)", () => expect(amountOf(variances, "price")).toBe(-650 + 900));

  test("quantity: 100 more in the planned mix at a standard margin of 16.80 on average", () =>
    expect(amountOf(variances, "number")).toBe(1680));

  test("mix: 650 against 660 at 8, and 450 against 440 at 30", () =>
    expect(amountOf(variances, "mix")).toBe(-10 * 8 + 10 * 30));

  test("quantity and mix are the sales volume variance, and nothing else moves", () => {
    expect(amountOf(variances, "number") + amountOf(variances, "mix")).toBe(50 * 8 + 50 * 30);
    expect([planned, real]).toEqual([600 * 8 + 400 * 30, 650 * 7 + 450 * 32]);
    expect(variances.filter(({ amount }) => Math.abs(amount) > 1e-9).map(({ cause }) => cause)).toEqual(
      expect.not.arrayContaining(["spare", "lossesInPlan", "lossesBeyond", "steps"]),
    );
  });
});

describe("yield (definitions): standard input for the actual output, less actual input, at standard cost", () => {
  // A tenth is to be lost, so that a good piece is to cost 12 ÷ 0.9. Of 1,000 started 880 come out where 900 were to.
  test("20 pieces short cost 20 × 12 ÷ 0.9", () => {
    const plan = twoTiers([work("make", 1, { hours: 1.2, loss: 0.1 })], { standard: 900, special: 0 });
    const planned = { ...plan, starts: { standard: 1000, special: 0 } };
    const piece = { tier: "standard", had: ["make"] } as const;
    const pieces = [
      ...Array.from({ length: 880 }, () => ({ ...piece, state: "finished" }) as const),
      ...Array.from({ length: 120 }, () => ({ ...piece, state: "lost", lostAt: "make" }) as const),
    ];
    const steps = [{ id: "make", grams: 0, material: 0, hours: 1200, labour: 12_000, overhead: 0, mouldWear: 0 }];
    const nothing = { back: 0, emptyFirings: 0, idleOverhead: 0, mouldsCharged: 0, fixedCosts: 0, inProgress: 0 };
    const run = { ...nothing, pieces, steps, sales: sales(880, 20, 0, 0), stock: { brings: 0, carried: 0 } };
    const { variances } = planVariances(planned, run, "once sold");
    const yieldVariance = amountOf(variances, "lossesInPlan") + amountOf(variances, "lossesBeyond");
    expect(yieldVariance).toBeCloseTo((-20 * 12) / 0.9, 5);
    // 120 lost of 1,000 of which 100 were to be: 20 beyond plan, at 12 each.
    expect(amountOf(variances, "lossesBeyond")).toBe(-240);
    expect(amountOf(variances, "number")).toBeCloseTo(-20 * (20 - 12 / 0.9), 5);
  });
});
