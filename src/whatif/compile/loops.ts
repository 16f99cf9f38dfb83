// The loops in which nearly all the time is spent: one sign over all rows of all cases of a block. Wherever the result
// is a finite number the loop goes on; anything else (text, blanks, errors, overflow) is left to the rules of scalar.ts.

import type { BinarySign } from "../../core/formula/tree";
import { compareNumbers, EPSILON } from "../../engine/closeness";
import { QUICK_LOOPS } from "./quick-loops";
import { caseStep, FALSE, load, type Operand, type Pool, store, TRUE } from "./registers";
import { applySign, combine, HOLDS, isDay, roundToZero, type Scalar } from "./scalar";

/** A loop over two operands. */
export type Loop = (pool: Pool, out: Operand, left: Operand, right: Operand, rows: number, cases: number) => void;

function slowly(
  pool: Pool,
  sign: BinarySign,
  out: Operand,
  o: number,
  left: Operand,
  l: number,
  right: Operand,
  r: number,
) {
  const value = combine(sign, load(pool, left.register, l), load(pool, right.register, r));
  store(pool, out.register, o, roundToZero(value));
}

/** One of the four sums: in the quick loops as far as they go. */
function sum(sign: "+" | "-" | "*" | "/"): Loop {
  const { manyMany, manyOne, oneMany } = QUICK_LOOPS[sign];
  return (pool, out, left, right, rows, cases) => {
    const a = left.register.values;
    const b = right.register.values;
    const c = out.register.values;
    if (rows === 1) {
      out.register.areNumbers = false;
      oneByOne(
        pool,
        sign,
        out,
        left,
        right,
        left.start,
        right.start,
        out.start,
        caseStep(left),
        caseStep(right),
        caseStep(out),
        cases,
      );
      return;
    }
    const isFlat = isWhole(left, rows) && isWhole(right, rows);
    let areNumbers = true;
    const outer = isFlat ? 1 : cases;
    const inner = isFlat ? cases * rows : rows;
    for (let n = 0; n < outer; n += 1) {
      const i = at(left, n, 0);
      const j = at(right, n, 0);
      const k = at(out, n, 0);
      let isDone: boolean;
      if (left.step === 0) isDone = oneMany(c, k, b, j, a[i] as number, inner);
      else if (right.step === 0) isDone = manyOne(c, k, a, i, b[j] as number, inner);
      else isDone = manyMany(c, k, a, i, b, j, inner);
      if (isDone) continue;
      areNumbers = false;
      oneByOne(pool, sign, out, left, right, i, j, k, left.step, right.step, out.step, inner);
    }
    out.register.areNumbers = areNumbers;
  };
}

/** Whether an operand's rows of all cases follow on one another. */
function isWhole(operand: Operand, rows: number): boolean {
  return operand.step === 1 && operand.start === 0 && operand.register.isPerCase && operand.register.width === rows;
}

/** Value after value; only what is no plain number is left to the rules. */
function oneByOne(
  pool: Pool,
  sign: "+" | "-" | "*" | "/",
  out: Operand,
  left: Operand,
  right: Operand,
  startA: number,
  startB: number,
  startC: number,
  stepA: number,
  stepB: number,
  stepC: number,
  count: number,
): void {
  const a = left.register.values;
  const b = right.register.values;
  const c = out.register.values;
  const cancels = sign === "+" || sign === "-";
  let i = startA;
  let j = startB;
  let k = startC;
  for (let n = 0; n < count; n += 1, i += stepA, j += stepB, k += stepC) {
    const x = a[i] as number;
    const y = b[j] as number;
    const result = sign === "+" ? x + y : sign === "-" ? x - y : sign === "*" ? x * y : x / y;
    if (Math.abs(result) < Number.POSITIVE_INFINITY && !(cancels && Math.abs(result) < EPSILON * Math.abs(x)))
      c[k] = result + 0;
    else slowly(pool, sign, out, k, left, i, right, j);
  }
}

function rowsOneByOne(
  pool: Pool,
  sign: BinarySign,
  out: Operand,
  left: Operand,
  right: Operand,
  rows: number,
  inCase: number,
): void {
  for (let m = 0; m < rows; m += 1)
    slowly(pool, sign, out, at(out, inCase, m), left, at(left, inCase, m), right, at(right, inCase, m));
}

function comparing(sign: BinarySign): Loop {
  const holds = [-1, 0, 1].map((order) => (HOLDS[sign]?.(order) ? TRUE : FALSE));
  return (pool, out, left, right, rows, cases) => {
    const a = left.register.values;
    const b = right.register.values;
    const kinds = out.register.kinds;
    let known: Int32Array | undefined;
    for (let n = 0; n < cases; n += 1) {
      let i = at(left, n, 0);
      let j = at(right, n, 0);
      let k = at(out, n, 0);
      if (rows > FEW && right.step === 0 && Number.isNaN(b[j] as number)) {
        if (known === undefined || right.register.isPerCase) known = new Int32Array(pool.kinds).fill(UNKNOWN);
        compareWithOne(pool, sign, out, k, left, i, right, j, rows, known);
        continue;
      }
      for (let m = 0; m < rows; m += 1, i += left.step, j += right.step, k += out.step) {
        const x = a[i] as number;
        const y = b[j] as number;
        if (!Number.isNaN(x) && !Number.isNaN(y)) {
          out.register.values[k] = Number.NaN;
          kinds[k] = holds[compareNumbers(x, y) + 1] as number;
        } else slowly(pool, sign, out, k, left, i, right, j);
      }
    }
  };
}

/** So few rows are compared one by one. */
const FEW = 8;

/** Many values beside one that is no number, mostly a text: what a kind comes to beside it is worked out once, and `known`. */
function compareWithOne(
  pool: Pool,
  sign: BinarySign,
  out: Operand,
  start: number,
  left: Operand,
  first: number,
  right: Operand,
  j: number,
  rows: number,
  known: Int32Array,
): void {
  const { values, kinds } = left.register;
  const results = out.register.kinds;
  const one = load(pool, right.register, j);
  const ofNumbers = isLikeAnyNumber(one) ? orderKind(sign, 0, one) : UNKNOWN;
  let i = first;
  let k = start;
  for (let m = 0; m < rows; m += 1, i += left.step, k += out.step) {
    const isNumber = !Number.isNaN(values[i] as number);
    const kind = kinds[i] as number;
    const result = isNumber ? ofNumbers : (known[kind] ?? UNKNOWN);
    if (result === UNKNOWN) {
      slowly(pool, sign, out, k, left, i, right, j);
      const found = results[k] as number;
      // A number has been compared by itself, and an error begins in each cell anew.
      if (!isNumber && (found === TRUE || found === FALSE)) known[kind] = found;
      continue;
    }
    out.register.values[k] = Number.NaN;
    results[k] = result;
  }
}

const UNKNOWN = -1;

/** Whether every number stands in the same order to a value: to a text that is no day. */
function isLikeAnyNumber(value: Scalar): boolean {
  return typeof value === "string" && !isDay(value);
}

function orderKind(sign: BinarySign, left: Scalar, right: Scalar): number {
  return combine(sign, left, right) === true ? TRUE : FALSE;
}

function general(sign: BinarySign): Loop {
  return (pool, out, left, right, rows, cases) => {
    for (let n = 0; n < cases; n += 1) rowsOneByOne(pool, sign, out, left, right, rows, n);
  };
}

/** The index of a row's value in a case. */
export function at(operand: Operand, inCase: number, row: number): number {
  return operand.start + inCase * caseStep(operand) + row * operand.step;
}

/** The loop of each sign between two values. */
export const LOOPS: Readonly<Record<BinarySign, Loop>> = {
  "+": sum("+"),
  "-": sum("-"),
  "*": sum("*"),
  "/": sum("/"),
  "^": general("^"),
  "&": general("&"),
  "=": comparing("="),
  "<>": comparing("<>"),
  "<": comparing("<"),
  "<=": comparing("<="),
  ">": comparing(">"),
  ">=": comparing(">="),
};

/** A sign before or after one value. */
export function signLoop(
  pool: Pool,
  sign: "-" | "+" | "%" | "()",
  out: Operand,
  of: Operand,
  rows: number,
  cases: number,
): void {
  const from = of.register.values;
  const isCopy = sign === "()" || sign === "+";
  out.register.areNumbers = isCopy && of.register.areNumbers;
  for (let n = 0; n < cases; n += 1) {
    let i = at(of, n, 0);
    let k = at(out, n, 0);
    for (let m = 0; m < rows; m += 1, i += of.step, k += out.step) {
      const number = from[i] as number;
      if (isCopy && !Number.isNaN(number)) out.register.values[k] = number;
      else store(pool, out.register, k, roundToZero(applySign(sign, load(pool, of.register, i))));
    }
  }
}

/** Chooses by a truth: IF. A condition that is an error is the result; one that is a text is an error. */
export function chooseLoop(
  pool: Pool,
  out: Operand,
  [condition, whenTrue, whenFalse]: readonly [Operand, Operand, Operand],
  rows: number,
  cases: number,
  slow: (condition: Scalar, whenTrue: Scalar, whenFalse: Scalar) => Scalar,
): void {
  const truths = condition.register;
  for (let n = 0; n < cases; n += 1) {
    let c = at(condition, n, 0);
    let i = at(whenTrue, n, 0);
    let j = at(whenFalse, n, 0);
    let k = at(out, n, 0);
    for (let m = 0; m < rows; m += 1, c += condition.step, i += whenTrue.step, j += whenFalse.step, k += out.step) {
      const truth = truths.values[c] as number;
      const isTrue = !Number.isNaN(truth) ? truth !== 0 : truths.kinds[c] === TRUE;
      if (isTrue || !Number.isNaN(truth) || truths.kinds[c] === FALSE) {
        const number = (isTrue ? whenTrue.register.values[i] : whenFalse.register.values[j]) as number;
        if (!Number.isNaN(number)) {
          out.register.values[k] = number;
          continue;
        }
      }
      const chosen = slow(load(pool, truths, c), load(pool, whenTrue.register, i), load(pool, whenFalse.register, j));
      store(pool, out.register, k, roundToZero(chosen));
    }
  }
}
