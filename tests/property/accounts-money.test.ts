// What must hold of any amount, split, price and process.
import fc from "fast-check";
import { expect, test } from "vitest";
import { roundOverPieces } from "../../src/accounts/allocate";
import { breakEvenCount } from "../../src/accounts/break-even";
import { decideRescue } from "../../src/accounts/decide";
import { splitLosses } from "../../src/accounts/losses";
import { priceForMargin } from "../../src/accounts/price";
import { roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";

const RUNS = { seed: 20_261_125, numRuns: 500 };
const sum = (list: readonly number[]) => list.reduce((total, one) => total + one, 0);

test("rounding is that of exact decimals: thousandths to cents, half away from zero", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1e12 }), (thousandths) => {
      const cents = Number((BigInt(thousandths) + 5n) / 10n);
      expect(roundMoney(thousandths / 1000, 2)).toBe(cents / 100);
      expect(roundMoney(-thousandths / 1000, 2)).toBe(0 - cents / 100);
    }),
    RUNS,
  );
});

test("amounts rounded together sum to their rounded total, each down or up", () => {
  const cents = fc.integer({ min: -1e7, max: 1e7 }).map((units) => units / 1e4);
  fc.assert(
    fc.property(fc.array(cents, { maxLength: 60 }), fc.constantFrom(0, 2, 3), (amounts, digits) => {
      const exactUnits = sum(amounts.map((amount) => Math.round(amount * 1e4)));
      const step = 10 ** (4 - digits);
      const rounded = Math.sign(exactUnits) * Math.floor((2 * Math.abs(exactUnits) + step) / (2 * step));
      const parts = must(
        roundOverPieces(
          amounts.map((amount, at) => ({ piece: `${at}`, amount })),
          digits,
        ),
      );
      expect(sum(parts.map(({ minor }) => minor)) === rounded).toBe(true);
      parts.forEach(({ minor }, at) => {
        expect(Math.abs(minor - amounts[at]! * 10 ** digits)).toBeLessThan(1);
      });
    }),
    RUNS,
  );
});

test("break-even is the first count that pays, by exact arithmetic in cents", () => {
  const cents = fc.integer({ min: 0, max: 10_000_000 });
  fc.assert(
    fc.property(cents, cents, fc.integer({ min: 1, max: 1_000_000 }), (fixed, variable, each) => {
      const count = must(breakEvenCount(fixed / 100, (variable + each) / 100, variable / 100));
      expect(count * each).toBeGreaterThanOrEqual(fixed);
      expect((count - 1) * each).toBeLessThan(fixed);
    }),
    RUNS,
  );
});

test("the price for a margin leaves that margin", () => {
  const rate = fc.integer({ min: 0, max: 300 }).map((thousandths) => thousandths / 1000);
  const cost = fc.integer({ min: 1, max: 1_000_000 }).map((minor) => minor / 100);
  fc.assert(
    fc.property(cost, rate, rate, cost, rate, (spent, margin, feeRate, feeFixed, taxRate) => {
      const price = must(priceForMargin(spent, margin, feeRate, feeFixed, taxRate));
      const kept = price / (1 + taxRate) - price * feeRate - feeFixed - spent;
      expect(kept / (price / (1 + taxRate))).toBeCloseTo(margin, 9);
    }),
    RUNS,
  );
});

test("a rescue is chosen exactly above its break-even chance", () => {
  const worth = fc.integer({ min: -50, max: 200 });
  const spend = fc.integer({ min: 0, max: 60 });
  const chance = fc.integer({ min: 0, max: 100 }).map((percent) => percent / 100);
  fc.assert(
    fc.property(worth, spend, spend, spend, chance, worth, spend, (asIs, material, fire, room, q, failure, gain) => {
      const firings = [{ ridesInPlannedLoad: false, marginalCost: 0, fullCost: fire }];
      const success = failure + gain;
      const decision = must(decideRescue({ asIs, material, labour: 0, firings, room, chance: q, success, failure }));
      const percent = Math.round(q * 100);
      const ahead = percent * success + (100 - percent) * failure - 100 * (material + fire + room + asIs);
      expect(decision.choice).toBe(ahead > 0 ? "rescue" : "leave");
      if (decision.breakEven.kind === "from" && Math.abs(ahead) > 1e-6)
        expect(decision.choice === "rescue").toBe(q > decision.breakEven.chance);
      if (decision.breakEven.kind === "always") expect(decision.choice).toBe("rescue");
      if (decision.breakEven.kind === "never") expect(decision.choice).toBe("leave");
    }),
    RUNS,
  );
});

test("losses of a step are split without a rest, and never more than planned is normal", () => {
  const count = fc.nat(500);
  const money = fc.integer({ min: 0, max: 1_000_000 }).map((minor) => minor / 100);
  const rate = fc.integer({ min: 0, max: 999 }).map((thousandths) => thousandths / 1000);
  fc.assert(
    fc.property(count, count, rate, money, money, (kept, lost, plannedRate, costOfLost, clay) => {
      fc.pre(lost > 0);
      const recovered = Math.min(clay, costOfLost);
      const entered = kept + lost;
      const [split] = must(splitLosses([{ entered, lost, plannedRate, costOfLost, recovered }])).steps;
      if (!split) throw new Error("no step");
      expect(split.normalCost + split.abnormalCost).toBeCloseTo(costOfLost - recovered, 8);
      expect(split.normalPieces + split.abnormalPieces).toBeCloseTo(lost, 9);
      expect(split.normalPieces).toBeLessThanOrEqual(plannedRate * entered + 1e-9);
      expect(split.normalPieces).toBeLessThanOrEqual(lost);
      expect(plannedRate * entered < lost || split.abnormalCost === 0).toBe(true);
    }),
    RUNS,
  );
});
