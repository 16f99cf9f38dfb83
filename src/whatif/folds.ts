// Sums and the like: over a whole column, and over the arguments of one call from the left.
import { FOLDS, foldOne } from "./built-in";
import type { Instruction } from "./instructions";
import { at } from "./loops";
import { isFaultKind, load, makeRegister, type Operand, type Pool, store } from "./registers";
import { EPSILON, isFault, plus, type Scalar, settle } from "./scalar";

type Of<Op extends Instruction["op"]> = Extract<Instruction, { readonly op: Op }>;

/** Folds a whole column, case by case. An error in it is the result. */
export function foldListInstruction(pool: Pool, { fold: name, out, list }: Of<"fold list">, cases: number): void {
  const fold = FOLDS[name];
  if (!fold) return;
  const isSum = name === "SUM";
  for (let n = 0; n < cases; n += 1) {
    const start = list.isPerCase ? n * list.width : 0;
    const k = at(out, n, 0);
    let result = fold.from;
    let failed: Scalar = null;
    for (let i = start; i < start + list.width; i += 1) {
      const number = list.values[i] as number;
      if (!Number.isNaN(number)) {
        if (isSum) result = plus(result, number);
        else result = fold.join(result, fold.read(number) as number);
        continue;
      }
      const kind = list.kinds[i] as number;
      const next = isSum && !isFaultKind(kind) ? undefined : fold.read(pool.valueOf(kind));
      if (isFault(next)) {
        failed = next;
        break;
      }
      if (next !== undefined) result = fold.join(result, next);
    }
    store(pool, out.register, k, failed ?? result);
  }
}

/** Joins one more argument, row by row. */
export function foldInstruction(pool: Pool, instruction: Of<"fold">, cases: number): void {
  const { fold: name, out, soFar, next, nature, isLast, rows } = instruction;
  const fold = FOLDS[name];
  if (!fold) return;
  const quick = QUICK[name];
  for (let n = 0; n < cases; n += 1) {
    const start = { next: at(next, n, 0), soFar: soFar ? at(soFar, n, 0) : 0, out: at(out, n, 0) };
    let from = 0;
    while (from < rows) {
      if (quick && nature !== "list") from = quick(out, soFar, fold.from, next, nature === "cell", start, from, rows);
      if (from === rows) break;
      // One that is no number, or joined to something that is none.
      const before = soFar ? load(pool, soFar.register, start.soFar + from * soFar.step) : fold.from;
      const value = load(pool, next.register, start.next + from * next.step);
      store(pool, out.register, start.out + from * out.step, joined(fold, before, value, nature, isLast));
      from += 1;
    }
  }
}

interface Starts {
  readonly next: number;
  readonly soFar: number;
  readonly out: number;
}

/** Joins from a row on as long as there are numbers, or in cells what is passed over; gives the row where it stopped. */
type Quick = (
  out: Operand,
  soFar: Operand | undefined,
  first: number,
  next: Operand,
  isCell: boolean,
  start: Starts,
  from: number,
  rows: number,
) => number;

const NOTHING_YET = makeRegister(1, undefined).values;

const sumQuickly: Quick = (out, soFar, first, next, isCell, start, from, rows) => {
  const xs = soFar ? soFar.register.values : NOTHING_YET;
  const ys = next.register.values;
  const kinds = next.register.kinds;
  const zs = out.register.values;
  const stepX = soFar ? soFar.step : 0;
  const stepY = next.step;
  const stepZ = out.step;
  let i = start.soFar + from * stepX;
  let j = start.next + from * stepY;
  let k = start.out + from * stepZ;
  for (let m = from; m < rows; m += 1, i += stepX, j += stepY, k += stepZ) {
    const x = soFar ? (xs[i] as number) : first;
    const y = ys[j] as number;
    const sum = x + y;
    if (Math.abs(sum) < Number.POSITIVE_INFINITY) zs[k] = Math.abs(sum) < EPSILON * Math.abs(x) ? 0 : sum + 0;
    else if (isCell && Number.isNaN(y) && !Number.isNaN(x) && !isFaultKind(kinds[j] as number)) zs[k] = x;
    else return m;
  }
  return rows;
};

function extremeQuickly(choose: (x: number, y: number) => number): Quick {
  return (out, soFar, first, next, isCell, start, from, rows) => {
    const ys = next.register.values;
    for (let m = from; m < rows; m += 1) {
      const x = soFar ? (soFar.register.values[start.soFar + m * soFar.step] as number) : first;
      const j = start.next + m * next.step;
      const y = ys[j] as number;
      const isPassed = isCell && Number.isNaN(y) && !isFaultKind(next.register.kinds[j] as number);
      const result = isPassed ? x : choose(x, y);
      if (!(Math.abs(result) < Number.POSITIVE_INFINITY)) return m;
      out.register.values[start.out + m * out.step] = result + 0;
    }
    return rows;
  };
}

const QUICK: Readonly<Record<string, Quick>> = {
  SUM: sumQuickly,
  MIN: extremeQuickly((x, y) => Math.min(x, y)),
  MAX: extremeQuickly((x, y) => Math.max(x, y)),
};

function joined(
  fold: (typeof FOLDS)[string],
  soFar: Scalar,
  next: Scalar,
  nature: Of<"fold">["nature"],
  isLast: boolean,
): Scalar {
  if (typeof soFar !== "number") return isLast ? settle(soFar) : soFar;
  const value =
    nature === "list"
      ? typeof next === "number"
        ? fold.join(next, soFar)
        : next
      : foldOne(fold, soFar, next, nature === "cell");
  if (typeof value !== "number") return isLast ? settle(value) : value;
  if (!isLast) return Number.isNaN(value) ? settle(value) : value;
  return settle(fold.end ? fold.end(value) : value);
}
