// Sums and the like: over a whole column, and over the arguments of one call from the left.
import { EPSILON, plus } from "../../engine/closeness";
import { FOLDS, foldOne } from "./built-in";
import type { Addend, Instruction } from "./instructions";
import { at } from "./loops";
import { caseStep, isErrorKind, load, makeRegister, type Operand, type Pool, type Register, store } from "./registers";
import { isScalarError, roundToZero, type Scalar } from "./scalar";

type Of<Kind extends Instruction["kind"]> = Extract<Instruction, { readonly kind: Kind }>;

/** Folds a whole column, case by case. An error in it is the result. */
export function foldListInstruction(pool: Pool, instruction: Of<"fold list">, cases: number): void {
  const { fold, out, list, rows } = instruction;
  let n = 0;
  // Sums of four cases at a time: each has to wait for its own last addition only.
  if (fold === "SUM" && list.isPerCase && rows === undefined) while (n + 4 <= cases && sumFour(list, n, out)) n += 4;
  for (; n < cases; n += 1) foldOneList(pool, instruction, n);
}

function sumFour(list: Register, inCase: number, out: Operand): boolean {
  const { values, width } = list;
  const i = inCase * width;
  let [a, b, c, d] = [0, 0, 0, 0];
  for (let m = i; m < i + width; m += 1) {
    const [w, x, y, z] = [
      a + (values[m] as number),
      b + (values[m + width] as number),
      c + (values[m + 2 * width] as number),
      d + (values[m + 3 * width] as number),
    ];
    // What nearly cancels, and what is no number, is summed by the rules.
    if (
      !(Math.abs(w) >= EPSILON * Math.abs(a)) ||
      !(Math.abs(x) >= EPSILON * Math.abs(b)) ||
      !(Math.abs(y) >= EPSILON * Math.abs(c)) ||
      !(Math.abs(z) >= EPSILON * Math.abs(d))
    )
      return false;
    a = w;
    b = x;
    c = y;
    d = z;
  }
  const k = at(out, inCase, 0);
  const step = caseStep(out);
  out.register.values[k] = a;
  out.register.values[k + step] = b;
  out.register.values[k + 2 * step] = c;
  out.register.values[k + 3 * step] = d;
  return true;
}

function foldOneList(pool: Pool, { fold: name, out, list, rows }: Of<"fold list">, inCase: number): void {
  const fold = FOLDS[name];
  if (!fold) return;
  const { values, kinds, width } = list;
  const start = list.isPerCase ? inCase * width : 0;
  const count = rows ? rows.length : width;
  const isSum = name === "SUM";
  let result = fold.from;
  for (let m = 0; m < count; m += 1) {
    const i = start + (rows ? (rows[m] as number) : m);
    const number = values[i] as number;
    if (!Number.isNaN(number)) {
      result = isSum ? plus(result, number) : fold.join(result, fold.read(number) as number);
      continue;
    }
    const kind = kinds[i] as number;
    const next = isSum && !isErrorKind(kind) ? undefined : fold.read(pool.valueOf(kind));
    if (isScalarError(next)) {
      store(pool, out.register, at(out, inCase, 0), next);
      return;
    }
    if (next !== undefined) result = fold.join(result, next);
  }
  store(pool, out.register, at(out, inCase, 0), tooLarge(result));
}

/** What is no number any more because it grew too large is reported at the end only. */
function tooLarge(result: number): number {
  return Number.isNaN(result) ? Number.POSITIVE_INFINITY : result;
}

/** Joins one more argument, row by row. */
export function foldInstruction(pool: Pool, instruction: Of<"fold">, cases: number): void {
  const { out, soFar, next, rows } = instruction;
  // A single row is gone through case by case in one go.
  if (rows === 1) {
    foldRun(pool, instruction, soFar ? soFar.start : 0, next.start, out.start, "cases", cases);
    return;
  }
  for (let n = 0; n < cases; n += 1)
    foldRun(pool, instruction, soFar ? at(soFar, n, 0) : 0, at(next, n, 0), at(out, n, 0), "rows", rows);
}

function foldRun(
  pool: Pool,
  { fold: name, out, soFar, next, nature, isLast }: Of<"fold">,
  startX: number,
  startY: number,
  startZ: number,
  along: "cases" | "rows",
  count: number,
): void {
  const fold = FOLDS[name];
  if (!fold) return;
  const quick = QUICK[name] ?? 0;
  const xs = soFar ? soFar.register.values : NOTHING_YET;
  const ys = next.register.values;
  const kinds = next.register.kinds;
  const zs = out.register.values;
  const isByCase = along === "cases";
  const stepX = soFar ? (isByCase ? caseStep(soFar) : soFar.step) : 0;
  const stepY = isByCase ? caseStep(next) : next.step;
  const stepZ = isByCase ? caseStep(out) : out.step;
  let i = startX;
  let j = startY;
  let k = startZ;
  for (let m = 0; m < count; m += 1, i += stepX, j += stepY, k += stepZ) {
    const x = soFar ? (xs[i] as number) : fold.from;
    const y = ys[j] as number;
    if (quick > 0) {
      // A cell that holds no number and no error is passed over; a column has been folded by itself already.
      const isPassed = nature === "cell" && Number.isNaN(y) && !isErrorKind(kinds[j] as number);
      const result = isPassed ? x : joinQuickly(quick, x, y, nature === "list");
      if (Math.abs(result) < Number.POSITIVE_INFINITY) {
        zs[k] = result + 0;
        continue;
      }
    }
    const before = soFar ? load(pool, soFar.register, i) : fold.from;
    store(pool, out.register, k, joined(fold, before, load(pool, next.register, j), nature, isLast));
  }
}

function joinQuickly(quick: number, x: number, y: number, isList: boolean): number {
  if (quick === SUM) return isList ? plus(y, x) : plus(x, y);
  return quick === LEAST ? Math.min(x, y) : Math.max(x, y);
}

const NOTHING_YET = makeRegister(1, undefined).values;
const SUM = 1;
const LEAST = 2;
const MOST = 3;
const QUICK: Readonly<Record<string, number>> = { SUM, MIN: LEAST, MAX: MOST };

function joined(
  fold: (typeof FOLDS)[string],
  soFar: Scalar,
  next: Scalar,
  nature: Of<"fold">["nature"],
  isLast: boolean,
): Scalar {
  if (typeof soFar !== "number") return isLast ? roundToZero(soFar) : soFar;
  const value =
    nature === "list"
      ? typeof next === "number"
        ? fold.join(next, soFar)
        : next
      : foldOne(fold, soFar, next, nature === "cell");
  if (typeof value !== "number") return isLast ? roundToZero(value) : value;
  if (!isLast) return tooLarge(value);
  return roundToZero(fold.end ? fold.end(value) : value);
}

/** SUM over cells named outright, where only the cells that can be numbers are looked at. */
export function sumCells(pool: Pool, { out, addends, rows }: Of<"sum cells">, cases: number): void {
  const sums = out.register.values;
  let areNumbers = true;
  for (let n = 0; n < cases; n += 1) {
    const start = at(out, n, 0);
    sums.fill(0, start, start + rows);
    for (const addend of addends) addCells(pool, out, addend, start, n);
    for (let k = start; k < start + rows; k += 1) {
      const sum = sums[k] as number;
      if (Math.abs(sum) < Number.POSITIVE_INFINITY) sums[k] = sum + 0;
      else {
        areNumbers = false;
        store(pool, out.register, k, roundToZero(load(pool, out.register, k)));
      }
    }
  }
  out.register.areNumbers = areNumbers;
}

function addCells(pool: Pool, out: Operand, { from, indices, rows, isInOrder }: Addend, start: number, inCase: number) {
  const base = from.isPerCase ? inCase * from.width : 0;
  let m = 0;
  while (m < rows.length) {
    m = isInOrder
      ? addInOrder(out.register.values, start, rows, from.values, base + (indices[0] ?? 0), m)
      : addAnywhere(out.register.values, start, rows, from.values, base, indices, m);
    if (m < rows.length) addSlowly(pool, out, start + (rows[m] ?? 0), from, base + (indices[m] ?? 0));
    m += 1;
  }
}

/** Adds from one on as long as nothing needs the rules; gives the one that does. */
function addInOrder(
  sums: Float64Array,
  start: number,
  rows: Int32Array,
  values: Float64Array,
  first: number,
  from: number,
): number {
  const count = rows.length;
  for (let m = from; m < count; m += 1) {
    const to = start + (rows[m] as number);
    const x = sums[to] as number;
    const sum = x + (values[first + m] as number);
    if (!(Math.abs(sum) >= EPSILON * Math.abs(x))) return m;
    sums[to] = sum;
  }
  return count;
}

function addAnywhere(
  sums: Float64Array,
  start: number,
  rows: Int32Array,
  values: Float64Array,
  base: number,
  indices: Int32Array,
  from: number,
): number {
  const count = rows.length;
  for (let m = from; m < count; m += 1) {
    const to = start + (rows[m] as number);
    const x = sums[to] as number;
    const sum = x + (values[base + (indices[m] as number)] as number);
    if (!(Math.abs(sum) >= EPSILON * Math.abs(x))) return m;
    sums[to] = sum;
  }
  return count;
}

function addSlowly(pool: Pool, out: Operand, k: number, from: Register, index: number): void {
  const before = load(pool, out.register, k);
  const next = load(pool, from, index);
  if (typeof before !== "number" || (typeof next !== "number" && !isScalarError(next))) return;
  store(pool, out.register, k, typeof next === "number" ? plus(before, next) : next);
}
