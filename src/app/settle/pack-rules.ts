// What stands in the readme of the pack: period, control totals, checks, corrections, files, and the rules in words.
import { type PeriodBooks, trialBalance } from "../../accounts/period";
import type { Workbook } from "../../core/document/workbook";
import { minorUnitsText, roundMoney } from "../../core/money";
import { SOLD_TIERS } from "../../core/sheets/price-terms";
import { accountTermsOf } from "./account-terms";
import type { ReadCell } from "./cell-reader";
import { lossRule } from "./loss-rule";
import type { BookCheck } from "./pack-checks";
import { pricesAre } from "./price-terms";

/** The readme, line by line. */
export function packRules(
  book: Workbook,
  read: ReadCell,
  period: PeriodBooks,
  checks: readonly BookCheck[],
): readonly string[] {
  const { meta } = book;
  const { terms, posted, after } = period;
  const [first, last] = [posted[0]?.reference, posted.at(-1)?.reference];
  return [
    `${meta.title}: papers for the accountant`,
    ...(meta.invented ? ["An invented example: every name and number in it is made up."] : []),
    "",
    `Period: ${terms.from} to ${terms.to}. ${terms.isDetailed ? "A posting for each day and document" : `Rolled up: every posting is dated ${terms.to}`}; what happened on which day stands in audit-trail.csv.`,
    first === undefined ? "Nothing moved in it." : `References: ${first} to ${last}, without gaps.`,
    `Currency: ${meta.currency}, ${after.ledger.digits} decimal places.`,
    "",
    ...totals(book, period),
    "",
    ...checkLines(checks),
    "",
    ...correctionLines(period),
    ...FILES,
    "",
    ...rules(book, read, period),
  ];
}

function totals(book: Workbook, period: PeriodBooks): readonly string[] {
  const { digits } = period.after.ledger;
  const accounts = accountTermsOf(book);
  const money = (minor: number) => minorUnitsText(minor, digits);
  const lines = trialBalance(period);
  const sum = (of: "debits" | "credits") => money(lines.reduce((all, line) => all + line[of], 0));
  return [
    "Trial balance (opening, debits, credits, closing; a credit balance is below 0)",
    ...lines.map(({ account, opening, debits, credits, closing }) => {
      const { code, name } = accounts[account];
      return `${[code, name].filter(Boolean).join(" ")}: ${[opening, debits, credits, closing].map(money).join(" | ")}`;
    }),
    `Control totals: debits ${sum("debits")}, credits ${sum("credits")}, ${period.posted.length} references.`,
  ];
}

/** Each check with both of its numbers. */
function checkLines(checks: readonly BookCheck[]): readonly string[] {
  const failed = checks.filter(({ isMet }) => !isMet).length;
  return [
    `Checks: ${failed === 0 ? `all ${checks.length} hold` : `${failed} of ${checks.length} do not hold`}`,
    ...checks.map(
      ({ area, says, isMet, found, expected }) =>
        `${isMet ? "holds" : "DOES NOT HOLD"} | ${area} | ${says}: ${found === expected ? found : `${found}, not ${expected}`}`,
    ),
  ];
}

/** What was changed in what had been given out, by account and, where that is known, by piece. */
function correctionLines({ posted, moved, terms, after }: PeriodBooks): readonly string[] {
  const [first] = posted;
  const isCorrected = first?.moves.some(({ element }) => element === "correction");
  if (!first || !isCorrected || !terms.closed) return [];
  const { digits } = after.ledger;
  const money = (minor: number | undefined) => minorUnitsText(minor ?? 0, digits);
  const pieces = moved.slice(0, 200).map(({ piece, was, is }) => {
    const state =
      was?.state === is?.state
        ? (is?.state ?? "")
        : `${is?.state ?? "not started"}, was ${was?.state ?? "not started"}`;
    return `${piece}: ${state}; own cost ${money(is?.own)}, was ${money(was?.own)}`;
  });
  return [
    `Correction: what is dated up to ${terms.closed.to} is no longer what was given out. The difference is ${first.reference}.`,
    pieces.length > 0
      ? "Pieces that stand otherwise than they did:"
      : "No piece stands otherwise; what changed is a price, a rate or a name of the edition.",
    ...pieces,
    ...(moved.length > 200 ? [`and ${moved.length - 200} more`] : []),
    "",
  ];
}

const FILES = [
  "Files",
  "journal.csv: double entry; the debits of a reference equal its credits; one of the two is filled on each line.",
  "trial-balance.csv: every account from opening to closing.",
  "stock-movements.csv: work in progress and stock from opening to closing: put in, lost, finished, sold, written down, taken back.",
  "audit-trail.csv: what each posting is made of, by piece, step, element of cost, day and reference. It adds up to every posting.",
  "firings.csv: the firings of the period with kWh, tariff and the share that this edition bears. hours.csv: hours step by step.",
  "lost-pieces.csv: the pieces lost in the period, by number.",
  "sales.csv: every piece sold, consigned, given away, kept or broken in the period, with its day, price and what its channel takes.",
  "inventory.csv: every piece in stock on the last day, finished, second, consigned or in progress, at the lower of cost and net realisable value.",
  "cost-statement.csv: what was put in and what it turned into, up to the last day and within the period.",
  "losses.csv: what was lost at each step up to the last day, the normal part and the abnormal one.",
  "metal-and-materials.csv: grams used and what they cost; fine metal is the pure metal in a preparation.",
  "equivalent-units.csv, process-costing.csv: told beside the books, which cost each piece by itself: the period by the weighted average and by first in, first out. A stage counts by its share of the planned cost; lost pieces count as far as they had come.",
  "csv-metadata.json: types and units of all columns (W3C, Metadata Vocabulary for Tabular Data).",
] as const;

/** What the standard that the edition follows says of taking a write-down back. */
function writeDownRule(read: ReadCell): string {
  return read("edition", "stock_rule", "value") === "ASC 330"
    ? "These books follow ASC 330: what was written down at the close of a year is the cost from then on (330-10-35-14)."
    : "These books follow IAS 2: what was written down is taken back when net realisable value rises, up to cost (paragraph 33).";
}

/** How prices are meant, and which rate of tax a sale has. */
function taxWords(read: ReadCell, percent: (id: string) => string): string {
  const tiers = SOLD_TIERS.map((tier) => `${percent(`tax_${tier}`)} ${tier}`).join(", ");
  return `prices are typed ${pricesAre(read)}; the rate of VAT or sales tax of a sale is that of its channel where it has one, otherwise that of its tier (${tiers}), otherwise ${percent("tax_rate")}.`;
}

function rules(book: Workbook, read: ReadCell, { after }: PeriodBooks): readonly string[] {
  const { meta } = book;
  const { edition, ledger } = after;
  const input = (id: string) => {
    const value = read("edition", id, "value");
    return typeof value === "number" ? value : 0;
  };
  const reworked = read("results", "rework_beyond_cost", "value");
  const rework = typeof reworked === "number" ? reworked : 0;
  const percent = (id: string) => `${Number((input(id) * 100).toPrecision(12))} %`;
  const amount = (minor: number) => `${minorUnitsText(minor, ledger.digits)} ${meta.currency}`;
  return [
    "Rules",
    "Period: books are made as of a day, from everything dated up to it, and a period is what they differ by from those of the day before its first. So each opens with what the one before closed with, and periods add up. What is judged anew in the light of later pieces, such as losses that chance explains after all, is booked in the period in which it is judged, and can be below 0: debit and credit then change sides.",
    "Corrections: what is changed in a period that was given out is posted in the open one, under a reference of its own; what was given out is never changed.",
    "Rounding: amounts keep full precision and are rounded once, half away from zero. Parts are rounded so that they add up to their total by the largest remainder, ties to the lowest piece number; a part can so differ by one in its last place from the same part rounded alone.",
    `Losses: ${lossRule(input("loss_runs"))}`,
    "Firings: energy, wear and loading of a firing are shared over the pieces really in it, by count, weight or shelf area as the firing says; where other ware or another edition was in it too, only the part that this edition bears is in these books. A firing that was read but had nothing in it is an expense of the period; one with neither a piece nor a reading has not been fired and costs nothing.",
    `Labour at ${input("wage")} ${meta.currency} an hour; overhead at ${roundMoney(input("overhead_hour"), 4)} ${meta.currency} for each hour of work on pieces${edition.overhead.isOnLoading ? " and of loading kilns" : ""}.`,
    "Overhead really paid that no hour carries at the rate of normal capacity is an expense of the period; in a busy run the rate falls to what was paid (IAS 2, paragraph 13). It is reckoned to the last day: hours worked later take it back.",
    `Moulds: by units of production, from cost to what they fetch worn out. Left in them: ${amount(ledger.besides.mouldsLeft)}, of which ${amount(ledger.besides.mouldsCharged)} is charged to the period and the rest carried on.`,
    `Tax: ${taxWords(read, percent)} The tax in what was paid is booked with each sale; costs are as entered, and no tax is booked on them, nor on pieces kept or given away.`,
    "Sales: revenue is booked when a piece is sold, not when it is finished or handed to a gallery; a consigned piece stays in stock (IFRS 15, paragraph B77; ASC 606-10-55-79). Its cost is then cost of sales. Pieces kept, given away or broken leave the stock at cost, each to an account of its own.",
    "Net realisable value of a finished piece: the price it is offered at, without that tax, less fees and packing. Of a piece in progress: the same for the share that the planned losses still to come leave, less what the plan says it still takes (IAS 2, paragraphs 6 and 28 to 30); without a price it stays at cost.",
    `Write-downs: by hand with a reason, or because a piece will not fetch its cost. ${writeDownRule(read)}`,
    ...(rework > 0
      ? [
          `Rework beyond plan and chance so far: ${amount(Math.round(rework * 10 ** ledger.digits))}. It is within the pieces and not booked; whether it was wasted (IAS 2, paragraph 16(a)) is for the accountant to say.`,
        ]
      : []),
    "Numbered pieces may have to be costed one by one (IAS 2, paragraph 23): that is for the accountant to say.",
    "",
    "Text that begins with = + - @ or an apostrophe has one apostrophe before it, so that no program runs it as a formula.",
  ];
}
