// The kept plan and the open edition as the plain records that variances are calculated from.
import type { EditionCosts, PieceCost } from "../../accounts/edition-costs";
import { partInFiring } from "../../accounts/piece-cost";
import type { PlainEdition, PlainPiece } from "../../accounts/plain-edition";
import type {
  PlannedRun,
  PlannedWork,
  RealLoad,
  RealPiece,
  RealRun,
  RealSale,
  RealWork,
} from "../../accounts/plan-records";
import { saleAmounts } from "../../accounts/sales";
import type { Workbook } from "../../core/document/workbook";
import type { KeptPlan, PlannedStep } from "../../core/record/kept-plan";
import { STEP_KIND_RULES } from "../../core/sheets/step-kinds";
import { asNumber, type ReadCell } from "./cell-reader";
import { channelTerms, offeredGross, pricePaid, soldAs } from "./price-terms";
import type { Settled } from "./settle";

/** A kept plan in the words of standard costing. */
export function plannedRun(plan: KeptPlan): PlannedRun {
  const line = (id: string) => plan.lines[id] ?? 0;
  const [wanted, starts] = [line("wanted"), line("starts")];
  const special = Math.min(line("special_wanted"), wanted);
  const delivered = wanted === 0 ? 0 : Math.min(1, line("plan_good") / wanted);
  const specialStarts = starts * line("special_share");
  const sale = (tier: string) => ({
    ...{ price: plan.lines[`gross_${tier}`] ?? line(`price_${tier}`), packing: line("packing") },
    ...{
      taxRate: plan.lines[`tax_${tier}`] ?? line("tax_rate"),
      feeRate: line("fee_rate"),
      feeFixed: line("fee_fixed"),
    },
  });
  return {
    ...{ wagePerHour: line("wage"), overheadPerHour: line("overhead_normal"), pricePerKwh: line("tariff") },
    loadingOverhead: plan.loadingCarries ? line("overhead_normal") : 0,
    starts: { standard: starts - specialStarts, special: specialStarts },
    sold: { standard: delivered * (wanted - special), special: delivered * special },
    sale: { standard: sale("standard"), special: sale("special"), second: sale("second") },
    ...{ mouldsCharged: line("plan_mould_charged"), fixedCosts: line("fixed_costs"), leaves: line("plan_pays") },
    steps: plan.steps.map((step, at) => plannedWork(step, at, line("loading_minutes") / 60)),
  };
}

function plannedWork(step: PlannedStep, at: number, loadingHours: number): PlannedWork {
  const number = (column: string) => step.numbers[column] ?? 0;
  const rules = STEP_KIND_RULES[step.kind];
  const isFiring = rules.entered === "firing";
  const material = number("grams_each") * number("per_gram");
  const who = step.who === "special" || step.who === "as needed" ? step.who : "all";
  const bare: Pick<PlannedWork, "id" | "order" | "loss" | "who" | "share"> = {
    ...{ who, id: step.step, order: step.numbers.order ?? at, loss: number("loss") },
    share: step.who === "as needed" ? number("needed") : 1,
  };
  if (isFiring) return { ...bare, ...NO_WORK, load: loadOf(step, loadingHours) };
  return {
    ...{ ...bare, grams: number("grams_each"), pricePerGram: number("per_gram"), hours: number("hours_each") },
    mouldWear: rules.usesMould ? number("material_each") - material : 0,
  };
}

const NO_WORK = { grams: 0, pricePerGram: 0, hours: 0, mouldWear: 0 };

/** A load as it was planned; where no kiln was named the plan had it cost nothing, and so does this. */
function loadOf({ numbers }: PlannedStep, hours: number): NonNullable<PlannedWork["load"]> {
  const { plan_entries: entries = 0, plan_loads: loads = 0, room = 0, load_kwh: kwh, kiln_wear: wear = 0 } = numbers;
  const pieces = entries > 0 && loads > 0 ? entries / loads : room;
  return kwh === undefined || pieces <= 0 ? { pieces: 1, kwh: 0, wear: 0, hours: 0 } : { pieces, kwh, wear, hours };
}

/** What the open edition came to so far. */
export function realRun(book: Workbook, read: ReadCell, { edition, costs }: Settled): RealRun {
  const result = (id: string) => asNumber(read("results", id, "value")) ?? 0;
  const { totals } = costs;
  return {
    steps: realWork(edition, costs),
    pieces: costs.pieces.map((piece, at) => realPiece(piece, edition.pieces[at])),
    sales: salesOf(book, read, costs),
    back: totals.reclaimed + totals.scrap,
    ...{ emptyFirings: totals.emptyFirings, idleOverhead: totals.idleOverhead, mouldsCharged: totals.mouldsCharged },
    fixedCosts: asNumber(read("edition", "fixed_costs", "value")) ?? 0,
    inProgress: totals.full["in progress"] - result("progress_down"),
    stock: { brings: result("stock_brings"), carried: result("stock_carried") },
  };
}

const STATES = {
  "not started": "not started",
  "in progress": "in progress",
  good: "finished",
  second: "finished",
  lost: "lost",
} as const;

function realPiece({ outcome, tier, steps }: PieceCost, plain: PlainPiece | undefined): RealPiece {
  const lostAt = plain?.lostAt;
  return {
    tier: tier === "special" ? "special" : "standard",
    ...{ state: STATES[outcome], had: Object.keys(steps) },
    ...(lostAt === undefined ? {} : { lostAt }),
  };
}

type Draft<T> = { -readonly [K in keyof T]: T[K] };

/** What each step took over all pieces, and of the firings what its pieces bear. */
function realWork(edition: PlainEdition, costs: EditionCosts): readonly RealWork[] {
  const firings = new Map(
    edition.firings.map((firing, at) => [firing.id, { firing, cost: costs.firings[at] }] as const),
  );
  return edition.steps.map(({ id, kind }): RealWork => {
    const isFiring = STEP_KIND_RULES[kind].entered === "firing";
    const work = { id, grams: 0, material: 0, hours: 0, labour: 0, overhead: 0, mouldWear: 0 };
    const load: Draft<RealLoad> = { loads: 0, kwh: 0, energy: 0, wear: 0, hours: 0, labour: 0, overhead: 0 };
    for (const [at, piece] of costs.pieces.entries()) {
      const [had, plain] = [piece.steps[id], edition.pieces[at]];
      if (!had || !plain) continue;
      work.grams += had.gramsUsed;
      work.material += had.material;
      work.hours += had.minutes / 60;
      work.labour += had.labour;
      work.overhead += had.overhead;
      work.mouldWear += had.mouldWear;
      const { firing, cost } = firings.get(plain.entries[id]?.firing ?? "") ?? {};
      if (!firing || !cost) continue;
      const part = partInFiring(firing, cost, plain);
      load.loads += part * cost.part;
      for (const of of ["kwh", "energy", "wear", "hours", "labour", "overhead"] as const) load[of] += part * cost[of];
    }
    return isFiring ? { ...work, load } : work;
  });
}

/** Finished pieces that were sold, or are in stock at what they are offered at. */
function salesOf(book: Workbook, read: ReadCell, costs: EditionCosts): readonly RealSale[] {
  const channels = new Map(book.sheets.channels.rows.map((row) => [row.cells.id, row]));
  return book.sheets.pieces.rows.flatMap((row, at): RealSale[] => {
    const outcome = costs.pieces[at]?.outcome;
    const { became, channel, tier } = row.cells;
    if (outcome !== "good" && outcome !== "second") return [];
    if (became !== undefined && became !== "sold" && became !== "consigned") return [];
    const terms = channelTerms(channels.get(channel), soldAs(row), read);
    const price = became === "sold" ? pricePaid(row, read, terms) : offeredGross(row, read, terms);
    const { net, fees, packing } = saleAmounts(price ?? 0, terms);
    const isSecond = outcome === "second";
    const made = tier === "special" ? ("special" as const) : ("standard" as const);
    // Without any price a piece is offered nowhere, and costs nothing to sell.
    const amounts = price === undefined ? { price: 0, net: 0, fees: 0, packing: 0 } : { price, net, fees, packing };
    return [{ tier: made, isSecond, ...amounts }];
  });
}
