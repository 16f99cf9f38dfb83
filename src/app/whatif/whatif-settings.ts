// How each question is asked: which inputs, which results, over what ranges. None of this is part of the edition.
import { type CellName, cellKeyOf, rowOf } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { isFiringStep } from "../../core/sheets/step-kinds";
import { askCell, lineCell, lossCell, plannedSteps, usualInputs } from "./whatif-cells";

export const QUESTIONS = [
  { id: "losses", title: "If losses change", asks: "What do the losses of each step do to cost, margin and starts?" },
  { id: "sweep", title: "One input", asks: "What does one input do over a range?" },
  { id: "table", title: "Two inputs", asks: "What do two inputs do together, and where is the line?" },
  { id: "ranking", title: "What matters most", asks: "Which input moves a result most, each within its own range?" },
  { id: "breakEven", title: "What must it be", asks: "At which value of an input is a result what it is to be?" },
  { id: "cases", title: "Cases side by side", asks: "What do the kept cases come to, beside today?" },
  { id: "chance", title: "Chance", asks: "What may become of the run, and how many are best started?" },
] as const;
export type QuestionId = (typeof QUESTIONS)[number]["id"];

/** A range that is swept; an end left out follows from what the input is today. */
export interface SweptRange {
  readonly input: CellName;
  readonly low?: number;
  readonly high?: number;
}

export interface Settings {
  readonly question: QuestionId;
  /** Results looked at, in order. */
  readonly results: readonly CellName[];
  /** The one result that a table, a ranking and a break-even are about. */
  readonly aim: CellName;
  readonly sweep: SweptRange;
  readonly across: SweptRange;
  readonly down: SweptRange;
  /** The value on which the line of a table lies. */
  readonly level: number;
  /** Inputs that are ranked. */
  readonly ranked: readonly CellName[];
  readonly breakEven: SweptRange;
  /** What the result is to be. */
  readonly target: number;
}

/** The step whose losses cost most late in the route: the last firing for all pieces, or else the last step. */
function mainStep(book: Workbook): string {
  const steps = plannedSteps(book);
  const firings = steps.filter(isFiringStep);
  const forAll = firings.filter((row) => row.cells.who !== "special");
  return (forAll.at(-1) ?? firings.at(-1) ?? steps.at(-1))?.id ?? "";
}

/** How questions are asked of an edition until the maker says otherwise. */
export function usualSettings(book: Workbook): Settings {
  const step = mainStep(book);
  const loss = rowOf(book, "route", step) ? lossCell(step) : lineCell("edition", "wage");
  const has = (cell: CellName) => askCell(book, cell) !== undefined;
  const results = ["plan_per_good", "plan_margin", "starts"].map((id) => lineCell("edition", id)).filter(has);
  const pays = lineCell("edition", "plan_pays");
  const aim = has(pays) ? pays : lineCell("results", "pays");
  const price = lineCell("edition", "price_standard");
  return {
    question: "losses",
    results: results.length > 0 ? results : [aim],
    aim,
    sweep: { input: lineCell("edition", "wanted") },
    across: { input: loss },
    down: { input: has(price) ? price : lineCell("edition", "wage") },
    level: 0,
    ranked: usualInputs(book).map(({ cell }) => cell),
    breakEven: { input: has(price) ? price : loss },
    target: 0,
  };
}

/** Settings without the cells that an edition no longer has. */
export function stillThere(book: Workbook, settings: Settings): Settings {
  const usual = usualSettings(book);
  const has = (cell: CellName) => askCell(book, cell) !== undefined;
  const kept = (range: SweptRange, other: SweptRange) => (has(range.input) ? range : other);
  const results = settings.results.filter(has);
  return {
    ...settings,
    results: results.length > 0 ? results : usual.results,
    aim: has(settings.aim) ? settings.aim : usual.aim,
    sweep: kept(settings.sweep, usual.sweep),
    across: kept(settings.across, usual.across),
    down: kept(settings.down, usual.down),
    ranked: settings.ranked.filter(has),
    breakEven: kept(settings.breakEven, usual.breakEven),
  };
}

/** Cells once each, in order. */
export function once(cells: readonly CellName[]): readonly CellName[] {
  return [...new Map(cells.map((cell) => [cellKeyOf(cell), cell])).values()];
}
