// The open edition as plain records, for what leaves the sheets: journal, inventory and statements are calculated from these,
// by plain loops, and held against what the sheets show.
import type { PlainEdition, PlainEntry, PlainFiring, PlainPiece, PlainStep } from "../../accounts/plain-edition";
import { rowLabel } from "../../core/document/access";
import type { Raw, Row, SheetKey, Workbook } from "../../core/document/workbook";
import { fail, ok, problem, type Result } from "../../core/problem";
import { isStepKind, KIND_INPUTS, rulesOf } from "../../core/sheets/step-kinds";
import { isCellError } from "../../engine/values";
import { asNumber, type ReadCell } from "./cell-reader";
import { netOfPrice } from "./price-terms";

/** The plain edition behind a workbook, or why there is none: a number that is missing or an error. */
export function plainEditionOf(book: Workbook, read: ReadCell): Result<PlainEdition> {
  const failed = firstError(book, read);
  if (failed) return failed;
  const line = (sheet: "edition" | "results", id: string) => asNumber(read(sheet, id, "value")) ?? 0;
  const given = (id: string) => asNumber(read("edition", id, "value"));
  const prices = new Map(
    book.sheets.purchases.rows.flatMap(({ id, cells }): [Raw, number][] => {
      const perGram = asNumber(read("purchases", id, "per_gram"));
      return cells.id === undefined || perGram === undefined ? [] : [[cells.id, perGram]];
    }),
  );
  const [paid, normalHours, made] = [given("overhead_paid"), given("normal_hours"), given("moulds")];
  return ok({
    wagePerHour: line("edition", "wage"),
    overhead: {
      ratePerHour: line("edition", "overhead_rate"),
      isOnLoading: read("edition", "overhead_loading", "value") === "yes",
      ...(paid === undefined ? {} : { paid }),
      ...(normalHours === undefined ? {} : { normalHours }),
    },
    moulds: {
      cost: line("edition", "mould_cost"),
      salvage: Math.min(line("edition", "mould_salvage"), line("edition", "mould_cost")),
      lifeCasts: given("mould_casts") ?? 1,
      ...(made === undefined ? {} : { made }),
      isRestCharged: read("edition", "mould_rest", "value") === "charged",
    },
    reclaimFraction: line("edition", "reclaim"),
    scrapEach: line("edition", "scrap_value"),
    secondNetRealisable: line("results", "second_worth"),
    lossRuns: line("edition", "loss_runs"),
    steps: book.sheets.route.rows.flatMap((row) => stepOf(row, read)),
    firings: book.sheets.firings.rows.map((row) => firingOf(row, read)),
    pieces: book.sheets.pieces.rows.map((row) => pieceOf(book, row, read, prices)),
  });
}

/** Price a gram by the name of the purchase. */
type DayPrices = ReadonlyMap<Raw | undefined, number>;

/** Anything computed that is still missing or an error on the sheets that cost comes from. */
function firstError(book: Workbook, read: ReadCell): Result<PlainEdition> | undefined {
  for (const [sheet, columns] of [
    ["firings", ["cost"]],
    ["pieces", ["own"]],
  ] as const)
    for (const row of book.sheets[sheet].rows)
      for (const column of columns) {
        const value = read(sheet, row.id, column);
        const where = `${book.sheets[sheet].title} ${rowLabel(sheet, row)}`;
        if (value === undefined)
          return fail(
            problem({ code: "settle.waiting", where, found: "", allowed: "a number; it is still being computed" }),
          );
        if (isCellError(value))
          return fail(
            problem({ code: "settle.error", where, found: value.title, allowed: "a cost", fix: value.message }),
          );
      }
  return undefined;
}

/** A day under a name; nothing where there is none. */
const dayIn = <K extends string>(name: K, raw: Raw | undefined): { readonly [key in K]?: string } =>
  typeof raw === "string" && raw !== "" ? ({ [name]: raw } as { readonly [key in K]: string }) : {};

/** Numbers by name, those that are blank left out. */
function filled<K extends string>(
  row: Row,
  read: ReadCell,
  sheet: SheetKey,
  columns: Readonly<Partial<Record<K, string>>>,
): Partial<Record<K, number>> {
  const entries = Object.entries(columns as Readonly<Record<string, string>>).map(([name, column]) => [
    name,
    asNumber(read(sheet, row.id, column)),
  ]);
  return Object.fromEntries(entries.filter(([, value]) => value !== undefined)) as Partial<Record<K, number>>;
}

function stepOf(row: Row, read: ReadCell): PlainStep[] {
  const { kind, order } = row.cells;
  if (!isStepKind(kind)) return [];
  const numbers = filled(row, read, "route", {
    plannedLoss: "loss",
    minutesEach: "minutes",
    pricePerGram: "per_gram",
    ...Object.fromEntries(KIND_INPUTS.map(({ key }) => [key, key])),
    fraction: "fraction",
    carat: "carat",
  });
  const isForSpecial = row.cells.who === "special";
  return [{ id: row.id, kind, order: typeof order === "number" ? order : 0, isForSpecial, ...numbers }];
}

function firingOf(row: Row, read: ReadCell): PlainFiring {
  const number = (column: string) => asNumber(read("firings", row.id, column)) ?? 0;
  const basis = row.cells.basis === "weight" || row.cells.basis === "shelf area" ? row.cells.basis : "count";
  const measure = { count: "count", weight: "kg", "shelf area": "cm2" }[basis];
  return {
    id: rowLabel("firings", row),
    kwh: number("kwh"),
    isMetered: asNumber(read("firings", row.id, "meter")) !== undefined,
    pricePerKwh: number("tariff"),
    wear: number("wear"),
    loadingMinutes: number("loading"),
    basis,
    ...dayIn("day", row.cells.date),
    others: number(`other_${measure}`) + number(`with_${measure}`),
  };
}

function pieceOf(book: Workbook, row: Row, read: ReadCell, prices: DayPrices): PlainPiece {
  const { lost_at: lostAt, grade, tier } = row.cells;
  const price = asNumber(read("pieces", row.id, "own_price"));
  return {
    id: rowLabel("pieces", row),
    ...(typeof lostAt === "string" ? { lostAt } : {}),
    ...(grade === "good" || grade === "second" ? { grade } : {}),
    ...dayIn("lostOn", row.cells.lost_on),
    ...dayIn("passedOn", row.cells.passed_on),
    ...(typeof tier === "string" ? { tier } : {}),
    ...(price === undefined ? {} : { fetches: netOfPrice(read, "second", price) }),
    kg: asNumber(read("pieces", row.id, "kg")) ?? 0,
    footprintCm2: asNumber(read("pieces", row.id, "foot")) ?? 0,
    entries: Object.fromEntries(
      book.sheets.route.rows.map((step): [string, PlainEntry] => [step.id, entryOf(step, row, read, prices)]),
    ),
  };
}

function entryOf(step: Row, row: Row, read: ReadCell, prices: DayPrices): PlainEntry {
  const rules = rulesOf(step);
  if (!rules) return {};
  if (rules.entered === "firing") {
    const firing = read("pieces", row.id, `${step.id}.firing`);
    return typeof firing === "string" && firing !== "" ? { firing } : {};
  }
  const columns = [rules.entered.column, ...rules.ownOfPiece];
  const numbers = filled(
    row,
    read,
    "pieces",
    Object.fromEntries(columns.map((column) => [column, `${step.id}.${column}`])),
  );
  const entry = { ...numbers, ...dayIn("day", row.cells[`${step.id}.day`]) };
  const pricePerGram = prices.get(row.cells[`${step.id}.priced`]);
  return pricePerGram === undefined ? entry : { ...entry, pricePerGram };
}
