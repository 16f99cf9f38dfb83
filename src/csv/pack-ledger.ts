// The books of the pack: the journal, the trial balance, and how work in progress and stock went from opening to closing.

import type { AccountKey } from "../accounts/journal";
import { numberType } from "./metadata";
import type { DecimalMark } from "./number-text";
import type { PackContent, PackLedger } from "./pack-content";
import {
  DAY_TYPE,
  mayBeBlank,
  moneyCell,
  needed,
  numberCell,
  type PackCell,
  type PackTable,
  textCell,
} from "./pack-table";

/** Code and name of an account. */
const accountCells = ({ accounts }: PackLedger, key: AccountKey): readonly PackCell[] => [
  textCell(accounts[key].code),
  textCell(accounts[key].name),
];

function journalTable({ currency, edition, ledger }: PackContent, decimal: DecimalMark): PackTable {
  const money = numberType(decimal, "decimal");
  return {
    url: "journal.csv",
    title: "Journal",
    primaryKey: "line",
    columns: [
      needed("line", "integer"),
      needed("date", DAY_TYPE),
      needed("reference", "string"),
      mayBeBlank("account code", "string"),
      needed("account", "string"),
      mayBeBlank("tax code", "string"),
      needed("currency", "string"),
      mayBeBlank("debit", money, currency),
      mayBeBlank("credit", money, currency),
      mayBeBlank("memo", "string"),
      mayBeBlank("document", "string"),
      needed("edition", "string"),
    ],
    rows: ledger.lines.map(({ day, reference, account, minor, memo, document }, at) => [
      ...[numberCell(at + 1), textCell(day), textCell(reference), ...accountCells(ledger, account)],
      ...[textCell(ledger.accounts[account].tax), textCell(currency)],
      ...[moneyCell(minor > 0 ? minor : undefined), moneyCell(minor < 0 ? -minor : undefined)],
      ...[textCell(memo), textCell(document), textCell(edition)],
    ]),
  };
}

function trialTable({ currency, ledger }: PackContent, decimal: DecimalMark): PackTable {
  const money = numberType(decimal, "decimal");
  return {
    url: "trial-balance.csv",
    title: "Trial balance; a credit balance is below 0",
    columns: [
      mayBeBlank("account code", "string"),
      needed("account", "string"),
      ...["opening", "debits", "credits", "closing"].map((name) => needed(name, money, currency)),
    ],
    rows: ledger.trial.map(({ account, opening, debits, credits, closing }) => [
      ...accountCells(ledger, account),
      ...[opening, debits, credits, closing].map(moneyCell),
    ]),
  };
}

function stockTable({ currency, ledger }: PackContent, decimal: DecimalMark): PackTable {
  return {
    url: "stock-movements.csv",
    title: "Work in progress and stock from opening to closing",
    columns: [
      mayBeBlank("account code", "string"),
      needed("account", "string"),
      needed("what moved", "string"),
      needed("amount", numberType(decimal, "decimal"), currency),
    ],
    rows: ledger.stock.map(({ account, what, minor }) => [
      ...accountCells(ledger, account),
      ...[textCell(what), moneyCell(minor)],
    ]),
  };
}

export const LEDGER_TABLES = [journalTable, trialTable, stockTable] as const;
