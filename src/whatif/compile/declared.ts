// Our own functions beside the engine: the same tables of declarations, the same checks and the same arithmetic as
// src/engine/hyperformula/plugin.ts and src/engine/hyperformula/hashed-tables.ts, on plain values.
import { sizesText } from "../../ceramics/loads/kiln-room";
import { checkArguments } from "../../engine/functions/arguments";
import type { Argument, FunctionDeclaration } from "../../engine/functions/declare";
import { outcomeOf } from "../../engine/functions/run";
import { type Given, isList, WRONG_COUNT } from "./built-in";
import { isScalarError, type Scalar, type ScalarError, scalarError } from "./scalar";

const WRONG = (message: string) => scalarError("VALUE", message);

/** What is looked up: a text without regard to capitals, a number or a truth; blanks are no key. */
export type Key = string | number | boolean | undefined;

/** The key a value is found by. */
export function scalarKey(value: Scalar): Key {
  if (typeof value === "string") return value === "" ? undefined : value.toLowerCase();
  return typeof value === "number" || typeof value === "boolean" ? value : undefined;
}

/** Whether a call has as many arguments as the declaration takes; what the function reads by itself comes first. */
export function hasRightCount(declaration: FunctionDeclaration, given: number): boolean {
  const reads = declaration.reads?.length ?? 0;
  const needed = declaration.parameters.map((parameter) => parameter.default === undefined).lastIndexOf(true) + 1;
  return given >= reads + needed && given <= reads + declaration.parameters.length;
}

/** The result of a declared function that is no table look-up, not yet settled. */
export function callDeclared(declaration: FunctionDeclaration, given: readonly Given[]): Scalar {
  const reads = declaration.reads?.length ?? 0;
  const checked = checkGiven(declaration, given);
  if (isScalarError(checked as Scalar)) return checked as ScalarError;
  const columns: Argument[] = [];
  for (const one of given.slice(0, reads)) {
    const column = listOf(one);
    if (isScalarError(column as Scalar)) return column as ScalarError;
    columns.push(column as Argument);
  }
  const outcome = outcomeOf(declaration, checked as readonly Argument[], columns);
  return outcome.ok ? outcome.value : WRONG(outcome.message);
}

/** The typed arguments checked and completed, or the error that stands in the way. */
function checkGiven(declaration: FunctionDeclaration, given: readonly Given[]): readonly Argument[] | ScalarError {
  if (!hasRightCount(declaration, given.length)) return scalarError("NA", WRONG_COUNT);
  const refused = given.find((one) => !isList(one) && isScalarError(one));
  if (refused !== undefined) return refused as ScalarError;
  const plain: Argument[] = [];
  for (const [at, one] of given.slice(declaration.reads?.length ?? 0).entries()) {
    const isColumn = declaration.parameters[at]?.type === "range";
    const argument =
      declaration.run === undefined && (isColumn || isList(one)) ? [] : isColumn ? listOf(one) : argumentOf(one);
    if (isScalarError(argument as Scalar)) return argument as ScalarError;
    plain.push(argument as Argument);
  }
  const checked = checkArguments(declaration, plain);
  return checked.ok ? checked.value : WRONG(checked.problems[0]?.message ?? "no result");
}

/** What is given for a range, where a single value is a list of one. */
function listOf(given: Given): Argument | ScalarError {
  return argumentOf(isList(given) ? given : [given]);
}

function argumentOf(given: Given): Argument | ScalarError {
  if (!isList(given)) return given;
  return given.find(isScalarError) ?? (given as readonly (number | string | boolean | null)[]);
}

const quoted = (value: Scalar) =>
  typeof value === "string" && value !== "" ? `“${value}”` : typeof value === "number" ? `${value}` : "a blank";

/** Rows of a column by key, the first of each; an error in the column stands for all. */
export function rowsByKey(keys: readonly Scalar[]): ReadonlyMap<Key, number> | ScalarError {
  const rows = new Map<Key, number>();
  for (const [at, value] of keys.entries()) {
    if (isScalarError(value)) return value;
    const key = scalarKey(value);
    if (key !== undefined && !rows.has(key)) rows.set(key, at);
  }
  return rows;
}

/** The error of a key that is not in a column. */
export function notListed(name: string, key: Scalar): ScalarError {
  return scalarError("NA", `${name}: found ${quoted(key)}, which is not in the list. Choose one that is.`);
}

/** Sums of a column by key, from the top; an error among the values stands for its key. */
function totalsByKey(
  keys: readonly Scalar[],
  values: readonly Scalar[],
): ReadonlyMap<Key, number | ScalarError> | ScalarError {
  const totals = new Map<Key, number | ScalarError>();
  for (const [at, value] of keys.entries()) {
    if (isScalarError(value)) return value;
    const key = scalarKey(value);
    const before = key === undefined ? undefined : (totals.get(key) ?? 0);
    const amount = values[at] ?? null;
    if (before === undefined || isScalarError(before)) continue;
    if (isScalarError(amount)) totals.set(key, amount);
    else if (typeof amount === "number") totals.set(key, before + amount);
  }
  return totals;
}

/** Whether a value is found by a key. */
function isFoundBy(key: Key, value: Scalar): boolean {
  if (value === key) return true;
  return (
    typeof value === "string" && typeof key === "string" && value.length === key.length && scalarKey(value) === key
  );
}

/** The sum of a single key, without a table of the others; as `totalsByKey` has it. */
function totalOfKey(key: Key, keys: readonly Scalar[], values: readonly Scalar[]): Scalar {
  let total: number | ScalarError = 0;
  for (let at = 0; at < keys.length; at += 1) {
    const value = keys[at] as Scalar;
    if (isScalarError(value)) return value;
    if (isScalarError(total) || !isFoundBy(key, value)) continue;
    const amount = values[at] ?? null;
    if (isScalarError(amount)) total = amount;
    else if (typeof amount === "number") total += amount;
  }
  return total;
}

const rowsOfLists = new WeakMap<readonly Scalar[], ReadonlyMap<Key, number> | ScalarError>();
const countsOfLists = new WeakMap<readonly Scalar[], ReadonlyMap<Key, number> | ScalarError>();

/**
 * Tables of columns by key. What hangs on one list alone is kept as long as the list, the rest for one case of one call, in
 * which one key is asked for or several.
 */
export class Tables {
  readonly isForOneKey: boolean;
  private readonly totals = new Map<readonly Scalar[], ReadonlyMap<Key, number | ScalarError> | ScalarError>();
  private readonly sizes = new Map<readonly Scalar[], ReturnType<typeof sizesByKey>>();

  constructor(asked: "one key" | "several keys") {
    this.isForOneKey = asked === "one key";
  }

  rowsOf(keys: readonly Scalar[]): ReadonlyMap<Key, number> | ScalarError {
    return remembered(rowsOfLists, keys, () => rowsByKey(keys));
  }

  totalsOf(keys: readonly Scalar[], values: readonly Scalar[]): ReadonlyMap<Key, number | ScalarError> | ScalarError {
    return remembered(this.totals, values, () => totalsByKey(keys, values));
  }

  sizesOf(keys: readonly Scalar[], feet: readonly Scalar[], heights: readonly Scalar[]) {
    return remembered(this.sizes, keys, () => sizesByKey(keys, feet, heights));
  }

  countsOf(keys: readonly Scalar[]): ReadonlyMap<Key, number> | ScalarError {
    return remembered(countsOfLists, keys, () => {
      const counts = new Map<Key, number>();
      for (const value of keys) {
        if (isScalarError(value)) return value;
        const key = scalarKey(value);
        if (key !== undefined) counts.set(key, (counts.get(key) ?? 0) + 1);
      }
      return counts;
    });
  }
}

/** Sizes of pieces by key; an error among them stands for its key. */
function sizesByKey(keys: readonly Scalar[], feet: readonly Scalar[], heights: readonly Scalar[]) {
  const found = new Map<Key, { footCm2: number; heightCm: number }[] | ScalarError>();
  const numberOf = (value: Scalar) => (typeof value === "number" ? value : Number(value) || 0);
  for (const [at, value] of keys.entries()) {
    if (isScalarError(value)) return value;
    const key = scalarKey(value);
    if (key === undefined) continue;
    const held = found.get(key) ?? [];
    if (isScalarError(held as Scalar)) continue;
    const [foot, height] = [feet[at] ?? null, heights[at] ?? null];
    const wrong = isScalarError(foot) ? foot : isScalarError(height) ? height : undefined;
    if (!wrong) (held as object[]).push({ footCm2: numberOf(foot), heightCm: numberOf(height) });
    found.set(key, wrong ?? held);
  }
  return found;
}

function remembered<K extends object, V>(known: Pick<WeakMap<K, V>, "get" | "set">, key: K, make: () => V): V {
  let value = known.get(key);
  if (value === undefined) {
    value = make();
    known.set(key, value);
  }
  return value;
}

/** The result of PICK, TOTAL_BY, COUNT_BY, SIZES_BY or FIRING_SHARE, not yet settled. */
export function lookUp(declaration: FunctionDeclaration, given: readonly Given[], tables: Tables): Scalar {
  const checked = checkGiven(declaration, given);
  if (isScalarError(checked as Scalar)) return checked as ScalarError;
  const reads = declaration.reads?.length ?? 0;
  const isColumn = (at: number) => at < reads || declaration.parameters[at - reads]?.type === "range";
  const lists = given.filter((_, at) => isColumn(at)).map((one) => (isList(one) ? one : [one]));
  const key = given[reads] as Scalar;
  const [first = [], second = [], third = []] = lists;
  switch (declaration.name) {
    case "PICK":
      return pick("PICK", key, first, second, tables);
    case "TOTAL_BY": {
      if (tables.isForOneKey && scalarKey(key) !== undefined) return totalOfKey(scalarKey(key), first, second);
      const totals = tables.totalsOf(first, second);
      return isScalarError(totals as Scalar)
        ? (totals as ScalarError)
        : ((totals as ReadonlyMap<Key, Scalar>).get(scalarKey(key)) ?? 0);
    }
    case "COUNT_BY": {
      const counts = tables.countsOf(first);
      return isScalarError(counts as Scalar)
        ? (counts as ScalarError)
        : ((counts as ReadonlyMap<Key, number>).get(scalarKey(key)) ?? 0);
    }
    case "SIZES_BY": {
      const sizes = tables.sizesOf(first, second, third);
      if (isScalarError(sizes as Scalar)) return sizes as ScalarError;
      const held =
        (sizes as ReadonlyMap<Key, { footCm2: number; heightCm: number }[] | ScalarError>).get(scalarKey(key)) ?? [];
      return Array.isArray(held) ? sizesText(held) : held;
    }
    case "FIRING_SHARE": {
      const cost = pick(declaration.name, key, first, second, tables);
      const all = pick(declaration.name, key, first, third, tables);
      return shareOf(key, cost, all, (checked as readonly Argument[])[1] as number);
    }
    default:
      throw new Error(`${declaration.name}: no rule for it in compiled formulas`);
  }
}

function pick(name: string, key: Scalar, keys: readonly Scalar[], values: readonly Scalar[], tables: Tables): Scalar {
  const rows = tables.rowsOf(keys);
  if (isScalarError(rows as Scalar)) return rows as ScalarError;
  const at = (rows as ReadonlyMap<Key, number>).get(scalarKey(key));
  return at === undefined ? notListed(name, key) : (values[at] ?? null);
}

/** A piece's share of a firing's cost, from the cost, what all its pieces weigh together and what this one weighs. */
function shareOf(firing: Scalar, cost: Scalar, all: Scalar, weight: number): Scalar {
  if (isScalarError(cost)) return cost;
  if (isScalarError(all)) return all;
  if (typeof cost !== "number") return WRONG(`FIRING_SHARE: firing ${quoted(firing)} has no cost.`);
  if (typeof all !== "number" || all <= 0)
    return scalarError(
      "NUM",
      `FIRING_SHARE: the pieces in firing ${quoted(firing)} weigh nothing together. Enter their weight or shelf area, or share it by count.`,
    );
  return (cost * weight) / all;
}
