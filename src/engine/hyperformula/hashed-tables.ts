// PICK, TOTAL_BY, COUNT_BY, SIZES_BY and FIRING_SHARE without searching: a table per column, built once per change.
// The tables live on the engine's own range vertices, so that the engine's invalidation clears them. A two-range table must be kept with setCriterionFunctionValues and addDependentCacheRange; kept
// with setFunctionValue it goes stale when only a key changes (measured).
import { CellError, ErrorType, type SimpleRangeValue } from "hyperformula";
import { sizesText } from "../../ceramics/loads/kiln-room";
import type { DependencyGraph, RangeNode } from "./library";
import type { EnginePatch } from "./patch";

type Scalar = unknown;

/** Whether tables are kept: without the patch each is built whenever it is asked for. */
let isKept = false;

export const HASHED_TABLES: EnginePatch = {
  name: "hashed-tables",
  buys: "PICK, TOTAL_BY, COUNT_BY, SIZES_BY and FIRING_SHARE look into a table that is built once per change",
  replaces: {},
  uses: {
    dependencyGraph: ["getRange", "getScalarValue"],
    range: [
      ...(["idInGraph", "getFunctionValue", "setFunctionValue", "addDependentCacheRange"] as const),
      ...(["getCriterionFunctionValues", "setCriterionFunctionValues"] as const),
    ],
  },
  apply() {
    isKept = true;
  },
};

const READY = "\u0000ready";
const KEYS = "\u0000keys";
const FEET = "\u0000feet";

function keyOf(value: Scalar): Key | undefined {
  if (typeof value === "string") return value === "" ? undefined : value.toLowerCase();
  if (typeof value === "number" || typeof value === "boolean") return value;
  if (typeof value === "object" && value !== null && "val" in value && typeof value.val === "number") return value.val;
  return undefined;
}

/** Ranges that were found in the graph; the graph takes its number from a range that it throws away. */
const found = new WeakMap<SimpleRangeValue, RangeNode>();

function vertexOf(graph: DependencyGraph, list: SimpleRangeValue): RangeNode | undefined {
  if (!isKept) return undefined;
  const known = found.get(list);
  if (known?.idInGraph !== undefined) return known;
  const vertex = list.range ? graph.getRange(list.range.start, list.range.end) : undefined;
  if (vertex?.idInGraph !== undefined) found.set(list, vertex);
  return vertex;
}

/** The values of a column, straight from the graph where they are cells: the engine would copy them twice. */
function valuesOf(graph: DependencyGraph, list: SimpleRangeValue): readonly Scalar[] {
  if (!list.range) return list.valuesFromTopLeftCorner();
  const { start, end } = list.range;
  const values: Scalar[] = [];
  for (let row = start.row; row <= end.row; row += 1)
    for (let col = start.col; col <= end.col; col += 1)
      values.push(graph.getScalarValue({ sheet: start.sheet, col, row }));
  return values;
}

type Key = string | number | boolean;

/** The row indexes of a column of keys that are filled, in order. */
interface Keys {
  readonly rows: readonly number[];
  readonly keys: readonly Key[];
}

/** A table kept with a column until one of its cells changes. */
function keptWith<T>(graph: DependencyGraph, list: SimpleRangeValue, name: string, build: () => T): T {
  const vertex = vertexOf(graph, list);
  const held = vertex?.getFunctionValue(name) as T | undefined;
  if (held) return held;
  const built = build();
  vertex?.setFunctionValue(name, built);
  return built;
}

function filledKeys(graph: DependencyGraph, list: SimpleRangeValue): Keys | CellError {
  return keptWith(graph, list, "saggar keys", () => {
    const rows: number[] = [];
    const keys: Key[] = [];
    for (const [at, value] of valuesOf(graph, list).entries()) {
      if (value instanceof CellError) return value;
      const key = keyOf(value);
      if (key === undefined) continue;
      rows.push(at);
      keys.push(key);
    }
    return { rows, keys };
  });
}

function rowsByKey(graph: DependencyGraph, list: SimpleRangeValue): Map<unknown, number> | CellError {
  return keptWith(graph, list, "saggar rows", () => {
    const filled = filledKeys(graph, list);
    if (filled instanceof CellError) return filled;
    const rows = new Map<unknown, number>();
    for (const [at, key] of filled.keys.entries()) if (!rows.has(key)) rows.set(key, filled.rows[at] ?? 0);
    return rows;
  });
}

function countsByKey(graph: DependencyGraph, list: SimpleRangeValue): Map<unknown, number> | CellError {
  return keptWith(graph, list, "saggar counts", () => {
    const filled = filledKeys(graph, list);
    if (filled instanceof CellError) return filled;
    const counts = new Map<unknown, number>();
    for (const key of filled.keys) counts.set(key, (counts.get(key) ?? 0) + 1);
    return counts;
  });
}

function totalsByKey(
  graph: DependencyGraph,
  keys: SimpleRangeValue,
  values: SimpleRangeValue,
): Map<unknown, unknown> | CellError {
  const keyVertex = vertexOf(graph, keys);
  const valueVertex = vertexOf(graph, values);
  if (!keyVertex || !valueVertex || !keys.range) return buildTotals(graph, keys, values);
  const { sheet, col, row } = keys.range.start;
  const name = `saggar totals ${sheet} ${col} ${row}`;
  const held = valueVertex.getCriterionFunctionValues(name);
  const ready = held.get(READY);
  // A column of keys that nothing named for a while is a new vertex when it is named again, and this table may be stale.
  if (ready && held.get(KEYS) === keyVertex) return ready as Map<unknown, unknown> | CellError;
  const built = buildTotals(graph, keys, values);
  valueVertex.setCriterionFunctionValues(
    name,
    new Map<string, unknown>([
      [READY, built],
      [KEYS, keyVertex],
    ]),
  );
  if (keyVertex !== valueVertex) keyVertex.addDependentCacheRange(valueVertex);
  return built;
}

function buildTotals(
  graph: DependencyGraph,
  keys: SimpleRangeValue,
  values: SimpleRangeValue,
): Map<unknown, unknown> | CellError {
  const filled = filledKeys(graph, keys);
  if (filled instanceof CellError) return filled;
  const amountAt = readerOf(graph, values);
  const totals = new Map<unknown, number | CellError>();
  for (const [at, key] of filled.keys.entries()) {
    const before = totals.get(key) ?? 0;
    if (before instanceof CellError) continue;
    const amount = amountAt(filled.rows[at] ?? 0);
    if (amount instanceof CellError) totals.set(key, amount);
    else {
      const number = keyOf(amount);
      if (typeof number === "number") totals.set(key, before + number);
    }
  }
  return totals;
}

/** Reads a column by row index. */
function readerOf(graph: DependencyGraph, list: SimpleRangeValue): (at: number) => Scalar {
  if (!list.range) {
    const values = list.valuesFromTopLeftCorner();
    return (at) => values[at];
  }
  const { sheet, col, row } = list.range.start;
  return (at) => graph.getScalarValue({ sheet, col, row: row + at });
}

const quoted = (key: Scalar) =>
  typeof key === "string" && key !== "" ? `“${key}”` : typeof key === "number" ? `${key}` : "a blank";

/** The value beside a name, or an error that says which name was not found. */
export function pick(
  graph: DependencyGraph,
  name: string,
  key: Scalar,
  keys: SimpleRangeValue,
  values: SimpleRangeValue,
): unknown {
  const rows = rowsByKey(graph, keys);
  if (rows instanceof CellError) return rows;
  const at = rows.get(keyOf(key));
  if (at === undefined)
    return new CellError(ErrorType.NA, `${name}: found ${quoted(key)}, which is not in the list. Choose one that is.`);
  return readerOf(graph, values)(at) ?? 0;
}

/** The sum beside a name; 0 where it does not occur. */
export function totalBy(
  graph: DependencyGraph,
  key: Scalar,
  keys: SimpleRangeValue,
  values: SimpleRangeValue,
): unknown {
  const totals = totalsByKey(graph, keys, values);
  return totals instanceof CellError ? totals : (totals.get(keyOf(key)) ?? 0);
}

/** How often a name occurs. */
export function countBy(graph: DependencyGraph, key: Scalar, keys: SimpleRangeValue): unknown {
  const counts = countsByKey(graph, keys);
  return counts instanceof CellError ? counts : (counts.get(keyOf(key)) ?? 0);
}

/** Sizes of pieces by the name beside them; blanks count as nothing. */
function sizesByKey(
  graph: DependencyGraph,
  keys: SimpleRangeValue,
  feet: SimpleRangeValue,
  heights: SimpleRangeValue,
): Map<unknown, unknown> | CellError {
  const build = () => buildSizes(graph, keys, feet, heights);
  const [keyVertex, footVertex, heightVertex] = [keys, feet, heights].map((list) => vertexOf(graph, list));
  if (!keyVertex || !footVertex || !heightVertex || !keys.range || !feet.range) return build();
  const { sheet, col, row } = keys.range.start;
  const name = `saggar sizes ${sheet} ${col} ${row} ${feet.range.start.col}`;
  const held = heightVertex.getCriterionFunctionValues(name);
  const ready = held.get(READY);
  if (ready && held.get(KEYS) === keyVertex && held.get(FEET) === footVertex)
    return ready as Map<unknown, unknown> | CellError;
  const built = build();
  heightVertex.setCriterionFunctionValues(
    name,
    new Map<string, unknown>([
      [READY, built],
      [KEYS, keyVertex],
      [FEET, footVertex],
    ]),
  );
  for (const vertex of [keyVertex, footVertex])
    if (vertex !== heightVertex) vertex.addDependentCacheRange(heightVertex);
  return built;
}

function buildSizes(
  graph: DependencyGraph,
  keys: SimpleRangeValue,
  feet: SimpleRangeValue,
  heights: SimpleRangeValue,
): Map<unknown, unknown> | CellError {
  const filled = filledKeys(graph, keys);
  if (filled instanceof CellError) return filled;
  const [footAt, heightAt] = [readerOf(graph, feet), readerOf(graph, heights)];
  const found = new Map<unknown, { footCm2: number; heightCm: number }[] | CellError>();
  const numberOf = (value: Scalar) => Number(typeof value === "number" ? value : (keyOf(value) ?? 0)) || 0;
  for (const [at, key] of filled.keys.entries()) {
    const held = found.get(key) ?? [];
    if (held instanceof CellError) continue;
    const row = filled.rows[at] ?? 0;
    const [foot, height] = [footAt(row), heightAt(row)];
    const wrong = foot instanceof CellError ? foot : height instanceof CellError ? height : undefined;
    if (wrong) found.set(key, wrong);
    else {
      held.push({ footCm2: numberOf(foot), heightCm: numberOf(height) });
      found.set(key, held);
    }
  }
  return new Map([...found].map(([key, held]) => [key, held instanceof CellError ? held : sizesText(held)]));
}

/** The sizes beside a name, as text; empty where it does not occur. */
export function sizesBy(
  graph: DependencyGraph,
  key: Scalar,
  keys: SimpleRangeValue,
  feet: SimpleRangeValue,
  heights: SimpleRangeValue,
): unknown {
  const sizes = sizesByKey(graph, keys, feet, heights);
  return sizes instanceof CellError ? sizes : (sizes.get(keyOf(key)) ?? "");
}

/** A piece's share of a firing. */
export function firingShare(
  graph: DependencyGraph,
  firing: Scalar,
  weight: number,
  ids: SimpleRangeValue,
  costs: SimpleRangeValue,
  weights: SimpleRangeValue,
): unknown {
  const cost = pick(graph, "FIRING_SHARE", firing, ids, costs);
  const all = pick(graph, "FIRING_SHARE", firing, ids, weights);
  if (cost instanceof CellError) return cost;
  if (all instanceof CellError) return all;
  const total = keyOf(all);
  const amount = keyOf(cost);
  if (typeof amount !== "number")
    return new CellError(ErrorType.VALUE, `FIRING_SHARE: firing ${quoted(firing)} has no cost.`);
  if (typeof total !== "number" || total <= 0)
    return new CellError(
      ErrorType.NUM,
      `FIRING_SHARE: the pieces in firing ${quoted(firing)} weigh nothing together. Enter their weight or shelf area, or share it by count.`,
    );
  return (amount * weight) / total;
}
