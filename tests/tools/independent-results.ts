// The Results sheet and the pieces' shares of the losses, with plain loops; see independent.ts.
import type { Row, Workbook } from "../../src/core/document/workbook";
import { type Cells, inputsOf, numberIn, type Rows } from "./independent-cells";
import { judgeLosses, judgeRework, shareLosses } from "./independent-losses";
import { recomputePrices } from "./independent-prices";
import type { RunRates } from "./independent-rates";
import { recomputeSales, sellPiece, valuePiece } from "./independent-sales";

interface Parts {
  readonly pieces: Rows;
  readonly route: Rows;
  readonly firings: Rows;
  readonly materials: Rows;
  readonly rates: RunRates;
}

const total = (rows: Iterable<Cells>, key: string) => [...rows].reduce((sum, cells) => sum + numberIn(cells, key), 0);

/** Every line of Results; on the way the pieces get their share of losses, full cost, price and what they leave. */
export function recomputeResults(book: Workbook, parts: Parts): Rows {
  const inputs = inputsOf(book);
  const counts = countOutcomes(parts.pieces);
  const losses = {
    ...judgeLosses(book, parts.route),
    ...shareLosses(book, parts.pieces, parts.route),
    ...judgeRework(book, parts.pieces, parts.route),
  };
  for (const row of book.sheets.pieces.rows) {
    const cells = parts.pieces.get(row.id) ?? {};
    pricePiece(book, row, cells);
    valuePiece(book, row, cells, parts.route);
  }
  const known = { ...counts, ...putIn(parts), ...losses, ...closing(book, parts, counts) };
  const full = (outcome: string) => total(withOutcome(parts.pieces, outcome), "full");
  const carried = {
    full_good: full("good"),
    full_second: full("second"),
    full_progress: full("in progress"),
    full_finished: full("good") + full("second"),
    normal_borne: losses.normal - losses.unshared,
  };
  const sales = recomputeSales(parts.pieces);
  const lines = { ...known, ...carried, ...sales, ...recomputePrices(book, parts.pieces, known) };
  const earned =
    lines.sold_leaves -
    lines.gone_cost -
    lines.write_down -
    numberIn(lines, "abnormal") -
    lines.unshared -
    numberIn(lines, "empty_kiln") -
    lines.overhead_idle -
    lines.mould_charged -
    (inputs.fixed_costs ?? 0);
  // Seen from all finished pieces: what each leaves or would leave, whatever became of it.
  const pays = earned + lines.write_down - lines.progress_down + lines.margin - lines.sold_leaves + lines.gone_cost;
  return new Map(Object.entries({ ...lines, earned, pays }).map(([key, value]) => [key, { value }]));
}

function withOutcome(pieces: Rows, outcome: string): Cells[] {
  return [...pieces.values()].filter((cells) => cells.outcome === outcome);
}

function countOutcomes(pieces: Rows) {
  return {
    started: pieces.size,
    not_started: withOutcome(pieces, "not started").length,
    good: withOutcome(pieces, "good").length,
    seconds: withOutcome(pieces, "second").length,
    lost: withOutcome(pieces, "lost").length,
    in_progress: withOutcome(pieces, "in progress").length,
  };
}

/** Rule 5: everything put in is what was bought and worked, seen from the steps and the firings. */
function putIn({ pieces, route, firings }: Parts) {
  const lines = {
    in_material: total(route.values(), "material_cost"),
    in_wear: total(route.values(), "wear_cost"),
    in_labour: total(route.values(), "labour_cost"),
    in_overhead: total(route.values(), "overhead_cost"),
    in_kiln: total(firings.values(), "charged"),
  };
  const all = Object.values(lines).reduce((sum, value) => sum + value, 0);
  const finished = total(withOutcome(pieces, "good"), "own") + total(withOutcome(pieces, "second"), "own");
  return {
    ...lines,
    ...kilnParts(firings),
    put_in: all,
    own_finished: finished,
    own_progress: total(withOutcome(pieces, "in progress"), "own"),
    own_lost: total(withOutcome(pieces, "lost"), "own"),
    adds_up: 0,
    empty_kiln: total(
      [...firings.values()].filter((cells) => cells.fired === "empty"),
      "cost",
    ),
    reclaimed: total(pieces.values(), "reclaim"),
    scrap: total(pieces.values(), "scrap"),
    settled_up: 0,
  };
}

/** What the firings with pieces in them were spent on. */
function kilnParts(firings: Rows) {
  const charged = [...firings.values()].filter((cells) => numberIn(cells, "pieces") > 0);
  return {
    kiln_energy: total(charged, "energy_here"),
    kiln_wear: total(charged, "wear_here"),
    kiln_labour: total(charged, "labour_here"),
    kiln_overhead: total(charged, "overhead_here"),
  };
}

type Counts = ReturnType<typeof countOutcomes>;

function pricePiece(book: Workbook, row: Row, cells: Cells): void {
  const isLost = cells.outcome === "lost" || cells.outcome === "not started";
  const full = numberIn(cells, "own") + numberIn(cells, "loss_share");
  cells.loss_share ??= "";
  cells.second_share ??= "";
  cells.second_short ??= "";
  cells.full = isLost ? "" : full;
  sellPiece(book, row, cells);
}

function closing(book: Workbook, parts: Parts, counts: Counts) {
  const { pieces, firings, materials, rates } = parts;
  const finished = counts.good + counts.seconds;
  const lustres = book.sheets.materials.rows.filter((row) => row.cells.sort === "lustre");
  const everything = putIn(parts).put_in;
  return {
    per_good: counts.good === 0 ? "" : total(withOutcome(pieces, "good"), "full") / counts.good,
    per_delivered: finished === 0 ? "" : everything / finished,
    kwh: total(firings.values(), "kwh_here"),
    lustre: lustres.reduce((sum, row) => sum + numberIn(materials.get(row.id), "used"), 0),
    fine: total(materials.values(), "fine"),
    hours: rates.workHours + rates.loadingHours,
    overhead_hours: rates.workHours + (rates.loadingCarries ? rates.loadingHours : 0),
    overhead_idle: rates.idle,
    casts: rates.casts,
    mould_left: rates.moulds.left,
    mould_charged: rates.moulds.charged,
    ...yieldsOf(book, parts, counts),
    revenue: total(pieces.values(), "price"),
    margin: total(pieces.values(), "contribution"),
  };
}

/** Yields follow the pieces step by step: of those that have come so far, what was kept, was lost, or needed a step again. */
function yieldsOf(book: Workbook, { pieces, route }: Parts, counts: Counts) {
  const passed = counts.good + counts.seconds;
  const atOnce = [...pieces.values()].filter((cells) => cells.passed_how === "at once").length;
  let kept = 1;
  for (const step of book.sheets.route.rows) {
    const here = route.get(step.id)?.kept_seen;
    if (typeof here === "number") kept *= here;
  }
  const isOver = counts.lost > 0 && counts.in_progress === 0;
  const of = (part: number) => (passed > 0 ? (kept * part) / passed : isOver ? 0 : "");
  const through = (isSpecial: boolean) =>
    book.sheets.route.rows
      .filter((step) => (step.cells.who === "special") === isSpecial)
      .map((step) => route.get(step.id)?.through)
      .filter((value) => typeof value === "number");
  const product = (list: readonly number[]) => list.reduce((all, one) => all * one, 1);
  const [common, special] = [through(false), through(true)];
  return {
    first_pass: of(atOnce),
    final_yield: of(counts.good),
    saleable: of(passed),
    rolled: common.length === 0 ? "" : product(common),
    rolled_special: special.length === 0 ? "" : product(common) * product(special),
  };
}
