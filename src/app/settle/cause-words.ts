// What each cause is called, in what it is measured, and which cells its numbers come from.
import type { Cause, CauseGroup, Variance } from "../../accounts/plan-causes";
import { type CellName, rowOf } from "../../core/document/access";
import type { SheetKey, Workbook } from "../../core/document/workbook";

export const GROUP_TITLES: Readonly<Record<CauseGroup, string>> = {
  material: "Material",
  work: "Work",
  firing: "Firing",
  losses: "Losses and steps done again",
  sales: "Sales",
  period: "The rest",
  "still to come": "Not made yet",
};

/** How a measure of a cause is written; a rate is not added up over its parts. */
interface CauseMeasure {
  readonly unit: string;
  readonly decimals: number | "money";
  readonly isRate?: boolean;
}

const MONEY = { unit: "¤", decimals: "money" } as const;
const PIECES = { unit: "pieces", decimals: 1 } as const;
const rate = (unit: string, decimals: CauseMeasure["decimals"] = "money"): CauseMeasure => ({
  unit,
  decimals,
  isRate: true,
});

interface CauseWords {
  readonly title: string;
  /** What it is, for who does not know the word. */
  readonly words: string;
  readonly measure: CauseMeasure;
  /** Where its planned and its real number come from: `of` stands for its step or tier, `firing` for a firing of that step. */
  readonly cells: readonly [planned: string, real: string];
}

const cause = (title: string, words: string, measure: CauseMeasure, planned: string, real = planned): CauseWords => ({
  ...{ title, words, measure },
  cells: [planned, real],
});

/** Every cause. Where nothing else is said, planned is for as many pieces as really had the step. */
export const CAUSE_WORDS: Readonly<Record<Cause, CauseWords>> = {
  materialPrice: cause(
    "Price of material",
    "by the grams really used",
    rate("¤/g", 5),
    "route of per_gram",
    "route of material_cost",
  ),
  grams: cause(
    "Grams used",
    "at the planned price",
    { unit: "g", decimals: 0 },
    "route of plan_grams",
    "route of grams_used",
  ),
  mouldWear: cause("Wear of moulds", "a cast at a time", MONEY, "edition mould_cost", "route of wear_cost"),
  minutes: cause("Minutes", "at the planned wage", { unit: "min", decimals: 0 }, "route of minutes", "route of hours"),
  wage: cause("Wage", "by the hours really worked, at kilns too", rate("¤/h"), "edition wage"),
  overheadHours: cause(
    "Overhead of those minutes",
    "at the planned overhead an hour",
    { unit: "h", decimals: 1 },
    "route of plan_hours",
    "route of hours",
  ),
  overheadRate: cause(
    "Overhead an hour",
    "by the hours really worked",
    rate("¤/h"),
    "edition overhead_normal",
    "edition overhead_hour",
  ),
  tariff: cause("Tariff", "by the kilowatt-hours really used", rate("¤/kWh", 4), "edition tariff", "firing tariff"),
  kwh: cause(
    "Energy of a load",
    "at the planned tariff, however full the load was",
    rate("kWh", 1),
    "route of plan_kwh",
    "firing kwh",
  ),
  filling: cause(
    "Filling of kilns",
    "more loads for the same pieces",
    rate("pieces", 1),
    "route of plan_loads",
    "firing pieces",
  ),
  kilnWear: cause("Wear of kilns", "a load", rate("¤"), "route of plan_loads", "firing wear"),
  loading: cause(
    "Loading of kilns",
    "minutes a load, at the planned wage",
    rate("min", 0),
    "edition loading_minutes",
    "firing loading",
  ),
  firedEmpty: cause("Firings with nothing in them", "fired, as their meters say", MONEY, "results empty_kiln"),
  lossesInPlan: cause(
    "Losses within plan",
    "what the plan lets the pieces made bear of them, against what those lost within the planned rates had cost",
    MONEY,
    "route of lost_planned",
    "route of lost_cost",
  ),
  lossesBeyond: cause(
    "Losses beyond plan",
    "pieces lost at a step beyond planned rate × entered, at what they had cost",
    PIECES,
    "route of lost_planned",
    "route of lost",
  ),
  refires: cause(
    "Refires and what else is done as needed",
    "against the expected share of the pieces that have come so far",
    PIECES,
    "route of needed",
    "route of done",
  ),
  steps: cause(
    "Steps left out or added",
    "of finished pieces; a step that the plan did not have costs all it took",
    MONEY,
    "route of done",
  ),
  back: cause(
    "Clay and scrap back",
    "of which what the plan leaves counts nothing",
    MONEY,
    "edition reclaim",
    "results reclaimed",
  ),
  number: cause(
    "Number sold",
    "in the planned mix, at what the plan has a piece leave; stock, and pieces expected good, count as sold",
    PIECES,
    "edition wanted",
    "results good",
  ),
  mix: cause(
    "Mix of tiers",
    "against as many pieces in the planned mix; seconds are not planned for",
    rate("pieces", 1),
    "edition special_wanted",
    "tier sold",
  ),
  spare: cause(
    "Spare pieces",
    "made and not sold: planned beyond the number wanted, and given away, kept or broken",
    PIECES,
    "edition plan_good",
    "results gone",
  ),
  price: cause(
    "Selling price",
    "at planned tax and fees; what is in stock counts at what it is offered at",
    rate("¤"),
    "price of",
    "results revenue",
  ),
  fees: cause("Fees and commission", "on the prices really fetched", MONEY, "edition fee_rate", "results sold_fees"),
  tax: cause("Tax in the price", "on the prices really fetched", MONEY, "edition tax_rate", "results sold_net"),
  packing: cause("Packing and postage", "a sale", MONEY, "edition packing", "results sold_fees"),
  idle: cause(
    "Overhead that no hour carries",
    "a cost of the period",
    MONEY,
    "edition overhead_normal",
    "results overhead_idle",
  ),
  moulds: cause(
    "Left in the moulds and charged",
    "where it is not carried on",
    MONEY,
    "edition plan_mould_charged",
    "results mould_charged",
  ),
  fixed: cause("Design and model-making", "", MONEY, "edition fixed_costs"),
  byHand: cause(
    "Planned numbers written over by hand",
    "what the plan was said to leave, beyond what its parts come to",
    MONEY,
    "edition plan_pays",
  ),
  inProgress: cause(
    "Pieces not finished yet",
    "what they are still expected to leave, by the plan, beyond what they are carried at",
    MONEY,
    "results full_progress",
  ),
  inStock: cause(
    "In stock and not sold yet",
    "what the stock may bring beyond what it is carried at",
    MONEY,
    "results stock_leaves",
  ),
};

/** The cell a number of a cause leads to; undefined where it is not there any more. */
export function cellOfCause(
  book: Workbook,
  { cause: name, of = "" }: Pick<Variance, "cause" | "of">,
  which: 0 | 1,
): CellName | undefined {
  const [sheet, ...rest] = CAUSE_WORDS[name].cells[which].split(" ");
  const column = rest.at(-1) ?? "";
  const line = (of: SheetKey, row: string): CellName => ({ sheet: of, row, column: "value" });
  if (sheet === "route") return there(book, of === "" ? undefined : { sheet: "route", row: of, column });
  if (sheet === "firing") return firingOf(book, of, column);
  if (sheet === "tier")
    return there(book, line("results", `sold_${of.includes("second") ? "second" : of || "standard"}`));
  if (sheet === "price") return there(book, line("edition", `price_${of || "standard"}`));
  return there(book, line(sheet === "edition" ? "edition" : "results", column));
}

function there(book: Workbook, cell: CellName | undefined): CellName | undefined {
  return cell && rowOf(book, cell.sheet, cell.row) ? cell : undefined;
}

/** The cell of the first firing that a piece was in at a step. */
function firingOf(book: Workbook, step: string, column: string): CellName | undefined {
  const named = book.sheets.pieces.rows.map(({ cells }) => cells[`${step}.firing`]).find((name) => name !== undefined);
  const row = book.sheets.firings.rows.find(({ cells }) => cells.id === named);
  return row && named !== undefined ? { sheet: "firings", row: row.id, column } : undefined;
}
