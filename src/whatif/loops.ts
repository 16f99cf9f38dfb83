// The loops in which nearly all the time is spent: one sign over all rows of all cases of a block. Wherever the result
// is a finite number the loop goes on; anything else (text, blanks, errors, overflow) is left to the rules of scalar.ts.
import type { Sign } from "./formula-tree";
import { caseStep, FALSE, load, type Operand, type Pool, store, TRUE } from "./registers";
import { applySign, combine, compareNumbers, EPSILON, type Scalar, settle } from "./scalar";

/** A loop over two operands. */
export type Loop = (pool: Pool, out: Operand, left: Operand, right: Operand, rows: number, cases: number) => void;

function slowly(pool: Pool, sign: Sign, out: Operand, o: number, left: Operand, l: number, right: Operand, r: number) {
  const value = combine(sign, load(pool, left.register, l), load(pool, right.register, r));
  store(pool, out.register, o, settle(value));
}

const add: Loop = (pool, out, left, right, rows, cases) => {
  const [a, b, c] = [left.register.values, right.register.values, out.register.values];
  const byCase = rows === 1;
  const [outer, inner] = byCase ? [1, cases] : [cases, rows];
  const [la, lb, lc] = [caseStep(left), caseStep(right), caseStep(out)];
  const [sa, sb, sc] = byCase ? [la, lb, lc] : [left.step, right.step, out.step];
  for (let n = 0; n < outer; n += 1) {
    let [i, j, k] = [left.start + n * la, right.start + n * lb, out.start + n * lc];
    for (let m = 0; m < inner; m += 1, i += sa, j += sb, k += sc) {
      const x = a[i] as number;
      const sum = x + (b[j] as number);
      if (Math.abs(sum) < Infinity) c[k] = Math.abs(sum) < EPSILON * Math.abs(x) ? 0 : sum + 0;
      else slowly(pool, "+", out, k, left, i, right, j);
    }
  }
};

const subtract: Loop = (pool, out, left, right, rows, cases) => {
  const [a, b, c] = [left.register.values, right.register.values, out.register.values];
  const byCase = rows === 1;
  const [outer, inner] = byCase ? [1, cases] : [cases, rows];
  const [la, lb, lc] = [caseStep(left), caseStep(right), caseStep(out)];
  const [sa, sb, sc] = byCase ? [la, lb, lc] : [left.step, right.step, out.step];
  for (let n = 0; n < outer; n += 1) {
    let [i, j, k] = [left.start + n * la, right.start + n * lb, out.start + n * lc];
    for (let m = 0; m < inner; m += 1, i += sa, j += sb, k += sc) {
      const x = a[i] as number;
      const rest = x - (b[j] as number);
      if (Math.abs(rest) < Infinity) c[k] = Math.abs(rest) < EPSILON * Math.abs(x) ? 0 : rest + 0;
      else slowly(pool, "-", out, k, left, i, right, j);
    }
  }
};

const multiply: Loop = (pool, out, left, right, rows, cases) => {
  const [a, b, c] = [left.register.values, right.register.values, out.register.values];
  const byCase = rows === 1;
  const [outer, inner] = byCase ? [1, cases] : [cases, rows];
  const [la, lb, lc] = [caseStep(left), caseStep(right), caseStep(out)];
  const [sa, sb, sc] = byCase ? [la, lb, lc] : [left.step, right.step, out.step];
  for (let n = 0; n < outer; n += 1) {
    let [i, j, k] = [left.start + n * la, right.start + n * lb, out.start + n * lc];
    for (let m = 0; m < inner; m += 1, i += sa, j += sb, k += sc) {
      const product = (a[i] as number) * (b[j] as number);
      if (Math.abs(product) < Infinity) c[k] = product + 0;
      else slowly(pool, "*", out, k, left, i, right, j);
    }
  }
};

const divide: Loop = (pool, out, left, right, rows, cases) => {
  const [a, b, c] = [left.register.values, right.register.values, out.register.values];
  const byCase = rows === 1;
  const [outer, inner] = byCase ? [1, cases] : [cases, rows];
  const [la, lb, lc] = [caseStep(left), caseStep(right), caseStep(out)];
  const [sa, sb, sc] = byCase ? [la, lb, lc] : [left.step, right.step, out.step];
  for (let n = 0; n < outer; n += 1) {
    let [i, j, k] = [left.start + n * la, right.start + n * lb, out.start + n * lc];
    for (let m = 0; m < inner; m += 1, i += sa, j += sb, k += sc) {
      // A division by nothing is infinite or NaN, and so left to the rules.
      const share = (a[i] as number) / (b[j] as number);
      if (Math.abs(share) < Infinity) c[k] = share + 0;
      else slowly(pool, "/", out, k, left, i, right, j);
    }
  }
};

/** Whether each sign holds of an order of −1, 0 or 1. */
const HOLDS: Readonly<Partial<Record<Sign, readonly [boolean, boolean, boolean]>>> = {
  "=": [false, true, false],
  "<>": [true, false, true],
  "<": [true, false, false],
  "<=": [true, true, false],
  ">": [false, false, true],
  ">=": [false, true, true],
};

function comparing(sign: Sign): Loop {
  const holds = (HOLDS[sign] ?? [false, false, false]).map((one) => (one ? TRUE : FALSE));
  return (pool, out, left, right, rows, cases) => {
    const [a, b, c, kinds] = [left.register.values, right.register.values, out.register.values, out.register.kinds];
    for (let n = 0; n < cases; n += 1) {
      let [i, j] = [left.start + n * caseStep(left), right.start + n * caseStep(right)];
      let k = out.start + n * caseStep(out);
      for (let m = 0; m < rows; m += 1, i += left.step, j += right.step, k += out.step) {
        const [x, y] = [a[i] as number, b[j] as number];
        if (x - y === x - y) {
          c[k] = Number.NaN;
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
  for (let n = 0; n < cases; n += 1)
    for (let m = 0; m < rows; m += 1) {
      const value: Scalar = load(pool, of.register, at(of, n, m));
      store(pool, out.register, at(out, n, m), settle(applySign(sign, value)));
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
  for (let n = 0; n < cases; n += 1)
    for (let m = 0; m < rows; m += 1) {
      const [c, k] = [at(condition, n, m), at(out, n, m)];
      const kind = Number.isNaN(truths.values[c] as number) ? (truths.kinds[c] as number) : -1;
      const chosen = kind === TRUE ? whenTrue : kind === FALSE ? whenFalse : undefined;
      if (chosen) {
        const value = chosen.register.values[at(chosen, n, m)] as number;
        if (value === value) {
          out.register.values[k] = value;
          continue;
        }
      }
      const given = [condition, whenTrue, whenFalse].map((one) => load(pool, one.register, at(one, n, m)));
      store(pool, out.register, k, settle(slow(given[0] ?? null, given[1] ?? null, given[2] ?? null)));
    }
}
