// Plans and runs as plain records, for tests of variances: a small plan, and the run that comes out just as planned.
import type { PlannedRun, PlannedWork, RealPiece, RealRun, RealSale, RealWork } from "../../src/accounts/plan-records";
import { leftAfterFees } from "../../src/accounts/price";

/** A step of work with nothing but what is said. */
export function work(id: string, order: number, some: Partial<PlannedWork> = {}): PlannedWork {
  const nothing = { grams: 0, pricePerGram: 0, hours: 0, mouldWear: 0, loss: 0, share: 1, who: "all" } as const;
  return { id, order, ...nothing, ...some };
}

const TERMS = { price: 60, taxRate: 0.2, feeRate: 0.05, feeFixed: 0.4, packing: 3 };

/** 256 starts through casting, a firing, a coat, a refire that a quarter needs, and a band for special pieces. */
export function plainPlan(some: Partial<PlannedRun> = {}): PlannedRun {
  return {
    ...{ wagePerHour: 20, overheadPerHour: 6, loadingOverhead: 6, pricePerKwh: 0.32 },
    starts: { standard: 256, special: 128 },
    sold: { standard: 108, special: 27 },
    sale: { standard: TERMS, special: { ...TERMS, price: 110 }, second: { ...TERMS, price: 25 } },
    ...{ mouldsCharged: 12, fixedCosts: 200 },
    steps: [
      work("cast", 1, { grams: 900, pricePerGram: 0.0012, hours: 0.25, mouldWear: 0.7, loss: 0.25 }),
      work("bisque", 2, { load: { pieces: 16, kwh: 50, wear: 8, hours: 0.75 }, loss: 0.25 }),
      work("glaze", 3, { grams: 60, pricePerGram: 0.015, hours: 0.1 }),
      work("refire", 4, { load: { pieces: 12, kwh: 80, wear: 9, hours: 0.5 }, who: "as needed", share: 0.25 }),
      work("band", 5, { grams: 0.5, pricePerGram: 14, hours: 0.2, who: "special", loss: 0.5 }),
      work("pack", 6, { hours: 0.05, loss: 0.25 }),
    ],
    ...some,
  };
}

interface Came {
  readonly pieces: readonly RealPiece[];
  readonly sales: readonly RealSale[];
}

/** The pieces of a tier as planned: at each step the first of them are lost, the share that needs it is refired. */
function came(plan: PlannedRun, tier: "standard" | "special"): Came {
  let left: string[][] = Array.from({ length: plan.starts[tier] }, () => []);
  const lost: RealPiece[] = [];
  for (const step of plan.steps) {
    if (step.who === "special" && tier !== "special") continue;
    const needing = left.length * step.share;
    if (!Number.isInteger(needing)) throw new Error(`${step.id}: ${needing} pieces of ${tier}`);
    left = left.map((had, at) => (at < needing ? [...had, step.id] : had));
    const fall = needing * step.loss;
    if (!Number.isInteger(fall)) throw new Error(`${step.id}: ${fall} lost of ${tier}`);
    for (const had of left.slice(0, fall)) lost.push({ tier, state: "lost", had, lostAt: step.id });
    left = left.slice(fall);
  }
  const { price, taxRate, packing, ...fees } = plan.sale[tier];
  const net = price / (1 + taxRate);
  const sale = { tier, isSecond: false, price, net, packing, fees: price * fees.feeRate + fees.feeFixed };
  const pieces = left.map((had): RealPiece => ({ tier, state: "finished", had }));
  return { pieces: [...lost, ...pieces], sales: left.map(() => sale) };
}

/** What steps take of pieces at planned prices and times. */
export function workAsPlanned(plan: PlannedRun, pieces: readonly RealPiece[]): readonly RealWork[] {
  return plan.steps.map(({ id, grams, pricePerGram, hours, mouldWear, load }): RealWork => {
    const had = pieces.filter((piece) => piece.had.includes(id)).length;
    const bare = {
      ...{ id, grams: had * grams, material: had * grams * pricePerGram, hours: had * hours },
      ...{ labour: had * hours * plan.wagePerHour, overhead: had * hours * plan.overheadPerHour },
      mouldWear: had * mouldWear,
    };
    if (!load) return bare;
    const loads = had / load.pieces;
    const kwh = loads * load.kwh;
    const loading = loads * load.hours;
    return {
      ...bare,
      load: {
        ...{ loads, kwh, energy: kwh * plan.pricePerKwh, wear: loads * load.wear, hours: loading },
        ...{ labour: loading * plan.wagePerHour, overhead: loading * plan.loadingOverhead },
      },
    };
  });
}

/** The run that comes out just as planned; the plan's losses must come to whole pieces. */
export function asPlanned(plan: PlannedRun): RealRun {
  const [standard, special] = [came(plan, "standard"), came(plan, "special")];
  const pieces = [...standard.pieces, ...special.pieces];
  return {
    ...{ pieces, steps: workAsPlanned(plan, pieces), sales: [...standard.sales, ...special.sales] },
    ...{ back: 0, emptyFirings: 0, idleOverhead: 0, inProgress: 0, stock: { brings: 0, carried: 0 } },
    ...{ mouldsCharged: plan.mouldsCharged, fixedCosts: plan.fixedCosts },
  };
}

const sum = (amounts: readonly number[]) => amounts.reduce((total, one) => total + one, 0);

/** What a run leaves, added up without a thought of any plan. */
export function marginOf(run: RealRun, isSold = true): number {
  const brought = sum(run.sales.map(({ net, fees, packing }) => net - fees - packing));
  const spent = run.steps.map(({ material, labour, overhead, mouldWear, load }) => {
    const firing = load ? load.energy + load.wear + load.labour + load.overhead : 0;
    return material + labour + overhead + mouldWear + firing;
  });
  const period = run.emptyFirings + run.idleOverhead + run.mouldsCharged + run.fixedCosts;
  const notSold = isSold ? 0 : run.stock.brings - run.stock.carried;
  return brought - sum(spent) + run.inProgress + run.back - period - notSold;
}

/** What the plan leaves, step by step by the pieces that are expected to enter it. */
export function marginOfPlan(plan: PlannedRun): number {
  let [spent, all, special] = [0, 1, 1];
  const { standard: s, special: p } = plan.starts;
  for (const step of plan.steps) {
    const enter = step.share * all * (step.who === "special" ? p * special : s + p * special);
    const load = step.load;
    const hour = plan.wagePerHour + plan.overheadPerHour;
    spent +=
      enter *
      (load
        ? (load.kwh * plan.pricePerKwh + load.wear + load.hours * (plan.wagePerHour + plan.loadingOverhead)) /
          load.pieces
        : step.grams * step.pricePerGram + step.mouldWear + step.hours * hour);
    if (step.who === "special") special *= 1 - step.loss;
    else all *= 1 - step.share * step.loss;
  }
  const fetch = (tier: "standard" | "special") =>
    leftAfterFees(plan.sale[tier].price, plan.sale[tier]) - plan.sale[tier].packing;
  return (
    plan.sold.standard * fetch("standard") +
    plan.sold.special * fetch("special") -
    spent -
    plan.mouldsCharged -
    plan.fixedCosts
  );
}
