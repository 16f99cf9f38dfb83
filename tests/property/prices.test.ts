// What must hold of prices whatever is set up: with tax or without, a rate for each tier and channel, any price points. The
// sheets agree with plain loops, a price is what is without tax and the tax to the coin, and sales, Results and journal tie.
import fc from "fast-check";
import { expect, test } from "vitest";
import { bothWays, pricePoint } from "../../src/accounts/price";
import { saleAmounts, sumOfSales } from "../../src/accounts/sales";
import { settle } from "../../src/app/settle/settle";
import { fromMinorUnits, roundMoney } from "../../src/core/money";
import { POINT_NAMES, PRICES_ARE } from "../../src/core/sheets/price-terms";
import { must } from "../accounts/results";
import { compareSheets } from "../tools/compare-sheets";
import { evaluate } from "../tools/evaluate";
import { soldOut } from "../tools/finished-edition";
import { afterTyping } from "../tools/small-edition";
import { journalOf } from "../tools/whole-journal";

const rate = fc.option(fc.constantFrom(0, 0.07, 0.1, 0.19, 0.2, 0.25), { nil: undefined });
const setUp = fc.record({
  are: fc.constantFrom(...PRICES_ARE),
  points: fc.constantFrom(...POINT_NAMES),
  step: fc.integer({ min: 1, max: 3000 }),
  taxes: fc.record({
    tax_standard: rate,
    tax_special: rate,
    tax_second: rate,
    tax_rate: fc.constantFrom(0, 0.2, 0.21),
  }),
  abroad: rate,
  price: fc.integer({ min: 0, max: 40_000 }),
  own: fc.option(fc.integer({ min: 1, max: 40_000 }), { nil: undefined }),
});
type SetUp = typeof setUp extends fc.Arbitrary<infer T> ? T : never;

/** The edition with everything sold, set up in some way; pieces without a price paid are sold at what they are offered at. */
function booked({ are, points, step, taxes, abroad, price, own }: SetUp) {
  const lines = {
    prices_are: are,
    price_points: points,
    price_step: step / 100,
    price_standard: price / 100,
    ...taxes,
  };
  return afterTyping(soldOut(), [
    ...Object.entries(lines).flatMap(([line, value]): [string, string, string, string][] =>
      value === undefined ? [] : [["edition", line, "value", String(value)]],
    ),
    ["channels", "c2", "tax_rate", abroad === undefined ? "" : String(abroad)],
    ["pieces", "p4", "own_price", own === undefined ? "" : String(own / 100)],
  ] as Parameters<typeof afterTyping>[1]);
}

test("whatever prices are set up, the sheets agree with plain loops, and sales, Results and journal tie", () => {
  fc.assert(
    fc.property(setUp, (asked) => {
      const book = booked(asked);
      const read = evaluate(book);
      expect(compareSheets(book, read).differ).toEqual([]);
      const settled = must(settle(book, read));
      const { sales, ledger } = settled;
      const journal = journalOf(settled);
      for (const sale of sales) expect(sale.netMinor + sale.taxMinor).toBe(sale.priceMinor);
      const credited = (account: string) =>
        journal.reduce((sum, line) => sum + (line.account === account ? line.creditMinor - line.debitMinor : 0), 0);
      expect(credited("Sales")).toBe(sumOfSales(sales, "netMinor", "sold"));
      expect(credited("Tax on sales")).toBe(sumOfSales(sales, "taxMinor", "sold"));
      expect(journal.reduce((sum, line) => sum + line.debitMinor - line.creditMinor, 0)).toBe(0);
      const [price, net] = ["sold_price", "sold_net"].map((line) => Number(read("results", line, "value")));
      const coins = (sales.length / 2 + 1e-6) * 10 ** -ledger.digits;
      const total = (of: "priceMinor" | "netMinor") => fromMinorUnits(sumOfSales(sales, of, "sold"), ledger.digits);
      expect(Math.abs(total("priceMinor") - (price ?? 0))).toBeLessThanOrEqual(coins);
      expect(Math.abs(total("netMinor") - (net ?? 0))).toBeLessThanOrEqual(coins);
    }),
    { seed: 6601, numRuns: 40 },
  );
});

test("a price that is typed without tax is, once it was paid to the coin, still that price without tax", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 10_000_000 }), fc.integer({ min: 0, max: 99 }), (cents, percent) => {
      const taxRate = percent / 100;
      const paid = roundMoney(bothWays(cents / 100, "without tax", taxRate).gross);
      const terms = { taxRate, feeRate: 0, feeFixed: 0, commission: 0, packing: 0 };
      expect(roundMoney(saleAmounts(paid, terms).net)).toBe(cents / 100);
    }),
    { seed: 6602, numRuns: 2000 },
  );
});

test("a price point is never below the price that is needed, nor a step above it, and stays what it is", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 1e7, noNaN: true }),
      fc.constantFrom(...POINT_NAMES),
      fc.integer({ min: 1, max: 5000 }),
      (price, points, own) => {
        const point = must(pricePoint(price, points, own / 100));
        const known: Readonly<Record<string, number>> = { "steps of 0.50": 0.5, "steps of 5": 5, "steps of 10": 10 };
        const step = points === "none" ? 0 : points === "steps of my own" ? own / 100 : (known[points] ?? 1);
        expect(point).toBeGreaterThanOrEqual(price * (1 - 1e-14));
        expect(point - price).toBeLessThanOrEqual(step + 1e-8);
        expect(must(pricePoint(point, points, own / 100))).toBe(point);
      },
    ),
    { seed: 6603, numRuns: 3000 },
  );
});
