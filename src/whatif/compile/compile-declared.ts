// Our own functions in instructions. Look-ups by a key that no input changes become lists of rows; the rest is called.
import type { FunctionDeclaration } from "../../engine/functions/declare";
import { hasRightCount, type Key, notListed, rowsByKey, scalarKey } from "./declared";
import type { EmittedValue, Emitter } from "./emitter";
import { allNodes, type Node } from "./formula-tree";
import type { ModelColumn } from "./grid";
import type { CallArgument } from "./instructions";
import { type CompilePosition, namesVarying, ownVaries } from "./position";
import { load, makeRegister, store } from "./registers";
import { isScalarError, roundToZero, type Scalar, type ScalarError } from "./scalar";

type Call = Extract<Node, { kind: "call" }>;
type CompileCall = (position: CompilePosition, node: Call, takesList: (at: number) => boolean) => EmittedValue;

/** A call of a declared function. */
export function compileDeclared(
  position: CompilePosition,
  node: Call,
  declaration: FunctionDeclaration,
  compileCall: CompileCall,
): EmittedValue {
  const reads = declaration.reads?.length ?? 0;
  const known = hasRightCount(declaration, node.args.length) ? compileKnown(position, node) : undefined;
  return (
    known ?? compileCall(position, node, (at) => at < reads || declaration.parameters[at - reads]?.type === "range")
  );
}

function compileKnown(position: CompilePosition, node: Call): EmittedValue | undefined {
  const [first, second, third, fourth, fifth] = node.args;
  switch (node.name) {
    case "PICK":
      return (
        first &&
        compileLookUp(position, first, second, (table) => picked(position, table, columnAt(position, third), "PICK"))
      );
    case "TOTAL_BY":
      return (
        first && compileLookUp(position, first, second, (table) => totalled(position, table, columnAt(position, third)))
      );
    case "FIRING_SHARE":
      return fourth && fifth && compileLookUp(position, fourth, first, (table) => shared(position, table, node, fifth));
    case "KEPT_BEFORE":
    case "SUM_UP_TO":
      return compileAlong(position, node, node.name);
    default:
      return undefined;
  }
}

function columnAt({ emitter }: CompilePosition, node: Node | undefined): ModelColumn | undefined {
  return node?.kind === "range" ? emitter.grid.column(node.sheet, node.column) : undefined;
}

/** A value that no input changes, in every row. */
function isConstant(position: CompilePosition, node: Node): boolean {
  return !namesVarying(position, node) && !position.rows.indices.some((row) => ownVaries(position, node, row));
}

interface Table {
  readonly keys: ModelColumn;
  /** What each row looks up. */
  readonly lookupKeys: readonly Scalar[];
  /** The same, as a value. */
  readonly key: EmittedValue;
}

/** Looks up keys that are known now in a column that is known now; nothing where either depends on an input. */
function compileLookUp(
  position: CompilePosition,
  key: Node,
  keys: Node | undefined,
  make: (table: Table) => EmittedValue | undefined,
): EmittedValue | undefined {
  const column = columnAt(position, keys);
  if (!column || column.parts.length > 0 || key.kind === "range" || !isConstant(position, key)) return undefined;
  const { pool } = position.emitter;
  const value = position.compile(position, key);
  const count = value.step === 0 ? 1 : position.rows.indices.length;
  const lookupKeys = Array.from({ length: count }, (_, row) =>
    load(pool, value.register, value.start + row * value.step),
  );
  return make({ keys: column, lookupKeys, key: { ...value, isTemporary: false } });
}

const listsOf = new WeakMap<ModelColumn, ReadonlyMap<Key, number> | ScalarError>();

function listed(emitter: Emitter, keys: ModelColumn): ReadonlyMap<Key, number> | ScalarError {
  let known = listsOf.get(keys);
  if (!known) {
    known = rowsByKey(Array.from({ length: keys.height }, (_, at) => load(emitter.pool, keys.constants, at)));
    listsOf.set(keys, known);
  }
  return known;
}

/** Where each key is found. */
function findIn(emitter: Emitter, table: Table, values: ModelColumn, name: string): readonly Found[] {
  const rows = listed(emitter, table.keys);
  return table.lookupKeys.map((key): Found => {
    if (isScalarError(key)) return { instead: key };
    if (isScalarError(rows as Scalar)) return { instead: rows as ScalarError };
    const at = (rows as ReadonlyMap<Key, number>).get(scalarKey(key));
    if (at === undefined) return { instead: notListed(name, key) };
    return at < values.height ? at : { instead: null };
  });
}

/** For each look-up of a formula by a known key: whether what each row finds depends on an input. */
export function varyingLookUps(position: CompilePosition, node: Node): readonly (readonly boolean[])[] {
  return allNodes(node).flatMap((one) => {
    if (one.kind !== "call" || (one.name !== "PICK" && one.name !== "FIRING_SHARE")) return [];
    const [first, second, third, fourth] = one.args;
    const [key, keys, lists] = one.name === "PICK" ? [first, second, [third]] : [fourth, first, [second, third]];
    const columns = lists.flatMap((list) => columnAt(position, list) ?? []);
    if (!key || columns.length === 0 || columns.every(({ parts }) => parts.length === 0)) return [];
    let varies: readonly boolean[] | undefined;
    compileLookUp(position, key, keys, (table) => {
      const found = columns.map((column) => findIn(position.emitter, table, column, one.name));
      varies = table.lookupKeys.map((_, row) =>
        columns.some((column, at) => {
          const where = found[at]?.[row];
          return typeof where === "number" && (column.partOf[where] ?? -1) >= 0;
        }),
      );
      return undefined;
    });
    return varies ? [varies] : [];
  });
}

/** The cell beside each key, or the error of one that is not listed. */
function picked(
  position: CompilePosition,
  table: Table,
  values: ModelColumn | undefined,
  name: string,
): EmittedValue | undefined {
  if (!values) return undefined;
  const found = findIn(position.emitter, table, values, name);
  const isVarying = found.some((row) => typeof row === "number" && (values.partOf[row] ?? -1) >= 0);
  const register = isVarying ? position.emitter.list(values) : values.constants;
  return gathered(position.emitter, { register, start: 0, step: 0, isVarying, isTemporary: false }, found);
}

/** The row of a column, or what stands for one that is not there. */
type Found = number | { readonly instead: Scalar };

/** Values of these rows, all at once. */
function gathered(emitter: Emitter, from: EmittedValue, found: readonly Found[]): EmittedValue {
  const indices = Int32Array.from(found, (one) => (typeof one === "number" ? one : -1));
  const isWhole = found.every((one) => typeof one === "number");
  const missing = makeRegister(isWhole ? 0 : indices.length, undefined);
  for (const [at, one] of found.entries()) if (typeof one !== "number") store(emitter.pool, missing, at, one.instead);
  const step = indices.length === 1 ? 0 : 1;
  return emitter.emitWith([], [{ ...from, step }], indices.length, (out) => ({
    kind: "gather",
    out,
    from,
    indices,
    missing: isWhole ? undefined : { register: missing, start: 0, step },
    marks: true,
  }));
}

interface Totals {
  readonly sums: EmittedValue;
  readonly groups: ReadonlyMap<Key, number>;
}

function totalled(position: CompilePosition, table: Table, values: ModelColumn | undefined): EmittedValue | undefined {
  if (!values) return undefined;
  const { emitter } = position;
  const rows = listed(emitter, table.keys);
  if (isScalarError(rows as Scalar)) return emitter.literal(roundToZero(rows as ScalarError));
  const name = `TOTAL_BY ${table.keys.sheet} ${table.keys.column} ${values.sheet} ${values.column}`;
  const totals = emitter.shared(name, () => sumByKey(emitter, table.keys, values));
  const found = table.lookupKeys.map(
    (key): Found => totals.groups.get(scalarKey(key)) ?? { instead: isScalarError(key) ? key : 0 },
  );
  return gathered(emitter, totals.sums, found);
}

function sumByKey(emitter: Emitter, keys: ModelColumn, values: ModelColumn): Totals {
  const groups = new Map<Key, number>();
  const height = Math.min(keys.height, values.height);
  const groupOf = new Int32Array(height).fill(-1);
  for (let at = 0; at < height; at += 1) {
    const key = scalarKey(load(emitter.pool, keys.constants, at));
    if (key === undefined) continue;
    const group = groups.get(key) ?? groups.size;
    groups.set(key, group);
    groupOf[at] = group;
  }
  const isNeutral = (value: Scalar, at: number) =>
    (groupOf[at] ?? -1) < 0 || (typeof value !== "number" && !isScalarError(value));
  const part = emitter.onlyPart(values, isNeutral);
  const list = part ? part.register : emitter.list(values);
  const register = emitter.register(Math.max(1, groups.size), list.inputMask);
  const isVarying = list.isPerCase;
  emitter.add(register, {
    kind: "totals",
    out: { register, start: 0, step: 1 },
    values: list,
    groups: part ? part.rows.indices.map((at) => groupOf[at] ?? -1) : groupOf,
  });
  return { sums: { register, start: 0, step: 0, isVarying, isTemporary: false }, groups };
}

/** Pieces of one firing that weigh the same bear the same: it is calculated once for each. */
function shared(position: CompilePosition, table: Table, node: Call, weighs: Node): EmittedValue | undefined {
  const [, costsNode, weightsNode] = node.args;
  const [costs, weights] = [columnAt(position, costsNode), columnAt(position, weightsNode)];
  if (weighs.kind === "range" || !costs || !weights) return undefined;
  const { emitter, rows } = position;
  const weight = position.compile(position, weighs);
  const alike = weight.isVarying ? undefined : alikeIn(emitter, table, weight, rows.indices.length);
  const [own, weightOf] = alike ? [alike.table, alike.weight] : [table, weight];
  const cost = picked(position, own, costs, node.name);
  const all = picked(position, own, weights, node.name);
  if (!cost || !all) return undefined;
  const operands = [cost, all, weightOf, own.key];
  const each = emitter.emit(operands, alike ? own.lookupKeys.length : rows.indices.length, (out, count) => ({
    kind: "share",
    out,
    firing: own.key,
    cost,
    all,
    weight: weightOf,
    rows: count,
  }));
  return alike && each.step !== 0 ? spread(emitter, each, alike.indexOf) : each;
}

interface Alike {
  readonly table: Table;
  readonly weight: EmittedValue;
  /** Which of them each row is. */
  readonly indexOf: Int32Array;
}

function alikeIn(emitter: Emitter, table: Table, weight: EmittedValue, rows: number): Alike | undefined {
  const { pool } = emitter;
  const weightAt = (row: number) => load(pool, weight.register, weight.start + row * weight.step);
  const keyAt = (row: number) => (table.lookupKeys.length === 1 ? table.lookupKeys[0] : table.lookupKeys[row]) ?? null;
  const known = new Map<string, number>();
  const pairs: (readonly [Scalar, Scalar])[] = [];
  const indexOf = Int32Array.from({ length: rows }, (_, row) => {
    const name = JSON.stringify([keyAt(row), weightAt(row)]);
    const at = known.get(name) ?? pairs.length;
    if (at === pairs.length) pairs.push([keyAt(row), weightAt(row)]);
    known.set(name, at);
    return at;
  });
  if (pairs.length * 2 > rows) return undefined;
  const column = (values: readonly Scalar[]): EmittedValue => {
    const register = makeRegister(values.length, undefined);
    for (const [at, value] of values.entries()) store(pool, register, at, value);
    return { register, start: 0, step: values.length === 1 ? 0 : 1, isVarying: false, isTemporary: false };
  };
  const lookupKeys = pairs.map(([key]) => key);
  return {
    table: { keys: table.keys, lookupKeys, key: column(lookupKeys) },
    weight: column(pairs.map(([, one]) => one)),
    indexOf,
  };
}

function spread(emitter: Emitter, from: EmittedValue, indices: Int32Array): EmittedValue {
  return emitter.emitRows([], [from], indices.length, (out) => ({
    kind: "gather",
    out,
    from,
    indices,
    missing: undefined,
    marks: false,
  }));
}

/** A look-up along the route whose order no input changes. */
function compileAlong(
  position: CompilePosition,
  node: Call,
  what: "KEPT_BEFORE" | "SUM_UP_TO",
): EmittedValue | undefined {
  const [order, ordersNode, valuesNode] = node.args;
  const [orders, values] = [columnAt(position, ordersNode), columnAt(position, valuesNode)];
  if (!order || !orders || !values || order.kind === "range") return undefined;
  if (orders.parts.length > 0 || values.parts.length === 0 || !isConstant(position, order)) return undefined;
  const { emitter } = position;
  const { pool } = emitter;
  const from = position.compile(position, order);
  const count = from.step === 0 ? 1 : position.rows.indices.length;
  const orderOf = Array.from({ length: orders.height }, (_, at) => load(pool, orders.constants, at));
  const starts = Array.from({ length: count }, (_, row) => load(pool, from.register, from.start + row * from.step));
  if (starts.some((one) => typeof one !== "number") || orderOf.some(isScalarError)) return undefined;
  const isEarlier = (one: Scalar, start: Scalar) =>
    typeof one === "number" && (what === "KEPT_BEFORE" ? one < Number(start) : one <= Number(start));
  const rowsOf = starts.map((start) =>
    Int32Array.from(orderOf.flatMap((one, row) => (isEarlier(one, start) ? [row] : []))),
  );
  const list = emitter.list(values);
  const value = { ...from, isTemporary: false };
  const args: readonly CallArgument[] = [
    { kind: "value", value, isCell: false },
    { kind: "list", list: orders.constants },
    { kind: "list", list },
  ];
  return emitter.emitWith([list], [value], count, (out) => ({ kind: "along", what, out, list, rowsOf, args }));
}
