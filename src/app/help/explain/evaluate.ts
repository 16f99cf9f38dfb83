// The value of a piece of a formula, from the values of the cells it names. It knows the functions the sheets use, and ours;
// of anything else it says that it does not know, and what depends on it is then shown as calculated.
import { sizesText } from "../../../ceramics/loads/kiln-room";
import { type Expression, insideOf } from "../../../core/formula/tree";
import type { FunctionDeclaration } from "../../../engine/functions/declare";
import { functionNamed } from "../../../engine/functions/index";
import { type CellError, isCellError, type Value } from "../../../engine/values";
import { BUILT_INS, type BuiltIn, type Given } from "../../../whatif/compile/built-in";
import { callDeclared } from "../../../whatif/compile/declared";
import { applySign, type Scalar } from "../../../whatif/compile/scalar";
import { combineValues, fromScalar, NO_VALUE, toScalar, valueToNumber, valueToTruth } from "./scalars";
import { type CellContext, columnValues, inputNamed, type Named, namedBy, readCell, rowIndexesOf } from "./view";

/** Names that stand for a whole column's value count as lists. */
type List = readonly (Value | undefined)[];

/** The engine's own functions that are calculated here, besides those that choose a branch. */
const CALCULATED: ReadonlySet<string> = new Set([
  ...["AND", "OR", "NOT", "ISNUMBER", "ROUND", "ROUNDUP", "ROUNDDOWN", "ABS"],
  ...["SUM", "COUNT", "MIN", "MAX", "AVERAGE", "PRODUCT", "CONCATENATE"],
]);

/** The value of an expression in one cell's formula; undefined where it can't be known here. */
export function evaluate(expression: Expression, here: CellContext): Value | undefined {
  switch (expression.kind) {
    case "number":
    case "text":
    case "boolean":
      return expression.value;
    case "nothing":
      return null;
    case "error":
      return NO_VALUE;
    case "array":
    case "range":
      return undefined;
    case "name":
    case "reference":
      return valueNamed(here, namedIn(expression, here));
    case "percent":
      return signed("%", expression.of, here);
    case "unary":
      return signed(expression.sign, expression.of, here);
    case "binary": {
      const left = evaluate(expression.left, here);
      const right = evaluate(expression.right, here);
      return left === undefined || right === undefined ? undefined : combineValues(expression.sign, left, right);
    }
    case "call":
      return call(expression, here);
  }
}

/** What a name or a reference stands for. */
export function namedIn(expression: Extract<Expression, { kind: "name" | "reference" }>, here: CellContext): Named {
  return expression.kind === "name" ? inputNamed(here, expression.name) : namedBy(here, expression.to);
}

/** The column that an argument names, if it is one. */
export function columnGiven(
  expression: Expression | undefined,
  here: CellContext,
): Extract<Named, { kind: "column" }> | undefined {
  if (expression?.kind !== "reference") return undefined;
  const named = namedBy(here, expression.to);
  return named.kind === "column" ? named : undefined;
}

function valueNamed({ view }: CellContext, named: Named): Value | undefined {
  if (named.kind === "cell") return readCell(view, named.cell);
  return named.kind === "absent" ? 0 : NO_VALUE;
}

function signed(sign: "+" | "-" | "%", of: Expression, here: CellContext): Value | undefined {
  const value = evaluate(of, here);
  return value === undefined ? undefined : fromScalar(applySign(sign, toScalar(value)));
}

type Call = Extract<Expression, { kind: "call" }>;

function call(expression: Call, here: CellContext): Value | undefined {
  const { name, given } = expression;
  switch (name) {
    case "IF":
    case "SWITCH":
    case "IFERROR": {
      const branch = branchTaken(expression, here);
      return branch !== undefined && "kind" in branch ? evaluate(branch, here) : branch;
    }
    case "PICK":
    case "TOTAL_BY":
    case "COUNT_BY":
    case "SIZES_BY":
    case "FIRING_SHARE":
      return lookUp(name, given, here);
    default: {
      const builtIn = CALCULATED.has(name) ? BUILT_INS[name] : undefined;
      return builtIn ? ofEngine(builtIn, given, here) : declared(functionNamed(name), given, here);
    }
  }
}

/** The branch a choice takes; an error where its condition is one, undefined where that can't be known. */
export function branchTaken({ name, given }: Call, here: CellContext): Expression | CellError | undefined {
  const [first, second, third] = given;
  if (!first) return NO_VALUE;
  const value = evaluate(first, here);
  if (value === undefined) return undefined;
  if (name === "IFERROR") return isCellError(value) ? (second ?? NO_VALUE) : first;
  if (isCellError(value)) return value;
  if (name === "SWITCH") return switched(value, given.slice(1), here);
  const truth = valueToTruth(value);
  if (isCellError(truth)) return truth;
  return truth ? (second ?? NO_VALUE) : (third ?? { kind: "boolean", value: false, start: 0, end: 0 });
}

function switched(value: Value, cases: readonly Expression[], here: CellContext): Expression | CellError | undefined {
  for (let at = 0; at + 1 < cases.length; at += 2) {
    const [against, result] = [cases[at], cases[at + 1]];
    const other = against && evaluate(against, here);
    if (other === undefined) return undefined;
    if (combineValues("=", value, other) === true) return result;
  }
  return cases.length % 2 === 1 ? cases.at(-1) : NO_VALUE;
}

/** A function of the engine's own. */
function ofEngine(builtIn: BuiltIn, given: readonly Expression[], here: CellContext): Value | undefined {
  if (given.length < builtIn.least || given.length > builtIn.most) return NO_VALUE;
  const values = argumentsOf(given, here, () => builtIn.takesLists);
  const isCell = given.map(({ kind }) => kind === "reference" || kind === "name");
  return values && fromScalar(builtIn.run(values, isCell));
}

/** What a function is given, whole columns as lists where it takes them; undefined where one can't be known. */
function argumentsOf(
  given: readonly Expression[],
  here: CellContext,
  takesList: (at: number) => boolean,
): readonly Given[] | undefined {
  const values: Given[] = [];
  for (const [at, one] of given.entries()) {
    const column = takesList(at) ? columnGiven(one, here) : undefined;
    const value = column ? listOf(columnValues(here.view, column.sheet, column.column)) : scalarOf(one, here);
    if (value === undefined) return undefined;
    values.push(value);
  }
  return values;
}

function scalarOf(expression: Expression, here: CellContext): Scalar | undefined {
  const value = evaluate(expression, here);
  return value === undefined ? undefined : toScalar(value);
}

function listOf(values: List): readonly Scalar[] | undefined {
  return values.includes(undefined) ? undefined : values.map((value) => toScalar(value ?? null));
}

function lookUp(
  name: "PICK" | "TOTAL_BY" | "COUNT_BY" | "SIZES_BY" | "FIRING_SHARE",
  given: readonly Expression[],
  here: CellContext,
): Value | undefined {
  const { view } = here;
  const key = given[0] && evaluate(given[0], here);
  if (key === undefined || isCellError(key)) return key;
  if (name === "FIRING_SHARE") return firingShare(key, given[1] && evaluate(given[1], here), here);
  const [keys, values] = [columnGiven(given[1], here), columnGiven(given[2], here)];
  if (!keys || (name !== "COUNT_BY" && !values)) return undefined;
  const names = columnValues(view, keys.sheet, keys.column);
  const wrong = names.find((value) => value === undefined || isCellError(value));
  if (names.length > 0 && (wrong !== undefined || names.includes(undefined))) return wrong;
  const rows = rowIndexesOf(view, keys.sheet, keys.column, key);
  if (name === "COUNT_BY") return rows.length;
  const list: List = values ? columnValues(view, values.sheet, values.column) : [];
  if (name === "SIZES_BY") return sizesAt(rows, list, columnGiven(given[3], here), here);
  if (name === "PICK") return rows[0] === undefined ? NO_VALUE : list[rows[0]];
  let total = 0;
  for (const at of rows) {
    const value = list[at];
    if (value === undefined || isCellError(value)) return value;
    if (typeof value === "number") total += value;
  }
  return total;
}

/** The sizes of the pieces at some row indexes: feet and heights. */
function sizesAt(
  rows: readonly number[],
  feet: List,
  heights: Extract<Named, { kind: "column" }> | undefined,
  { view }: CellContext,
): Value | undefined {
  const tall = heights ? columnValues(view, heights.sheet, heights.column) : undefined;
  if (!tall) return undefined;
  const values = rows.flatMap((at) => [feet[at], tall[at]]);
  if (values.includes(undefined)) return undefined;
  const wrong = values.find(isCellError);
  const size = (value: Value | undefined) => (typeof value === "number" ? value : 0);
  return wrong ?? sizesText(rows.map((at) => ({ footCm2: size(feet[at]), heightCm: size(tall[at]) })));
}

function firingShare(firing: Value, weight: Value | undefined, { view }: CellContext): Value | undefined {
  const at = rowIndexesOf(view, "firings", "id", firing)[0];
  if (weight === undefined || isCellError(weight)) return weight;
  if (at === undefined) return NO_VALUE;
  const cost = columnValues(view, "firings", "cost")[at];
  const all = columnValues(view, "firings", "weight")[at];
  if (cost === undefined || isCellError(cost)) return cost;
  if (all === undefined || isCellError(all)) return all;
  const share = valueToNumber(weight);
  if (typeof cost !== "number" || typeof all !== "number" || all <= 0 || isCellError(share)) return NO_VALUE;
  return (cost * share) / all;
}

/** A function of ours: typed arguments checked by its table, whole columns as lists. */
function declared(
  declaration: FunctionDeclaration | undefined,
  given: readonly Expression[],
  here: CellContext,
): Value | undefined {
  if (!declaration?.run) return undefined;
  const typed = argumentsOf(given, here, (at) => declaration.parameters[at]?.type === "range");
  const read: Given[] = [];
  for (const { sheet, column } of declaration.reads ?? []) {
    const list = listOf(columnValues(here.view, sheet, column));
    if (list === undefined) return undefined;
    read.push(list);
  }
  return typed && fromScalar(callDeclared(declaration, [...read, ...typed]));
}

/** Whether a formula's own calculation is the cell's value: the same text, or the same number to one part in 10¹² of it or of `size`. */
export function agrees(calculated: Value | undefined, value: Value | undefined, size = 0): boolean {
  if (typeof calculated !== "number" || typeof value !== "number") return (calculated ?? null) === (value ?? null);
  return Math.abs(calculated - value) <= 1e-12 * Math.max(Math.abs(calculated), Math.abs(value), size);
}

/** Every name and reference of an expression, in the order in which they are written. */
export function referencesIn(expression: Expression): readonly Extract<Expression, { kind: "name" | "reference" }>[] {
  if (expression.kind === "name" || expression.kind === "reference") return [expression];
  return insideOf(expression).flatMap(referencesIn);
}
