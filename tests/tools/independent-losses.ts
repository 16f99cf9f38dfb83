// Rule 4, plainly: which losses are abnormal is judged over the edition, and each step's normal loss is borne by the pieces
// that have passed it; see independent.ts. Written from the rule's text, piece by piece and step by step.
import type { Workbook } from "../../src/core/document/workbook";
import { type Cells, inputsOf, numberIn, type Rows, typedNumber } from "./independent-cells";
import { bothWaysOf, taxOfTier } from "./independent-prices";

/** Puts planned, abnormal and normal losses of each step into `route`; gives the lines of Results on them. */
export function judgeLosses(book: Workbook, route: Rows) {
  const steps = book.sheets.route.rows.map((row) => ({
    cells: route.get(row.id) ?? {},
    rate: typedNumber(row, "loss"),
  }));
  const lost = steps.reduce((sum, { cells }) => sum + numberIn(cells, "lost"), 0);
  const planned = steps.reduce((sum, { cells, rate }) => sum + numberIn(cells, "entered") * rate, 0);
  const chance = chanceOfLosing(
    lost,
    steps.flatMap(({ cells, rate }) => new Array<number>(numberIn(cells, "entered")).fill(rate)),
  );
  const runs = inputsOf(book).loss_runs ?? Number.NaN;
  const isUsual = runs > 0 && chance >= 1 / runs;
  const abnormal = isUsual ? 0 : Math.max(0, lost - planned);
  let above = 0;
  for (const { cells, rate } of steps)
    above += Math.max(0, numberIn(cells, "lost") - rate * numberIn(cells, "entered"));
  for (const { cells, rate } of steps) {
    const here = numberIn(cells, "lost");
    const beyond = Math.max(0, here - rate * numberIn(cells, "entered"));
    const pieces = above === 0 ? 0 : (abnormal * beyond) / above;
    const net = numberIn(cells, "lost_cost") - numberIn(cells, "reclaimed") - numberIn(cells, "scrapped");
    cells.lost_planned = rate * numberIn(cells, "entered");
    cells.lost_beyond = beyond;
    cells.abnormal = here === 0 ? 0 : (pieces / here) * net;
    cells.normal = net - cells.abnormal;
  }
  return {
    planned_lost: planned,
    loss_chance: chance,
    abnormal_pieces: abnormal,
    abnormal_part: above === 0 ? 0 : abnormal / above,
    abnormal: steps.reduce((sum, { cells }) => sum + numberIn(cells, "abnormal"), 0),
    normal: steps.reduce((sum, { cells }) => sum + numberIn(cells, "normal"), 0),
  };
}

/** P(at least `lost` of the pieces are lost), one piece at one step after the other. */
function chanceOfLosing(lost: number, rates: readonly number[]): number {
  const counts = new Array<number>(lost + 1).fill(0);
  counts[0] = 1;
  for (const rate of rates)
    for (let k = lost; k >= 0; k -= 1)
      counts[k] = (counts[k] ?? 0) * (k === lost ? 1 : 1 - rate) + (k > 0 ? (counts[k - 1] ?? 0) * rate : 0);
  return counts[lost] ?? 0;
}

/** Steps done as needed, judged as losses are; and what of the pieces that came to each step or beyond was kept there. */
export function judgeRework(book: Workbook, pieces: Rows, route: Rows): Cells {
  const steps = book.sheets.route.rows;
  const orderOf = (id: unknown) => Number(steps.find((step) => step.id === id)?.cells.order);
  const places = book.sheets.pieces.rows.flatMap((row) => {
    const reached = pieces.get(row.id)?.reached;
    if (row.cells.lost_at !== undefined) return [orderOf(row.cells.lost_at)];
    return typeof reached === "number" ? [reached] : [];
  });
  let [done, planned, cost] = [0, 0, 0];
  const rates: number[] = [];
  for (const step of steps) {
    const cells = route.get(step.id) ?? {};
    const come = places.filter((place) => place >= Number(step.cells.order)).length;
    const isAgain = step.cells.who === "as needed";
    Object.assign(cells, {
      ...{ come, come_needed: isAgain ? come : 0, needed_planned: isAgain ? come * typedNumber(step, "needed") : 0 },
      kept_seen: come === 0 ? "" : (come - numberIn(cells, "lost")) / come,
    });
    // A step as needed is held against the pieces that got so far, any other against those that entered it.
    const [of, not] = isAgain ? [come, numberIn(cells, "done")] : [numberIn(cells, "entered"), numberIn(cells, "lost")];
    cells.through = of === 0 || (isAgain && not === 0) ? "" : (of - not) / of;
    cells.through_all = step.cells.who === "special" ? "" : cells.through;
    cells.through_special = step.cells.who === "special" ? cells.through : "";
    if (!isAgain) continue;
    done += numberIn(cells, "done");
    cost += numberIn(cells, "cost");
    planned += typedNumber(step, "needed") * come;
    for (let piece = 0; piece < come; piece += 1) rates.push(typedNumber(step, "needed"));
  }
  const chance = chanceOfLosing(done, rates);
  const runs = inputsOf(book).loss_runs ?? Number.NaN;
  const beyond = runs > 0 && chance >= 1 / runs ? 0 : Math.max(0, done - planned);
  return {
    ...{ reworked: done, rework_planned: planned, rework_chance: chance, rework_beyond: beyond, rework_cost: cost },
    rework_beyond_cost: done === 0 ? 0 : (cost / done) * beyond,
  };
}

interface Bearer {
  readonly cells: Cells;
  readonly isSpecial: boolean;
  readonly isSecond: boolean;
  /** What it fetches where a price was agreed for it alone. */
  readonly fetches: number | undefined;
  common: number;
  special: number;
}

/** Gives every piece its share of the normal losses; the lines of Results that say so. */
export function shareLosses(book: Workbook, pieces: Rows, route: Rows) {
  const { price_second: price = 0, fee_rate: fee = 0, fee_fixed: fixed = 0, packing = 0 } = inputsOf(book);
  const tax = taxOfTier(book, "second");
  const fetched = (typed: number) => {
    const { net, gross } = bothWaysOf(book, typed, tax);
    return net - gross * fee - fixed - packing;
  };
  const worth = fetched(price);
  const bearers = book.sheets.pieces.rows.flatMap((row): Bearer[] => {
    const cells = pieces.get(row.id) ?? {};
    if (cells.outcome === "lost" || cells.outcome === "not started") return [];
    const isSpecial = row.cells.tier === "special";
    const agreed = row.cells.own_price;
    const fetches = typeof agreed === "number" ? fetched(agreed) : undefined;
    return [{ cells, isSpecial, isSecond: cells.outcome === "second", fetches, common: 0, special: 0 }];
  });
  const steps = [...book.sheets.route.rows].sort((a, b) => Number(a.cells.order) - Number(b.cells.order));
  const sums = { common: 0, special: 0, alone: 0 };
  for (const step of steps) {
    const cells = route.get(step.id) ?? {};
    const part = step.cells.who === "special" ? "special" : "common";
    const order = Number(step.cells.order);
    const passed = bearers.filter(
      (one) => numberIn(one.cells, "reached") >= order && (part === "common" || one.isSpecial),
    );
    const each = passed.length === 0 ? 0 : numberIn(cells, "normal") / passed.length;
    for (const one of passed) one[part] += each;
    if (passed.length === 0) sums.alone += numberIn(cells, "normal");
    sums[part] += each;
    const here = bearers.filter((one) => one.cells.reached === order);
    const others = passed.filter((one) => !one.isSecond).length;
    Object.assign(cells, {
      ...{ bear: passed.length, share_each: each, normal_alone: passed.length === 0 ? numberIn(cells, "normal") : 0 },
      ...{ stand_all: here.length, stand_special: here.filter((one) => one.isSpecial).length },
      ...{ share_all: part === "common" ? each : 0, share_special: part === "special" ? each : 0 },
      ...{ rest_all: part === "common" ? each * others : 0, rest_special: part === "special" ? each * others : 0 },
    });
  }
  const lacking = { common: 0, special: 0 };
  for (const one of bearers.filter(({ isSecond }) => isSecond)) {
    const due = one.common + one.special;
    const share = Math.min(due, Math.max(0, (one.fetches ?? worth) - numberIn(one.cells, "own")));
    one.cells.second_share = share;
    one.cells.second_short = due - share;
    if (due === share) continue;
    lacking.common += ((due - share) * one.common) / due;
    lacking.special += ((due - share) * one.special) / due;
  }
  const others = bearers.filter(({ isSecond }) => !isSecond);
  const factor = (part: "common" | "special") => {
    const held = others.reduce((sum, one) => sum + one[part], 0);
    return held === 0 ? undefined : 1 + lacking[part] / held;
  };
  const [common, special] = [factor("common"), factor("special")];
  for (const one of others) one.cells.loss_share = one.common * (common ?? 1) + one.special * (special ?? 1);
  for (const one of bearers) if (one.isSecond) one.cells.loss_share = one.cells.second_share ?? 0;
  const good = bearers.filter(({ cells }) => cells.outcome === "good");
  putFalls(steps, route, common ?? 1, special ?? 1);
  return {
    share_each: sums.common,
    share_special: sums.special,
    second_worth: worth,
    unborne: lacking.common,
    unborne_special: lacking.special,
    share_good:
      good.length === 0 ? "" : good.reduce((sum, one) => sum + numberIn(one.cells, "loss_share"), 0) / good.length,
    unshared: sums.alone + (common === undefined ? lacking.common : 0) + (special === undefined ? lacking.special : 0),
  };
}

/** What a piece bears that has come as far as each step. */
function putFalls(steps: Workbook["sheets"]["route"]["rows"], route: Rows, common: number, special: number): void {
  let [all, own] = [0, 0];
  for (const step of steps) {
    const cells = route.get(step.id) ?? {};
    all += numberIn(cells, "share_all") * common;
    own += numberIn(cells, "share_special") * special;
    Object.assign(cells, { falls_all: all, falls_special: all + own });
  }
}
