// The engine's own functions that formulas of this workbook use, one value at a time. What is not here is answered by
// the engine itself. Rules as in hyperformula 3.5.0: arguments are all computed, whichever is taken in the end.
import { plus } from "../../engine/closeness";
import {
  combine,
  compare,
  isScalarError,
  type Scalar,
  type ScalarError,
  scalarError,
  toNumber,
  toTruth,
} from "./scalar";

/** What a function is given: a value, or the values of a whole column. */
export type Given = Scalar | readonly Scalar[];

/** Whether an argument is a whole column. */
export function isList(given: Given | undefined): given is readonly Scalar[] {
  return Array.isArray(given);
}

export interface BuiltIn {
  readonly least: number;
  readonly most: number;
  /** Whether it takes whole columns; others take the one cell of a column that stands in their row, if there is one. */
  readonly takesLists: boolean;
  /** `isCell` says which arguments are cells named outright: text in such a cell is passed over, not refused. */
  readonly run: (given: readonly Given[], isCell: readonly boolean[]) => Scalar;
}

export const WRONG_COUNT = "Wrong number of arguments.";
export const WRONG_TYPE = "Wrong type of argument.";

const scalarsOf = (given: readonly Given[]) => given as readonly Scalar[];

function ofNumbers(run: (...numbers: number[]) => number | ScalarError, least: number, ...defaults: number[]): BuiltIn {
  return {
    least,
    most: least + defaults.length,
    takesLists: false,
    run: (given) => {
      const numbers: number[] = [];
      for (const value of scalarsOf(given)) {
        const number = toNumber(value);
        if (typeof number !== "number") return number;
        numbers.push(number);
      }
      return run(...numbers, ...defaults.slice(given.length - least));
    },
  };
}

function ofValues(least: number, most: number, run: (values: readonly Scalar[]) => Scalar): BuiltIn {
  return { least, most, takesLists: false, run: (given) => run(scalarsOf(given)) };
}

/** Rounds away from the sign, so that −1.5 and 1.5 are treated alike. */
function rounding(round: (size: number) => number): (number: number, places: number) => number {
  return (number, places) => {
    const scale = 10 ** places;
    return number < 0 ? -round(-number * scale) / scale : round(number * scale) / scale;
  };
}

function remainder(dividend: number, divisor: number): number | ScalarError {
  if (divisor === 0) return scalarError("DIV_BY_ZERO");
  const rest = dividend % divisor;
  return rest === 0 || rest < 0 === divisor < 0 ? rest : rest + divisor;
}

/** The value IF gives: its condition's error, or the value chosen. */
export function choose(condition: Scalar, whenTrue: Scalar, whenFalse: Scalar): Scalar {
  const truth = toTruth(condition);
  if (truth === undefined) return scalarError("VALUE", WRONG_TYPE);
  if (typeof truth !== "boolean") return truth;
  return truth ? whenTrue : whenFalse;
}

/** Truths of arguments; a text that is none is refused, in a whole column passed over. */
function truthsOf(given: readonly Given[]): readonly boolean[] | ScalarError {
  const truths: boolean[] = [];
  for (const one of given)
    for (const value of isList(one) ? one : [one]) {
      const truth = toTruth(value);
      if (isScalarError(truth)) return truth;
      if (truth !== undefined) truths.push(truth);
      else if (!isList(one)) return scalarError("VALUE", WRONG_TYPE);
    }
  return truths;
}

function ofTruths(run: (truths: readonly boolean[]) => boolean): BuiltIn {
  return {
    least: 1,
    most: Number.POSITIVE_INFINITY,
    takesLists: true,
    run: (given) => {
      const truths = truthsOf(given);
      return isScalarError(truths as Scalar) ? (truths as ScalarError) : run(truths as readonly boolean[]);
    },
  };
}

function switchOver([selector = null, ...rest]: readonly Scalar[]): Scalar {
  if (isScalarError(selector)) return selector;
  let at = 0;
  for (; at + 1 < rest.length; at += 2) {
    const candidate = rest[at] ?? null;
    if (!isScalarError(candidate) && compare(selector, candidate) === 0) return rest[at + 1] ?? null;
  }
  return at < rest.length ? (rest[at] ?? null) : scalarError("NA", "No default option.");
}

function firstTrue(values: readonly Scalar[]): Scalar {
  if (values.length % 2 === 1) return scalarError("NA", WRONG_COUNT);
  for (let at = 0; at < values.length; at += 2) {
    const truth = toTruth(values[at] ?? null);
    if (truth === undefined) return scalarError("VALUE", WRONG_TYPE);
    if (isScalarError(truth)) return truth;
  }
  for (let at = 0; at + 1 < values.length; at += 2)
    if (toTruth(values[at] ?? null) === true) return values[at + 1] ?? null;
  return scalarError("NA", "None of the conditions were met.");
}

/** A sum and the like over whole columns, cells and values: `join` goes from the left. */
export interface Fold {
  readonly from: number;
  readonly join: (soFar: number, next: number) => number;
  /** What a value of a column or a named cell counts as; undefined where it is passed over. */
  readonly read: (value: Scalar) => number | ScalarError | undefined;
  readonly end?: (result: number) => number;
}

const numbersOnly = (value: Scalar) => (typeof value === "number" || isScalarError(value) ? value : undefined);
const finiteOrNone = (result: number) => (Number.isFinite(result) ? result : 0);

export const FOLDS: Readonly<Record<string, Fold>> = {
  SUM: { from: 0, join: plus, read: numbersOnly },
  PRODUCT: { from: 1, join: (left, right) => left * right, read: numbersOnly },
  MAX: { from: Number.NEGATIVE_INFINITY, join: Math.max, read: numbersOnly, end: finiteOrNone },
  MIN: { from: Number.POSITIVE_INFINITY, join: Math.min, read: numbersOnly, end: finiteOrNone },
  COUNT: { from: 0, join: (left, right) => left + right, read: (value) => (typeof value === "number" ? 1 : 0) },
  COUNTA: { from: 0, join: (left, right) => left + right, read: (value) => (value === null ? 0 : 1) },
};

/** One whole column folded by itself. */
function foldList(fold: Fold, list: readonly Scalar[]): number | ScalarError {
  let result = fold.from;
  for (const value of list) {
    const next = fold.read(value);
    if (isScalarError(next)) return next;
    if (next !== undefined) result = fold.join(result, next);
  }
  return result;
}

/** One more argument joined to what there is so far. */
export function foldOne(fold: Fold, soFar: number, given: Given, isCell: boolean): number | ScalarError {
  if (isList(given)) {
    const value = foldList(fold, given);
    return isScalarError(value) ? value : fold.join(value, soFar);
  }
  const next = fold.read(isCell ? given : toNumber(given));
  if (isScalarError(next)) return next;
  return next === undefined ? soFar : fold.join(soFar, next);
}

function folding(fold: Fold): BuiltIn {
  return {
    least: 1,
    most: Number.POSITIVE_INFINITY,
    takesLists: true,
    run: (given, isCell) => {
      let result = fold.from;
      for (const [at, one] of given.entries()) {
        const next = foldOne(fold, result, one, isCell[at] ?? false);
        if (isScalarError(next)) return next;
        result = next;
      }
      return fold.end ? fold.end(result) : result;
    },
  };
}

/** A plain sum over the count: without the rule for nearly equal numbers. */
function average(given: readonly Given[], isCell: readonly boolean[]): Scalar {
  const plain: Fold = { from: 0, join: (left, right) => left + right, read: numbersOnly };
  let [sum, count] = [0, 0];
  for (const [at, one] of given.entries()) {
    const next = foldOne(plain, 0, one, isCell[at] ?? false);
    if (isScalarError(next)) return next;
    const list = isList(one) ? one : [isCell[at] ? one : toNumber(one)];
    sum = isList(one) ? next + sum : sum + next;
    count += list.filter((value) => typeof value === "number").length;
  }
  return count > 0 ? sum / count : scalarError("DIV_BY_ZERO");
}

const ANY = Number.POSITIVE_INFINITY;

/** Functions of the engine by name. */
export const BUILT_INS: Readonly<Record<string, BuiltIn>> = {
  TRUE: ofValues(0, 0, () => true),
  FALSE: ofValues(0, 0, () => false),
  IF: ofValues(2, 3, ([condition = null, whenTrue = null, whenFalse = false]) =>
    choose(condition, whenTrue, whenFalse),
  ),
  IFS: ofValues(2, ANY, firstTrue),
  IFERROR: ofValues(2, 2, ([value = null, instead = null]) => (isScalarError(value) ? instead : value)),
  IFNA: ofValues(2, 2, ([value = null, instead = null]) =>
    isScalarError(value) && value.type === "NA" ? instead : value,
  ),
  SWITCH: ofValues(3, ANY, switchOver),
  AND: ofTruths((truths) => truths.every(Boolean)),
  OR: ofTruths((truths) => truths.some(Boolean)),
  XOR: ofTruths((truths) => truths.filter(Boolean).length % 2 === 1),
  NOT: ofValues(1, 1, ([value = null]) => {
    const truth = toTruth(value);
    return truth === undefined ? scalarError("VALUE", WRONG_TYPE) : isScalarError(truth) ? truth : !truth;
  }),
  ISBLANK: ofValues(1, 1, ([value]) => value === null),
  ISERROR: ofValues(1, 1, ([value]) => isScalarError(value)),
  ISNUMBER: ofValues(1, 1, ([value]) => typeof value === "number"),
  ISTEXT: ofValues(1, 1, ([value]) => typeof value === "string"),
  ABS: ofNumbers(Math.abs, 1),
  SQRT: ofNumbers(Math.sqrt, 1),
  EXP: ofNumbers(Math.exp, 1),
  LN: ofNumbers(Math.log, 1),
  LOG10: ofNumbers(Math.log10, 1),
  POWER: ofNumbers((base, power) => base ** power, 2),
  MOD: ofNumbers(remainder, 2),
  // The engine's π has fourteen places.
  PI: ofNumbers(() => Number(Math.PI.toFixed(14)), 0),
  SIGN: ofNumbers((number) => (number > 0 ? 1 : number < 0 ? -1 : 0), 1),
  INT: ofNumbers((number) => (number < 0 ? -Math.floor(-number) : Math.floor(number)), 1),
  ROUND: ofNumbers(rounding(Math.round), 1, 0),
  ROUNDUP: ofNumbers(rounding(Math.ceil), 1, 0),
  ROUNDDOWN: ofNumbers(rounding(Math.floor), 1, 0),
  TRUNC: ofNumbers(rounding(Math.floor), 1, 0),
  CONCATENATE: {
    least: 1,
    most: ANY,
    takesLists: true,
    run: (given) => given.flat().reduce<Scalar>((text, next) => combine("&", text, next), ""),
  },
  AVERAGE: { least: 1, most: ANY, takesLists: true, run: average },
  ...Object.fromEntries(Object.entries(FOLDS).map(([name, fold]) => [name, folding(fold)])),
};
