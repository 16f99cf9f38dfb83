// Sales, tax in a price, and consignment, held to textbook cases. No text was at hand for those marked "from memory": they are
// the common form of the case, with figures that can be checked by hand.
import { describe, expect, test } from "vitest";
import { listInventory } from "../../src/accounts/inventory";
import { type Ledger, roundLedger, type Settlement } from "../../src/accounts/ledger";
import { type ChannelTerms, type PlainSale, roundSales, saleAmounts, sumOfSales } from "../../src/accounts/sales";
import { codesOf, must } from "../accounts/results";
import { wholeJournal } from "../tools/whole-journal";

const NOTHING: ChannelTerms = { taxRate: 0, feeRate: 0, feeFixed: 0, commission: 0, packing: 0 };
const PUT_IN = { metal: 0, mouldWear: 0, labour: 0, loadingLabour: 0, overhead: 0, loadingOverhead: 0 };

/** Finished pieces numbered from 1, of one cost each. */
function finishedAt(cost: number, count: number, seconds = 0): Ledger {
  const pieces = Array.from({ length: count }, (_, at) => ({ piece: String(at + 1), amount: cost }));
  const settlement: Settlement = {
    putIn: { ...PUT_IN, material: cost * count, energy: 0, kilnWear: 0 },
    ...{ good: pieces.slice(seconds), seconds: pieces.slice(0, seconds), inProgress: [] },
    ...{ abnormal: 0, unsharedNormal: 0, reclaimed: 0, normalInPieces: 0 },
    emptyFirings: { energy: 0, kilnWear: 0, loadingLabour: 0, loadingOverhead: 0 },
    besides: { idleOverhead: 0, mouldsLeft: 0, mouldsCharged: 0 },
  };
  return must(roundLedger(settlement, 2));
}

function balances(ledger: Ledger, sales: readonly PlainSale[]): Readonly<Record<string, number>> {
  const rounded = must(roundSales(ledger, sales));
  const { writeDowns } = must(listInventory(ledger, new Map(), rounded));
  const sums: Record<string, number> = {};
  for (const line of wholeJournal({ ledger, writeDowns, sales: rounded }))
    sums[line.account] = (sums[line.account] ?? 0) + line.debitMinor - line.creditMinor;
  return sums;
}

const sale = (piece: string, became: PlainSale["became"], price = 0, terms = NOTHING): PlainSale => ({
  ...{ piece, became, price, terms },
});

// The VAT fraction: at 20 % a sixth of the price is tax, at 10 % an eleventh, at 19 % 19/119. From memory, and by the identity.
test.each([
  [120, 0.2, 100, 20],
  [110, 0.1, 100, 10],
  [119, 0.19, 100, 19],
])("the tax in a price of %d at a rate of %d", (price, taxRate, net, tax) => {
  const amounts = saleAmounts(price, { ...NOTHING, taxRate });
  expect(amounts.net).toBeCloseTo(net, 12);
  expect(amounts.tax).toBeCloseTo(tax, 12);
});

// Rounded once: 49.99 at 20 % is 41.658… + 8.331…, booked as 41.66 and 8.33, which add up to what was paid.
test("a price that does not divide is parted so that it adds up", () => {
  const [one] = must(roundSales(finishedAt(10, 1), [sale("1", "sold", 49.99, { ...NOTHING, taxRate: 0.2 })]));
  expect([one?.netMinor, one?.taxMinor, one?.priceMinor]).toEqual([4166, 833, 4999]);
});

// Consignment, from memory: ten pieces of 60.00 go to a gallery, which sells six at 100.00 and keeps 40 %. The consignor's
// revenue is the whole 600.00, the commission of 240.00 an expense, 360.00 is due; four pieces of 240.00 are still its stock.
test("a consigned piece stays in stock until the gallery sells it; then commission is an expense, not less revenue", () => {
  const terms = { ...NOTHING, commission: 0.4 };
  const ledger = finishedAt(60, 10);
  const sales = ledger.good.map(({ piece }, at) => sale(piece, at < 6 ? "sold" : "consigned", at < 6 ? 100 : 0, terms));
  expect(balances(ledger, sales)).toMatchObject({
    ...{ Sales: -60_000, "Fees and commission": 24_000, "Due from sales": 36_000, "Cost of sales": 36_000 },
    ...{ "Pieces on consignment": 24_000, "Finished pieces": 0 },
  });
});

// The tax return and the margin of a sale under a card fee of 1.75 % of the whole price and 0.10 fixed; by hand:
// 186.00 = 155.00 + 31.00; fee 3.255 + 0.10 = 3.355, booked as 3.36.
test("fees are taken of what the buyer pays, tax included", () => {
  const [one] = must(
    roundSales(finishedAt(30, 1), [
      sale("1", "sold", 186, { ...NOTHING, taxRate: 0.2, feeRate: 0.0175, feeFixed: 0.1, packing: 7.5 }),
    ]),
  );
  expect(one).toMatchObject({ netMinor: 15_500, taxMinor: 3100, feesMinor: 336, packingMinor: 750, costMinor: 3000 });
});

describe("pieces that bring in nothing", () => {
  // Common practice: samples are a selling expense at cost, the owner's own use is drawn at cost, breakage is an expense.
  test("leave the stock at cost, each to its own account, seconds from theirs", () => {
    const ledger = finishedAt(25, 5, 2);
    const sums = balances(ledger, [
      sale("1", "given away"),
      sale("3", "kept"),
      sale("4", "broken"),
      sale("2", "sold", 20),
    ]);
    expect(sums).toMatchObject({
      ...{ "Given away": 2500, "Kept by the maker": 2500, "Broken after finishing": 2500, "Cost of sales": 2500 },
      ...{ "Finished pieces": 2500, Seconds: 0, Sales: -2000 },
    });
  });

  test("nothing is said of revenue where nothing is sold", () => {
    const rounded = must(roundSales(finishedAt(25, 2), [sale("1", "given away", 99)]));
    expect(sumOfSales(rounded, "priceMinor", "given away")).toBe(0);
  });
});

test("a piece that is not finished can't be sold", () => {
  expect(codesOf(roundSales(finishedAt(25, 2), [sale("7", "sold", 20)]))).toEqual(["sale.unfinished"]);
});
