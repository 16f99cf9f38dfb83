// Overhead, price, break-even and depreciation against published figures. OSX = OpenStax, Principles of
// Accounting, Volume 2 (Managerial) unless Volume 1 is said; SAY = Saylor Academy, Managerial Accounting (2012).
import { describe, expect, test } from "vitest";
import { breakEvenCount } from "../../src/accounts/break-even";
import { carryOverhead, wearOfMoulds } from "../../src/accounts/overhead";
import { bothWays, priceForMargin, pricePoint, taxOfSale } from "../../src/accounts/price";
import { saleAmounts } from "../../src/accounts/sales";
import { roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";

describe("overhead (OSX 4.4–4.7)", () => {
  test("250,000 over 100,000 of labour is 2.50; a job of 700 + 66 takes 165 and comes to 931", () => {
    const rate = must(carryOverhead({ ratePerHour: 9, paid: 250_000, normalHours: 100_000 }, 66)).perHour;
    expect(rate).toBe(2.5);
    expect(66 * rate).toBe(165);
    expect(700 + 66 + 66 * rate).toBe(931);
  });

  test("N1: fixed 1,500 over a normal 7,500 h, 6,500 h worked, expenses 200 (published; the rule is IAS 2 §13)", () => {
    const { carried, idle } = must(carryOverhead({ ratePerHour: 9, paid: 1500, normalHours: 7500 }, 6500));
    expect(roundMoney(carried, 9)).toBe(1300);
    expect(roundMoney(idle, 9)).toBe(200);
  });
});

describe("break-even (OSX 3.2)", () => {
  test("price 100, variable 20, fixed 18,000", () => {
    expect(must(breakEvenCount(18_000, 100, 20))).toBe(225);
  });
});

describe("cost and price", () => {
  test("cost 144 at a margin of 40 % is 240; cost 56 at 60 %, 140 (SAY 7.7)", () => {
    expect(roundMoney(must(priceForMargin(144, 0.4)), 9)).toBe(240);
    expect(roundMoney(must(priceForMargin(56, 0.6)), 9)).toBe(140);
  });
});

describe("tax in a price", () => {
  // HMRC, VAT Notice 700, the VAT fraction: 20 % in a price with tax is 1/6 of it, 5 % is 1/21 (from memory).
  test.each([
    [120, 0.2, 20],
    [105, 0.05, 5],
    [60, 0.2, 10],
  ])("%d with %d in it holds %d", (gross, rate, tax) => {
    const both = bothWays(gross, "with tax", rate);
    expect(roundMoney(both.gross - both.net, 9)).toBe(tax);
  });

  // Directive 2006/112/EC art. 1(2): exactly proportional to the price without tax. By hand: 19 % of 100, 7 % of 28.04.
  test("19 % on 100 is 119; 30 with 7 % in it is 28.04 and 1.96", () => {
    expect(roundMoney(bothWays(100, "without tax", 0.19).gross)).toBe(119);
    expect(bothWays(100, "without tax", 0.19).net).toBe(100);
    expect(roundMoney(bothWays(30, "with tax", 0.07).net)).toBe(28.04);
    const terms = { taxRate: 0.07, feeRate: 0, feeFixed: 0, commission: 0, packing: 0 };
    expect(roundMoney(saleAmounts(30, terms).tax)).toBe(1.96);
  });

  test("the channel's rate comes first, then the tier's, then the edition's; nought is a rate", () => {
    expect(taxOfSale(0.07, 0.1, 0.2)).toBe(0.07);
    expect(taxOfSale(0, 0.1, 0.2)).toBe(0);
    expect(taxOfSale(undefined, 0.1, 0.2)).toBe(0.1);
    expect(taxOfSale(undefined, undefined, 0.2)).toBe(0.2);
  });
});

describe("price points, by hand", () => {
  test.each([
    [91.2, "none", 91.2],
    [91.2, "steps of 0.50", 91.5],
    [91.2, "steps of 1", 92],
    [91.2, "steps of 5", 95],
    [91.2, "steps of 10", 100],
    [91.2, "ends in .90", 91.9],
    [91.91, "ends in .90", 92.9],
    [91.96, "ends in .95", 92.95],
    [91.2, "ends in .99", 91.99],
    [0.2, "ends in .90", 0.9],
    [0, "steps of 5", 0],
    [90, "steps of 5", 90],
    // 0.1 + 0.2 is 0.30000000000000004 to the machine, and 0.30 to a potter.
    [0.1 + 0.2, "steps of my own", 0.3],
  ])("%d, %s: %d", (price, points, point) => expect(must(pricePoint(price, points, 0.1))).toBe(point));

  test("a step of nothing, a price below nothing and points that nobody knows are refused", () => {
    expect(pricePoint(5, "steps of my own", 0).ok).toBe(false);
    expect(pricePoint(-1, "none").ok).toBe(false);
    expect(pricePoint(5, "steps of 7").ok).toBe(false);
  });
});

describe("depreciation of a press of 58,000, salvage 10,000 (OSX Volume 1)", () => {
  test("by units of production: 0.05 × 180,000 = 9,000, and 49,000 of it is left", () => {
    const press = { cost: 58_000, salvage: 10_000, lifeCasts: 48_000 / 0.05 };
    const worn = must(wearOfMoulds(press, 180_000));
    expect(roundMoney(worn.perCast, 12)).toBe(0.05);
    expect(roundMoney(worn.worn, 9)).toBe(9000);
    expect(roundMoney(worn.left, 9)).toBe(49_000);
    // Were it scrapped then, what is left above its salvage would be a loss of that period (IAS 16 §§68, 71).
    expect(roundMoney(must(wearOfMoulds({ ...press, isRestCharged: true }, 180_000)).charged, 9)).toBe(39_000);
  });
});
