// The open edition as books that can be cut at any day, and the periods that were given out.
import type { BooksAsOf, DatedBooks } from "../../accounts/as-of";
import type { AccountKey } from "../../accounts/journal";
import { type ClosedWith, type PeriodBooks, type PeriodTerms, periodBooks, piecesStood } from "../../accounts/period";
import { counted } from "../../core/counted";
import { currencyDigits } from "../../core/currency";
import { rowLabel } from "../../core/document/access";
import type { ListEntry, Workbook } from "../../core/document/workbook";
import { dayAfter, dayBefore, endOfMonth, isIsoDay } from "../../core/iso-day";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { daysOutOfOrder, undatedOf } from "../../core/record/undated";
import { accountProblems, accountTermsOf } from "./account-terms";
import type { ReadCell } from "./cell-reader";
import { plainEditionOf } from "./plain-from-sheets";
import { pieceOffers, plainSalesOf } from "./plain-sales";
import { fetchedInProgress, handWriteDowns, stagesFromSheets } from "./stages";

/** Books of a period that were given out. */
export type GivenOut = ListEntry<"packs">;

/** The open edition with the day of everything in it. */
function datedBooksOf(book: Workbook, read: ReadCell): Result<DatedBooks> {
  const digits = currencyDigits(book.meta.currency);
  if (!digits.ok) return digits;
  const edition = plainEditionOf(book, read);
  if (!edition.ok) return edition;
  return ok({
    edition: edition.value,
    sales: plainSalesOf(book, read),
    offers: pieceOffers(book, read),
    inProgress: (costs) => fetchedInProgress(stagesFromSheets(book, read, costs)),
    byHand: handWriteDowns(book, read),
    digits: digits.value,
  });
}

/** The last books given out. */
const lastGivenOut = (book: Workbook): GivenOut | undefined =>
  [...book.lists.packs].sort((a, b) => (a.to < b.to ? -1 : 1)).at(-1);

/** The period that is open: from the day after the last books given out, or from the start, to the end of its month. */
export function openPeriod(book: Workbook): { readonly from: string; readonly to: string } {
  const last = lastGivenOut(book);
  const from = last ? dayAfter(last.to) : firstDay(book);
  return { from, to: endOfMonth(from) };
}

/** The day of the start, or of the first thing entered where that was earlier. */
function firstDay(book: Workbook): string {
  const started = book.meta.started.slice(0, 10);
  let first = isIsoDay(started) ? started : "9999-12-31";
  for (const row of book.sheets.pieces.rows)
    for (const [column, raw] of Object.entries(row.cells))
      if (typeof raw === "string" && raw < first && /(\.day|_on)$/.test(column) && isIsoDay(raw)) first = raw;
  for (const { cells } of book.sheets.firings.rows)
    if (typeof cells.date === "string" && cells.date < first) first = cells.date;
  return isIsoDay(first) && first !== "9999-12-31" ? first : started;
}

/** What is asked of the books of a period of the open edition; days are ISO 8601, both included. */
export interface PeriodAsked {
  readonly from: string;
  readonly to: string;
  readonly reference: string;
  readonly isDetailed?: boolean;
}

/** Whether a period goes on from what was given out, so that it can be given out itself. */
export function goesOn(book: Workbook, from: string): boolean {
  const last = lastGivenOut(book);
  return last === undefined ? from <= openPeriod(book).from : from === dayAfter(last.to);
}

/** The books of a period, or what keeps them back: a day that is missing or out of order, an account without a name. */
export function periodOf(
  book: Workbook,
  read: ReadCell,
  asked: PeriodAsked,
): Result<{ readonly books: DatedBooks; readonly period: PeriodBooks }> {
  const wrong = [...termProblems(asked), ...dayProblems(book)];
  if (wrong.length > 0) return fail(...wrong);
  const books = datedBooksOf(book, read);
  if (!books.ok) return books;
  const made = periodBooks(books.value, termsOf(book, asked));
  if (!made.ok) return made;
  const problems = accountProblems(accountTermsOf(book), accountsIn(made.value));
  return problems.length > 0 ? fail(...problems) : ok({ books: books.value, period: made.value });
}

function termsOf(book: Workbook, asked: PeriodAsked): PeriodTerms {
  const last = lastGivenOut(book);
  const closed = last && last.to === dayBefore(asked.from) ? closedWith(book, last) : undefined;
  const most = Math.max(0, ...book.lists.packs.map((one) => one.last));
  return {
    ...{ from: asked.from, to: asked.to, reference: asked.reference.trim(), first: most + 1 },
    isDetailed: asked.isDetailed === true,
    ...(closed ? { closed } : {}),
  };
}

function closedWith(book: Workbook, { to, balances, pieces }: GivenOut): ClosedWith {
  const labels = new Map(book.sheets.pieces.rows.map((row) => [row.id, rowLabel("pieces", row)]));
  const stood = pieces?.map(({ piece, ...rest }) => ({ piece: labels.get(piece) ?? piece, ...rest }));
  return { to, balances, ...(stood ? { pieces: stood } : {}) };
}

/** How the pieces stand, by the ids of their rows, as it is kept with books given out. */
export function stoodById(book: Workbook, after: BooksAsOf): GivenOut["pieces"] {
  const ids = new Map(book.sheets.pieces.rows.map((row) => [rowLabel("pieces", row), row.id]));
  return piecesStood(after).flatMap(({ piece, ...rest }) => {
    const id = ids.get(piece);
    return id === undefined ? [] : [{ piece: id, ...rest }];
  });
}

/** The accounts that books open with, post to or close with. */
function accountsIn({ opening, posted, closing }: PeriodBooks): ReadonlySet<AccountKey> {
  const posts = posted.flatMap(({ lines }) => lines.map(({ account }) => account));
  return new Set([...(Object.keys(opening) as AccountKey[]), ...posts, ...(Object.keys(closing) as AccountKey[])]);
}

function termProblems({ from, to, reference }: PeriodAsked): readonly Problem[] {
  const say = (where: string, found: string, allowed: string) => problem({ code: "pack.terms", where, found, allowed });
  return [
    ...(isIsoDay(from) ? [] : [say("The first day of the period", from, "a day such as 2026-01-01")]),
    ...(isIsoDay(to) ? [] : [say("The last day of the period", to, "a day such as 2026-12-31")]),
    ...(isIsoDay(from) && isIsoDay(to) && from > to
      ? [say("The period", `${from} to ${to}`, "a last day after the first")]
      : []),
    ...(reference.trim() === "" ? [say("The reference", reference, "a few letters that begin every reference")] : []),
  ];
}

function dayProblems(book: Workbook): readonly Problem[] {
  const undated = undatedOf(book, (at) => at.slice(0, 10));
  const problems = daysOutOfOrder(book).map(({ piece, says }) =>
    problem({ code: "pack.order", where: piece, found: says, allowed: "a day on or after the one it was passed" }),
  );
  if (undated.length === 0) return problems;
  return [
    problem({
      code: "pack.undated",
      where: "Days",
      found: `${counted(undated.length, "entry", "entries")} without a day`,
      allowed: "a day for each, since books are made by the day",
      fix: "Take the days that are proposed on the accountant's page, or give others.",
    }),
    ...problems,
  ];
}
