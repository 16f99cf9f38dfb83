// What every posting of the pack is made of: pieces, steps, firings, hours and losses, each with its day.

import type { AccountKey } from "../accounts/journal";
import { numberType } from "./metadata";
import type { DecimalMark } from "./number-text";
import type { PackContent } from "./pack-content";
import { DAY_TYPE, mayBeBlank, moneyCell, needed, numberCell, type PackTable, textCell } from "./pack-table";

function trailTable({ currency, ledger: { accounts }, trail }: PackContent, decimal: DecimalMark): PackTable {
  const account = (key: AccountKey) => textCell([accounts[key].code, accounts[key].name].filter(Boolean).join(" "));
  return {
    url: "audit-trail.csv",
    title: "What each posting is made of; an amount below 0 is credited where it says debit",
    columns: [
      needed("reference", "string"),
      needed("posted on", DAY_TYPE),
      mayBeBlank("happened on", DAY_TYPE),
      ...["piece", "step", "firing", "element", "document"].map((name) => mayBeBlank(name, "string")),
      needed("debit account", "string"),
      needed("credit account", "string"),
      needed("amount", numberType(decimal, "decimal"), currency),
    ],
    rows: trail.parts.map((part) => [
      ...[part.reference, part.posted, part.day, part.piece, part.step, part.firing, part.element, part.document].map(
        textCell,
      ),
      ...[account(part.debit), account(part.credit), moneyCell(part.minor)],
    ]),
  };
}

function firingsTable({ currency, trail }: PackContent, decimal: DecimalMark): PackTable {
  const size = numberType(decimal);
  return {
    url: "firings.csv",
    title: "Firings of the period, and what this edition bears of them",
    primaryKey: "firing",
    columns: [
      needed("firing", "string"),
      mayBeBlank("day", DAY_TYPE),
      mayBeBlank("kiln", "string"),
      needed("energy", size, "kWh"),
      needed("tariff", size, `${currency}/kWh`),
      needed("pieces", "integer", "pieces"),
      needed("shared by", "string"),
      needed("share", size),
      needed("energy borne", size, currency),
      needed("wear borne", size, currency),
      needed("hours of loading borne", size, "h"),
      needed("loading borne", size, currency),
      needed("overhead borne", size, currency),
    ],
    rows: trail.fired.map((one) => [
      ...[textCell(one.firing), textCell(one.day), textCell(one.kiln)],
      ...[numberCell(one.kwh), numberCell(one.tariff), numberCell(one.pieces), textCell(one.basis)],
      ...[one.share, one.energy, one.wear, one.loadingHours, one.loading, one.overhead].map(numberCell),
    ]),
  };
}

function hoursTable({ currency, trail }: PackContent, decimal: DecimalMark): PackTable {
  const size = numberType(decimal);
  return {
    url: "hours.csv",
    title: "Hours of the period, step by step",
    columns: [
      needed("step", "string"),
      needed("pieces", "integer", "pieces"),
      needed("hours", size, "h"),
      needed("labour", size, currency),
      needed("overhead", size, currency),
    ],
    rows: trail.hours.map(({ step, pieces, hours, labour, overhead }) => [
      ...[textCell(step), numberCell(pieces)],
      ...[hours, labour, overhead].map(numberCell),
    ]),
  };
}

function lostTable({ currency, trail }: PackContent, decimal: DecimalMark): PackTable {
  const money = numberType(decimal, "decimal");
  return {
    url: "lost-pieces.csv",
    title: "Pieces lost in the period",
    primaryKey: "piece",
    columns: [
      needed("piece", "string"),
      needed("step", "string"),
      needed("day", DAY_TYPE),
      mayBeBlank("why", "string"),
      ...["cost", "clay won back", "scrap", "normal loss", "abnormal loss"].map((name) =>
        needed(name, money, currency),
      ),
    ],
    rows: trail.lost.map(({ piece, step, day, why, cost, reclaimed, scrap, normal, abnormal }) => [
      ...[piece, step, day, why].map(textCell),
      ...[cost, reclaimed, scrap, normal, abnormal].map(moneyCell),
    ]),
  };
}

export const TRAIL_TABLES = [trailTable, firingsTable, hoursTable, lostTable] as const;
