// The sheets of an edition recomputed with plain loops: no formulas and no engine. Only kiln heat and cones are asked of
// src/ceramics, where they have published checks of their own.
// Written from the cost rules: a step costs material, labour, overhead or its share of a firing (1); a firing is shared over
// the pieces really in it (2); a lost piece carries cost through the step at which it was lost (3); losses up to plan are
// shared, the rest is abnormal (4, in independent-losses.ts); own, lost and in progress together are everything put in (5).
import type { Row, Workbook } from "../../src/core/document/workbook";
import { type Cells, inputsOf, isBlank, numberIn, type Rows, typedNumber } from "./independent-cells";
import { firingSteps, recomputeFirings, recomputeProgrammes } from "./independent-firings";
import { recomputePlan } from "./independent-plan";
import { bulkOf, firedHow, type RunRates, runRates } from "./independent-rates";
import { recomputeResults } from "./independent-results";
import { recomputeChannels } from "./independent-sales";

export interface Recomputed {
  readonly edition: Rows;
  readonly materials: Rows;
  readonly purchases: Rows;
  readonly kilns: Rows;
  readonly programmes: Rows;
  readonly tariffs: Rows;
  readonly firings: Rows;
  readonly route: Rows;
  readonly pieces: Rows;
  readonly channels: Rows;
  readonly results: Rows;
}

/** Every computed cell of every sheet. */
export function recompute(book: Workbook): Recomputed {
  const pieces: Rows = new Map(book.sheets.pieces.rows.map((row) => [row.id, {}]));
  const rates = runRates(book);
  for (const row of book.sheets.pieces.rows) startPiece(book, rates, row, pieces.get(row.id) ?? {});
  const firings = recomputeFirings(book, pieces, rates);
  for (const row of book.sheets.pieces.rows) finishPiece(book, row, pieces.get(row.id) ?? {}, firings);
  const route = recomputeRoute(book, pieces, rates);
  const edition = recomputePlan(book, route, rates);
  const { materials, kilns } = recomputeStock(book, route, firings);
  const results = recomputeResults(book, { pieces, route, firings, materials, rates });
  const programmes = recomputeProgrammes(book);
  return {
    edition,
    materials,
    purchases: recomputePurchases(book),
    kilns,
    programmes,
    tariffs: new Map(),
    firings,
    route,
    pieces,
    channels: recomputeChannels(book, pieces),
    results,
  };
}

const orderOf = (book: Workbook, step: string) =>
  typedNumber(
    book.sheets.route.rows.find((row) => row.id === step),
    "order",
  );

/** The order of the step at which a piece was lost; beyond every step where it was not. */
function lostOrder(book: Workbook, piece: Row): number {
  const step = piece.cells.lost_at;
  return typeof step === "string" ? orderOf(book, step) : 1_000_000_000;
}

function materialOf(book: Workbook, step: Row): Row | undefined {
  return book.sheets.materials.rows.find((row) => row.cells.id === step.cells.material);
}

function pricePerGram(book: Workbook, step: Row): number {
  const material = materialOf(book, step);
  return material ? typedNumber(material, "pack_price") / typedNumber(material, "pack_grams") : 0;
}

/** The price on the day of the step where the piece names a purchase, otherwise that of the material. */
function priceOfDay(book: Workbook, step: Row, piece: Row): number {
  const named = piece.cells[`${step.id}.priced`];
  const purchase = book.sheets.purchases.rows.find((row) => named !== undefined && row.cells.id === named);
  return purchase ? typedNumber(purchase, "paid") / typedNumber(purchase, "grams") : pricePerGram(book, step);
}

/** Rule 1 for everything but firings, and which firing steps the piece was there for. */
function startPiece(book: Workbook, rates: RunRates, piece: Row, cells: Cells): void {
  const inputs = inputsOf(book);
  for (const step of book.sheets.route.rows) {
    const wasThere = lostOrder(book, piece) >= orderOf(book, step.id);
    const key = (name: string) => `${step.id}.${name}`;
    const entry = { cast: "slip", hand: "minutes", coat: "coats", metal: "coats", firing: "firing" }[
      String(step.cells.kind)
    ];
    const isDone = wasThere && entry !== undefined && !isBlank(piece, key(entry));
    if (step.cells.kind === "firing") cells[key("load")] = isDone ? String(piece.cells[key("firing")]) : "";
    else if (step.cells.kind === "cast") castStep(book, rates, step, piece, cells, isDone);
    else if (step.cells.kind === "hand") {
      const minutes = typedNumber(piece, key("minutes"));
      cells[key("labour")] = isDone ? (minutes * (inputs.wage ?? 0)) / 60 : "";
      cells[key("cost")] = isDone ? (minutes * ((inputs.wage ?? 0) + rates.perHour)) / 60 : "";
    } else coatStep(book, rates, step, piece, cells, isDone);
  }
}

function castStep(book: Workbook, rates: RunRates, step: Row, piece: Row, cells: Cells, isDone: boolean): void {
  const { wage = 0 } = inputsOf(book);
  const { perHour: overhead, wearPerCast: wear } = rates;
  const hours = typedNumber(step, "minutes") / 60;
  const material = typedNumber(piece, `${step.id}.slip`) * priceOfDay(book, step, piece);
  cells[`${step.id}.material`] = isDone ? material : "";
  cells[`${step.id}.wear`] = isDone ? wear : "";
  cells[`${step.id}.labour`] = isDone ? hours * wage : "";
  cells[`${step.id}.cost`] = isDone ? material + wear + hours * wage + hours * overhead : "";
}

function coatStep(book: Workbook, rates: RunRates, step: Row, piece: Row, cells: Cells, isDone: boolean): void {
  const { wage = 0 } = inputsOf(book);
  const overhead = rates.perHour;
  const key = (name: string) => `${step.id}.${name}`;
  const coats = typedNumber(piece, key("coats"));
  const area = typedNumber(piece, key("area"), typedNumber(step, "area"));
  const onPiece = area * coats * typedNumber(step, "laydown");
  const isMetal = step.cells.kind === "metal";
  const used = isMetal ? onPiece / (1 - typedNumber(step, "waste")) : onPiece / typedNumber(step, "transfer", 1);
  const material = used * priceOfDay(book, step, piece);
  const hours = (coats * typedNumber(step, "minutes")) / 60;
  if (isMetal) {
    const metal = materialOf(book, step);
    cells[key("fine")] = isDone ? (used * typedNumber(metal, "fraction") * typedNumber(metal, "carat", 24)) / 24 : "";
  } else cells[key("grams")] = isDone ? onPiece : "";
  cells[key("area")] = isBlank(piece, key("coats")) && isBlank(piece, key("area")) ? "" : area;
  cells[key("used")] = isDone ? used : "";
  cells[key("material")] = isDone ? material : "";
  cells[key("labour")] = isDone ? hours * wage : "";
  cells[key("cost")] = isDone ? material + hours * wage + hours * overhead : "";
}

/** Shares of firings, own cost and outcome; what a lost piece gives back. */
function finishPiece(book: Workbook, piece: Row, cells: Cells, firings: Rows): void {
  for (const step of firingSteps(book)) {
    const firing = book.sheets.firings.rows.find((row) => row.cells.id === cells[`${step.id}.load`]);
    const computed = firings.get(firing?.id ?? "");
    cells[`${step.id}.cost`] = computed
      ? (numberIn(computed, "cost") * bulkOf(book, piece, firing?.cells.basis)) / numberIn(computed, "weight")
      : "";
  }
  const inputs = inputsOf(book);
  const lostAt = typeof piece.cells.lost_at === "string" ? piece.cells.lost_at : "";
  const first = firingSteps(book)[0];
  const isGreen = first !== undefined && lostAt !== "" && orderOf(book, lostAt) < orderOf(book, first.id);
  const casts = book.sheets.route.rows.filter((step) => step.cells.kind === "cast");
  const clay = casts.reduce((sum, step) => sum + numberIn(cells, `${step.id}.material`), 0);
  cells.own = book.sheets.route.rows.reduce((sum, step) => sum + numberIn(cells, `${step.id}.cost`), 0);
  cells.reclaim = isGreen ? (inputs.reclaim ?? 0) * clay : 0;
  const isFired = first !== undefined && lostAt !== "" && orderOf(book, lostAt) >= orderOf(book, first.id);
  cells.scrap = isFired ? (inputs.scrap_value ?? 0) : 0;
  const had = book.sheets.route.rows.filter((step) => cells[`${step.id}.cost`] !== "");
  const orders = had.map((step) => Number(step.cells.order));
  const end = Math.max(...book.sheets.route.rows.map((step) => Number(step.cells.order)));
  const isStarted = had.length > 0;
  cells.outcome = lostAt !== "" ? "lost" : isStarted ? String(piece.cells.grade ?? "in progress") : "not started";
  cells.reached = lostAt !== "" || !isStarted ? "" : isBlank(piece, "grade") ? Math.max(...orders) : end;
  cells.reached_special = piece.cells.tier === "special" ? cells.reached : "";
  const secondOf = piece.cells.tier === "special" ? "special" : "standard";
  cells.second_kind = cells.outcome === "second" ? secondOf : "";
  const again = book.sheets.route.rows.filter((step) => step.cells.who === "as needed");
  const isReworked = again.some((step) => typeof cells[`${step.id}.cost`] === "number");
  cells.passed_how = cells.outcome !== "good" ? "" : isReworked ? "after rework" : "at once";
  cells.lost_order = lostOrder(book, piece);
  cells.lost_bare = lostAt !== "" && cells[`${lostAt}.cost`] === "" ? lostAt : "";
  const loads = firingSteps(book).map((step) => cells[`${step.id}.load`]);
  cells.twice = loads.find((load, at) => load !== "" && loads.indexOf(load) !== at) ?? "";
  cells.kg = typedNumber(piece, "kg", inputs.piece_kg);
  cells.foot = typedNumber(piece, "foot", inputs.piece_foot);
  cells.height = typedNumber(piece, "height", inputs.piece_height);
}

const MATERIAL_KINDS = ["cast", "coat", "metal"];

/** What each step took and lost. */
function recomputeRoute(book: Workbook, pieces: Rows, rates: RunRates): Rows {
  const route: Rows = new Map();
  for (const step of book.sheets.route.rows) {
    const kind = String(step.cells.kind);
    const groups = [...pieces.values()].filter((cells) => cells[`${step.id}.cost`] !== "");
    const sum = (name: string) => groups.reduce((total, cells) => total + numberIn(cells, `${step.id}.${name}`), 0);
    const minutes = minutesOf(book, step, pieces);
    const hasHours = kind !== "firing";
    const metal = materialOf(book, step);
    route.set(step.id, {
      per_gram: metal ? pricePerGram(book, step) : "",
      fraction: kind === "metal" ? typedNumber(metal, "fraction") : "",
      carat: kind === "metal" ? typedNumber(metal, "carat") : "",
      done: groups.length,
      grams_used: kind === "cast" ? slipOf(book, step, pieces) : MATERIAL_KINDS.includes(kind) ? sum("used") : "",
      fine_used: kind === "metal" ? sum("fine") : "",
      material_cost: MATERIAL_KINDS.includes(kind) ? sum("material") : "",
      labour_cost: kind === "firing" ? "" : sum("labour"),
      hours: hasHours ? minutes / 60 : "",
      casts: kind === "cast" ? groups.length : "",
      wear_cost: kind === "cast" ? sum("wear") : "",
      overhead_cost: hasHours ? (minutes / 60) * rates.perHour : "",
      cost: sum("cost"),
      ...lossesAt(book, step, pieces, groups.length),
    });
  }
  return route;
}

function lossesAt(book: Workbook, step: Row, pieces: Rows, done: number): Cells {
  const lost = book.sheets.pieces.rows
    .filter((piece) => piece.cells.lost_at === step.id)
    .map(({ id }) => pieces.get(id));
  const entered = done + lost.filter((cells) => cells?.lost_bare === step.id).length;
  const lostCost = lost.reduce((total, cells) => total + numberIn(cells, "own"), 0);
  const reclaimed = lost.reduce((total, cells) => total + numberIn(cells, "reclaim"), 0);
  const scrapped = lost.reduce((total, cells) => total + numberIn(cells, "scrap"), 0);
  return {
    ...{ entered, lost: lost.length, lost_cost: lostCost, reclaimed, scrapped },
    rate: entered === 0 ? "" : lost.length / entered,
  };
}

/** Slip of a cast step over all pieces that had it. */
function slipOf(book: Workbook, step: Row, pieces: Rows): number {
  return had(book, step, pieces).reduce((sum, piece) => sum + typedNumber(piece, `${step.id}.slip`), 0);
}

const had = (book: Workbook, step: Row, pieces: Rows) =>
  book.sheets.pieces.rows.filter((piece) => pieces.get(piece.id)?.[`${step.id}.cost`] !== "");

function minutesOf(book: Workbook, step: Row, pieces: Rows): number {
  const a = typedNumber(step, "minutes");
  return had(book, step, pieces).reduce((sum, piece) => {
    if (step.cells.kind === "hand") return sum + typedNumber(piece, `${step.id}.minutes`);
    return sum + a * (step.cells.kind === "cast" ? 1 : typedNumber(piece, `${step.id}.coats`));
  }, 0);
}

/** What a gram cost in each purchase. */
function recomputePurchases(book: Workbook): Rows {
  return new Map(
    book.sheets.purchases.rows.map((row): [string, Cells] => {
      const isPriced = row.cells.sort === "bought" && !isBlank(row, "paid") && typedNumber(row, "grams") > 0;
      return [row.id, { per_gram: isPriced ? typedNumber(row, "paid") / typedNumber(row, "grams") : "" }];
    }),
  );
}

/** What was used of each material, and what each kiln did. */
function recomputeStock(book: Workbook, route: Rows, firings: Rows) {
  const materials: Rows = new Map();
  for (const row of book.sheets.materials.rows) {
    const steps = book.sheets.route.rows.filter((step) => step.cells.material === row.cells.id);
    const used = steps.reduce((sum, step) => sum + numberIn(route.get(step.id), "grams_used"), 0);
    const perGram = typedNumber(row, "pack_price") / typedNumber(row, "pack_grams");
    const planned = steps.reduce((sum, step) => sum + numberIn(route.get(step.id), "plan_grams"), 0);
    const packs = Math.ceil(planned / typedNumber(row, "pack_grams") - 1e-12);
    materials.set(row.id, {
      plan_grams: planned,
      plan_packs: packs,
      plan_left: packs * typedNumber(row, "pack_grams") - planned,
      plan_price: packs * typedNumber(row, "pack_price"),
      per_gram: perGram,
      used,
      fine: isBlank(row, "fraction") ? "" : (used * typedNumber(row, "fraction") * typedNumber(row, "carat", 24)) / 24,
      packs: Math.ceil(used / typedNumber(row, "pack_grams") - 1e-12),
      cost: steps.reduce((sum, step) => sum + numberIn(route.get(step.id), "material_cost"), 0),
    });
  }
  const kilns: Rows = new Map();
  for (const row of book.sheets.kilns.rows) {
    const own = book.sheets.firings.rows.filter((firing) => firing.cells.kiln === row.cells.id);
    const sum = (key: string) => own.reduce((total, firing) => total + numberIn(firings.get(firing.id), key), 0);
    const factors = {
      wall_factor: typedNumber(row, "wall_factor", 1),
      heat_factor: typedNumber(row, "heat_factor", 1),
      spread: typedNumber(row, "spread", 0.4),
    };
    kilns.set(row.id, {
      ...factors,
      firings: own.filter((firing) => firedHow(book, firing) !== "not yet").length,
      kwh: sum("kwh"),
      cost: sum("cost"),
    });
  }
  return { materials, kilns };
}
