// The pack for the accountant of an open edition: settled by the plain calculation, held against the Results sheet, in a zip.

import { emptyFiringsTotal } from "../../accounts/journal";
import { lossTable } from "../../accounts/loss-table";
import { rowLabel } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { isIsoDay } from "../../core/iso-day";
import { fromMinorUnits, roundMoney } from "../../core/money";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { SOLD_TIERS } from "../../core/sheets/price-terms";
import { type PackForm, type PackLoss, packFiles } from "../../csv/pack";
import { zipTexts } from "../../csv/zip";
import type { ReadCell } from "./cell-reader";
import { lossRule } from "./loss-rule";
import { pricesAre } from "./price-terms";
import { type Settled, settle } from "./settle";

/** What the maker says of the pack. Days are ISO 8601; every entry is dated on the last day. */
export interface PackTerms {
  readonly from: string;
  readonly to: string;
  readonly reference: string;
}

/** The files of the pack, by name; refused where the edition does not balance, saying where. */
export function accountantFiles(
  book: Workbook,
  read: ReadCell,
  terms: PackTerms,
  form: PackForm,
): Result<Readonly<Record<string, string>>> {
  const wrong = termProblems(terms);
  if (wrong.length > 0) return fail(...wrong);
  const settled = settle(book, read, { date: terms.to, reference: terms.reference.trim() });
  if (!settled.ok) return settled;
  const apart = apartFromResults(book, read, settled.value);
  if (apart.length > 0) return fail(...apart);
  const losses = lossLines(book, read, settled.value);
  const { ledger, journal, inventory, statement, sales } = settled.value;
  const content = {
    ...{ currency: book.meta.currency, digits: ledger.digits, journal, inventory, statement },
    ...{ losses, sales },
    rules: rulesOf(book, read, terms, settled.value),
  };
  return ok(packFiles(content, form));
}

/** The same as the bytes of a zip. */
export function accountantZip(
  book: Workbook,
  read: ReadCell,
  terms: PackTerms,
  form: PackForm,
): Result<Uint8Array<ArrayBuffer>> {
  const files = accountantFiles(book, read, terms, form);
  return files.ok ? ok(zipTexts(files.value)) : files;
}

function termProblems({ from, to, reference }: PackTerms): readonly Problem[] {
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

function lossLines(book: Workbook, read: ReadCell, settled: Settled): readonly PackLoss[] {
  return lossTable(settled.costs, settled.ledger).map(({ step, ...minor }): PackLoss => {
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

/** What the standard that the edition follows says of taking a write-down back. */
function writeDownRule(read: ReadCell): string {
  return read("edition", "stock_rule", "value") === "ASC 330"
    ? "These books follow ASC 330: what was written down at the close of a year is the cost from then on (330-10-35-14)."
    : "These books follow IAS 2: what was written down is taken back when net realisable value rises, up to cost (paragraph 33).";
}

function rulesOf(
  book: Workbook,
  read: ReadCell,
  terms: PackTerms,
  { edition, ledger, inventory }: Settled,
): readonly string[] {
  const { meta } = book;
  const input = (id: string) => {
    const value = read("edition", id, "value");
    return typeof value === "number" ? value : 0;
  };
  const percent = (id: string) => `${Number((input(id) * 100).toPrecision(12))} %`;
  const amount = (minor: number) => `${fromMinorUnits(minor, ledger.digits).toFixed(ledger.digits)} ${meta.currency}`;
  return [
    `${meta.title}: papers for the accountant`,
    ...(meta.invented ? ["An invented example: every name and number in it is made up."] : []),
    "",
    `Period: ${terms.from} to ${terms.to}. Every entry is dated ${terms.to}. References begin with ${terms.reference.trim()}.`,
    `Currency: ${meta.currency}, ${ledger.digits} decimal places.`,
    `Everything put in: ${amount(ledger.putInTotal)}. Stock at cost: ${amount(inventory.costMinor)}, carried at ${amount(inventory.carriedMinor)}.`,
    "",
    "Files",
    "journal.csv: double entry; the debits of a reference equal its credits; one of the two is filled on each line.",
    "sales.csv: every piece sold, consigned, given away, kept or broken, with its day, price and what its channel takes.",
    "inventory.csv: every piece in stock, finished, second, consigned or in progress, at the lower of cost and net realisable value.",
    "cost-statement.csv: what was put in and what it turned into.",
    "losses.csv: what was lost at each step, the normal part and the abnormal one.",
    "metal-and-materials.csv: grams used and what they cost; fine metal is the pure metal in a preparation.",
    "csv-metadata.json: types and units of all columns (W3C, Metadata Vocabulary for Tabular Data).",
    "",
    "Rules",
    "Rounding: amounts keep full precision and are rounded once, half away from zero. Parts are rounded so that they add up to their total by the largest remainder, ties to the lowest piece number; a part can so differ by one in its last place from the same part rounded alone.",
    `Losses: ${lossRule(input("loss_runs"))}`,
    "Firings: energy, wear and loading of a firing are shared over the pieces really in it, by count, weight or shelf area as the firing says; where other ware or another edition was in it too, only the part that this edition bears is in these books. A firing that was read but had nothing in it is an expense of the period; one with neither a piece nor a reading has not been fired and costs nothing.",
    `Labour at ${input("wage")} ${meta.currency} an hour; overhead at ${roundMoney(input("overhead_hour"), 4)} ${meta.currency} for each hour of work on pieces${edition.overhead.isOnLoading ? " and of loading kilns" : ""}.`,
    "Overhead really paid that no hour carries at the rate of normal capacity is an expense of the period; in a busy run the rate falls to what was paid (IAS 2, paragraph 13).",
    `Moulds: by units of production, from cost to what they fetch worn out. Left in them: ${amount(ledger.besides.mouldsLeft)}, of which ${amount(ledger.besides.mouldsCharged)} is charged to the period and the rest carried on.`,
    `Tax: ${taxWords(read, percent)} The tax in what was paid is booked with each sale; costs are as entered, and no tax is booked on them, nor on pieces kept or given away.`,
    "Sales: revenue is booked when a piece is sold, not when it is finished or handed to a gallery; a consigned piece stays in stock (IFRS 15, paragraph B77; ASC 606-10-55-79). Its cost is then cost of sales. Pieces kept, given away or broken leave the stock at cost, each to an account of its own.",
    "Net realisable value of a finished piece: its price without that tax, less fees and packing. Of a piece in progress: the same for the share that the planned losses still to come leave, less what the plan says it still takes (IAS 2, paragraphs 6 and 28 to 30); without a price it stays at cost.",
    `Write-downs: by hand with a reason, or because a piece will not fetch its cost. ${writeDownRule(read)}`,
    "Numbered pieces may have to be costed one by one (IAS 2, paragraph 23): that is for the accountant to say.",
    "",
    "Text that begins with = + - @ or an apostrophe has one apostrophe before it, so that no program runs it as a formula.",
  ];
}

/** How prices are meant, and which rate of tax a sale has. */
function taxWords(read: ReadCell, percent: (id: string) => string): string {
  const tiers = SOLD_TIERS.map((tier) => `${percent(`tax_${tier}`)} ${tier}`).join(", ");
  return `prices are typed ${pricesAre(read)}; the rate of VAT or sales tax of a sale is that of its channel where it has one, otherwise that of its tier (${tiers}), otherwise ${percent("tax_rate")}.`;
}
