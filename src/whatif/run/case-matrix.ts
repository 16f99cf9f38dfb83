// Cases as the worker takes them: a row a case, a column an input, in the order in which the question was prepared.
import { type CellName, cellKeyOf } from "../../core/document/access";
import type { Answers, Prepared, RunOptions, WhatIfClient } from "./client-port";

/** What every question is asked with: who answers, what was prepared, and where the inputs stand that are not varied. */
export interface Asking {
  readonly client: WhatIfClient;
  readonly prepared: Prepared;
  /** One number an input; NaN leaves it to its formula, or blank. */
  readonly base: Float64Array;
  readonly options?: RunOptions;
}

/** A cell and the number it is given. */
export interface Setting {
  readonly cell: CellName;
  readonly value: number;
}

/** Why an output is no number in some case, with how many cases that is so. */
export interface Gap {
  readonly output: number;
  readonly count: number;
  readonly message: string;
}

/** Whether two names are of the same cell. */
export function sameCell(a: CellName, b: CellName): boolean {
  return a.sheet === b.sheet && a.row === b.row && a.column === b.column;
}

/** The index of a cell among those a question was prepared with. */
export function indexOfCell(cells: readonly CellName[], cell: CellName): number {
  const at = cells.findIndex((one) => sameCell(one, cell));
  if (at < 0) throw new Error(`the question was not prepared with ${cellKeyOf(cell)}`);
  return at;
}

/**
 * Where the inputs stand with some of them set. An input in which nothing is typed is left to the sheets, which NaN says
 * to the worker: a blank one stays blank, and what has a formula follows it, as the pieces to start do when a loss is
 * changed. All others hold today's number.
 */
export function baseWith(
  prepared: Prepared,
  settings: readonly Setting[],
  isTyped: (cell: CellName) => boolean,
): Float64Array {
  const base = Float64Array.from(prepared.inputs, (cell, at) =>
    isTyped(cell) ? (prepared.todayInputs[at] ?? Number.NaN) : Number.NaN,
  );
  for (const { cell, value } of settings) base[indexOfCell(prepared.inputs, cell)] = value;
  return base;
}

/** `count` cases that are all the base. */
export function casesOf(base: Float64Array, count: number): Float64Array {
  const cases = new Float64Array(base.length * count);
  for (let at = 0; at < count; at += 1) cases.set(base, at * base.length);
  return cases;
}

/** One output over all cases. */
export function outputOf(answers: Answers, prepared: Prepared, output: number): Float64Array {
  const width = prepared.outputs.length;
  return Float64Array.from(
    { length: width === 0 ? 0 : answers.outputs.length / width },
    (_, at) => answers.outputs[at * width + output] ?? Number.NaN,
  );
}

/** Which outputs are no number in some case, and why in the first of them. */
export function gapsOf(answers: Answers, prepared: Prepared): readonly Gap[] {
  return prepared.outputs.flatMap((_, output) => {
    const count = outputOf(answers, prepared, output).reduce((sum, value) => sum + (Number.isNaN(value) ? 1 : 0), 0);
    if (count === 0) return [];
    const message = answers.failures.find((failure) => failure.output === output)?.message ?? "It is no number there.";
    return [{ output, count, message }];
  });
}

/**
 * Numbers from `low` to `high`, evenly; of a whole-number input only whole ones, each once. Both ends are among them,
 * and so is `also` where it lies between.
 */
export function stepsBetween(low: number, high: number, count: number, isWhole: boolean, also?: number): Float64Array {
  if (!(high > low)) return Float64Array.of(low);
  const steps = new Set<number>();
  for (let at = 0; at < count; at += 1) {
    const value = at === count - 1 ? high : low + ((high - low) * at) / (count - 1);
    steps.add(isWhole ? Math.round(value) : tidy(value, high - low));
  }
  if (also !== undefined && also >= low && also <= high) steps.add(also);
  return Float64Array.from(steps).sort();
}

/** Without the dust of binary fractions, so that 0.15 is 0.15 and not 0.15000000000000002. */
function tidy(value: number, span: number): number {
  const places = Math.min(15, Math.max(0, 6 - Math.floor(Math.log10(span))));
  return Number(value.toFixed(places));
}
