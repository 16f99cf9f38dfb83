// The books of the period that is in view: which it is, and what its postings are, calculated once a change.
import { computed, signal } from "@preact/signals";
import type { DatedBooks } from "../../accounts/as-of";
import type { PeriodBooks } from "../../accounts/period";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { openPeriod, type PeriodAsked, periodOf } from "../../app/settle/dated-books";
import { type BookCheck, checksOf } from "../../app/settle/pack-checks";
import { journalReferenceOf } from "../../app/settle/settle";
import type { SheetKey } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import { settledOf } from "./settled";

/** What the maker chose to see; where nothing was chosen, the open period, and all up to today before any was given out. */
interface PeriodWish {
  readonly from?: string;
  readonly to?: string;
  readonly isDetailed: boolean;
}

export const periodWishOf = perSession(() => signal<PeriodWish>({ isDetailed: false }));

/** The period in view, and what its references begin with. */
export function periodInView(session: Session): Required<PeriodAsked> {
  const book = session.book.value;
  const today = session.today();
  const period = openPeriod(book);
  const open = book.lists.packs.length === 0 && today >= period.from ? { ...period, to: today } : period;
  const { from, to, isDetailed } = periodWishOf(session).value;
  return { from: from ?? open.from, to: to ?? open.to, reference: journalReferenceOf(book), isDetailed };
}

/** Books with the checks of them. */
export interface BooksNow {
  readonly books: DatedBooks;
  readonly period: PeriodBooks;
  readonly checks: readonly BookCheck[];
}

const booksComputed = perSession((session) =>
  computed((): Result<BooksNow> => {
    const settled = settledOf(session);
    if (!settled.ok) return settled;
    const read = (sheet: SheetKey, row: string, column: string) => session.value({ sheet, row, column });
    const made = periodOf(session.book.value, read, periodInView(session));
    if (!made.ok) return made;
    const { books, period } = made.value;
    return ok({ books, period, checks: checksOf(read, books, period) });
  }),
);

/** The books of the period in view, or what keeps them back. */
export const booksOf = (session: Session): Result<BooksNow> => booksComputed(session).value;
