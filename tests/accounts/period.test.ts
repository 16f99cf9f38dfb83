// The books of a period of the invented edition: closing is the next opening, months add up to a year, every part to its posting.
import { describe, expect, test } from "vitest";
import { booksAsOf, type DatedBooks } from "../../src/accounts/as-of";
import {
  linesOfMoves,
  type PeriodBooks,
  periodBooks,
  piecesStood,
  stockMovements,
  trialBalance,
} from "../../src/accounts/period";
import { demoEdition } from "../../src/app/demo/demo";
import { plainEditionOf } from "../../src/app/settle/plain-from-sheets";
import { pieceOffers, plainSalesOf } from "../../src/app/settle/plain-sales";
import { evaluate } from "../tools/evaluate";
import { codesOf, must, problemsOf } from "./results";

const book = demoEdition();
const read = evaluate(book);
const books: DatedBooks = {
  edition: must(plainEditionOf(book, read)),
  sales: plainSalesOf(book, read),
  offers: pieceOffers(book, read),
  digits: 2,
};
const MONTHS = [
  ["2026-09-01", "2026-09-30"],
  ["2026-10-01", "2026-10-31"],
  ["2026-11-01", "2026-11-30"],
] as const;
const period = (from: string, to: string, isDetailed = false, of = books): PeriodBooks =>
  must(periodBooks(of, { from, to, reference: "MAR", first: 1, isDetailed }));
const months = MONTHS.map(([from, to]) => period(from, to));
const year = period("2026-01-01", "2026-12-31");
const moved = (some: readonly PeriodBooks[]) => {
  const sums: Record<string, number> = {};
  for (const { posted } of some)
    for (const { lines } of posted)
      for (const { account, minor } of lines) sums[account] = (sums[account] ?? 0) + minor;
  return Object.fromEntries(Object.entries(sums).filter(([, minor]) => minor !== 0));
};

test("each month opens with what the one before closed with, and all of them are the year", () => {
  expect(months[0]?.opening).toEqual({});
  expect(months[1]?.opening).toEqual(months[0]?.closing);
  expect(months[2]?.opening).toEqual(months[1]?.closing);
  expect(moved(months)).toEqual(moved([year]));
  expect(year.closing).toEqual(months[2]?.closing);
});

test.each([false, true])("every reference balances, and its parts add up to it (detailed: %s)", (isDetailed) => {
  for (const [from, to] of [...MONTHS, ["2026-01-01", "2026-12-31"]] as const) {
    const { posted, opening, closing } = period(from, to, isDetailed);
    for (const one of posted) {
      expect(one.lines.reduce((sum, { minor }) => sum + minor, 0)).toBe(0);
      expect(linesOfMoves(one.moves)).toEqual(one.lines);
      expect(one.day >= from && one.day <= to).toBe(true);
    }
    expect(posted.map(({ reference }) => reference)).toEqual(posted.map((_, at) => `MAR-${at + 1}`));
    const sums = { ...opening } as Record<string, number>;
    for (const { lines } of posted)
      for (const { account, minor } of lines) sums[account] = (sums[account] ?? 0) + minor;
    expect(Object.fromEntries(Object.entries(sums).filter(([, minor]) => minor !== 0))).toEqual(closing);
  }
});

test("the first two months hold other things, and nothing is in both", () => {
  const [september, october] = months;
  expect(september?.posted.map(({ memo }) => memo)).not.toEqual(october?.posted.map(({ memo }) => memo));
  const cells = (of: PeriodBooks | undefined) =>
    new Set(of?.posted[0]?.moves.map(({ piece, step, element }) => `${piece} ${step} ${element}`));
  const both = [...cells(september)].filter((cell) => cells(october).has(cell));
  expect(both).toEqual([]);
});

test("the trial balance is level, and stock goes from opening to closing", () => {
  for (const month of months) {
    const lines = trialBalance(month);
    for (const { opening, debits, credits, closing } of lines) expect(opening + debits - credits).toBe(closing);
    expect(lines.reduce((sum, { closing }) => sum + closing, 0)).toBe(0);
    for (const account of ["inProgress", "finished"] as const) {
      const own = stockMovements(month).filter((line) => line.account === account);
      const between = own.slice(0, -1).reduce((sum, { minor }) => sum + minor, 0);
      expect(between).toBe(own.at(-1)?.minor ?? 0);
    }
  }
});

describe("what is changed in a period that was given out", () => {
  const given = months[0];
  const closed = {
    to: "2026-09-30",
    balances: given?.closing ?? {},
    pieces: given ? piecesStood(given.after) : [],
  };
  const [first] = books.edition.pieces;
  const entry = first?.entries.fettle;
  const changed: DatedBooks = {
    ...books,
    edition: {
      ...books.edition,
      pieces: books.edition.pieces.map((piece) =>
        piece === first ? { ...piece, entries: { ...piece.entries, fettle: { ...entry, minutes: 60 } } } : piece,
      ),
    },
  };
  const terms = { from: "2026-10-01", to: "2026-10-31", closed, reference: "MAR", first: 5, isDetailed: false };

  test("balances of a file that do not add up give no books, and say which reference does not balance", () => {
    const damaged = { ...closed, balances: { ...closed.balances, labour: -1 } };
    const made = periodBooks(books, { ...terms, closed: damaged });
    expect(codesOf(made)).toEqual(["journal.balance"]);
    expect(problemsOf(made)[0]?.where).toBe("Journal reference MAR-5");
  });

  test("nothing changed, nothing corrected", () => {
    expect(must(periodBooks(books, terms)).posted[0]?.memo).toBe("Put into the edition");
  });

  test("it is posted in the open one, under its own reference, with the pieces named", () => {
    const october = must(periodBooks(changed, terms));
    const [correction, next] = october.posted;
    expect(correction).toMatchObject({ reference: "MAR-5", memo: "Correction of what was given out to 2026-09-30" });
    expect(next?.reference).toBe("MAR-6");
    expect(correction?.day).toBe("2026-10-01");
    expect(correction?.lines.find(({ account }) => account === "labour")?.minor).toBeLessThan(0);
    expect(october.moved).toMatchObject([
      { piece: "001", was: { state: "in progress" }, is: { state: "in progress" } },
    ]);
    expect(october.opening).toEqual(closed.balances);
    expect(october.closing).toEqual(must(booksAsOf(changed, "2026-10-31")).balances);
  });
});
