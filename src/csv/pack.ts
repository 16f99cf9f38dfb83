// What an accountant is given: journal, stock list, cost statement, losses and materials as tables, and the rules in words.
// Every amount is whole minor units until it is written, so that nothing is rounded twice.
import { type DescribedTable, describeTables, numberType } from "./metadata";
import type { DecimalMark } from "./number-text";
import type { PackContent } from "./pack-content";
import { LEDGER_TABLES } from "./pack-ledger";
import { PROCESS_TABLES } from "./pack-process";
import {
  DAY_TYPE,
  mayBeBlank,
  moneyCell,
  needed,
  numberCell,
  type PackForm,
  type PackTable,
  textCell,
  textOfTable,
} from "./pack-table";
import { TRAIL_TABLES } from "./pack-trail";
import { BYTE_ORDER_MARK } from "./write";

/** The files of the pack, by name. */
export function packFiles(content: PackContent, form: PackForm): Readonly<Record<string, string>> {
  const tables = [
    ...LEDGER_TABLES,
    ...[inventoryTable, statementTable, lossesTable, materialsTable, salesTable],
    ...TRAIL_TABLES,
    ...PROCESS_TABLES,
  ].map((make) => make(content, form.decimal));
  const mark = form.hasMark ? BYTE_ORDER_MARK : "";
  const described = tables.map((table): DescribedTable => ({ ...table, foreignKeys: [] }));
  return {
    ...Object.fromEntries(tables.map((table) => [table.url, mark + textOfTable(table, content.digits, form)])),
    "csv-metadata.json": JSON.stringify(describeTables(described, form.delimiter), undefined, 2),
    "readme.txt": `${content.rules.join("\r\n")}\r\n`,
  };
}

const GROUPS = { finished: "finished", seconds: "second", consigned: "consigned", inProgress: "in progress" } as const;

function inventoryTable({ currency, inventory }: PackContent, decimal: DecimalMark): PackTable {
  const money = numberType(decimal, "decimal");
  return {
    url: "inventory.csv",
    title: "Stock, piece by piece",
    primaryKey: "piece",
    columns: [
      needed("piece", "string"),
      needed("state", "string"),
      needed("cost", money, currency),
      mayBeBlank("net realisable value", money, currency),
      needed("carried at", money, currency),
      needed("write-down", money, currency),
      mayBeBlank("why", "string"),
    ].map((column) => ({ ...column, name: column.name.replaceAll("-", "_") })),
    rows: inventory.lines.map((line) => [
      ...[textCell(line.piece), textCell(GROUPS[line.group]), moneyCell(line.costMinor)],
      ...[
        moneyCell(line.netRealisableMinor),
        moneyCell(line.carriedMinor),
        moneyCell(line.writeDownMinor),
        textCell(line.reason ?? ""),
      ],
    ]),
  };
}

const KINDS = { part: "added", deduction: "taken off", total: "total", note: "within a line above" } as const;

function statementTable({ currency, statement }: PackContent, decimal: DecimalMark): PackTable {
  const money = numberType(decimal, "decimal");
  const weight = numberType(decimal);
  return {
    url: "cost-statement.csv",
    title: "Cost statement",
    columns: [
      needed("line", "string"),
      needed("how it counts", "string"),
      needed("amount", money, currency),
      needed("in the period", money, currency),
      mayBeBlank("grams", weight, "g"),
      mayBeBlank("fine metal grams", weight, "g"),
    ],
    rows: statement.map((row) => [
      ...[textCell(row.label), textCell(KINDS[row.kind]), moneyCell(row.minor), moneyCell(row.periodMinor)],
      ...[numberCell(row.grams), numberCell(row.fineGrams)],
    ]),
  };
}

function lossesTable({ currency, losses }: PackContent, decimal: DecimalMark): PackTable {
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
      ...[
        textCell(line.step),
        numberCell(line.entered),
        numberCell(line.lost),
        numberCell(line.plannedRate),
        numberCell(line.seenRate),
      ],
      ...[moneyCell(line.costMinor), moneyCell(line.reclaimedMinor), moneyCell(line.scrapMinor)],
      ...[moneyCell(line.normalMinor), moneyCell(line.abnormalMinor)],
    ]),
  };
}

function materialsTable({ currency, statement }: PackContent, decimal: DecimalMark): PackTable {
  return {
    url: "metal-and-materials.csv",
    title: "Metal and materials used",
    columns: [
      needed("material", "string"),
      needed("grams used", numberType(decimal), "g"),
      mayBeBlank("fine metal grams", numberType(decimal), "g"),
      needed("cost", numberType(decimal, "decimal"), currency),
      needed("grams in the period", numberType(decimal), "g"),
      needed("cost in the period", numberType(decimal, "decimal"), currency),
    ],
    rows: statement
      .filter(({ grams }) => grams !== undefined)
      .map((row) => [
        textCell(row.label),
        numberCell(row.grams),
        numberCell(row.fineGrams),
        moneyCell(row.minor),
        numberCell(row.periodGrams ?? 0),
        moneyCell(row.periodMinor),
      ]),
  };
}

function salesTable({ currency, sales }: PackContent, decimal: DecimalMark): PackTable {
  const money = numberType(decimal, "decimal");
  return {
    url: "sales.csv",
    title: "Pieces sold, consigned, given away, kept or broken",
    primaryKey: "piece",
    columns: [
      needed("piece", "string"),
      needed("what became of it", "string"),
      mayBeBlank("day", DAY_TYPE),
      mayBeBlank("channel", "string"),
      mayBeBlank("document", "string"),
      needed("cost", money, currency),
      ...["price paid", "price without tax", "tax", "fees and commission", "packing and postage"].map((name) =>
        mayBeBlank(name, money, currency),
      ),
    ],
    rows: sales.map((sale) => {
      const amount = (of: number) => moneyCell(sale.became === "sold" ? of : undefined);
      return [
        ...[textCell(sale.piece), textCell(sale.became), textCell(sale.day ?? ""), textCell(sale.channel ?? "")],
        ...[textCell(sale.document ?? ""), moneyCell(sale.costMinor)],
        ...[amount(sale.priceMinor), amount(sale.netMinor), amount(sale.taxMinor)],
        ...[amount(sale.feesMinor), amount(sale.packingMinor)],
      ];
    }),
  };
}
