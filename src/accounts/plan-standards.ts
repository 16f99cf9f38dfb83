// What follows from a plan for each piece: the standard cost of a step, of a good piece with the losses it is to bear, and
// what is still expected of a piece that stands somewhere on its way.
import type { SoldTier } from "../core/sheets/price-terms";
import type { MadeTier, PlannedRun, PlannedWork } from "./plan-records";
import { leftAfterFees } from "./price";

export const MADE_TIERS: readonly MadeTier[] = ["standard", "special"];

/** What a load costs as planned. */
export function costOfLoad(plan: PlannedRun, load: NonNullable<PlannedWork["load"]>): number {
  return load.kwh * plan.pricePerKwh + load.wear + load.hours * (plan.wagePerHour + plan.loadingOverhead);
}

/** What a step costs a piece that has it, as planned; of a firing its part of a load filled as planned. */
function standardCost(plan: PlannedRun, step: PlannedWork): number {
  const { load } = step;
  if (load) return costOfLoad(plan, load) / load.pieces;
  return step.grams * step.pricePerGram + step.mouldWear + step.hours * (plan.wagePerHour + plan.overheadPerHour);
}

/** Whether a step is on the way of every piece of a tier, or of those of them that need it. */
export const isOnWay = (step: PlannedWork, tier: MadeTier) => step.who !== "special" || tier === "special";

/** Steps in the order of the plan, each with its standard cost. */
export interface Standards {
  readonly plan: PlannedRun;
  readonly steps: readonly (PlannedWork & { readonly cost: number })[];
  /** What a good piece costs as planned, by tier: its own steps, and what it bears of the lost ones. */
  readonly good: Readonly<Record<MadeTier, GoodPiece>>;
}

/** What comes of one piece as planned. */
export interface Ahead {
  /** Chance of coming through. */
  readonly yield: number;
  /** Expected cost of the work ahead. */
  readonly work: number;
  /** Expected cost of losing it, by step: what it has cost by then × the chance of losing it there. */
  readonly lost: ReadonlyMap<string, number>;
}

interface GoodPiece {
  readonly own: number;
  /** Of the lost ones, by the step at which they are lost. */
  readonly losses: ReadonlyMap<string, number>;
  readonly cost: number;
  /** Good pieces to expect of the starts. */
  readonly expected: number;
}

/** The standards of a plan. */
export function standardsOf(plan: PlannedRun): Standards {
  const steps = [...plan.steps]
    .sort((a, b) => a.order - b.order)
    .map((step) => ({ ...step, cost: standardCost(plan, step) }));
  const good = Object.fromEntries(MADE_TIERS.map((tier) => [tier, goodPiece(plan, steps, tier)]));
  return { plan, steps, good: good as Record<MadeTier, GoodPiece> };
}

function goodPiece(plan: PlannedRun, steps: Standards["steps"], tier: MadeTier): GoodPiece {
  const ahead = aheadOf(steps, tier, Number.NEGATIVE_INFINITY, 0);
  const own = steps.reduce((sum, step) => (isOnWay(step, tier) ? sum + step.share * step.cost : sum), 0);
  const losses = new Map([...ahead.lost].map(([id, cost]) => [id, cost / ahead.yield]));
  const borne = [...losses.values()].reduce((sum, cost) => sum + cost, 0);
  return { own, losses, cost: own + borne, expected: plan.starts[tier] * ahead.yield };
}

/** What is ahead of a piece of a tier that has come past a place in the route and has cost so much. */
export function aheadOf(steps: Standards["steps"], tier: MadeTier, past: number, spent: number): Ahead {
  let [kept, work, cost] = [1, 0, spent];
  const lost = new Map<string, number>();
  for (const step of steps) {
    if (step.order <= past || !isOnWay(step, tier)) continue;
    const each = step.share * step.cost;
    work += kept * each;
    cost += each;
    const rate = step.share * step.loss;
    if (rate > 0) lost.set(step.id, kept * rate * cost);
    kept *= 1 - rate;
  }
  return { yield: kept, work, lost };
}

/** What a price brings under the planned terms of a tier, after tax, fees and packing. */
export function plannedFetch(plan: PlannedRun, tier: SoldTier, price = plan.sale[tier].price): number {
  const terms = plan.sale[tier];
  return leftAfterFees(price, terms) - terms.packing;
}

/** What the plan leaves by its parts: what its pieces bring, less the work on all starts, moulds and fixed costs. */
export function plannedMargin({ plan, good }: Standards): number {
  const brings = MADE_TIERS.reduce((sum, tier) => sum + plan.sold[tier] * plannedFetch(plan, tier), 0);
  const work = MADE_TIERS.reduce((sum, tier) => sum + good[tier].expected * good[tier].cost, 0);
  return brings - work - plan.mouldsCharged - plan.fixedCosts;
}
