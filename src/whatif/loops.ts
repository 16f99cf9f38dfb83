// The loops in which nearly all the time is spent: one sign over all rows of all cases of a block. Wherever the result
// is a finite number the loop goes on; anything else (text, blanks, errors, overflow) is left to the rules of scalar.ts.
import type { Sign } from "./formula-tree";
import { caseStep, FALSE, load, type Operand, type Pool, store, TRUE } from "./registers";
import { applySign, combine, compareNumbers, EPSILON, HOLDS, type Scalar, settle } from "./scalar";

/** A loop over two operands. */
export type Loop = (pool: Pool, out: Operand, left: Operand, right: Operand, rows: number, cases: number) => void;

function slowly(pool: Pool, sign: Sign, out: Operand, o: number, left: Operand, l: number, right: Operand, r: number) {
  const value = combine(sign, load(pool, left.register, l), load(pool, right.register, r));
  store(pool, out.register, o, settle(value));
}

const add: Loop = (pool, out, left, right, rows, cases) => {
  const a = left.register.values;
  const b = right.register.values;
  const c = out.register.values;
  const byCase = rows === 1;
  const outer = byCase ? 1 : cases;
  const inner = byCase ? cases : rows;
  const stepA = byCase ? caseStep(left) : left.step;
  const stepB = byCase ? caseStep(right) : right.step;
  const stepC = byCase ? caseStep(out) : out.step;
  for (let n = 0; n < outer; n += 1) {
    let i = at(left, n, 0);
    let j = at(right, n, 0);
    let k = at(out, n, 0);
    for (let m = 0; m < inner; m += 1, i += stepA, j += stepB, k += stepC) {
      const x = a[i] as number;
      const sum = x + (b[j] as number);
      if (Math.abs(sum) < Infinity) c[k] = Math.abs(sum) < EPSILON * Math.abs(x) ? 0 : sum + 0;
      else slowly(pool, "+", out, k, left, i, right, j);
    }
  }
};

const subtract: Loop = (pool, out, left, right, rows, cases) => {
  const a = left.register.values;
  const b = right.register.values;
  const c = out.register.values;
  const byCase = rows === 1;
  const outer = byCase ? 1 : cases;
  const inner = byCase ? cases : rows;
  const stepA = byCase ? caseStep(left) : left.step;
  const stepB = byCase ? caseStep(right) : right.step;
  const stepC = byCase ? caseStep(out) : out.step;
  for (let n = 0; n < outer; n += 1) {
    let i = at(left, n, 0);
    let j = at(right, n, 0);
    let k = at(out, n, 0);
    for (let m = 0; m < inner; m += 1, i += stepA, j += stepB, k += stepC) {
      const x = a[i] as number;
      const rest = x - (b[j] as number);
      if (Math.abs(rest) < Infinity) c[k] = Math.abs(rest) < EPSILON * Math.abs(x) ? 0 : rest + 0;
      else slowly(pool, "-", out, k, left, i, right, j);
    }
  }
};

const multiply: Loop = (pool, out, left, right, rows, cases) => {
  const a = left.register.values;
  const b = right.register.values;
  const c = out.register.values;
  const byCase = rows === 1;
  const outer = byCase ? 1 : cases;
  const inner = byCase ? cases : rows;
  const stepA = byCase ? caseStep(left) : left.step;
  const stepB = byCase ? caseStep(right) : right.step;
  const stepC = byCase ? caseStep(out) : out.step;
  for (let n = 0; n < outer; n += 1) {
    let i = at(left, n, 0);
    let j = at(right, n, 0);
    let k = at(out, n, 0);
    for (let m = 0; m < inner; m += 1, i += stepA, j += stepB, k += stepC) {
      const product = (a[i] as number) * (b[j] as number);
      if (Math.abs(product) < Infinity) c[k] = product + 0;
      else slowly(pool, "*", out, k, left, i, right, j);
    }
  }
};

const divide: Loop = (pool, out, left, right, rows, cases) => {
  const a = left.register.values;
  const b = right.register.values;
  const c = out.register.values;
  const byCase = rows === 1;
  const outer = byCase ? 1 : cases;
  const inner = byCase ? cases : rows;
  const stepA = byCase ? caseStep(left) : left.step;
  const stepB = byCase ? caseStep(right) : right.step;
  const stepC = byCase ? caseStep(out) : out.step;
  for (let n = 0; n < outer; n += 1) {
    let i = at(left, n, 0);
    let j = at(right, n, 0);
    let k = at(out, n, 0);
    for (let m = 0; m < inner; m += 1, i += stepA, j += stepB, k += stepC) {
      // A division by nothing is infinite or NaN, and so left to the rules.
      const share = (a[i] as number) / (b[j] as number);
      if (Math.abs(share) < Infinity) c[k] = share + 0;
      else slowly(pool, "/", out, k, left, i, right, j);
    }
  }
};

function comparing(sign: Sign): Loop {
  const holds = [-1, 0, 1].map((order) => (HOLDS[sign]?.(order) ? TRUE : FALSE));
  return (pool, out, left, right, rows, cases) => {
    const a = left.register.values;
    const b = right.register.values;
    const kinds = out.register.kinds;
    for (let n = 0; n < cases; n += 1) {
      let i = at(left, n, 0);
      let j = at(right, n, 0);
      let k = at(out, n, 0);
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

function general(sign: Sign): Loop {
  return (pool, out, left, right, rows, cases) => {
    for (let n = 0; n < cases; n += 1)
      for (let m = 0; m < rows; m += 1)
        slowly(pool, sign, out, at(out, n, m), left, at(left, n, m), right, at(right, n, m));
  };
}

/** The place of a row's value in a case. */
export function at(operand: Operand, inCase: number, row: number): number {
  return operand.start + inCase * caseStep(operand) + row * operand.step;
}

/** The loop of each sign between two values. */
export const LOOPS: Readonly<Record<Sign, Loop>> = {
  "+": add,
  "-": subtract,
  "*": multiply,
  "/": divide,
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
  for (let n = 0; n < cases; n += 1) {
    let i = at(of, n, 0);
    let k = at(out, n, 0);
    for (let m = 0; m < rows; m += 1, i += of.step, k += out.step) {
      const number = from[i] as number;
      if (isCopy && !Number.isNaN(number)) out.register.values[k] = number;
      else store(pool, out.register, k, settle(applySign(sign, load(pool, of.register, i))));
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
      store(pool, out.register, k, settle(chosen));
    }
  }
}
