// What an accountant checks of books by the period, checked: cut-off, completeness, ties and the trail, each with its numbers.
import { type Balances, booksAsOf, type DatedBooks, isAllBy } from "../../accounts/as-of";
import { linesOfMoves, type PeriodBooks, STOCK_ACCOUNTS, trialBalance } from "../../accounts/period";
import { sumOfSales } from "../../accounts/sales";
import { counted } from "../../core/counted";
import { minorUnitsText, toMinorUnits } from "../../core/money";
import type { ReadCell } from "./cell-reader";

/** What a check is about. */
type CheckArea = "Cut-off" | "Completeness" | "Ties" | "Trail";

/** A check of the books: what it holds to what, and both numbers as they are written. */
export interface BookCheck {
  readonly area: CheckArea;
  readonly says: string;
  readonly isMet: boolean;
  readonly found: string;
  readonly expected: string;
}

/** The accountant's checklist of a period, calculated. */
export function checksOf(read: ReadCell, books: DatedBooks, period: PeriodBooks): readonly BookCheck[] {
  return [
    ...cutOff(books, period),
    ...completeness(period),
    ...keptAsCost(read, books, period),
    ...ties(read, books, period),
    ...trail(period),
  ];
}

const check = (area: CheckArea, says: string, found: string, expected: string): BookCheck => ({
  ...{ area, says, found, expected },
  isMet: found === expected,
});

function cutOff(books: DatedBooks, { terms, after, posted }: PeriodBooks): readonly BookCheck[] {
  const { from, to } = terms;
  const outside = after.edition.pieces.flatMap(({ entries }) =>
    Object.values(entries).filter(({ day }) => day !== undefined && day > to),
  ).length;
  const parts = posted.flatMap(({ moves }) => moves.filter(({ memo }) => memo === "Put into the edition"));
  const early = parts.filter(({ day }) => day !== undefined && (day < from || day > to)).length;
  const soldBy = books.sales.filter(({ became, day }) => became === "sold" && day !== undefined && day <= to);
  const inBooks = after.sales.filter(({ became }) => became === "sold").length;
  return [
    check("Cut-off", `Entries dated after ${to} in the books`, String(outside), "0"),
    check("Cut-off", `Parts of what was put in that are dated outside ${from} to ${to}`, String(early), "0"),
    check("Cut-off", `Pieces sold up to ${to}, in the books and on the sheet`, String(inBooks), String(soldBy.length)),
    check(
      "Cut-off",
      "Consigned pieces that count as sold",
      String(after.sales.filter(({ became, netMinor }) => became === "consigned" && netMinor !== 0).length),
      "0",
    ),
  ];
}

function completeness({ terms, after, posted }: PeriodBooks): readonly BookCheck[] {
  const { ledger, costs } = after;
  const money = (minor: number) => minorUnitsText(minor, ledger.digits);
  const outs = ledger.goodTotal + ledger.secondsTotal + ledger.inProgressTotal + ledger.abnormal;
  const rest = ledger.unsharedNormal + ledger.reclaimed + ledger.scrap;
  const numbers = posted.map(({ reference }) => Number(reference.slice(terms.reference.length + 1)));
  const gaps = numbers.filter((number, at) => number !== terms.first + at).length;
  const outcomes = Object.values(costs.totals.count).reduce((sum: number, count: number) => sum + count, 0);
  return [
    check("Completeness", "Everything put in, and what it turned into", money(outs + rest), money(ledger.putInTotal)),
    check(
      "Completeness",
      "Pieces with an outcome, and pieces of the edition",
      counted(outcomes, "piece"),
      counted(costs.pieces.length, "piece"),
    ),
    check("Completeness", "References missing between the first and the last", String(gaps), "0"),
    check("Completeness", "References used twice", String(numbers.length - new Set(numbers).size), "0"),
  ];
}

/**
 * Under ASC 330 what was written down at the close of a year is the cost from then on (330-10-35-14). What follows from prices
 * would be taken back when they rise, so that it has to be kept by hand at the close.
 */
function keptAsCost(read: ReadCell, books: DatedBooks, { terms: { from, to } }: PeriodBooks): readonly BookCheck[] {
  if (read("edition", "stock_rule", "value") !== "ASC 330") return [];
  const first = Number(from.slice(0, 4));
  const years = Array.from({ length: Number(to.slice(0, 4)) - first + 1 }, (_, at) => first + at);
  return years.flatMap((year) => {
    const close = `${year}-12-31`;
    const closed = close >= from && close <= to ? booksAsOf(books, close) : undefined;
    if (!closed?.ok) return [];
    const open = closed.value.inventory.lines.filter((line) => line.writeDownMinor > line.byHandMinor).length;
    const says = `Pieces carried below cost at the close of ${year}, and not kept as cost on Work in progress (ASC 330)`;
    return [check("Completeness", says, String(open), "0")];
  });
}

function ties(read: ReadCell, books: DatedBooks, period: PeriodBooks): readonly BookCheck[] {
  const { after, opening, closing, posted, terms } = period;
  const { digits } = after.ledger;
  const money = (minor: number) => minorUnitsText(minor, digits);
  const lines = posted.flatMap((one) => one.lines);
  const sum = (sign: 1 | -1) => lines.reduce((all, { minor }) => all + Math.max(0, sign * minor), 0);
  const off = trialBalance(period).filter((line) => line.opening + line.debits - line.credits !== line.closing).length;
  const stock = STOCK_ACCOUNTS.reduce((all, key) => all + (closing[key] ?? 0), 0);
  const held = (of: Balances) => Object.values(of).reduce((all: number, minor) => all + (minor ?? 0), 0);
  const result = [
    check("Ties", "Debits and credits of the journal", money(sum(1)), money(sum(-1))),
    check("Ties", "All opening balances together", money(held(opening)), money(0)),
    check("Ties", "All closing balances together", money(held(closing)), money(0)),
    check("Ties", "Accounts whose opening and postings are not their closing", String(off), "0"),
    check(
      "Ties",
      "Stock accounts, and the list of stock piece by piece",
      money(stock),
      money(after.inventory.carriedMinor),
    ),
    check(
      "Ties",
      "The account of sales, and the list of sales",
      money(-(closing.sales ?? 0)),
      money(sumOfSales(after.sales, "netMinor", "sold")),
    ),
  ];
  if (terms.closed)
    result.push(
      check(
        "Ties",
        `Opening, and what was given out to ${terms.closed.to} closed with`,
        text(opening, money),
        text(terms.closed.balances, money),
      ),
    );
  return [...result, ...tieToResults(read, books, period)];
}

const text = (of: Balances, money: (minor: number) => string) =>
  money(Object.values(of).reduce((all: number, minor) => all + Math.max(0, minor ?? 0), 0));

/** Where everything in the edition is dated within the books, they are held to the Results sheet. */
function tieToResults(read: ReadCell, books: DatedBooks, { after, terms }: PeriodBooks): readonly BookCheck[] {
  if (!isAllBy(books, terms.to)) return [];
  const { digits } = after.ledger;
  const shown = read("results", "put_in", "value");
  const minor = toMinorUnits(typeof shown === "number" ? shown : 0, digits);
  const money = (amount: number) => minorUnitsText(amount, digits);
  return minor.ok
    ? [
        check(
          "Ties",
          `Everything put in up to ${terms.to}, and Results`,
          money(after.ledger.putInTotal),
          money(minor.value),
        ),
      ]
    : [];
}

function trail({ posted, after }: PeriodBooks): readonly BookCheck[] {
  const { digits } = after.ledger;
  const off = posted.filter(({ lines, moves }) => JSON.stringify(linesOfMoves(moves)) !== JSON.stringify(lines)).length;
  const total = (minors: readonly { readonly minor: number }[]) =>
    minors.reduce((sum, { minor }) => sum + Math.max(0, minor), 0);
  return [
    check("Trail", "Postings that their parts do not add up to", String(off), "0"),
    check(
      "Trail",
      "Debits of the journal, and debits by their parts",
      minorUnitsText(total(posted.flatMap(({ lines }) => lines)), digits),
      minorUnitsText(total(posted.flatMap(({ moves }) => linesOfMoves(moves))), digits),
    ),
  ];
}
