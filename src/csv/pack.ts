// What an accountant is given: journal, stock list, cost statement, losses and materials as tables, and the rules in words.
// Every amount is whole minor units until it is written, so that nothing is rounded twice.
import Papa from "papaparse";
import type { Inventory } from "../accounts/inventory";
import type { JournalLine } from "../accounts/journal";
import type { SaleMinor } from "../accounts/sales";
import type { StatementRow } from "../accounts/statement";
import { minorUnitsText } from "../core/money";
import { type DescribedColumn, type DescribedTable, describeTables, type Json, numberType } from "./metadata";
import { type DecimalMark, numberText } from "./number-text";
import { guardText } from "./text-guard";
import { BYTE_ORDER_MARK, type Delimiter } from "./write";

/** The losses at one step. */
export interface PackLoss {
  readonly step: string;
  readonly entered: number;
  readonly lost: number;
  /** Shares of those that entered, 0 to 1. */
  readonly plannedRate: number;
  readonly seenRate: number;
  readonly costMinor: number;
  readonly reclaimedMinor: number;
  readonly scrapMinor: number;
  readonly normalMinor: number;
  readonly abnormalMinor: number;
}

/** Everything that goes into the tables. */
export interface PackContent {
  readonly currency: string;
  readonly digits: number;
  readonly journal: readonly JournalLine[];
  readonly inventory: Inventory;
  readonly statement: readonly StatementRow[];
  readonly losses: readonly PackLoss[];
  readonly sales: readonly SaleMinor[];
  /** The rules in words, line by line. */
  readonly rules: readonly string[];
}

/** How the tables are written. */
export interface PackForm {
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  readonly hasMark: boolean;
}

/** A cell: text is guarded, a number has its mark, money is minor units, nothing is blank. */
type Cell =
  | { readonly text: string }
  | { readonly number: number | undefined }
  | { readonly minor: number | undefined };

interface Table {
  readonly url: string;
  readonly title: string;
  readonly columns: readonly DescribedColumn[];
  readonly primaryKey?: string;
  readonly rows: readonly (readonly Cell[])[];
}

const text = (value: string): Cell => ({ text: value });
/** Sums of sums end in digits that mean nothing, such as 12.000000000000002 g; twelve digits are a microgram in a tonne. */
const number = (value: number | undefined): Cell => ({
  number: value === undefined ? undefined : Number(value.toPrecision(12)),
});
const minor = (value: number | undefined): Cell => ({ minor: value });
const optional = (name: string, datatype: Json, unit = ""): DescribedColumn => ({
  ...{ name: name.replaceAll(" ", "_"), title: name, datatype, required: false },
  ...(unit === "" ? {} : { unit }),
});
const needed = (name: string, datatype: Json, unit = ""): DescribedColumn => ({
  ...optional(name, datatype, unit),
  required: true,
});

/** The files of the pack, by name. */
export function packFiles(content: PackContent, form: PackForm): Readonly<Record<string, string>> {
  const tables = [journalTable, inventoryTable, statementTable, lossesTable, materialsTable, salesTable].map((make) =>
    make(content, form.decimal),
  );
  const mark = form.hasMark ? BYTE_ORDER_MARK : "";
  const described = tables.map((table): DescribedTable => ({ ...table, foreignKeys: [] }));
  return {
    ...Object.fromEntries(tables.map((table) => [table.url, mark + textOf(table, content.digits, form)])),
    "csv-metadata.json": JSON.stringify(describeTables(described, form.delimiter), undefined, 2),
    "readme.txt": `${content.rules.join("\r\n")}\r\n`,
  };
}

function textOf({ columns, rows }: Table, digits: number, { delimiter, decimal }: PackForm): string {
  const show = (cell: Cell): string => {
    if ("text" in cell) return guardText(cell.text);
    if ("number" in cell) return cell.number === undefined ? "" : numberText(cell.number, decimal);
    return cell.minor === undefined ? "" : minorUnitsText(cell.minor, digits).replace(".", decimal);
  };
  const lines = [columns.map(({ title }) => title), ...rows.map((row) => row.map(show))];
  return `${Papa.unparse(lines, { delimiter, newline: "\r\n" })}\r\n`;
}

const DAY: Json = { base: "date", format: "yyyy-MM-dd" };

function journalTable({ currency, journal }: PackContent, decimal: DecimalMark): Table {
  const money = numberType(decimal, "decimal");
  return {
    url: "journal.csv",
    title: "Journal",
    columns: [
      needed("date", DAY),
      needed("reference", "string"),
      needed("account", "string"),
      optional("debit", money, currency),
      optional("credit", money, currency),
      optional("memo", "string"),
    ],
    rows: journal.map(({ date, reference, account, debitMinor, creditMinor, memo }) => [
      ...[text(date), text(reference), text(account)],
      ...[minor(debitMinor || undefined), minor(creditMinor || undefined), text(memo)],
    ]),
  };
}

const GROUPS = { finished: "finished", seconds: "second", consigned: "consigned", inProgress: "in progress" } as const;

function inventoryTable({ currency, inventory }: PackContent, decimal: DecimalMark): Table {
  const money = numberType(decimal, "decimal");
  return {
    url: "inventory.csv",
    title: "Stock, piece by piece",
    primaryKey: "piece",
    columns: [
      needed("piece", "string"),
      needed("state", "string"),
      needed("cost", money, currency),
      optional("net realisable value", money, currency),
      needed("carried at", money, currency),
      needed("write-down", money, currency),
    ].map((column) => ({ ...column, name: column.name.replaceAll("-", "_") })),
    rows: inventory.lines.map((line) => [
      ...[text(line.piece), text(GROUPS[line.group]), minor(line.costMinor)],
      ...[minor(line.netRealisableMinor), minor(line.carriedMinor), minor(line.writeDownMinor)],
    ]),
  };
}

const KINDS = { part: "added", deduction: "taken off", total: "total", told: "within a line above" } as const;

function statementTable({ currency, statement }: PackContent, decimal: DecimalMark): Table {
  const money = numberType(decimal, "decimal");
  const weight = numberType(decimal);
  return {
    url: "cost-statement.csv",
    title: "Cost statement",
    columns: [
      needed("line", "string"),
      needed("how it counts", "string"),
      needed("amount", money, currency),
      optional("grams", weight, "g"),
      optional("fine metal grams", weight, "g"),
    ],
    rows: statement.map((row) => [
      ...[text(row.label), text(KINDS[row.kind]), minor(row.minor)],
      ...[number(row.grams), number(row.fineGrams)],
    ]),
  };
}

function lossesTable({ currency, losses }: PackContent, decimal: DecimalMark): Table {
  const money = numberType(decimal, "decimal");
  const share = numberType(decimal);
  return {
    url: "losses.csv",
    title: "Losses, step by step",
    primaryKey: "step",
    columns: [
      needed("step", "string"),
      needed("entered", "integer", "pieces"),
      needed("lost", "integer", "pieces"),
      needed("planned rate", share),
      needed("seen rate", share),
      needed("cost of what was lost", money, currency),
      needed("clay won back", money, currency),
      needed("scrap sold", money, currency),
      needed("normal loss", money, currency),
      needed("abnormal loss", money, currency),
    ],
    rows: losses.map((line) => [
      ...[text(line.step), number(line.entered), number(line.lost), number(line.plannedRate), number(line.seenRate)],
      ...[minor(line.costMinor), minor(line.reclaimedMinor), minor(line.scrapMinor)],
      ...[minor(line.normalMinor), minor(line.abnormalMinor)],
    ]),
  };
}

function materialsTable({ currency, statement }: PackContent, decimal: DecimalMark): Table {
  return {
    url: "metal-and-materials.csv",
    title: "Metal and materials used",
    columns: [
      needed("material", "string"),
      needed("grams used", numberType(decimal), "g"),
      optional("fine metal grams", numberType(decimal), "g"),
      needed("cost", numberType(decimal, "decimal"), currency),
    ],
    rows: statement
      .filter(({ grams }) => grams !== undefined)
      .map((row) => [text(row.label), number(row.grams), number(row.fineGrams), minor(row.minor)]),
  };
}

function salesTable({ currency, sales }: PackContent, decimal: DecimalMark): Table {
  const money = numberType(decimal, "decimal");
  return {
    url: "sales.csv",
    title: "Pieces sold, consigned, given away, kept or broken",
    primaryKey: "piece",
    columns: [
      needed("piece", "string"),
      needed("what became of it", "string"),
      optional("day", DAY),
      optional("channel", "string"),
      optional("document", "string"),
      needed("cost", money, currency),
      ...["price paid", "price without tax", "tax", "fees and commission", "packing and postage"].map((name) =>
        optional(name, money, currency),
      ),
    ],
    rows: sales.map((sale) => {
      const amount = (of: number) => minor(sale.became === "sold" ? of : undefined);
      return [
        ...[text(sale.piece), text(sale.became), text(sale.day ?? ""), text(sale.channel ?? "")],
        ...[text(sale.document ?? ""), minor(sale.costMinor)],
        ...[amount(sale.priceMinor), amount(sale.netMinor), amount(sale.taxMinor)],
        ...[amount(sale.feesMinor), amount(sale.packingMinor)],
      ];
    }),
  };
}
