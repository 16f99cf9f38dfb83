// Rule 7, plainly: the yield of the route, the fewest starts that deliver often enough, and what wanted ÷ yield really gives.
import type { Row, Workbook } from "../../src/core/document/workbook";
import { type Cells, inputsOf, numberIn, type Rows, typedNumber } from "./independent-cells";
import { askedFor, bothWaysOf, taxOfTier } from "./independent-prices";
import { mouldsOf, type RunRates } from "./independent-rates";
import { forWhom, planRun } from "./independent-run";
import { bestChance, fewest, fewestUnsure, likeliest, type Seen, type Tiers } from "./independent-starts";

/** The computed lines of the Edition sheet; the plan's columns are put into `route`, which holds what came of each step. */
export function recomputePlan(book: Workbook, route: Rows, rates: RunRates): Rows {
  const { wanted = 1, confidence = 0.9, special_wanted: special = 0 } = inputsOf(book);
  const steps = [...book.sheets.route.rows].sort((a, b) => Number(a.cells.order) - Number(b.cells.order));
  const keptBy = (who: (step: Row) => boolean) =>
    steps.filter(who).reduce((left, step) => left * (1 - typedNumber(step, "loss") * neededFor(step)), 1);
  const all = keptBy((step) => forWhom(step) !== "special");
  const own = keptBy((step) => forWhom(step) === "special");
  const specials = Math.min(special, wanted);
  const tiers = { standard: wanted - specials, special: specials, all, own };
  const share = wanted === 0 ? all : wanted / ((wanted - specials) / all + specials / (all * own));
  const starts = fewest(tiers, confidence);
  const specialStarts = likeliest(tiers, starts);
  const naive = Math.ceil(wanted / share - 1e-9);
  const specialShare = starts === 0 ? 0 : specialStarts / starts;
  const plan = { overhead: rates.planned, loading: rates.loadingCarries ? rates.planned : 0 };
  planRun(book, route, steps, starts, specialShare, { ...plan, wear: 0 });
  // Who is cast does not depend on what a cast costs: once they are counted, the moulds are.
  const casts = steps.filter((step) => step.cells.kind === "cast");
  const planned = mouldsOf(
    book,
    casts.reduce((total, step) => total + numberIn(route.get(step.id), "plan_entries"), 0),
  );
  planRun(book, route, steps, starts, specialShare, { ...plan, wear: planned.perCast });
  const sum = (key: string) => steps.reduce((total, step) => total + numberIn(route.get(step.id), key), 0);
  const good = starts * all * (specialShare * own + 1 - specialShare);
  const lines: Cells = {
    ...{ chain_yield: share, starts, special_starts: specialStarts, starts_chance: bestChance(tiers, starts) },
    ...{ naive, naive_chance: bestChance(tiers, naive), special_share: specialShare },
    ...seenLines(steps, route, tiers, confidence),
    plan_good: good,
    plan_cost: sum("plan_cost"),
    plan_per_good: good === 0 ? "" : sum("plan_cost") / good,
    plan_per_delivered: wanted === 0 ? "" : sum("plan_cost") / wanted,
    ...tierLines(book, steps, route, rates.planned, {
      standard: starts * (1 - specialShare) * all,
      special: starts * specialShare * all * own,
    }),
    ...planMoney(book, sum("plan_cost") + planned.charged, good),
    plan_loss: sum("plan_loss_cost"),
    plan_hours: sum("plan_hours"),
    plan_overhead_hours: steps
      .filter((step) => step.cells.kind !== "firing" || rates.loadingCarries)
      .reduce((total, step) => total + numberIn(route.get(step.id), "plan_hours"), 0),
    plan_mould_charged: planned.charged,
    overhead_normal: rates.planned,
    overhead_hour: rates.perHour,
    mould_wear: rates.wearPerCast,
    plan_kwh: sum("plan_kwh"),
    plan_kwh_give: sum("plan_give"),
    plan_buy: book.sheets.materials.rows.reduce((total, row) => {
      const used = steps.filter((step) => step.cells.material === row.cells.id);
      const grams = used.reduce((all, step) => all + numberIn(route.get(step.id), "plan_grams"), 0);
      return total + Math.ceil(grams / typedNumber(row, "pack_grams") - 1e-12) * typedNumber(row, "pack_price");
    }, 0),
  };
  for (const tier of ["standard", "special", "second"]) {
    const tax = taxOfTier(book, tier);
    const { net, gross } = bothWaysOf(book, inputsOf(book)[`price_${tier}`] ?? 0, tax);
    Object.assign(lines, { [`tax_${tier}`]: tax, [`gross_${tier}`]: gross, [`net_${tier}`]: net });
  }
  return new Map(Object.entries(lines).map(([id, value]) => [id, { value }]));
}

/** One good piece of each tier, followed from step to step; losses of a step fall on the good ones that had it. */
function tierLines(
  book: Workbook,
  steps: readonly Row[],
  route: Rows,
  overhead: number,
  good: Readonly<Record<"standard" | "special", number>>,
): Cells {
  const { wage = 0 } = inputsOf(book);
  const lines: Cells = {};
  for (const tier of ["standard", "special"] as const) {
    const isPlanned = tier === "standard" || good.special > 0;
    const cost = { material: 0, labour: 0, overhead: 0, firing: 0, losses: 0 };
    for (const step of steps) {
      const cells = route.get(step.id);
      if (forWhom(step) === "special" && tier === "standard") continue;
      const bearers = forWhom(step) === "special" ? good.special : good.standard + good.special;
      if (bearers > 0) cost.losses += numberIn(cells, "plan_loss_cost") / bearers;
      const times = neededFor(step);
      if (step.cells.kind === "firing") cost.firing += times * numberIn(cells, "plan_each");
      cost.material += times * numberIn(cells, "material_each");
      cost.labour += times * numberIn(cells, "hours_each") * wage;
      cost.overhead += times * numberIn(cells, "hours_each") * overhead;
    }
    const total = cost.material + cost.labour + cost.overhead + cost.firing + cost.losses;
    lines[`plan_${tier}`] = isPlanned ? total : "";
    for (const [part, amount] of Object.entries(cost)) lines[`plan_${tier}_${part}`] = isPlanned ? amount : "";
    const asked = askedFor(book, tier, total);
    lines[`plan_${tier}_price`] = isPlanned ? asked.price : "";
    lines[`plan_${tier}_margin`] = isPlanned ? asked.margin : "";
  }
  return lines;
}

/** What the pieces to deliver bring in, tier by tier, and what the plan then leaves. */
function planMoney(book: Workbook, cost: number, good: number): Cells {
  const of = inputsOf(book);
  const wanted = of.wanted ?? 0;
  const specials = Math.min(of.special_wanted ?? 0, wanted);
  // A run that is expected to give too few delivers so many fewer of each tier.
  const part = wanted === 0 ? 0 : good < wanted ? good / wanted : 1;
  const tiers = [
    { tier: "standard", count: (wanted - specials) * part },
    { tier: "special", count: specials * part },
  ];
  let [brings, net] = [0, 0];
  for (const { tier, count } of tiers) {
    const { net: each, gross } = bothWaysOf(book, of[`price_${tier}`] ?? 0, taxOfTier(book, tier));
    net += count * each;
    brings += count * (each - gross * (of.fee_rate ?? 0) - (of.fee_fixed ?? 0) - (of.packing ?? 0));
  }
  const pays = brings - cost - (of.fixed_costs ?? 0);
  return { plan_brings: brings, plan_pays: pays, plan_margin: net === 0 ? "" : pays / net };
}

/** The share of the pieces coming to a step that has it. */
const neededFor = (step: Row) => (forWhom(step) === "as needed" ? typedNumber(step, "needed") : 1);

function seenLines(steps: readonly Row[], route: Rows, tiers: Tiers, confidence: number): Cells {
  const all = seenAt(steps, route, "all");
  const own = seenAt(steps, route, "special");
  const hasOwn = steps.some((step) => forWhom(step) === "special");
  const isKnown = all.of > 0 && (tiers.special === 0 || !hasOwn || own.of > 0);
  return {
    seen_pieces: all.of,
    seen_good: all.of === 0 ? "" : all.good,
    seen_special: own.of,
    seen_special_good: own.of === 0 ? "" : own.good,
    starts_unsure: isKnown ? fewestUnsure(tiers, confidence, all, hasOwn ? own : undefined) : "",
  };
}

/** As many pieces as the step that has seen the fewest, with the losses seen at every step. */
function seenAt(steps: readonly Row[], route: Rows, who: string): Seen {
  const those = steps.filter((step) => forWhom(step) === who).map((step) => route.get(step.id));
  if (those.length === 0) return { good: 0, of: 0 };
  const of = Math.min(...those.map((cells) => numberIn(cells, "known_entered")));
  const kept = those.reduce((left, cells) => left * (1 - numberIn(cells, "known_rate")), 1);
  return { good: Math.round(of * kept), of };
}
