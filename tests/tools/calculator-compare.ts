// Holds what the calculator says of changes, one after the other, against what the engine then says: every computed cell of
// the document, whether it moves or not, to the last bit.
import { type CellName, formulaOf } from "../../src/core/document/access";
import { applyChange } from "../../src/core/document/change";
import { SHEET_KEYS, type Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";
import { layoutOf } from "../../src/engine/layout";
import { ValueStore } from "../../src/engine/value-store";
import type { Value } from "../../src/engine/values";
import { sameValue } from "../../src/whatif/compile/between";
import { Calculator } from "../../src/whatif/run/calculator";
import { backChange, caseChange } from "./whatif-compare";

export interface CalculatorComparison {
  readonly notes: readonly string[];
  readonly differences: readonly string[];
  /** Cells compared, and cases that were answered only once everything was compiled anew. */
  readonly cells: number;
  readonly unanswered: number;
}

/** Makes inputs ready and gives them one case after the other; NaN clears. */
export function compareCalculator(
  start: Workbook,
  inputs: readonly CellName[],
  cases: readonly (readonly number[])[],
): CalculatorComparison {
  const engine = new Engine(start);
  const found = compareWith(engine, start, inputs, cases);
  engine.close();
  return found;
}

/** The same with an engine that has the workbook, and has it again afterwards. */
export function compareWith(
  engine: Engine,
  start: Workbook,
  inputs: readonly CellName[],
  cases: readonly (readonly number[])[],
): CalculatorComparison {
  let book = start;
  const calculator = new Calculator(book, layoutOf(book), []);
  const found = { notes: [] as readonly string[], differences: [] as string[], cells: 0, unanswered: 0 };
  const [shown, truth] = [new ValueStore(book), new ValueStore(book)];
  for (const store of [shown, truth]) store.accept(engine.values());
  const opened = calculator.prepare(inputs);
  if ("patch" in opened) {
    shown.layOver(opened.patch);
    compareShown(book, shown, truth, found);
  } else found.notes = opened.notes;
  for (const values of "patch" in opened ? cases : []) {
    const change = caseChange(book, inputs, values);
    book = applyChange(book, change);
    const quick = calculator.apply(change);
    if (!quick) found.unanswered += 1;
    const patch = quick ?? calculator.again();
    const said = engine.apply(change);
    truth.accept(said);
    // A number may close a circle, which is the engine's.
    if (!patch) {
      shown.liftOver();
      shown.accept(said);
      continue;
    }
    shown.layOver(patch);
    compareShown(book, shown, truth, found);
    const isNews = shown.accept(said);
    const difference = shown.liftOver();
    if (isNews || difference) found.differences.push(`${values}: the engine said something new`);
  }
  engine.apply(backChange(start, inputs));
  return found;
}

function compareShown(
  book: Workbook,
  shown: ValueStore,
  truth: ValueStore,
  found: { differences: string[]; cells: number },
): void {
  for (const sheet of SHEET_KEYS)
    for (const row of book.sheets[sheet].rows)
      for (const column of book.sheets[sheet].columns) {
        if (formulaOf(column, row) === undefined) continue;
        found.cells += 1;
        const [ours, theirs] = [shown, truth].map((store) => store.get(sheet, row.id, column.key));
        if (sameValue(ours as Value, theirs as Value)) continue;
        const texts = [ours, theirs].map((value) => JSON.stringify(value));
        found.differences.push(`${sheet} ${row.id} ${column.key}: ${texts[0]} calculated, ${texts[1]} by the engine`);
      }
}
