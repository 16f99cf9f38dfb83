// The edition as double entry: what it was spent on goes into work in progress, and from there to finished pieces,
// seconds, losses and clay won back. Amounts are whole minor units, so that "balances" can be said exactly.
import { isIsoDay } from "../core/iso-day";
import { minorUnitsText } from "../core/money";
import { type Problem, problem } from "../core/problem";
import { need } from "./checks";
import type { Ledger } from "./ledger";
import { type SaleMinor, sumOfSales } from "./sales";

/** One line of a journal: exactly one of debit and credit is filled, the other is 0. */
export interface JournalLine {
  /** ISO 8601 day. */
  readonly date: string;
  readonly reference: string;
  readonly account: string;
  readonly debitMinor: number;
  readonly creditMinor: number;
  readonly memo: string;
}

/** A name for each account. */
interface AccountNames {
  readonly materials: string;
  readonly metal: string;
  readonly mouldWear: string;
  readonly labour: string;
  readonly overhead: string;
  readonly energy: string;
  readonly kilnWear: string;
  readonly inProgress: string;
  readonly finished: string;
  readonly seconds: string;
  readonly abnormalLoss: string;
  readonly emptyFirings: string;
  readonly idleOverhead: string;
  readonly mouldsCharged: string;
  readonly writeDown: string;
  readonly scrap: string;
  readonly consigned: string;
  readonly receipts: string;
  readonly sales: string;
  readonly salesTax: string;
  readonly sellingFees: string;
  readonly packing: string;
  readonly packingApplied: string;
  readonly costOfSales: string;
  readonly givenAway: string;
  readonly kept: string;
  readonly broken: string;
}

/** An account of the journal, by the key that its name, code and tax code are kept under. */
export type AccountKey = keyof AccountNames;

/** Names until the maker or the accountant sets others. */
export const USUAL_ACCOUNT_NAMES: AccountNames = {
  materials: "Materials",
  metal: "Precious metal",
  mouldWear: "Mould wear applied",
  labour: "Labour applied",
  overhead: "Overhead applied",
  energy: "Kiln energy applied",
  kilnWear: "Kiln wear applied",
  inProgress: "Work in progress",
  finished: "Finished pieces",
  seconds: "Seconds",
  abnormalLoss: "Abnormal loss",
  emptyFirings: "Firings with nothing in them",
  idleOverhead: "Overhead not carried",
  mouldsCharged: "Moulds charged",
  writeDown: "Write-down of stock",
  scrap: "Scrap sold",
  consigned: "Pieces on consignment",
  receipts: "Due from sales",
  sales: "Sales",
  salesTax: "Tax on sales",
  sellingFees: "Fees and commission",
  packing: "Packing and postage",
  packingApplied: "Packing and postage applied",
  costOfSales: "Cost of sales",
  givenAway: "Given away",
  kept: "Kept by the maker",
  broken: "Broken after finishing",
};

/** Write-downs to net realisable value by group, in minor units. */
export interface GroupWriteDowns {
  readonly finished: number;
  readonly seconds: number;
  readonly consigned: number;
  readonly inProgress: number;
}

/** What is booked. */
interface EntriesInput {
  readonly ledger: Ledger;
  readonly writeDowns?: GroupWriteDowns;
  /** What became of finished pieces. */
  readonly sales?: readonly SaleMinor[];
}

/** An amount of one account: a debit above 0, a credit below. */
interface Posting {
  readonly account: AccountKey;
  readonly minor: number;
}

/** What is booked of one thing: the first posting is set against the others, and all of them add up to 0. */
export interface Entry {
  readonly memo: string;
  readonly postings: readonly Posting[];
}

/** What each entry is called. */
export const ENTRY_MEMOS = {
  putIn: "Put into the edition",
  clay: "Clay won back",
  abnormal: "Losses above plan",
  unshared: "Planned losses that no piece can bear",
  good: "Good pieces finished",
  seconds: "Seconds finished",
  emptyFirings: "Firings with nothing in them",
  writeDown: "Down to net realisable value",
  scrap: "Scrap of lost pieces",
  idle: "Overhead that no hour carries",
  moulds: "Left in the moulds",
  sold: "Pieces sold",
  fees: "Fees and commission of sales",
  packing: "Packing and postage of sales",
  costOfSales: "Cost of pieces sold",
  givenAway: "Pieces given away",
  kept: "Pieces kept by the maker",
  broken: "Pieces broken after finishing",
  consigned: "Pieces on consignment",
} as const;

const NONE: GroupWriteDowns = { finished: 0, seconds: 0, consigned: 0, inProgress: 0 };

/** Everything that can be booked of an edition, always in the same order; what did not happen has amounts of 0. */
export function bookEntries({ ledger, writeDowns = NONE, sales = [] }: EntriesInput): readonly Entry[] {
  const out = (memo: string, account: AccountKey, minor: number): Entry => ({
    memo,
    postings: [
      { account, minor },
      { account: "inProgress", minor: -minor },
    ],
  });
  return [
    putInEntry(ledger),
    out(ENTRY_MEMOS.clay, "materials", ledger.reclaimed),
    out(ENTRY_MEMOS.abnormal, "abnormalLoss", ledger.abnormal),
    out(ENTRY_MEMOS.unshared, "abnormalLoss", ledger.unsharedNormal),
    out(ENTRY_MEMOS.good, "finished", ledger.goodTotal),
    out(ENTRY_MEMOS.seconds, "seconds", ledger.secondsTotal),
    emptyFiringsEntry(ledger),
    writeDownEntry(writeDowns),
    out(ENTRY_MEMOS.scrap, "scrap", ledger.scrap),
    toPeriod(ENTRY_MEMOS.idle, "idleOverhead", "overhead", ledger.besides.idleOverhead),
    toPeriod(ENTRY_MEMOS.moulds, "mouldsCharged", "mouldWear", ledger.besides.mouldsCharged),
    ...saleEntries(sales),
  ];
}

/** Revenue, what channels take, and pieces that leave the stock or go on consignment; pieces leave at cost. */
function saleEntries(sales: readonly SaleMinor[]): readonly Entry[] {
  const sum = (of: Parameters<typeof sumOfSales>[1]) => sumOfSales(sales, of, "sold");
  const leave = (memo: string, account: AccountKey, became: SaleMinor["became"]): Entry => {
    const seconds = sumOfSales(
      sales.filter(({ isSecond }) => isSecond),
      "costMinor",
      became,
    );
    const all = sumOfSales(sales, "costMinor", became);
    return {
      memo,
      postings: [
        { account, minor: all },
        { account: "finished", minor: seconds - all },
        { account: "seconds", minor: -seconds },
      ],
    };
  };
  return [
    {
      memo: ENTRY_MEMOS.sold,
      postings: [
        { account: "receipts", minor: sum("priceMinor") },
        { account: "sales", minor: -sum("netMinor") },
        { account: "salesTax", minor: -sum("taxMinor") },
      ],
    },
    toPeriod(ENTRY_MEMOS.fees, "sellingFees", "receipts", sum("feesMinor")),
    toPeriod(ENTRY_MEMOS.packing, "packing", "packingApplied", sum("packingMinor")),
    leave(ENTRY_MEMOS.costOfSales, "costOfSales", "sold"),
    leave(ENTRY_MEMOS.givenAway, "givenAway", "given away"),
    leave(ENTRY_MEMOS.kept, "kept", "kept"),
    leave(ENTRY_MEMOS.broken, "broken", "broken"),
    leave(ENTRY_MEMOS.consigned, "consigned", "consigned"),
  ];
}

function putInEntry({ putIn, putInTotal }: Ledger): Entry {
  return {
    memo: ENTRY_MEMOS.putIn,
    postings: [
      { account: "inProgress", minor: putInTotal },
      { account: "materials", minor: -putIn.material },
      { account: "metal", minor: -putIn.metal },
      { account: "mouldWear", minor: -putIn.mouldWear },
      { account: "labour", minor: -putIn.labour - putIn.loadingLabour },
      { account: "overhead", minor: -putIn.overhead - putIn.loadingOverhead },
      { account: "energy", minor: -putIn.energy },
      { account: "kilnWear", minor: -putIn.kilnWear },
    ],
  };
}

/** What the period bears without its ever having been in the work. */
const toPeriod = (memo: string, expense: AccountKey, source: AccountKey, minor: number): Entry => ({
  memo,
  postings: [
    { account: expense, minor },
    { account: source, minor: -minor },
  ],
});

/** What firings with nothing in them cost, in minor units. */
export const emptyFiringsTotal = ({ energy, kilnWear, loadingLabour, loadingOverhead }: Ledger["emptyFirings"]) =>
  energy + kilnWear + loadingLabour + loadingOverhead;

function emptyFiringsEntry({ emptyFirings }: Ledger): Entry {
  const { energy, kilnWear, loadingLabour, loadingOverhead } = emptyFirings;
  return {
    memo: ENTRY_MEMOS.emptyFirings,
    postings: [
      { account: "emptyFirings", minor: emptyFiringsTotal(emptyFirings) },
      { account: "energy", minor: -energy },
      { account: "kilnWear", minor: -kilnWear },
      { account: "labour", minor: -loadingLabour },
      { account: "overhead", minor: -loadingOverhead },
    ],
  };
}

function writeDownEntry({ finished, seconds, consigned, inProgress }: GroupWriteDowns): Entry {
  return {
    memo: ENTRY_MEMOS.writeDown,
    postings: [
      { account: "writeDown", minor: finished + seconds + consigned + inProgress },
      { account: "finished", minor: -finished },
      { account: "seconds", minor: -seconds },
      { account: "consigned", minor: -consigned },
      { account: "inProgress", minor: -inProgress },
    ],
  };
}

/** Everything that is wrong with a journal: its lines one by one, then the balance and the dates of each reference. */
export function checkJournal(lines: readonly JournalLine[], digits: number): readonly Problem[] {
  const byReference = new Map<string, JournalLine[]>();
  for (const line of lines) {
    const together = byReference.get(line.reference);
    if (together) together.push(line);
    else byReference.set(line.reference, [line]);
  }
  return [
    ...lines.flatMap((line, index) => lineProblems(line, `Journal line ${index + 1}`)),
    ...[...byReference].flatMap(([reference, together]) => referenceProblems(reference, together, digits)),
  ];
}

function lineProblems(line: JournalLine, where: string): readonly Problem[] {
  const { debitMinor, creditMinor } = line;
  const isAmount = (minor: number) => Number.isSafeInteger(minor) && minor >= 0;
  return [
    ...need(isIsoDay(line.date), where, line.date, "a day such as 2026-11-25", { code: "journal.date" }),
    ...need(line.reference.trim() !== "", where, line.reference, "a reference", { code: "journal.reference" }),
    ...need(line.account.trim() !== "", where, line.account, "the name of an account", { code: "journal.account" }),
    ...[debitMinor, creditMinor].flatMap((minor) =>
      need(isAmount(minor), where, minor, "a whole number of minor units from 0 up", { code: "journal.amount" }),
    ),
    ...need(debitMinor > 0 !== creditMinor > 0, where, `debit ${debitMinor} and credit ${creditMinor}`, "one of them", {
      code: "journal.side",
    }),
  ];
}

function referenceProblems(reference: string, lines: readonly JournalLine[], digits: number): readonly Problem[] {
  const debit = lines.reduce((sum, line) => sum + line.debitMinor, 0);
  const credit = lines.reduce((sum, line) => sum + line.creditMinor, 0);
  const days = [...new Set(lines.map(({ date }) => date))];
  const where = `Journal reference ${reference}`;
  const isSafe = Number.isSafeInteger(debit) && Number.isSafeInteger(credit);
  const balances = isSafe
    ? need(
        debit === credit,
        where,
        `debits of ${minorUnitsText(debit, digits)} and credits of ${minorUnitsText(credit, digits)}`,
        "debits and credits that are equal",
        { code: "journal.balance" },
      )
    : [
        problem({
          code: "journal.size",
          where,
          found: debit,
          allowed: `sums up to ${Number.MAX_SAFE_INTEGER} minor units`,
        }),
      ];
  return [
    ...balances,
    ...need(days.length === 1, where, days.join(" and "), "one day for a reference", { code: "journal.days" }),
  ];
}
