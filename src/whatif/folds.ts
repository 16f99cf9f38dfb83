// Sums and the like: over a whole column, and over the arguments of one call from the left.
import { FOLDS, foldOne } from "./built-in";
import type { Instruction } from "./instructions";
import { at } from "./loops";
import { isFaultKind, load, type Pool, store } from "./registers";
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
  const isSum = name === "SUM" && nature !== "list";
  for (let n = 0; n < cases; n += 1)
    for (let m = 0; m < rows; m += 1) {
      const [i, k] = [at(next, n, m), at(out, n, m)];
      const before = soFar ? (soFar.register.values[at(soFar, n, m)] as number) : fold.from;
      const number = next.register.values[i] as number;
      if (isSum && before === before && number === number) {
        const sum = plus(before, number);
        if (Math.abs(sum) < Number.POSITIVE_INFINITY) {
          out.register.values[k] = sum + 0;
          continue;
        }
      } else if (isSum && nature === "cell" && before === before && !isFaultKind(next.register.kinds[i] as number)) {
        out.register.values[k] = before;
        continue;
      }
      const so_far = soFar ? load(pool, soFar.register, at(soFar, n, m)) : fold.from;
      store(pool, out.register, k, joined(fold, so_far, load(pool, next.register, i), instruction.nature, isLast));
    }
}

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
