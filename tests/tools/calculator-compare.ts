// Holds what the calculator says of changes, one after the other, against what the engine then says: every computed cell of
// the document, whether it moves or not, to the last bit.
import { type CellName, cellKeyOf, formulaOf, resolveCell } from "../../src/core/document/access";
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
  // Whether a cell is computed can change in inputs only.
  const always = computedCells(start, new Set(inputs.map(cellKeyOf)));
  const computed = () => [...always, ...inputs.filter((cell) => resolveCell(book, cell)?.formula !== undefined)];
  const found = { notes: [] as readonly string[], differences: [] as string[], cells: 0, unanswered: 0 };
  const [shown, truth] = [new ValueStore(book), new ValueStore(book)];
  for (const store of [shown, truth]) store.accept(engine.values());
  const opened = calculator.prepare(inputs);
  if (opened.ok) {
    shown.showPending(opened.patch);
    compareShown(computed(), shown, truth, found);
  } else found.notes = opened.notes;
  for (const values of opened.ok ? cases : []) {
    const change = caseChange(book, inputs, values);
    book = applyChange(book, change);
    const quick = calculator.apply(change);
    if (!quick) found.unanswered += 1;
    const patch = quick ?? calculator.again(inputs);
    const said = engine.apply(change);
    truth.accept(said);
    // A number may close a circle, which is the engine's.
    if (!patch) {
      shown.dropPending();
      shown.accept(said);
      continue;
    }
    shown.showPending(patch);
    compareShown(computed(), shown, truth, found);
    const isNews = shown.accept(said);
    const difference = shown.dropPending();
    if (isNews || difference) found.differences.push(`${values}: the engine said something new`);
  }
  engine.apply(backChange(start, inputs));
  return found;
}

/** Every computed cell of a book but those others. */
function computedCells(book: Workbook, others: ReadonlySet<string>): CellName[] {
  return SHEET_KEYS.flatMap((sheet) =>
    book.sheets[sheet].rows.flatMap((row) =>
      book.sheets[sheet].columns
        .filter((column) => formulaOf(column, row) !== undefined)
        .map((column): CellName => ({ sheet, row: row.id, column: column.key }))
        .filter((cell) => !others.has(cellKeyOf(cell))),
    ),
  );
}

function compareShown(
  cells: readonly CellName[],
  shown: ValueStore,
  truth: ValueStore,
  found: { differences: string[]; cells: number },
): void {
  for (const { sheet, row, column } of cells) {
    found.cells += 1;
    const [ours, theirs] = [shown.get(sheet, row, column), truth.get(sheet, row, column)];
    if (sameValue(ours as Value, theirs as Value)) continue;
    const texts = [ours, theirs].map((value) => JSON.stringify(value));
    found.differences.push(`${sheet} ${row} ${column}: ${texts[0]} calculated, ${texts[1]} by the engine`);
  }
}
