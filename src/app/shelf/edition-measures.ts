// What editions are held against each other by: margin, yield, cost, earnings by the hour, energy, material, age of stock. Each
// measure is a ratio of sums, so that several editions together are the ratio of their sums, and never a mean of means.
import type { SheetKey, Workbook } from "../../core/document/workbook";
import { recordedDays } from "../../core/steps/drawn";
import { localDay } from "../edition/written-days";

/** What an edition came to, in its own currency; undefined where its sheets say nothing of it. */
export interface EditionSums {
  readonly started: number;
  readonly good: number;
  readonly inProgress: number;
  /** What the edition pays once the stock is sold, and the prices of its finished pieces without tax. */
  readonly pays: number;
  readonly net: number;
  /** Full cost of the good pieces. */
  readonly fullGood: number;
  readonly hours: number;
  readonly kwh: number;
  readonly grams: number;
  readonly fineGrams: number;
  /** Share of the pieces that come out good, as on Results; of several editions together it is not known. */
  readonly yield: number | undefined;
  /** Finished pieces in stock whose day of passing is known, and the days they have been there, added up. */
  readonly agedPieces: number;
  readonly agedDays: number;
}

type ReadValue = (sheet: SheetKey, row: string, column: string) => unknown;

const DAY_MS = 86_400_000;

/** The sums of an edition, from its document and its values; undefined where they have not been calculated. */
export function editionSums(book: Workbook, read: ReadValue, today: string): EditionSums | undefined {
  const line = (id: string) => {
    const value = read("results", id, "value");
    return typeof value === "number" ? value : undefined;
  };
  const added = (sheet: SheetKey, column: string) =>
    book.sheets[sheet].rows.reduce((sum, row) => {
      const value = read(sheet, row.id, column);
      return typeof value === "number" ? sum + value : sum;
    }, 0);
  const numbers = {
    ...{ started: line("started"), good: line("good"), inProgress: line("in_progress"), pays: line("pays") },
    ...{ fullGood: line("full_good"), hours: line("hours"), kwh: line("kwh"), fineGrams: line("fine") },
  };
  if (Object.values(numbers).includes(undefined)) return undefined;
  return {
    ...(numbers as { readonly [K in keyof typeof numbers]: number }),
    ...{ net: added("pieces", "net"), grams: added("route", "grams_used"), yield: line("final_yield") },
    ...ageOfStock(book, today),
  };
}

/** How long finished pieces have been in stock: from the day on which it was recorded that they were passed. */
function ageOfStock(book: Workbook, today: string): Pick<EditionSums, "agedPieces" | "agedDays"> {
  const days = recordedDays(book, localDay);
  let [agedPieces, agedDays] = [0, 0];
  for (const { id, cells } of book.sheets.pieces.rows) {
    const isInStock = cells.became === undefined || cells.became === "consigned";
    if (cells.grade === undefined || cells.lost_at !== undefined || !isInStock) continue;
    const day = days.get(`${id} grade`);
    if (day === undefined) continue;
    agedPieces += 1;
    agedDays += Math.max(0, (Date.parse(today) - Date.parse(day)) / DAY_MS);
  }
  return { agedPieces, agedDays };
}

/** The sums of several editions of one currency. */
export function addedSums(all: readonly EditionSums[]): EditionSums {
  const add = (of: (one: EditionSums) => number) => all.reduce((sum, one) => sum + of(one), 0);
  return {
    ...{ started: add((one) => one.started), good: add((one) => one.good), inProgress: add((one) => one.inProgress) },
    ...{ pays: add((one) => one.pays), net: add((one) => one.net), fullGood: add((one) => one.fullGood) },
    ...{ hours: add((one) => one.hours), kwh: add((one) => one.kwh), grams: add((one) => one.grams) },
    ...{ fineGrams: add((one) => one.fineGrams), yield: all.length === 1 ? all[0]?.yield : undefined },
    ...{ agedPieces: add((one) => one.agedPieces), agedDays: add((one) => one.agedDays) },
  };
}

/** One measure. */
export interface EditionMeasure {
  readonly id: string;
  readonly title: string;
  /** Behind the number; `¤` is the currency. */
  readonly unit: string;
  readonly decimals: number;
  readonly isMoney: boolean;
  readonly words: string;
  readonly of: (sums: EditionSums) => number | undefined;
}

const ratio = (part: number, whole: number) => (whole > 0 ? part / whole : undefined);

/** Every measure, in the order in which they are shown. */
export const EDITION_MEASURES: readonly EditionMeasure[] = [
  {
    ...{ id: "started", title: "started", unit: "pieces", decimals: 0, isMoney: false },
    ...{ words: "pieces on the Pieces sheet", of: ({ started }) => started },
  },
  {
    ...{ id: "good", title: "good", unit: "pieces", decimals: 0, isMoney: false },
    ...{ words: "passed as good", of: ({ good }) => good },
  },
  {
    ...{ id: "yield", title: "final yield", unit: "%", decimals: 1, isMoney: false },
    words: "share of the pieces that come out good, reworked ones too, as on Results",
    of: (sums) => (sums.yield === undefined ? undefined : sums.yield * 100),
  },
  {
    ...{ id: "cost", title: "cost of a good piece", unit: "¤", decimals: 2, isMoney: true },
    ...{ words: "full cost of the good pieces ÷ their number", of: ({ fullGood, good }) => ratio(fullGood, good) },
  },
  {
    ...{ id: "pays", title: "pays", unit: "¤", decimals: 2, isMoney: true },
    ...{ words: "what the edition pays once the stock is sold", of: ({ pays }) => pays },
  },
  {
    ...{ id: "margin", title: "margin", unit: "%", decimals: 1, isMoney: false },
    words: "what it pays ÷ the prices of its finished pieces without tax",
    of: ({ pays, net }) => (net > 0 ? (pays / net) * 100 : undefined),
  },
  {
    ...{ id: "hour", title: "an hour worked", unit: "¤/h", decimals: 2, isMoney: true },
    words: "what it pays ÷ hours of work, loading of kilns too; wages are in its cost already",
    of: ({ pays, hours }) => ratio(pays, hours),
  },
  {
    ...{ id: "kwh", title: "energy, a good piece", unit: "kWh", decimals: 2, isMoney: false },
    ...{ words: "kiln energy borne here ÷ good pieces", of: ({ kwh, good }) => ratio(kwh, good) },
  },
  {
    ...{ id: "grams", title: "material, a good piece", unit: "g", decimals: 0, isMoney: false },
    words: "slip, glaze and metal preparation used, lost pieces and overspray too ÷ good pieces",
    of: ({ grams, good }) => ratio(grams, good),
  },
  {
    ...{ id: "fine", title: "fine metal, a good piece", unit: "g", decimals: 4, isMoney: false },
    ...{ words: "pure metal used ÷ good pieces", of: ({ fineGrams, good }) => ratio(fineGrams, good) },
  },
  {
    ...{ id: "age", title: "age of stock", unit: "days", decimals: 0, isMoney: false },
    words: "days since finished pieces in stock were recorded as passed, on average; without those typed on the sheet",
    of: ({ agedDays, agedPieces }) => ratio(agedDays, agedPieces),
  },
];
