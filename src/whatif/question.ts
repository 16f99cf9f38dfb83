// A question made ready: which cells are changed, which are read, and the instructions that lead from one to the other.
// Before it is trusted it is asked what the document holds today, and every cell on the way is held against the engine.
import { type CellName, cellKeyOf } from "../core/access";
import type { EngineModel } from "../engine/model";
import { isTrouble, type Value } from "../engine/values";
import { compileGroup, compileInput } from "./compile";
import { Emitter } from "./emitter";
import { makeRun, type Run } from "./execute";
import { Grid, type GridColumn, type Group, Unsupported } from "./grid";
import { orderGroups } from "./order";
import { makeRegister, Pool } from "./registers";
import { givenOut, type Scalar } from "./scalar";
import { toldValue, valueAt, whyNoNumber } from "./told";

interface CellAt {
  readonly column: GridColumn;
  readonly place: number;
}

/** A compiled question. */
export interface Question {
  readonly grid: Grid;
  readonly inputs: readonly CellAt[];
  readonly outputs: readonly CellAt[];
  /** Carries out the instructions for a block of cases. */
  readonly run: Run;
  /** The groups of cells on the way. */
  readonly groups: ReadonlySet<number>;
  readonly blockSize: number;
  readonly todayInputs: Float64Array;
  readonly todayOutputs: Float64Array;
  /** The same question with nothing taken for granted; itself where nothing is. */
  readonly careful: () => Question;
}

/** A question, or why it can't be answered from compiled formulas. */
export type Outcome =
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

/** No more differences than this are told. */
const MOST_NOTES = 5;

/** Compiles a question and holds today's answer against the engine, cell by cell. */
export function prepareQuestion(
  model: EngineModel,
  inputs: readonly CellName[],
  outputs: readonly CellName[],
): Outcome {
  try {
    const question = compileQuestion(model, inputs, outputs, true);
    const notes = checkToday(question);
    return notes.length > 0 ? { ok: false, notes } : { ok: true, question };
  } catch (error) {
    if (error instanceof Unsupported) return { ok: false, notes: [error.message] };
    throw error;
  }
}

function compileQuestion(
  model: EngineModel,
  inputs: readonly CellName[],
  outputs: readonly CellName[],
  assumes: boolean,
): Question {
  const grid = new Grid(model, new Pool());
  const height = Math.max(...model.sheets.map((sheet) => sheet.height));
  const blockSize = blockSizeFor(height);
  const emitter = new Emitter(grid, blockSize, assumes);
  const [inputCells, outputCells] = [cellsAt(grid, inputs), cellsAt(grid, outputs)];
  const groups = compileCells(emitter, inputCells, outputCells);
  const run = makeRun(grid.pool, emitter.instructions);
  const today = { cases: 1, inputs: undefined, inputCount: inputs.length, hasFailed: false };
  run(today);
  if (today.hasFailed) return compileQuestion(model, inputs, outputs, false);
  const numbers = (cells: readonly CellAt[], read: (value: number) => number) =>
    Float64Array.from(cells, ({ column, place }) => {
      const value = valueAt(grid, column, place, 0);
      return typeof value === "number" ? read(value) : Number.NaN;
    });
  let careful: Question | undefined;
  const question: Question = {
    grid,
    inputs: inputCells,
    outputs: outputCells,
    run,
    groups,
    blockSize,
    todayInputs: numbers(inputCells, (value) => value),
    todayOutputs: numbers(outputCells, givenOut),
    careful: () => {
      if (assumes) careful ??= compileQuestion(model, inputs, outputs, false);
      return careful ?? question;
    },
  };
  return question;
}

/** Compiles everything between inputs and outputs; the groups of cells on the way. */
function compileCells(emitter: Emitter, inputs: readonly CellAt[], outputs: readonly CellAt[]): ReadonlySet<number> {
  const { grid } = emitter;
  const typed = inputs.map(({ column, place }) => (column.groupOf[place] ?? -1) < 0);
  const inputOf = new Map<number, Input>();
  for (const [at, { column, place }] of inputs.entries()) {
    const group = grid.setApart(column, place);
    const input = { at, column, place, isTyped: typed[at] ?? false };
    if (group === undefined) addInput(emitter, input, undefined);
    else inputOf.set(group, input);
  }
  const wanted = [...inputs, ...outputs].map(({ column, place }) => column.groupOf[place] ?? -1);
  const withFormula = wanted.filter((group) => group >= 0);
  const order = orderGroups(grid, withFormula, (group) => formulaIn(grid, group));
  for (const number of order) compileOne(emitter, number, inputOf.get(number));
  return new Set(order);
}

function cellsAt(grid: Grid, cells: readonly CellName[]): readonly CellAt[] {
  return cells.map((cell) => cellAt(grid, cell));
}

function cellAt(grid: Grid, cell: CellName): CellAt {
  const at = grid.placeOf(cell);
  if (!at) throw new Unsupported(`${cell.sheet} has no cell ${cell.row}, ${cell.column}`);
  return { column: grid.column(at.sheet, at.column), place: at.place };
}

interface Input extends CellAt {
  readonly at: number;
  /** Whether a value stands there today, and no formula. */
  readonly isTyped: boolean;
}

function compileOne(emitter: Emitter, number: number, input: Input | undefined): void {
  const group = emitter.grid.groups[number];
  if (!group) return;
  try {
    if (input) addInput(emitter, input, group);
    else compileGroup(emitter, group);
  } catch (error) {
    if (error instanceof Unsupported) throw new Unsupported(`${formulaIn(emitter.grid, group)}: ${error.message}`);
    throw error;
  }
}

function addInput(emitter: Emitter, { at, column, place, isTyped }: Input, group: Group | undefined): void {
  const own = group && compileInput(emitter, group, group.node);
  const register = makeRegister(1, emitter.blockSize);
  const typed = { register: column.constants, start: place, step: 0 };
  emitter.instructions.push({
    op: "input",
    out: { register, start: 0, step: 0 },
    input: at,
    today: isTyped || !own ? typed : own,
    blank: group?.covered ? compileInput(emitter, group, group.covered) : own,
  });
  emitter.addPart(column, emitter.grid.rows(Int32Array.of(place)), register);
}

/** A formula as a note names it: with the first cell it stands in. */
function formulaIn(grid: Grid, { sheet, column, places, text }: Group): string {
  const cell = grid.nameOf(sheet, column, places[0] ?? 0);
  return `${cell ? cellKeyOf(cell) : "a cell"}, ${text}`;
}

/** What differs between the engine's values and those of the question just carried out for today. */
function checkToday({ grid, groups }: Question): readonly string[] {
  const notes: string[] = [];
  for (const [sheet, { formulas }] of grid.model.sheets.entries())
    for (const { column: at, values } of formulas) {
      const column = grid.column(sheet, at);
      for (let index = 0; index < values.places.length && notes.length < MOST_NOTES; index += 1) {
        const place = values.places[index] ?? 0;
        if (!groups.has(column.groupOf[place] ?? -1)) continue;
        const other = values.others[index] ?? -1;
        const live = other < 0 ? (values.numbers[index] ?? null) : (grid.model.others[other] ?? null);
        const note = difference(grid, column, place, live);
        if (note) notes.push(note);
      }
    }
  return notes;
}

function difference(grid: Grid, column: GridColumn, place: number, live: Value): string | undefined {
  const ours = toldValue(grid, valueAt(grid, column, place, 0), column, place, 0);
  if (sameValue(ours, live)) return undefined;
  const group = grid.groups[column.groupOf[place] ?? -1];
  const cell = grid.nameOf(column.sheet, column.column, place);
  return `${cell?.sheet} ${cell?.row} ${cell?.column}: ${show(ours)} here, ${show(live)} in the engine, ${group?.text}`;
}

const show = (value: Value) => JSON.stringify(value);

/** Whether two values given out are the same, errors in their words and where they began. */
export function sameValue(one: Value, other: Value): boolean {
  if (!isTrouble(one) || !isTrouble(other)) return Object.is(one, other);
  const [a, b] = [one.from, other.from];
  const isSamePlace = a?.sheet === b?.sheet && a?.row === b?.row && a?.column === b?.column;
  return isSamePlace && one.trouble === other.trouble && one.message === other.message;
}

/** What is found out while cases are answered. */
export interface Findings {
  /** Cases × outputs. */
  readonly outputs: Float64Array;
  readonly troubles: Map<number, { readonly output: number; readonly case: number; readonly message: string }>;
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
  for (const [at, { column, place }] of outputs.entries())
    for (let n = 0; n < size; n += 1) {
      const value: Scalar = valueAt(grid, column, place, n);
      const isNumber = typeof value === "number";
      findings.outputs[(from + n) * outputs.length + at] = isNumber ? givenOut(value) : Number.NaN;
      if (isNumber || findings.troubles.has(at)) continue;
      const message = whyNoNumber(toldValue(grid, value, column, place, n));
      findings.troubles.set(at, { output: at, case: from + n, message });
    }
  grid.pool.backTo(mark);
  return from + size;
}
