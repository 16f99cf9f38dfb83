// The planned run and what was seen, step by step: pieces are followed through the route as two streams; see independent.ts.
import { clopperPearson, wilson } from "../../src/ceramics/intervals";
import type { Row, Workbook } from "../../src/core/document/workbook";
import { type Cells, inputsOf, numberIn, type Rows, typedNumber } from "./independent-cells";
import { giveOrTake, loadEnergy, plannedRoom } from "./independent-firings";

export const forWhom = (step: Row) => String(step.cells.who ?? "all");

interface Streams {
  /** Pieces on their way, the special ones among them, and what one of each has cost so far. */
  standard: number;
  special: number;
  standardCost: number;
  specialCost: number;
  keptAll: number;
  keptSpecial: number;
  firings: number;
  clay: number;
}

/** Puts the plan and the counts of every step into `route`; steps come in order. */
export function planRun(
  book: Workbook,
  route: Rows,
  steps: readonly Row[],
  starts: number,
  specialShare: number,
  rates: PlanRates,
): void {
  const streams: Streams = {
    ...{ standard: starts * (1 - specialShare), special: starts * specialShare, standardCost: 0, specialCost: 0 },
    ...{ keptAll: 1, keptSpecial: 1, firings: 0, clay: 0 },
  };
  const hasFirings = steps.some((step) => step.cells.kind === "firing");
  for (const step of steps) {
    const cells = route.get(step.id) ?? {};
    Object.assign(cells, planStep(book, step, cells, streams, hasFirings, rates));
    Object.assign(cells, seenAt(step, cells));
    route.set(step.id, cells);
  }
  steps.forEach((step, at) => {
    const [all, special] = [false, true].map((isSpecial) => rest(steps, route, at, isSpecial));
    const [first, firstSpecial] = [false, true].map((isSpecial) => rest(steps, route, -1, isSpecial, at + 1));
    const [before, beforeSpecial] = [false, true].map((isSpecial) => rest(steps, route, -1, isSpecial, at));
    Object.assign(route.get(step.id) ?? {}, {
      ...{ finish_all: all?.takes, comes_all: all?.left, finish_special: special?.takes, comes_special: special?.left },
      takes_all: forWhom(step) === "special" ? 0 : Number(first?.takes) - Number(before?.takes),
      takes_special: Number(firstSpecial?.takes) - Number(beforeSpecial?.takes),
    });
  });
}

/** A hundred pieces, so to speak, that have had the step at a place are walked on to the end: what one of them takes and leaves. */
function rest(steps: readonly Row[], route: Rows, after: number, isSpecial: boolean, until = steps.length) {
  let [left, takes] = [100, 0];
  for (const step of steps.slice(after + 1, until)) {
    if (forWhom(step) === "special" && !isSpecial) continue;
    const cells = route.get(step.id);
    const having = left * (forWhom(step) === "as needed" ? typedNumber(step, "needed") : 1);
    const lost = having * typedNumber(step, "loss");
    takes += having * numberIn(cells, "plan_each") - lost * numberIn(cells, "comes_back");
    left -= lost;
  }
  return { takes: takes / 100, left: left / 100 };
}

/** What an hour of work, an hour of loading and a cast carry in the plan, besides the wage. */
interface PlanRates {
  readonly overhead: number;
  readonly loading: number;
  readonly wear: number;
}

function planStep(
  book: Workbook,
  step: Row,
  cells: Cells,
  streams: Streams,
  hasFirings: boolean,
  rates: PlanRates,
): Cells {
  const inputs = inputsOf(book);
  const who = forWhom(step);
  const loss = typedNumber(step, "loss");
  const isFiring = step.cells.kind === "firing";
  if (isFiring) streams.firings += 1;
  const kept = { kept_all: streams.keptAll, kept_special: streams.keptSpecial };
  const part = who === "as needed" ? typedNumber(step, "needed") : 1;
  const entries = part * (streams.special + (who === "special" ? 0 : streams.standard));
  const piece = pieceOf(book, step, cells, rates);
  const kiln = book.sheets.kilns.rows.find((row) => row.cells.id === step.cells.kiln);
  const room = isFiring && kiln ? plannedRoom(book, kiln) : "";
  const loads = room === "" ? "" : Math.ceil(entries / room - 1e-12);
  const kwh = isFiring && kiln ? loadEnergy(book, step, kiln, streams.firings === 1) : "";
  const { tariff = 0, wage = 0, loading_minutes: minutes = 0, reclaim = 0, scrap_value: scrap = 0 } = inputs;
  const load = Number(kwh) * tariff + typedNumber(kiln, "wear") + (minutes / 60) * (wage + rates.loading);
  const cost = isFiring ? Number(loads) * load : entries * Number(piece.cost_each);
  const each = entries > 0 ? cost / entries : isFiring ? "" : Number(piece.cost_each);
  if (step.cells.kind === "cast") streams.clay += Number(piece.grams_each) * numberIn(cells, "per_gram");
  const carried = carry(streams, who, Number(each), part);
  const comesBack = streams.firings > 0 ? scrap : hasFirings ? reclaim * streams.clay : 0;
  const lossCosts = carried === "" ? "" : carried - comesBack;
  lose(streams, who, loss * part);
  return {
    ...{ ...kept, ...piece, loss_all: who === "special" ? 0 : loss * part, loss_special: who === "special" ? loss : 0 },
    ...{ fires: isFiring ? 1 : 0, fired: streams.firings, room, load_kwh: kwh, plan_entries: entries },
    ...{ plan_lost: entries * loss, plan_loads: loads, plan_kwh: loads === "" ? "" : loads * Number(kwh) },
    plan_give:
      loads === "" || !kiln ? "" : loads * Number(kwh) * giveOrTake(kiln, typeof step.cells.programme === "string"),
    plan_grams: piece.grams_each === "" ? "" : entries * Number(piece.grams_each),
    plan_fine: piece.fine === "" ? "" : entries * Number(piece.fine),
    plan_hours: isFiring ? (Number(loads) * minutes) / 60 : entries * Number(piece.hours_each),
    ...{ plan_cost: cost, plan_each: each, carried, loss_costs: lossCosts, comes_back: comesBack },
    ...{ each_all: who === "special" ? 0 : Number(each) * part, each_special: who === "special" ? Number(each) : 0 },
    material_all: who === "special" ? 0 : Number(piece.material_each) * part,
    hours_all: who === "special" ? 0 : Number(piece.hours_each) * part,
    clay_each: step.cells.kind === "cast" ? Number(piece.grams_each) * numberIn(cells, "per_gram") : 0,
    plan_loss_cost: lossCosts === "" ? 0 : entries * loss * lossCosts,
  };
}

/** What a piece has cost after a step, on average over those that had it. */
function carry(streams: Streams, who: string, each: number, part: number): number | "" {
  if (part === 0) return "";
  // Of the pieces that come to a step as needed only some have it: on average they carry that part of it from then on.
  streams.specialCost += each * part;
  if (who === "special") return streams.specialCost;
  streams.standardCost += each * part;
  const rest = each * (1 - part);
  const all = streams.standard + streams.special;
  if (all === 0) return streams.standardCost + rest;
  return (streams.standard * streams.standardCost + streams.special * streams.specialCost) / all + rest;
}

function lose(streams: Streams, who: string, loss: number): void {
  streams.special *= 1 - loss;
  if (who === "special") streams.keptSpecial *= 1 - loss;
  else {
    streams.standard *= 1 - loss;
    streams.keptAll *= 1 - loss;
  }
}

/** Grams, hours and cost of one planned piece at a step that is no firing. */
function pieceOf(book: Workbook, step: Row, cells: Cells, { overhead, wear: wearEach }: PlanRates): Cells {
  const { wage = 0 } = inputsOf(book);
  const kind = String(step.cells.kind);
  if (kind === "firing") return { grams_each: "", hours_each: "", material_each: "", cost_each: "", fine: "" };
  const onPiece = typedNumber(step, "area") * typedNumber(step, "coats") * typedNumber(step, "laydown");
  const grams = {
    cast: typedNumber(step, "grams"),
    coat: onPiece / typedNumber(step, "transfer", 1),
    metal: onPiece / (1 - typedNumber(step, "waste")),
  }[kind];
  const hours =
    (typedNumber(step, "minutes") / 60) * (kind === "coat" || kind === "metal" ? typedNumber(step, "coats") : 1);
  const wear = kind === "cast" ? wearEach : 0;
  const material = (grams ?? 0) * numberIn(cells, "per_gram") + wear;
  return {
    ...{ grams_each: grams ?? "", hours_each: hours, material_each: material },
    cost_each: material + hours * (wage + overhead),
    fine: kind === "metal" ? ((grams ?? 0) * numberIn(cells, "fraction") * (numberIn(cells, "carat") || 24)) / 24 : "",
  };
}

/** Counts of this edition and of earlier ones, and the intervals they leave. */
function seenAt(step: Row, cells: Cells): Cells {
  const entered = typedNumber(step, "seen_entered") + numberIn(cells, "entered");
  const lost = typedNumber(step, "seen_lost") + numberIn(cells, "lost");
  const isAll = forWhom(step) === "all";
  const rate = entered === 0 ? "" : lost / entered;
  const [near, exact] = [wilson(lost, entered, 0.95), clopperPearson(lost, entered, 0.95)];
  return {
    ...{
      known_entered: entered,
      known_lost: lost,
      known_rate: rate,
    },
    ...{ known_low: near.ok ? near.value.low : "", known_high: near.ok ? near.value.high : "" },
    ...{ exact_low: exact.ok ? exact.value.low : "", exact_high: exact.ok ? exact.value.high : "" },
    seen_special: forWhom(step) === "special" ? entered : "",
    seen_special_kept: forWhom(step) === "special" && rate !== "" ? 1 - rate : "",
    seen_pieces: isAll ? entered : "",
    seen_kept: isAll && rate !== "" ? 1 - rate : "",
  };
}
