// Holds compiled answers against the engine: every computed cell on the way, case by case, to the last bit.
import { type CellName, rawAt } from "../../src/core/document/access";
import type { Change } from "../../src/core/document/change";
import type { Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";
import type { Value } from "../../src/engine/values";
import { sameValue } from "../../src/whatif/compile/between";
import { toCellValue } from "../../src/whatif/compile/cell-value";
import { prepareQuestion, type Question } from "../../src/whatif/run/question";

/** What compiling came to, and where it is not what the engine says. */
export interface Comparison {
  readonly notes: readonly string[];
  readonly differences: readonly string[];
  readonly cells: number;
  readonly errors: number;
}

/** The change that puts a case into a document; NaN clears. */
export function caseChange(book: Workbook, inputs: readonly CellName[], values: readonly number[]): Change {
  return {
    label: "case",
    operations: inputs.map((cell, at) => {
      const value = values[at] ?? Number.NaN;
      return { kind: "cell", ...cell, was: rawAt(book, cell), is: Number.isNaN(value) ? undefined : value };
    }),
  };
}

/** The change that puts back what the document says. */
export const backChange = (book: Workbook, inputs: readonly CellName[]): Change => ({
  label: "back",
  operations: inputs.map((cell) => ({ kind: "cell", ...cell, was: undefined, is: rawAt(book, cell) })),
});

/** Every computed cell of a workbook. */
function computedCells(engine: Engine): CellName[] {
  const cells: CellName[] = [];
  for (const { sheet, rows, columns, formulas } of engine.model()?.sheets ?? []) {
    const [ids, keys] = [rows, columns].map((indices) => new Map([...indices].map(([name, index]) => [index, name])));
    for (const { column, rows: filled } of formulas)
      for (const row of filled) cells.push({ sheet, row: ids?.get(row) ?? "", column: keys?.get(column) ?? "" });
  }
  return cells;
}

/** Compares all cases of a question about a workbook; `outputs` are all computed cells unless given. */
export function compareCases(
  book: Workbook,
  inputs: readonly CellName[],
  cases: readonly (readonly number[])[],
  outputs?: readonly CellName[],
): Comparison {
  const engine = new Engine(book);
  const model = engine.model();
  if (!model) throw new Error("no model");
  const outcome = prepareQuestion(model, inputs, outputs ?? computedCells(engine));
  const found = outcome.ok
    ? compareAnswers(outcome.question, engine, book, inputs, cases)
    : { notes: outcome.notes, differences: [], cells: 0, errors: 0 };
  engine.close();
  return found;
}

/** Compares all cases of a question with what an engine of the workbook says; which has the workbook again afterwards. */
export function compareAnswers(
  question: Question,
  engine: Engine,
  book: Workbook,
  inputs: readonly CellName[],
  cases: readonly (readonly number[])[],
): Comparison {
  const found = { notes: [], differences: [] as string[], cells: 0, errors: 0 };
  for (const [at, values] of cases.entries()) {
    engine.apply(caseChange(book, inputs, values));
    // In the middle of a block, where its neighbours could spill over.
    const neighbours = [cases.at(at - 1), values, cases[(at + 1) % cases.length]].map((one) => one ?? values);
    compareOne(question, engine, neighbours, found);
  }
  engine.apply(backChange(book, inputs));
  return found;
}

function compareOne(
  asked: Question,
  engine: Engine,
  neighbours: readonly (readonly number[])[],
  found: { differences: string[]; cells: number; errors: number },
): void {
  const middle = asked.blockSize < 3 ? 0 : 1;
  const values = neighbours[1] ?? [];
  const inputs = Float64Array.from(middle === 0 ? values : neighbours.flat());
  const block = { cases: middle === 0 ? 1 : 3, inputs, inputCount: values.length, hasFailed: false };
  let question = asked;
  let mark = question.grid.pool.mark();
  question.run(block);
  if (block.hasFailed) {
    question.grid.pool.backTo(mark);
    question = asked.careful();
    mark = question.grid.pool.mark();
    question.run({ ...block, hasFailed: false });
  }
  const { grid, needed } = question;
  const live = engine.model();
  for (const { sheet: key, column: at, values: given } of live?.values.columns ?? []) {
    const sheet = grid.sheetNumber(key);
    const column = grid.column(sheet, at);
    for (let index = 0; index < given.rows.length; index += 1) {
      const row = given.rows[index] ?? 0;
      if (!needed.has(column.groupOf[row] ?? -1)) continue;
      const other = given.others[index] ?? -1;
      const theirs: Value = other < 0 ? (given.numbers[index] ?? null) : (live?.values.others[other] ?? null);
      const ours = toCellValue(grid, grid.valueAt(column, row, middle), column, row, middle);
      found.cells += 1;
      if (typeof theirs === "object" && theirs !== null) found.errors += 1;
      if (sameValue(ours, theirs)) continue;
      const cell = grid.nameOf(sheet, at, row);
      const text = grid.groups[column.groupOf[row] ?? -1]?.formula;
      found.differences.push(
        `${values}: ${cell?.sheet} ${cell?.row} ${cell?.column} ${JSON.stringify(ours)} engine ${JSON.stringify(theirs)} ${text}`,
      );
    }
  }
  grid.pool.backTo(mark);
}
