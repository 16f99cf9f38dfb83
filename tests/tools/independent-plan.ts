// Rule 7, plainly: the yield of the route, the fewest starts that deliver often enough, and what wanted ÷ yield really gives.
import type { Row, Workbook } from "../../src/core/workbook";
import { type Cells, inputsOf, numberIn, type Rows, typedNumber } from "./independent-cells";
import { mouldsOf, type RunRates } from "./independent-rates";
import { forWhom, planRun } from "./independent-run";

/** P(at least `wanted` of `starts` come out good), piece by piece. */
function chanceOf(wanted: number, starts: number, share: number): number {
  // counts[k] is the chance of k good pieces so far; the last entry gathers "wanted or more".
  const counts = new Array<number>(wanted + 1).fill(0);
  counts[0] = 1;
  for (let piece = 0; piece < starts; piece += 1)
    for (let k = wanted; k >= 0; k -= 1) {
      const stays = k === wanted ? (counts[k] ?? 0) : (counts[k] ?? 0) * (1 - share);
      counts[k] = stays + (k > 0 ? (counts[k - 1] ?? 0) * share : 0);
    }
  return counts[wanted] ?? 0;
}

/** Starts when the yield is believed in no further than counts go: beta-binomial with half a piece added to each side. */
function unsureStarts(wanted: number, good: number, seen: number, confidence: number): number {
  const [a, b] = [good + 0.5, seen - good + 0.5];
  for (let starts = wanted; ; starts += 1) {
    // Pólya's urn: chances[k] is that of k good pieces among those drawn so far.
    let chances = [1];
    for (let drawn = 0; drawn < starts; drawn += 1) {
      const next = new Array<number>(drawn + 2).fill(0);
      chances.forEach((chance, k) => {
        const isGood = (a + k) / (a + b + drawn);
        next[k + 1] = (next[k + 1] ?? 0) + chance * isGood;
        next[k] = (next[k] ?? 0) + chance * (1 - isGood);
      });
      chances = next;
    }
    if (chances.slice(wanted).reduce((sum, chance) => sum + chance, 0) >= confidence) return starts;
  }
}

/** The computed lines of the Edition sheet; the plan's columns are put into `route`, which holds what came of each step. */
export function recomputePlan(book: Workbook, route: Rows, rates: RunRates): Rows {
  const { wanted = 1, confidence = 0.9, special_wanted: special = 0 } = inputsOf(book);
  const steps = [...book.sheets.route.rows].sort((a, b) => Number(a.cells.order) - Number(b.cells.order));
  const keptBy = (who: (step: Row) => boolean) =>
    steps.filter(who).reduce((left, step) => left * (1 - typedNumber(step, "loss")), 1);
  const all = keptBy((step) => forWhom(step) === "all");
  const own = keptBy((step) => forWhom(step) === "special");
  const share = special > 0 ? all * own : all;
  let starts = wanted;
  while (chanceOf(wanted, starts, share) < confidence) starts += 1;
  const naive = Math.ceil(wanted / share - 1e-12);
  // Of the starts as many are special that, after their own losses, the delivered ones hold the wanted share.
  const part = wanted === 0 ? 0 : Math.min(1, special / wanted);
  const specialShare = part === 0 ? 0 : part / own / (part / own + 1 - part);
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
    ...{ chain_yield: share, starts, naive, naive_chance: chanceOf(wanted, naive, share), special_share: specialShare },
    ...seenLines(steps, route, wanted, confidence),
    plan_good: good,
    plan_cost: sum("plan_cost"),
    plan_per_good: good === 0 ? "" : sum("plan_cost") / good,
    plan_per_delivered: wanted === 0 ? "" : sum("plan_cost") / wanted,
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
    plan_buy: book.sheets.materials.rows.reduce((total, row) => {
      const used = steps.filter((step) => step.cells.material === row.cells.id);
      const grams = used.reduce((all, step) => all + numberIn(route.get(step.id), "plan_grams"), 0);
      return total + Math.ceil(grams / typedNumber(row, "pack_grams") - 1e-12) * typedNumber(row, "pack_price");
    }, 0),
  };
  return new Map(Object.entries(lines).map(([id, value]) => [id, { value }]));
}

/** What the pieces to deliver bring in, tier by tier, and what the plan then leaves. */
function planMoney(book: Workbook, cost: number, good: number): Cells {
  const of = inputsOf(book);
  const wanted = of.wanted ?? 0;
  const specials = Math.min(of.special_wanted ?? 0, wanted);
  // A run that is expected to give too few delivers so many fewer of each tier.
  const part = wanted === 0 ? 0 : good < wanted ? good / wanted : 1;
  const tiers = [
    { count: (wanted - specials) * part, price: of.price_standard ?? 0 },
    { count: specials * part, price: of.price_special ?? 0 },
  ];
  let [brings, net] = [0, 0];
  for (const { count, price } of tiers) {
    const each = price / (1 + (of.tax_rate ?? 0));
    net += count * each;
    brings += count * (each - price * (of.fee_rate ?? 0) - (of.fee_fixed ?? 0) - (of.packing ?? 0));
  }
  const pays = brings - cost - (of.fixed_costs ?? 0);
  return { plan_brings: brings, plan_pays: pays, plan_margin: net === 0 ? "" : pays / net };
}

function seenLines(steps: readonly Row[], route: Rows, wanted: number, confidence: number): Cells {
  const forAll = steps.filter((step) => forWhom(step) === "all").map((step) => route.get(step.id));
  const seen = Math.min(...forAll.map((cells) => numberIn(cells, "known_entered")));
  const kept = forAll.reduce((left, cells) => left * (1 - numberIn(cells, "known_rate")), 1);
  const good = Math.round(seen * kept);
  return {
    seen_pieces: seen,
    seen_good: seen === 0 ? "" : good,
    starts_unsure: seen === 0 ? "" : unsureStarts(wanted, good, seen, confidence),
  };
}
