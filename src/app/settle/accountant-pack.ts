// The pack for the accountant of an open edition: what moved in a period, with the trail of every posting, held against the
// Results sheet and checked by the accountant's own list.
import type { BooksAsOf } from "../../accounts/as-of";
import { emptyFiringsTotal } from "../../accounts/journal";
import { lossTable } from "../../accounts/loss-table";
import { type PeriodBooks, stockMovements, trialBalance } from "../../accounts/period";
import type { SaleMinor } from "../../accounts/sales";
import { processReports } from "../../accounts/stages";
import { costStatement } from "../../accounts/statement";
import { rowLabel } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { fromMinorUnits, roundMoney } from "../../core/money";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { packFiles } from "../../csv/pack";
import type { PackContent, PackLine, PackLoss } from "../../csv/pack-content";
import type { PackForm } from "../../csv/pack-table";
import { accountTermsOf } from "./account-terms";
import type { ReadCell } from "./cell-reader";
import { type PeriodAsked, periodOf } from "./dated-books";
import { type BookCheck, checksOf } from "./pack-checks";
import { packRules } from "./pack-rules";
import { plannedStepsOf } from "./planned-steps";
import { materialUses, type Settled, settle } from "./settle";
import { trailOf } from "./trail-lines";

/** The pack of a period: its books, the checks of them, and its files by name. */
export interface Pack {
  readonly period: PeriodBooks;
  readonly checks: readonly BookCheck[];
  readonly files: Readonly<Record<string, string>>;
}

/** The pack of a period; refused where the edition does not balance, a day is missing or an account has no name, saying where. */
export function accountantPack(book: Workbook, read: ReadCell, asked: PeriodAsked, form: PackForm): Result<Pack> {
  const made = periodOf(book, read, asked);
  if (!made.ok) return made;
  const settled = settle(book, read);
  if (!settled.ok) return settled;
  const apart = apartFromResults(book, read, settled.value);
  if (apart.length > 0) return fail(...apart);
  const { books, period } = made.value;
  const checks = checksOf(read, books, period);
  const statement = statementOf(book, period);
  if (!statement.ok) return statement;
  const { after } = period;
  const content: PackContent = {
    ...{ edition: book.meta.title, currency: book.meta.currency, digits: after.ledger.digits },
    ledger: {
      lines: packLines(period),
      trial: trialBalance(period),
      stock: stockMovements(period),
      accounts: accountTermsOf(book),
    },
    trail: trailOf(book, period),
    ...{ inventory: after.inventory, statement: statement.value, losses: lossLines(book, read, after) },
    sales: after.sales.filter((sale) => isOfPeriod(sale, period)),
    processes: processReports(plannedStepsOf(book, read), after.costs, period.before.costs).processes,
    rules: packRules(book, read, period, checks),
  };
  return ok({ period, checks, files: packFiles(content, form) });
}

const packLines = ({ posted }: PeriodBooks): readonly PackLine[] =>
  posted.flatMap(({ reference, day, memo, document = "", lines }) =>
    lines.map((line) => ({ ...line, reference, day, memo, document })),
  );

/** What moved in the period of sales: what is not in the books before it, or otherwise. */
function isOfPeriod(sale: SaleMinor, { before }: PeriodBooks): boolean {
  const was = before.sales.find(({ piece }) => piece === sale.piece);
  return was === undefined || JSON.stringify(was) !== JSON.stringify(sale);
}

/** The cost statement up to the last day, with what of each row is of the period. */
function statementOf(book: Workbook, { before, after }: PeriodBooks): Result<PackContent["statement"]> {
  const [was, is] = [before, after].map(({ ledger, costs, sales }) =>
    costStatement(ledger, materialUses(book, costs), sales),
  ) as [ReturnType<typeof costStatement>, ReturnType<typeof costStatement>];
  if (!was.ok) return was;
  if (!is.ok) return is;
  const earlier = new Map(was.value.map((row) => [row.label, row]));
  return ok(
    is.value.map((row) => {
      const then = earlier.get(row.label);
      const grams = row.grams === undefined ? {} : { periodGrams: row.grams - (then?.grams ?? 0) };
      return { ...row, periodMinor: row.minor - (then?.minor ?? 0), ...grams };
    }),
  );
}

/** What `settle` does not hold to the sheet: the last coin of everything put in, and firings with nothing in them. */
function apartFromResults(book: Workbook, read: ReadCell, { ledger }: Settled): readonly Problem[] {
  const { digits, emptyFirings } = ledger;
  const pairs = [
    ["put_in", ledger.putInTotal, 0],
    ["empty_kiln", emptyFiringsTotal(emptyFirings), 1],
  ] as const;
  return pairs.flatMap(([id, minor, slack]): Problem[] => {
    const shown = read("results", id, "value");
    const label = book.sheets.results.rows.find((row) => row.id === id);
    const isSame =
      typeof shown === "number" && Math.abs(Math.round(roundMoney(shown, digits) * 10 ** digits) - minor) <= slack;
    if (isSame) return [];
    return [
      problem({
        code: "pack.apart",
        where: `Results, ${label ? rowLabel("results", label) : id}`,
        found: typeof shown === "number" ? roundMoney(shown, digits) : shown,
        allowed: `${fromMinorUnits(minor, digits)}, which is what the entries give`,
        fix: "Give back the values on Route, Firings and Results that were written over by hand.",
      }),
    ];
  });
}

function lossLines(book: Workbook, read: ReadCell, after: BooksAsOf): readonly PackLoss[] {
  return lossTable(after.costs, after.ledger).map(({ step, ...minor }): PackLoss => {
    const row = book.sheets.route.rows.find(({ id }) => id === step.id);
    const planned = read("route", step.id, "loss");
    return {
      step: row ? rowLabel("route", row) : step.id,
      ...{ entered: step.entered, lost: step.lost, seenRate: Number((step.lost / step.entered).toPrecision(12)) },
      plannedRate: typeof planned === "number" ? planned : 0,
      ...{ costMinor: minor.cost, reclaimedMinor: minor.reclaimed, scrapMinor: minor.scrap },
      ...{ normalMinor: minor.normal, abnormalMinor: minor.abnormal },
    };
  });
}
