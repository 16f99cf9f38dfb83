// Cut-off and consignment by the period, held to the common form of textbook cases. No text was at hand: those marked “from
// memory” are the usual case with figures that can be checked by hand.
import { expect, test } from "vitest";
import type { DatedBooks } from "../../src/accounts/as-of";
import { periodBooks } from "../../src/accounts/period";
import type { PlainPiece } from "../../src/accounts/plain-edition";
import type { ChannelTerms, PlainSale } from "../../src/accounts/sales";
import { must } from "../accounts/results";

const PLAIN: ChannelTerms = { taxRate: 0, feeRate: 0, feeFixed: 0, commission: 0, packing: 0 };

/** Pieces of one cost each (minutes at a wage of 60 an hour), made, passed and sold on the days given. */
function studio(
  pieces: readonly { readonly cost: number; readonly made: string; readonly passed?: string }[],
  sales: readonly PlainSale[] = [],
  offered = 1000,
): DatedBooks {
  return {
    edition: {
      ...{ wagePerHour: 60, overhead: { ratePerHour: 0 }, moulds: { cost: 0, lifeCasts: 1 } },
      ...{ reclaimFraction: 0, secondNetRealisable: 0, firings: [] },
      steps: [{ id: "make", kind: "hand", order: 1 }],
      pieces: pieces.map(
        ({ cost, made, passed }, at): PlainPiece => ({
          ...{ id: String(at + 1), kg: 1, footprintCm2: 1 },
          ...(passed ? { grade: "good", passedOn: passed } : {}),
          entries: { make: { minutes: cost, day: made } },
        }),
      ),
    },
    sales,
    offers: new Map(pieces.map((_, at) => [String(at + 1), { price: offered, terms: PLAIN }])),
    digits: 2,
  };
}

const between = (books: DatedBooks, from: string, to: string) => {
  const { posted, opening, closing } = must(
    periodBooks(books, { from, to, reference: "R", first: 1, isDetailed: false }),
  );
  const moved: Record<string, number> = {};
  for (const { lines } of posted)
    for (const { account, minor } of lines) moved[account] = (moved[account] ?? 0) + minor / 100;
  return { moved, opening, closing };
};

// From memory, the case of every auditing text: goods that cost 80.00 are invoiced at 120.00 on 2 January. Neither the sale nor
// its cost belongs to December; the goods are in the stock of 31 December, and in cost of sales of January.
test("a sale of 2 January is none of December's, and its goods are stock at the year's end", () => {
  const sale: PlainSale = { piece: "1", became: "sold", price: 120, terms: PLAIN, day: "2027-01-02" };
  const books = studio([{ cost: 80, made: "2026-12-10", passed: "2026-12-20" }], [sale]);
  const december = between(books, "2026-12-01", "2026-12-31");
  expect(december.moved.sales).toBeUndefined();
  expect(december.closing).toMatchObject({ finished: 8000, labour: -8000 });
  const january = between(books, "2027-01-01", "2027-01-31");
  expect(january.moved).toEqual({ receipts: 120, sales: -120, costOfSales: 80, finished: -80 });
  expect(january.opening).toEqual(december.closing);
});

// From memory, the cost of goods manufactured: opening work in progress 30.00, cost added in the month 70.00, closing work in
// progress 25.00; finished in the month: 30 + 70 − 25 = 75.00.
test("work in progress: opening + added − closing is what was finished in the month", () => {
  const books = studio([
    { cost: 30, made: "2026-03-20", passed: "2026-04-10" },
    { cost: 45, made: "2026-04-05", passed: "2026-04-25" },
    { cost: 25, made: "2026-04-28" },
  ]);
  const april = between(books, "2026-04-01", "2026-04-30");
  expect(april.opening.inProgress).toBe(3000);
  expect(april.moved).toMatchObject({ labour: -70, finished: 75, inProgress: -5 });
  expect(april.closing.inProgress).toBe(2500);
});

// IFRS 15 §B77–B78, the common case from memory: three pieces of 60.00 go to a gallery on 20 May; it sells two at 100.00 in June
// and keeps 40 %. May has no revenue; June has 200.00, commission of 80.00 and cost of 120.00; one piece stays the maker's stock.
test("consigned in May and sold in June: revenue is June's, and what is unsold stays in stock", () => {
  const terms = { ...PLAIN, commission: 0.4 };
  const at = (piece: string, day: string): PlainSale => ({
    ...{ piece, became: "sold", price: 100, terms, day, consigned: { day: "2026-05-20", price: 100, terms } },
  });
  const books = studio(
    Array.from({ length: 3 }, () => ({ cost: 60, made: "2026-05-02", passed: "2026-05-10" })),
    [
      at("1", "2026-06-03"),
      at("2", "2026-06-30"),
      { piece: "3", became: "consigned", price: 100, terms, day: "2026-05-20" },
    ],
  );
  const may = between(books, "2026-05-01", "2026-05-31");
  expect(may.moved.sales).toBeUndefined();
  expect(may.closing).toMatchObject({ consigned: 18_000 });
  const june = between(books, "2026-06-01", "2026-06-30");
  expect(june.moved).toEqual({
    finished: 0,
    receipts: 120,
    sales: -200,
    sellingFees: 80,
    costOfSales: 120,
    consigned: -120,
  });
  expect(june.closing).toMatchObject({ consigned: 6000 });
});

// IAS 8 §42 asks for a restatement of what was material; what is not is put right in the current period (common practice, no
// source): 10.00 found in July to be missing from June's work are posted in July, and June stays as it was given out.
test("an error found after June was given out is put right in July", () => {
  const june = between(studio([{ cost: 50, made: "2026-06-10" }]), "2026-06-01", "2026-06-30");
  const books = studio([{ cost: 60, made: "2026-06-10" }]);
  const july = must(
    periodBooks(books, {
      ...{ from: "2026-07-01", to: "2026-07-31", reference: "R", first: 2, isDetailed: false },
      closed: { to: "2026-06-30", balances: june.closing },
    }),
  );
  expect(july.posted.map(({ reference, lines }) => [reference, lines])).toEqual([
    [
      "R-2",
      [
        { account: "labour", minor: -1000 },
        { account: "inProgress", minor: 1000 },
      ],
    ],
  ]);
});
