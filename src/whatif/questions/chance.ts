// Chance: what the losses of a run, and prices that are not certain, make of it. The count of good pieces is exact; money
// is drawn, because firings come in whole loads and metal in whole grams of an uncertain price.

import type { CellName } from "../../core/document/access";
import { fail, ok, problem, type Result } from "../../core/problem";
import { type Asking, indexOfCell, outputOf } from "../run/case-matrix";
import { drawBetween, drawsFrom } from "../run/random";
import { type DrawnRun, drawRun, lossesOfTier, type RouteStep } from "../run/run-draws";
import { deliveryOf, quantileOf, type Spread, spreadsOf, sumOfSpreads, type TierRun } from "./good-count";
import type { InputRange } from "./ranking";
import type { Stakes } from "./start-choice";

export interface ChanceQuestion {
  readonly steps: readonly RouteStep[];
  /** For each step the cell that says how many pieces enter it. */
  readonly entries: readonly CellName[];
  readonly starts: number;
  /** How many of the starts are for special pieces. */
  readonly specialStarts: number;
  readonly wanted: Readonly<Record<TierRun["tier"], number>>;
  readonly stakes: Stakes;
  readonly draws: number;
  readonly seed: number;
  /** Inputs drawn between the ends of their range, likeliest where they stand. */
  readonly ranges: readonly InputRange[];
  /** Index of the planned cost among the outputs. */
  readonly cost: number;
}

/** The middle of a spread and the band that holds four in five of its outcomes. */
export interface Band {
  readonly low: number;
  readonly median: number;
  readonly high: number;
}

export interface Chance {
  /** All good pieces together, exactly. */
  readonly spread: Spread;
  readonly good: Band;
  /** Chance that a tier is short. */
  readonly short: number;
  /** The same for each tier by itself, and for all pieces counted together whichever tier they are for. */
  readonly shortOf: Readonly<Partial<Record<TierRun["tier"], number>>>;
  readonly shortTogether: number;
  readonly expectedShort: number;
  readonly expectedOver: number;
  /** Outcomes of the draws, rising; draws without a cost are left out. */
  readonly profits: Float64Array;
  readonly profit: Band;
  readonly meanProfit: number;
  readonly cost: Band;
  /** Share of the draws that lose money, and how far that share may be off (one standard error). */
  readonly losing: number;
  readonly losingError: number;
  /** Draws for which there was no cost. */
  readonly left: number;
}

/** The tiers of a run, each with its starts, what is wanted and the losses it meets; a tier nobody starts or wants is left out. */
export function runsOf(
  question: Pick<ChanceQuestion, "steps" | "starts" | "specialStarts" | "wanted">,
): readonly TierRun[] {
  const starts = { standard: question.starts - question.specialStarts, special: question.specialStarts };
  return (["standard", "special"] as const)
    .map((tier) => ({
      tier,
      starts: starts[tier],
      wanted: question.wanted[tier],
      losses: lossesOfTier(question.steps, tier),
    }))
    .filter((run) => run.starts > 0 || run.wanted > 0);
}

/** Asks what a run may come to. `breathe` is waited for between portions of the draws, so that a page stays alive. */
export async function askChance(
  asking: Asking,
  question: ChanceQuestion,
  breathe: () => Promise<void>,
): Promise<Result<Chance>> {
  const runs = runsOf(question);
  const spreads = spreadsOf(runs);
  if (!spreads.ok) return spreads;
  const { cases, drawn } = await drawCases(asking, question, breathe);
  const answers = await asking.client.run(asking.prepared, cases, asking.options);
  const costs = outputOf(answers, asking.prepared, question.cost);
  if (costs.every(Number.isNaN)) return fail(noCost(answers.failures[0]?.message));
  const spread = sumOfSpreads(spreads.value);
  const deliveries = runs.map((run, at) => deliveryOf(spreads.value[at] ?? spread, run.wanted));
  const sum = (part: "expectedShort" | "expectedOver") => deliveries.reduce((total, one) => total + one[part], 0);
  return ok({
    spread,
    good: { low: quantileOf(spread, 0.1), median: quantileOf(spread, 0.5), high: quantileOf(spread, 0.9) },
    short: 1 - deliveries.reduce((all, one) => all * one.chance, 1),
    shortOf: Object.fromEntries(runs.map(({ tier }, at) => [tier, 1 - (deliveries[at]?.chance ?? 1)])),
    shortTogether: 1 - deliveryOf(spread, question.wanted.standard + question.wanted.special).chance,
    expectedShort: sum("expectedShort"),
    expectedOver: sum("expectedOver"),
    ...moneyOf(question, drawn, costs),
  });
}

async function drawCases({ prepared, base, options }: Asking, question: ChanceQuestion, breathe: () => Promise<void>) {
  const { steps, entries, draws, seed, ranges } = question;
  const standard = question.starts - question.specialStarts;
  const entryIndices = entries.map((cell) => indexOfCell(prepared.inputs, cell));
  const ranged = ranges.map((range) => ({ ...range, index: indexOfCell(prepared.inputs, range.input) }));
  const usualOf = (index: number) => {
    const set = base[index] ?? Number.NaN;
    return Number.isNaN(set) ? (prepared.todayInputs[index] ?? Number.NaN) : set;
  };
  const draw = drawsFrom(seed);
  const cases = new Float64Array(draws * base.length);
  const drawn: DrawnRun[] = [];
  for (let at = 0; at < draws; at += 1) {
    if (at % 500 === 499) {
      await breathe();
      options?.signal?.throwIfAborted();
    }
    const run = drawRun(draw, steps, standard, question.specialStarts);
    cases.set(base, at * base.length);
    entryIndices.forEach((index, step) => {
      cases[at * base.length + index] = run.entries[step] ?? 0;
    });
    for (const { index, low, high } of ranged)
      cases[at * base.length + index] = drawBetween(draw, low, usualOf(index), high);
    drawn.push(run);
  }
  return { cases, drawn };
}

function moneyOf({ stakes, wanted }: ChanceQuestion, drawn: readonly DrawnRun[], costs: Float64Array) {
  const profits = Float64Array.from(drawn, ({ good }, at) =>
    (["standard", "special"] as const).reduce(
      (left, tier) => left + soldOf(good[tier], wanted[tier], stakes.worth[tier], stakes),
      -(costs[at] ?? Number.NaN) - stakes.fixed,
    ),
  ).filter((profit) => !Number.isNaN(profit));
  profits.sort();
  const known = costs.filter((cost) => !Number.isNaN(cost)).sort();
  const losing = profits.reduce((count, profit) => count + (profit < 0 ? 1 : 0), 0) / profits.length;
  return {
    profits,
    profit: bandOf(profits),
    meanProfit: profits.reduce((sum, profit) => sum + profit, 0) / profits.length,
    cost: bandOf(known),
    losing,
    losingError: Math.sqrt((losing * (1 - losing)) / profits.length),
    left: costs.length - profits.length,
  };
}

function soldOf(good: number, wanted: number, worth: number, stakes: Stakes): number {
  const sold = Math.min(good, wanted);
  return sold * worth - (wanted - sold) * stakes.shortfall - (good - sold) * stakes.surplus;
}

/** Median and 80 % band of rising numbers: the smallest with at least that share at or below it. */
export function bandOf(rising: Float64Array): Band {
  const at = (share: number) => rising[Math.max(0, Math.ceil(rising.length * share - 1e-9) - 1)] ?? Number.NaN;
  return { low: at(0.1), median: at(0.5), high: at(0.9) };
}

function noCost(message: string | undefined) {
  return problem({
    code: "chance.cost",
    where: "Planned cost",
    found: message ?? "no number",
    allowed: "a number in at least one draw",
    fix: "Look at the planned cost on the Edition sheet.",
  });
}
