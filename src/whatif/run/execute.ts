// Carries instructions out.
import type { FunctionDeclaration } from "../../engine/functions/declare";
import { functionNamed } from "../../engine/functions/index";
import { BUILT_INS, choose, type Given, WRONG_COUNT } from "../compile/built-in";
import { callDeclared, lookUp, Tables } from "../compile/declared";
import { foldInstruction, foldListInstruction, sumCells } from "../compile/folds";
import type { CallArgument, Instruction, Step } from "../compile/instructions";
import { at, chooseLoop, LOOPS, signLoop } from "../compile/loops";
import {
  BLANK,
  CONSTANT,
  caseStep,
  FALSE,
  type InputMask,
  isErrorKind,
  load,
  type Operand,
  type Pool,
  type Register,
  store,
  TRUE,
} from "../compile/registers";
import { HERE, isScalarError, NOWHERE, roundToZero, type Scalar, scalarError } from "../compile/scalar";
import { truthsLoop } from "../compile/truths";

/** The cases of a block: their inputs row by row, or nothing for what the document holds today. */
interface Block {
  readonly cases: number;
  readonly inputs: Float64Array | undefined;
  readonly inputCount: number;
  /** The inputs that may be others than they were for the block before; all of them where it is left out. */
  readonly changed?: InputMask;
  /** Set where something taken for granted does not hold: the values of the block are then of no use. */
  hasFailed?: boolean;
}

type Of<Kind extends Instruction["kind"]> = Extract<Instruction, { readonly kind: Kind }>;

/** Carries out everything for a block of cases. */
export type Run = (block: Block) => void;

/** Makes a list of steps ready to be carried out, again and again: those that hang on what has changed. */
export function makeRun(pool: Pool, steps: readonly Step[]): Run {
  const runs = steps.map(({ instruction }) => bindInstruction(pool, instruction));
  return (block) => {
    const { changed } = block;
    if (changed === undefined) for (const run of runs) run(block);
    else for (const [at, { inputMask }] of steps.entries()) if ((inputMask & changed) !== CONSTANT) runs[at]?.(block);
  };
}

/** Makes an instruction ready to be carried out. */
export function bindInstruction(pool: Pool, one: Instruction): Run {
  switch (one.kind) {
    case "branch":
      return bindBranch(pool, one);
    case "combine":
      return bindCombine(pool, one);
    case "mark":
      return ({ cases }) => {
        if (pool.newErrors > 0) mark(pool, one, cases);
      };
    case "assume":
      return (block) => {
        if (!one.register.areNumbers) assume(one, block);
      };
    case "scatter":
      return ({ cases }) => scatter(one, cases);
    case "gather":
      return ({ cases }) => gather(pool, one, cases);
    case "sum cells":
      return ({ cases }) => sumCells(pool, one, cases);
    case "sign":
      return ({ cases }) => signLoop(pool, one.sign, one.out, one.of, one.rows, cases);
    default: {
      const { register } = one.out;
      const carryOut = otherStep(pool, one);
      return (block) => {
        register.areNumbers = false;
        carryOut(block);
      };
    }
  }
}

type Other = Of<"input" | "choose" | "fold list" | "fold" | "totals" | "share" | "along" | "call">;

function otherStep(pool: Pool, one: Other): Run {
  switch (one.kind) {
    case "input":
      return (block) => input(pool, one, block);
    case "choose":
      return ({ cases }) => chooseLoop(pool, one.out, one.from, one.rows, cases, choose);
    case "fold list":
      return ({ cases }) => foldListInstruction(pool, one, cases);
    case "fold":
      return bindFold(pool, one);
    case "totals":
      return ({ cases }) => totals(pool, one, cases);
    case "share":
      return ({ cases }) => share(pool, one, cases);
    case "along":
      return ({ cases }) => along(pool, one, cases);
    case "call":
      return ({ cases }) => call(pool, one, cases);
  }
}

function bindBranch(pool: Pool, { condition, when, rows, steps }: Of<"branch">): Run {
  const runs = steps.map(({ instruction }) => bindInstruction(pool, instruction));
  return (block) => {
    if (isEverSo(condition, when, rows, block.cases)) for (const run of runs) run(block);
  };
}

/** Whether a condition is true, or false, in any row of any case. */
function isEverSo(condition: Operand, when: boolean, rows: number, cases: number): boolean {
  const { values, kinds } = condition.register;
  for (let n = 0; n < cases; n += 1)
    for (let m = 0; m < rows; m += 1) {
      const k = at(condition, n, m);
      const number = values[k] as number;
      const kind = kinds[k] as number;
      const isNumber = !Number.isNaN(number);
      // What a text or an error comes to is left to the choice.
      if (!isNumber && kind !== TRUE && kind !== FALSE && kind !== BLANK) return true;
      if ((isNumber ? number !== 0 : kind === TRUE) === when) return true;
    }
  return false;
}

function bindCombine(pool: Pool, { sign, out, left, right, rows }: Of<"combine">): Run {
  const loop = LOOPS[sign];
  return ({ cases }) => loop(pool, out, left, right, rows, cases);
}

function bindFold(pool: Pool, one: Of<"fold">): Run {
  return ({ cases }) => foldInstruction(pool, one, cases);
}

function input(pool: Pool, { out, input: number, today, blank }: Of<"input">, block: Block): void {
  const { values, kinds } = out.register;
  for (let n = 0; n < block.cases; n += 1) {
    const given = block.inputs?.[n * block.inputCount + number] ?? Number.NaN;
    const k = at(out, n, 0);
    values[k] = given + 0;
    if (!Number.isNaN(given)) continue;
    kinds[k] = 0;
    const source = block.inputs ? blank : today;
    if (source) store(pool, out.register, k, load(pool, source.register, at(source, n, 0)));
  }
}

function assume({ register, indices }: Of<"assume">, block: Block): void {
  const { values, width } = register;
  let found = 0;
  for (let n = 0; n < block.cases; n += 1)
    for (let m = 0; m < indices.length; m += 1)
      if (Number.isNaN(values[n * width + (indices[m] as number)] as number)) found += 1;
  if (found > 0) block.hasFailed = true;
}

function gather(pool: Pool, { out, from, indices, missing, marks }: Of<"gather">, cases: number): void {
  const source = from.register;
  const target = out.register;
  const values = source.values;
  const into = target.values;
  let plain = 0;
  for (let n = 0; n < cases; n += 1) {
    const start = from.start + n * caseStep(from);
    let k = out.start + n * caseStep(out);
    for (let m = 0; m < indices.length; m += 1, k += out.step) {
      const index = indices[m] as number;
      const number = index < 0 ? Number.NaN : (values[start + index] as number);
      into[k] = number;
      if (Math.abs(number) < Number.POSITIVE_INFINITY) {
        plain += 1;
        continue;
      }
      if (index < 0) store(pool, target, k, missing ? load(pool, missing.register, at(missing, n, m)) : null);
      else if (marks) store(pool, target, k, roundToZero(load(pool, source, start + index)));
      else target.kinds[k] = source.kinds[start + index] as number;
    }
  }
  target.areNumbers = plain === cases * indices.length;
}

function scatter({ into, from, indices }: Of<"scatter">, cases: number): void {
  for (let n = 0; n < cases; n += 1) {
    const [i, k] = [n * from.width, n * into.width];
    for (let m = 0; m < indices.length; m += 1) {
      const target = k + (indices[m] as number);
      const number = from.values[i + m] as number;
      into.values[target] = number;
      if (Number.isNaN(number)) into.kinds[target] = from.kinds[i + m] as number;
    }
  }
}

function totals(pool: Pool, { out, values, groups }: Of<"totals">, cases: number): void {
  const sums = out.register;
  for (let n = 0; n < cases; n += 1) {
    const [i, k] = [values.isPerCase ? n * values.width : 0, n * caseStep(out)];
    sums.values.fill(0, k, k + sums.width);
    for (let m = 0; m < groups.length; m += 1) {
      const group = groups[m] as number;
      if (group < 0) continue;
      const amount = values.values[i + m] as number;
      if (!Number.isNaN(amount)) sums.values[k + group] = (sums.values[k + group] as number) + amount;
      // Once there is an error in a group, NaN stays, and the first error stays with it.
      else if (isErrorKind(values.kinds[i + m] as number) && !Number.isNaN(sums.values[k + group] as number))
        store(pool, sums, k + group, load(pool, values, i + m));
    }
  }
}

function share(pool: Pool, { out, firing, cost, all, weight, rows }: Of<"share">, cases: number): void {
  const [costs, alls, weights, shares] = [cost, all, weight, out].map((one) => one.register.values);
  if (!costs || !alls || !weights || !shares) return;
  for (let n = 0; n < cases; n += 1) {
    let [i, j, w, k] = [at(cost, n, 0), at(all, n, 0), at(weight, n, 0), at(out, n, 0)];
    for (let m = 0; m < rows; m += 1, i += cost.step, j += all.step, w += weight.step, k += out.step) {
      const [part, total] = [weights[w] as number, alls[j] as number];
      const result = ((costs[i] as number) * part) / total;
      if (part >= 0 && total > 0 && Math.abs(result) < Number.POSITIVE_INFINITY) shares[k] = result + 0;
      else
        store(
          pool,
          out.register,
          k,
          roundToZero(slowShare(pool, at(firing, n, m), firing, [cost, i], [all, j], [weight, w])),
        );
    }
  }
}

type OperandAt = readonly [operand: Operand, index: number];

function slowShare(pool: Pool, f: number, firing: Operand, cost: OperandAt, all: OperandAt, weight: OperandAt): Scalar {
  const declaration = functionNamed("FIRING_SHARE");
  const [name = null, one = null, other = null, part = null] = [[firing, f] as OperandAt, cost, all, weight].map(
    ([operand, index]) => load(pool, operand.register, index),
  );
  // The firing's row by itself: one that is not listed has been given its error already.
  return declaration ? lookUp(declaration, [[name], [one], [other], name, part], new Tables("several keys")) : null;
}

function along(pool: Pool, instruction: Of<"along">, cases: number): void {
  const { out, list, rowsOf, what } = instruction;
  const isProduct = what === "KEPT_BEFORE";
  for (let n = 0; n < cases; n += 1) {
    const i = list.isPerCase ? n * list.width : 0;
    let isDone = isPlain(list, i, isProduct);
    for (let m = 0; isDone && m < rowsOf.length; m += 1) {
      let result = isProduct ? 1 : 0;
      for (const row of rowsOf[m] ?? []) {
        const value = list.values[i + row] as number;
        if (!Number.isNaN(value)) result = isProduct ? result * (1 - value) : result + value;
      }
      out.register.values[at(out, n, m)] = result + 0;
      isDone = Math.abs(result) < Number.POSITIVE_INFINITY;
    }
    if (!isDone) callRows(pool, { ...instruction, kind: "call", name: what, rows: rowsOf.length }, n);
  }
}

/** Whether a column holds nothing but numbers, for a product fractions below 1, and blanks. */
function isPlain(list: Register, start: number, isProduct: boolean): boolean {
  for (let at = start; at < start + list.width; at += 1) {
    const value = list.values[at] as number;
    if (!Number.isNaN(value) ? isProduct && !(value >= 0 && value < 1) : list.kinds[at] !== 0) return false;
  }
  return true;
}

/** Results remembered between cases, for what takes long to calculate. */
const TAKES_LONG: ReadonlySet<string> = new Set<FunctionDeclaration["family"]>(["Cones and kilns", "Loss"]);
const remembered = new WeakMap<Instruction, Memory>();

interface Memory {
  readonly known: Map<string, Scalar>;
  asked: number;
  found: number;
}

const MOST_REMEMBERED = 20_000;
/** Nothing more is remembered where of so many calls not one in so many was known. */
const ENOUGH_ASKED = 500;
const LEAST_FOUND = 8;

function call(pool: Pool, instruction: Of<"call">, cases: number): void {
  for (let n = 0; n < cases; n += 1) {
    const done = truthsLoop(instruction, n);
    if (done < instruction.rows) callRows(pool, instruction, n, done);
  }
}

function callRows(pool: Pool, instruction: Of<"call">, inCase: number, from = 0): void {
  const { args, out, rows } = instruction;
  const run = runnerOf(instruction);
  const given: Given[] = args.map((arg) => (arg.kind === "list" ? listOf(pool, arg.list, inCase) : null));
  let [last, result]: [readonly Given[] | undefined, Scalar] = [undefined, null];
  for (let m = from; m < rows; m += 1) {
    for (let a = 0; a < args.length; a += 1) {
      const arg = args[a] as CallArgument;
      if (arg.kind === "value") given[a] = load(pool, arg.value.register, at(arg.value, inCase, m));
    }
    // Neighbours are often alike.
    if (last === undefined || !given.every((one, a) => one === last?.[a])) {
      result = roundToZero(run(given));
      last = [...given];
    }
    store(pool, out.register, at(out, inCase, m), result);
  }
}

/** Columns that no input changes; they are whole before any call reads them. */
const constantLists = new WeakMap<Register, readonly Scalar[]>();

/** The values of a whole column in one case. */
function listOf(pool: Pool, list: Register, inCase: number): readonly Scalar[] {
  const known = constantLists.get(list);
  if (known) return known;
  const start = list.isPerCase ? inCase * list.width : 0;
  const values: Scalar[] = new Array(list.width);
  for (let row = 0; row < list.width; row += 1) values[row] = load(pool, list, start + row);
  if (!list.isPerCase) constantLists.set(list, values);
  return values;
}

function runnerOf(instruction: Of<"call">): (given: readonly Given[]) => Scalar {
  const { name, args } = instruction;
  const declaration = functionNamed(name);
  if (declaration && declaration.run === undefined) {
    const tables = new Tables(instruction.rows === 1 ? "one key" : "several keys");
    return (given) => lookUp(declaration, given, tables);
  }
  if (declaration) {
    const run = (given: readonly Given[]) => callDeclared(declaration, given);
    const isSame = args.every((arg) => arg.kind === "value" || !arg.list.isPerCase);
    return isSame && TAKES_LONG.has(declaration.family) ? rememberedRun(instruction, run) : run;
  }
  const builtIn = BUILT_INS[name];
  const isCell = args.map((arg) => arg.kind === "value" && arg.isCell);
  if (!builtIn || args.length < builtIn.least || args.length > builtIn.most)
    return () => scalarError("NA", WRONG_COUNT);
  return (given) => builtIn.run(given, isCell);
}

function rememberedRun(
  instruction: Of<"call">,
  run: (given: readonly Given[]) => Scalar,
): (given: readonly Given[]) => Scalar {
  const memory = remembered.get(instruction) ?? { known: new Map<string, Scalar>(), asked: 0, found: 0 };
  remembered.set(instruction, memory);
  const { known } = memory;
  const varying = instruction.args.flatMap((arg, a) => (arg.kind === "value" ? [a] : []));
  return (given) => {
    // Where every case is another, to look takes longer than to calculate.
    if (memory.asked > ENOUGH_ASKED && memory.found * LEAST_FOUND < memory.asked) return run(given);
    memory.asked += 1;
    const name = varying.map((a) => `${typeof given[a]} ${JSON.stringify(given[a])}`).join("\n");
    let result = known.get(name);
    if (result !== undefined) memory.found += 1;
    else {
      if (known.size > MOST_REMEMBERED) known.clear();
      result = run(given);
      known.set(name, result);
    }
    return result;
  };
}

function mark(pool: Pool, { register, cells, marksOverflow }: Of<"mark">, cases: number): void {
  const { values, kinds, width, isPerCase } = register;
  const count = isPerCase ? cases : 1;
  for (let n = 0; n < count; n += 1)
    for (let m = 0; m < cells.length; m += 1) {
      const k = n * width + m;
      if (!Number.isNaN(values[k] as number) || !isErrorKind(kinds[k] as number)) continue;
      const value = pool.valueOf(kinds[k] as number);
      if (!isScalarError(value) || value.root > NOWHERE || (value.root === NOWHERE && !marksOverflow)) continue;
      kinds[k] = pool.kindOf({ ...value, root: cells[m] ?? HERE });
    }
  pool.newErrors = 0;
}
