// From the planned margin to the real one, cause by cause, by standard costing: what a run really made and sold is valued at
// planned costs and prices, and each cause is what it moved that by. The order of substitution is fixed, so that the causes add
// up to real − planned exactly:
//   1 price and rate by what was really used; usage and efficiency by planned prices, for as many pieces as had the step
//   2 steps done as needed, left out or added, by the pieces that have come so far
//   3 losses: what the finished pieces were planned to bear of them, against what the lost ones had cost at standard
//   4 number, mix and spare pieces at the planned margin of a piece, its share of the planned losses in its cost
//   5 price of what was sold at planned terms, then tax, fees and packing at the real price
// Pieces not finished yet are taken to go on as planned, and that is taken back by one cause of its own.

import type { Cause, Variance } from "./plan-causes";
import type { MarginEnd, PlannedRun, RealRun } from "./plan-records";
import { plannedMargin, type Standards, standardsOf } from "./plan-standards";
import { type Flow, flowOf } from "./run-flow";
import { lossVariances, numberVariances, priceVariances, stillToCome } from "./run-variances";
import { stepVariances } from "./work-variances";

/** The planned margin, the real one, and everything that lies between them, unrounded. */
export interface PlanVariances {
  readonly planned: number;
  readonly real: number;
  readonly variances: readonly Variance[];
}

/** Every variance of a run against its plan; their sum is real − planned. */
export function planVariances(plan: PlannedRun, real: RealRun, end: MarginEnd): PlanVariances {
  const standards = standardsOf(plan);
  const flow = flowOf(standards, real.pieces);
  const calculated = plannedMargin(standards);
  const planned = plan.leaves ?? calculated;
  const variances = [
    ...workVariances(standards, flow, real),
    ...lossVariances(standards, flow),
    { cause: "back" as const, planned: 0, real: real.back, amount: real.back },
    ...numberVariances(standards, flow, real.sales),
    ...priceVariances(plan, real.sales),
    ...periodVariances(plan, real),
    { cause: "byHand" as const, amount: calculated - planned },
    ...stillToCome(standards, flow, real, end),
  ];
  return { planned, real: planned + variances.reduce((sum, { amount }) => sum + amount, 0), variances };
}

const NO_WORK = { grams: 0, material: 0, hours: 0, labour: 0, overhead: 0, mouldWear: 0 };

/** What each step of the plan took, and all that steps took which the plan did not have. */
function workVariances({ plan, steps }: Standards, flow: Flow, real: RealRun): readonly Variance[] {
  const work = new Map(real.steps.map((step) => [step.id, step]));
  const added = real.steps.filter(({ id }) => !steps.some((step) => step.id === id));
  return [
    ...steps.flatMap((step) => {
      const had = flow.steps.get(step.id)?.had ?? 0;
      return stepVariances(plan, step, work.get(step.id) ?? { id: step.id, ...NO_WORK }, had);
    }),
    ...added.map((step): Variance => {
      const { energy = 0, wear = 0, labour = 0, overhead = 0 } = step.load ?? {};
      const firing = energy + wear + labour + overhead;
      const cost = step.material + step.labour + step.overhead + step.mouldWear + firing;
      return { cause: "steps", of: step.id, planned: 0, real: cost, amount: -cost };
    }),
  ];
}

function periodVariances(plan: PlannedRun, real: RealRun): readonly Variance[] {
  const against = (cause: Cause, planned: number, found: number): Variance => ({
    ...{ cause, planned, real: found },
    amount: planned - found,
  });
  return [
    against("firedEmpty", 0, real.emptyFirings),
    against("idle", 0, real.idleOverhead),
    against("moulds", plan.mouldsCharged, real.mouldsCharged),
    against("fixed", plan.fixedCosts, real.fixedCosts),
  ];
}
