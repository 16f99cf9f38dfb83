// Variances of a run as a whole: losses, refires and steps left out, number, mix and price of what is sold, and what is not
// finished or not sold yet. What pieces on their way still give is expected by the plan.
import type { SoldTier } from "../core/sheets/price-terms";
import type { Variance } from "./plan-causes";
import type { MadeTier, MarginEnd, PlannedRun, RealRun, RealSale } from "./plan-records";
import { MADE_TIERS, plannedFetch, type Standards } from "./plan-standards";
import { comesThrough, type Flow, overTiers } from "./run-flow";

/** Losses within the planned rates and beyond them, what was done as needed, and what was left out or added, step by step. */
export function lossVariances(standards: Standards, flow: Flow): readonly Variance[] {
  const planned = new Map(standards.steps.map((step) => [step.id, step]));
  return [...flow.steps].flatMap(([of, seen]): Variance[] => {
    const step = planned.get(of);
    const allowed = overTiers((tier) => comesThrough(flow, tier) * (standards.good[tier].losses.get(of) ?? 0));
    const rate = step?.loss ?? 0;
    const beyond = Math.max(0, seen.lost - rate * seen.entered);
    const beyondCost = seen.lost === 0 ? 0 : (seen.lostCost * beyond) / seen.lost;
    const within = seen.lostCost - beyondCost + seen.lostAhead;
    return [
      { cause: "lossesInPlan", of, planned: allowed, real: within, amount: allowed - within },
      { cause: "lossesBeyond", of, planned: rate * seen.entered, real: seen.lost, amount: -beyondCost },
      ...(step?.who === "as needed"
        ? [refires(of, step.share * seen.came, seen.had, step.cost)]
        : [{ cause: "steps" as const, of, amount: seen.leftOut }]),
    ];
  });
}

const refires = (of: string, planned: number, real: number, cost: number): Variance => ({
  ...{ cause: "refires", of, planned, real },
  amount: (planned - real) * cost,
});

/** What is sold or in stock counts by what it was made as and sold as. */
const CLASSES = MADE_TIERS.flatMap((tier) => [
  { name: tier as string, tier, isSecond: false, sold: tier as SoldTier },
  { name: `${tier} second`, tier, isSecond: true, sold: "second" as SoldTier },
]);

/** Number, mix and spare pieces, each at what the plan has a piece leave. */
export function numberVariances(standards: Standards, flow: Flow, sales: readonly RealSale[]): readonly Variance[] {
  const { plan, good } = standards;
  const classes = CLASSES.map(({ name, tier, isSecond, sold }) => {
    const real = sales.filter((sale) => sale.tier === tier && sale.isSecond === isSecond).length;
    return {
      ...{ name, planned: isSecond ? 0 : plan.sold[tier], real: real + (isSecond ? 0 : flow.ahead[tier]) },
      margin: plannedFetch(plan, sold) - good[tier].cost,
    };
  });
  const planned = classes.reduce((sum, one) => sum + one.planned, 0);
  const real = classes.reduce((sum, one) => sum + one.real, 0);
  const of = (count: "planned" | "real") => classes.reduce((sum, one) => sum + one[count] * one.margin, 0);
  // Without any planned there is no planned mix, and all of it is number.
  const atMix = planned === 0 ? of("real") : (of("planned") * real) / planned;
  return [
    { cause: "number", planned, real, amount: atMix - of("planned") },
    ...classes.map(({ name, planned: one, real: found, margin }): Variance => {
      const share = planned === 0 ? found : (real * one) / planned;
      return { cause: "mix", of: name, planned: share, real: found, amount: (found - share) * margin };
    }),
    ...MADE_TIERS.map((tier): Variance => {
      const spare = good[tier].expected - plan.sold[tier];
      const gone = flow.finished[tier] - sales.filter((sale) => sale.tier === tier).length;
      return { cause: "spare", of: tier, planned: spare, real: gone, amount: (spare - gone) * good[tier].cost };
    }),
  ];
}

/** Price, tax, fees and packing of what is sold or in stock, by the tier whose price it has. */
export function priceVariances(plan: PlannedRun, sales: readonly RealSale[]): readonly Variance[] {
  return (["standard", "special", "second"] as const).flatMap((of): Variance[] => {
    const terms = plan.sale[of];
    const those = sales.filter((sale) => soldAs(sale) === of);
    if (those.length === 0) return [];
    const count = those.length;
    const sum = (amount: (sale: RealSale) => number) => those.reduce((total, sale) => total + amount(sale), 0);
    const [paid, net, fees, packing] = [
      sum(({ price }) => price),
      sum((sale) => sale.net),
      sum((sale) => sale.fees),
      sum((sale) => sale.packing),
    ];
    const tax = paid - paid / (1 + terms.taxRate);
    const planned = paid * terms.feeRate + count * terms.feeFixed;
    const fetched = sum(({ price }) => plannedFetch(plan, of, price)) - count * plannedFetch(plan, of);
    return [
      { cause: "price", of, planned: terms.price, real: paid / count, amount: fetched },
      { cause: "tax", of, planned: tax, real: paid - net, amount: tax - (paid - net) },
      { cause: "fees", of, planned, real: fees, amount: planned - fees },
      { cause: "packing", of, planned: count * terms.packing, real: packing, amount: count * terms.packing - packing },
    ];
  });
}

const soldAs = ({ tier, isSecond }: RealSale): SoldTier => (isSecond ? "second" : tier);

/** What is expected of pieces not finished yet beyond what they are carried at, and of the stock; it is not made yet. */
export function stillToCome(standards: Standards, flow: Flow, real: RealRun, end: MarginEnd): readonly Variance[] {
  const brings = overTiers((tier: MadeTier) => flow.ahead[tier] * plannedFetch(standards.plan, tier));
  const { stock, inProgress } = real;
  return [
    { cause: "inProgress", amount: inProgress + flow.workAhead - brings },
    ...(end === "once sold" ? [] : [{ cause: "inStock" as const, amount: stock.carried - stock.brings }]),
  ];
}
