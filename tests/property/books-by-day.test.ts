// Books by the day of any edition: a period split anywhere adds up, and the order in which things were written down is nothing.
import fc from "fast-check";
import { expect, test } from "vitest";
import { booksAsOf, type DatedBooks } from "../../src/accounts/as-of";
import { linesOfMoves, type PeriodBooks, periodBooks } from "../../src/accounts/period";
import type { PlainEdition } from "../../src/accounts/plain-edition";
import type { PlainSale } from "../../src/accounts/sales";
import { dayAfter } from "../../src/core/iso-day";
import { must } from "../accounts/results";
import { editions, shuffled } from "./accounts-editions";

const RUNS = { seed: 20_261_129, numRuns: 8 };
const TERMS = { taxRate: 0.2, feeRate: 0.03, feeFixed: 0.25, commission: 0, packing: 4 };
const BECAME = ["sold", "consigned", "given away", "kept", "broken"] as const;

/** Whole numbers below `below`, one after the other, from a seed. */
function drawing(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state >>> 8) % below;
  };
}

const dayOf = (at: number) =>
  `2026-${String(1 + (at % 12)).padStart(2, "0")}-${String(1 + (at % 28)).padStart(2, "0")}`;

/** An edition with a day for everything; what is finished is sold or gone later, at times by way of a gallery. */
function dated(plain: PlainEdition, seed: number): DatedBooks {
  const draw = drawing(seed);
  const firings = plain.firings.map((firing) => ({ ...firing, day: dayOf(draw(336)) }));
  const pieces = plain.pieces.map((piece) => ({
    ...piece,
    lostOn: dayOf(draw(336)),
    passedOn: `2026-0${1 + draw(5)}-15`,
    entries: Object.fromEntries(
      Object.entries(piece.entries).map(([step, entry]) => [
        step,
        entry.firing === undefined ? { ...entry, day: dayOf(draw(336)) } : entry,
      ]),
    ),
  }));
  const started = new Set(
    must(booksAsOf({ edition: { ...plain, firings, pieces }, sales: [], offers: new Map(), digits: 2 }, "2026-05-31"))
      .costs.pieces.filter(({ outcome }) => outcome === "good" || outcome === "second")
      .map(({ id }) => id),
  );
  const sales = pieces.flatMap(({ id, grade, lostAt }): PlainSale[] => {
    // Sold before it has had a step, a piece was never finished: the sheets name such a one, and no books are made.
    if (!grade || lostAt !== undefined || !started.has(id) || draw(3) === 0) return [];
    const became = BECAME[draw(BECAME.length)] ?? "sold";
    const consigned =
      draw(2) === 0 && became !== "consigned"
        ? { day: `2026-06-${10 + draw(19)}`, price: draw(30_000) / 100, terms: TERMS }
        : undefined;
    const day = `2026-0${7 + draw(3)}-${10 + draw(19)}`;
    return [{ piece: id, became, price: draw(30_000) / 100, terms: TERMS, day, ...(consigned ? { consigned } : {}) }];
  });
  const offers = new Map(pieces.map(({ id }) => [id, { price: draw(20_000) / 100, terms: TERMS }]));
  return { edition: { ...plain, firings, pieces }, sales, offers, digits: 2 };
}

const period = (books: DatedBooks, from: string, to: string, isDetailed = false): PeriodBooks =>
  must(periodBooks(books, { from, to, reference: "R", first: 1, isDetailed }));

function sums(...some: readonly PeriodBooks[]): Readonly<Record<string, number>> {
  const found: Record<string, number> = {};
  for (const { posted } of some)
    for (const { lines } of posted)
      for (const { account, minor } of lines) found[account] = (found[account] ?? 0) + minor;
  return Object.fromEntries(Object.entries(found).filter(([, minor]) => minor !== 0));
}

const books = fc.tuple(editions, fc.nat()).map(([edition, seed]) => dated(edition, seed));

test("split anywhere, a year is the sum of its parts, and each opens with what the one before closed with", () => {
  fc.assert(
    fc.property(books, fc.nat({ max: 335 }), (of, at) => {
      const cut = dayOf(at);
      const [first, second] = [period(of, "2026-01-01", cut), period(of, dayAfter(cut), "2026-12-31")];
      const year = period(of, "2026-01-01", "2026-12-31");
      expect(second.opening).toEqual(first.closing);
      expect(second.closing).toEqual(year.closing);
      expect(sums(first, second)).toEqual(sums(year));
    }),
    RUNS,
  );
});

test("any order of the same entries gives the same postings, to the unit", () => {
  fc.assert(
    fc.property(books, fc.nat(), (of, seed) => {
      const { edition } = of;
      const mixed: DatedBooks = {
        ...of,
        sales: shuffled(of.sales, seed),
        edition: {
          ...edition,
          firings: shuffled(edition.firings, seed),
          pieces: shuffled(edition.pieces, seed).map((piece) => ({
            ...piece,
            entries: Object.fromEntries(shuffled(Object.entries(piece.entries), seed)),
          })),
        },
      };
      const plain = ({ posted }: PeriodBooks) =>
        posted.map(({ reference, memo, lines }) => ({ reference, memo, lines }));
      expect(plain(period(mixed, "2026-04-01", "2026-09-30"))).toEqual(plain(period(of, "2026-04-01", "2026-09-30")));
    }),
    RUNS,
  );
});

test.each([false, true])("every posting is its parts, balances, and is dated within (day by day: %s)", (isDetailed) => {
  fc.assert(
    fc.property(books, (of) => {
      for (const { lines, moves, day } of period(of, "2026-03-01", "2026-08-31", isDetailed).posted) {
        expect(lines.reduce((sum, { minor }) => sum + minor, 0)).toBe(0);
        expect(linesOfMoves(moves)).toEqual(lines);
        expect(day >= "2026-03-01" && day <= "2026-08-31").toBe(true);
      }
    }),
    RUNS,
  );
});

test("rolled up or day by day, the same is moved", () => {
  fc.assert(
    fc.property(books, (of) => {
      expect(sums(period(of, "2026-02-01", "2026-10-31", true))).toEqual(sums(period(of, "2026-02-01", "2026-10-31")));
    }),
    RUNS,
  );
});
