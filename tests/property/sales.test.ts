// What must hold of sales whatever is recorded: order does not matter, any part of the sales and the rest add up to all, what
// was sold changes no cost, and the sheets agree with plain loops and with the books.
import fc from "fast-check";
import { expect, test } from "vitest";
import { roundSales, sumOfSales } from "../../src/accounts/sales";
import { plainSalesOf } from "../../src/app/settle/plain-sales";
import { settle } from "../../src/app/settle/settle";
import { applyChange } from "../../src/core/document/change";
import type { Workbook } from "../../src/core/document/workbook";
import { recordChange } from "../../src/core/record/record-edits";
import { planSale, type SaleAsked } from "../../src/core/record/sale-edits";
import { must } from "../accounts/results";
import { compareSheets } from "../tools/compare-sheets";
import { evaluate } from "../tools/evaluate";
import { finishedEdition } from "../tools/finished-edition";
import { journalOf, wholeJournal } from "../tools/whole-journal";

const AT = "2026-03-20T10:00:00.000Z";

const book = finishedEdition();
const IDS = ["p1", "p2", "p3", "p4", "p5", "p6", "p7"];
const sales = fc
  .uniqueArray(
    fc.record({
      piece: fc.constantFrom(...IDS),
      became: fc.constantFrom("sold", "sold", "sold", "consigned", "given away", "kept", "broken"),
      price: fc.option(fc.integer({ min: 0, max: 20_000 }), { nil: undefined }),
      channel: fc.constantFrom(undefined, "Gallery", "Abroad"),
      day: fc.integer({ min: 1, max: 28 }),
    }),
    { selector: ({ piece }) => piece, maxLength: IDS.length },
  )
  .map((all) =>
    all.map(({ piece, became, price, channel, day }) => ({
      piece,
      asked: {
        ...{
          kind: "sale" as const,
          became: became as SaleAsked["became"],
          day: `2026-03-${String(day).padStart(2, "0")}`,
          today: "2026-03-31",
        },
        paid: new Map([[piece, price === undefined ? 80 : price / 100]]),
        ...(channel === undefined ? {} : { channel: { kind: "there" as const, name: channel } }),
      },
    })),
  );
type Sales = typeof sales extends fc.Arbitrary<infer T> ? T : never;

const play = (of: Workbook, all: Sales) =>
  all.reduce(
    (now, { piece, asked }) => applyChange(now, recordChange(now, must(planSale(now, [piece], asked)), AT)),
    of,
  );

test("in any order the same sales make the same sheets, and the sheets agree with plain loops", () => {
  fc.assert(
    fc.property(sales, fc.infiniteStream(fc.nat()), (all, picks) => {
      const sold = play(book, all);
      const order = all.map((one) => [picks.next().value ?? 0, one] as const).sort(([a], [b]) => a - b);
      expect(
        play(
          book,
          order.map(([, one]) => one),
        ).sheets,
      ).toEqual(sold.sheets);
      expect(compareSheets(sold, evaluate(sold)).differ).toEqual([]);
    }),
    { seed: 5201, numRuns: 40 },
  );
});

const before = evaluate(book);
test("what was sold changes the cost of no piece, and “pays” only by what was paid and taken", () => {
  fc.assert(
    fc.property(sales, (all) => {
      const after = evaluate(play(book, all));
      for (const { id } of book.sheets.pieces.rows)
        expect(after("pieces", id, "full")).toEqual(before("pieces", id, "full"));
      const value = (name: string) => Number(after("results", name, "value"));
      expect(value("earned") + value("stock_leaves")).toBeCloseTo(value("pays"), 9);
    }),
    { seed: 5202, numRuns: 30 },
  );
});

test("the books balance, stock and what left it are all that was finished, and the parts of the sales add up to all", () => {
  fc.assert(
    fc.property(sales, fc.integer({ min: 1, max: 29 }), (all, cut) => {
      const sold = play(book, all);
      const read = evaluate(sold);
      const settled = must(settle(sold, read));
      const { ledger, inventory, sales: rounded } = settled;
      const stock = inventory.lines.filter(({ group }) => group !== "inProgress");
      const left = sumOfSales(rounded, "costMinor", "sold", "given away", "kept", "broken");
      expect(stock.reduce((sum, line) => sum + line.costMinor, 0) + left).toBe(ledger.goodTotal + ledger.secondsTotal);
      const day = `2026-03-${String(cut).padStart(2, "0")}`;
      const plain = plainSalesOf(sold, read);
      const parts = [plain.filter((one) => (one.day ?? "") < day), plain.filter((one) => (one.day ?? "") >= day)];
      const ofPart = parts.map((part) => must(roundSales(ledger, part)));
      for (const of of ["priceMinor", "netMinor", "taxMinor", "feesMinor", "packingMinor", "costMinor"] as const)
        expect(ofPart.reduce((sum, part) => sum + sumOfSales(part, of, "sold"), 0)).toBe(
          sumOfSales(rounded, of, "sold"),
        );
      const journal = wholeJournal({ ledger, sales: rounded });
      expect(journal.reduce((sum, line) => sum + line.debitMinor - line.creditMinor, 0)).toBe(0);
    }),
    { seed: 5203, numRuns: 30 },
  );
});

test("the result in the books is what Results calls made so far, to a coin a piece", () => {
  fc.assert(
    fc.property(sales, (all) => {
      const sold = play(book, all);
      const read = evaluate(sold);
      const settled = must(settle(sold, read));
      const { ledger } = settled;
      const journal = journalOf(settled);
      const expense = ["Abnormal loss", "Overhead not carried", "Moulds charged", "Firings with nothing in them"];
      const selling = ["Sales", "Fees and commission", "Packing and postage", "Cost of sales", "Write-down of stock"];
      const others = ["Given away", "Kept by the maker", "Broken after finishing"];
      const result = journal
        .filter(({ account }) => [...expense, ...selling, ...others].includes(account))
        .reduce((sum, line) => sum + line.creditMinor - line.debitMinor, 0);
      const fixed = Number(read("edition", "fixed_costs", "value"));
      const shown = (Number(read("results", "earned", "value")) + fixed) * 100;
      expect(Math.abs(result - shown)).toBeLessThan(2 * (ledger.good.length + ledger.seconds.length) + 4);
    }),
    { seed: 5204, numRuns: 30 },
  );
});
