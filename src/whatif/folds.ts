// Sums and the like: over a whole column, and over the arguments of one call from the left.
import { FOLDS, foldOne } from "./built-in";
import type { Instruction } from "./instructions";
import { at } from "./loops";
import { isFaultKind, load, makeRegister, type Pool, store } from "./registers";
import { isFault, plus, type Scalar, settle } from "./scalar";

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
      if (number === number) {
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
  const quick = nature === "list" ? 0 : (QUICK[name] ?? 0);
  const before = soFar ?? { register: NOTHING_YET, start: 0, step: 0 };
  const from = fold.from;
  for (let n = 0; n < cases; n += 1) {
    let i = at(next, n, 0);
    let j = at(before, n, 0);
    let k = at(out, n, 0);
    for (let m = 0; m < rows; m += 1, i += next.step, j += before.step, k += out.step) {
      const x = soFar ? (before.register.values[j] as number) : from;
      const y = next.register.values[i] as number;
      if (quick !== 0 && x === x) {
        const isPassed = y !== y && nature === "cell" && !isFaultKind(next.register.kinds[i] as number);
        const result = isPassed ? x : quick === SUM ? plus(x, y) : quick === LEAST ? Math.min(x, y) : Math.max(x, y);
        if (Math.abs(result) < Number.POSITIVE_INFINITY) {
          out.register.values[k] = result + 0;
          continue;
        }
      }
      const so_far = soFar ? load(pool, soFar.register, j) : from;
      store(pool, out.register, k, joined(fold, so_far, load(pool, next.register, i), nature, isLast));
    }
  }
}

const SUM = 1;
const LEAST = 2;
const MOST = 3;
const QUICK: Readonly<Record<string, number>> = { SUM, MIN: LEAST, MAX: MOST };
const NOTHING_YET = makeRegister(1, undefined);

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
