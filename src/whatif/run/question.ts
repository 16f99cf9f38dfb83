// A question made ready: which cells are changed, which are read, and the instructions that lead from one to the other.
// Before it is trusted it is asked what the document holds today, and every cell on the way is held against the engine.
import type { CellName } from "../../core/document/access";
import type { EngineModel } from "../../engine/model";
import { type CellAt, cellsAt, checkToday, compileCells } from "../compile/between";
import { toCellValue, whyNotNumeric } from "../compile/cell-value";
import { Emitter } from "../compile/emitter";
import { ModelGrid, Unsupported } from "../compile/grid";
import { Needs } from "../compile/needs";
import { Pool } from "../compile/registers";
import { givenOut, type Scalar } from "../compile/scalar";
import { makeRun, type Run } from "./execute";

/** A compiled question. */
export interface Question {
  readonly grid: ModelGrid;
  readonly inputs: readonly CellAt[];
  readonly outputs: readonly CellAt[];
  /** Carries out the instructions for a block of cases. */
  readonly run: Run;
  /** The groups of cells on the way, and those of them that are calculated in every case. */
  readonly groups: ReadonlySet<number>;
  readonly needed: ReadonlySet<number>;
  readonly blockSize: number;
  readonly todayInputs: Float64Array;
  readonly todayOutputs: Float64Array;
  /** The same question with nothing taken for granted; itself where nothing is. */
  readonly careful: () => Question;
}

/** A question, or why it can't be answered from compiled formulas. */
export type PreparedQuestion =
  | { readonly ok: true; readonly question: Question }
  | { readonly ok: false; readonly notes: readonly string[] };

/** About so many values of a column are worked on together: few enough to stay close, enough to be worth the while. */
const VALUES_AT_ONCE = 3200;
const MOST_AT_ONCE = 64;
/** Sums go four cases at a time; of very long columns one case fills enough memory. */
const ABREAST = 4;
const LONG_COLUMN = 4000;

function blockSizeFor(height: number): number {
  if (height > LONG_COLUMN) return 1;
  const groups = Math.round(VALUES_AT_ONCE / height / ABREAST);
  return Math.min(MOST_AT_ONCE, ABREAST * Math.max(1, groups));
}

/** Compiles a question and holds today's answer against the engine, cell by cell. */
export function prepareQuestion(
  model: EngineModel,
  inputs: readonly CellName[],
  outputs: readonly CellName[],
): PreparedQuestion {
  try {
    const question = compileQuestion(model, inputs, outputs, "numbers");
    const notes = checkToday(question.grid, model.values, question.groups);
    return notes.length > 0 ? { ok: false, notes } : { ok: true, question };
  } catch (error) {
    if (error instanceof Unsupported) return { ok: false, notes: [error.message] };
    throw error;
  }
}

/** Compiles a question, on trust that cells stay numbers or not. */
function compileQuestion(
  model: EngineModel,
  inputs: readonly CellName[],
  outputs: readonly CellName[],
  trust: "numbers" | "nothing",
): Question {
  const grid = new ModelGrid(model, new Pool());
  const height = Math.max(...model.sheets.map((sheet) => sheet.height));
  const blockSize = blockSizeFor(height);
  const needs = new Needs("followed");
  const emitter = new Emitter(grid, { blockSize, assumes: trust === "numbers", needs });
  const [inputCells, outputCells] = [cellsAt(grid, inputs), cellsAt(grid, outputs)];
  const { groups, needed, steps } = compileCells(emitter, inputCells, outputCells);
  const run = makeRun(grid.pool, steps);
  const numbers = (cells: readonly CellAt[], read: (value: number) => number) =>
    Float64Array.from(cells, ({ column, row }) => {
      const value = grid.valueAt(column, row);
      return typeof value === "number" ? read(value) : Number.NaN;
    });
  let careful: Question | undefined;
  const question: Question = {
    grid,
    inputs: inputCells,
    outputs: outputCells,
    run,
    groups,
    needed,
    blockSize,
    todayInputs: numbers(inputCells, (value) => value),
    todayOutputs: numbers(outputCells, givenOut),
    careful: () => {
      if (trust === "numbers") careful ??= compileQuestion(model, inputs, outputs, "nothing");
      return careful ?? question;
    },
  };
  return question;
}

/** What is found out while cases are answered. */
export interface Findings {
  /** Cases × outputs. */
  readonly outputs: Float64Array;
  readonly failures: Map<number, { readonly output: number; readonly case: number; readonly message: string }>;
}

/** Answers some of the cases, a block at least, and says up to which. `cases` is cases × inputs. */
export function answerBlock(question: Question, cases: Float64Array, from: number, findings: Findings): number {
  const { grid, blockSize, outputs } = question;
  const inputCount = question.inputs.length;
  const count = findings.outputs.length / Math.max(1, outputs.length);
  const size = Math.min(blockSize, count - from);
  const inputs = cases.subarray(from * inputCount, (from + size) * inputCount);
  const mark = grid.pool.mark();
  const block = { cases: size, inputs, inputCount, hasFailed: false };
  question.run(block);
  if (block.hasFailed) {
    grid.pool.backTo(mark);
    return answerBlock(question.careful(), cases, from, findings);
  }
  for (const [at, { column, row }] of outputs.entries())
    for (let n = 0; n < size; n += 1) {
      const value: Scalar = grid.valueAt(column, row, n);
      const isNumber = typeof value === "number";
      findings.outputs[(from + n) * outputs.length + at] = isNumber ? givenOut(value) : Number.NaN;
      if (isNumber || findings.failures.has(at)) continue;
      const message = whyNotNumeric(toCellValue(grid, value, column, row, n));
      findings.failures.set(at, { output: at, case: from + n, message });
    }
  grid.pool.backTo(mark);
  return from + size;
}
