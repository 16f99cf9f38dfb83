// Holds what is foretold of changes, one after the other, against what the engine then says: every computed cell of the
// document, whether it moves or not, to the last bit.
import { type CellName, formulaOf } from "../../src/core/document/access";
import { applyChange } from "../../src/core/document/change";
import { SHEET_KEYS, type Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";
import { ValueStore } from "../../src/engine/value-store";
import type { Value } from "../../src/engine/values";
import { sameValue } from "../../src/whatif/compile/between";
import { type Ahead, prepareAhead } from "../../src/whatif/run/ahead";
import { patchOf } from "../../src/whatif/run/foretold";
import { caseChange } from "./whatif-compare";

export interface AheadComparison {
  readonly notes: readonly string[];
  readonly differences: readonly string[];
  /** Cells compared, and cases of which nothing was foretold. */
  readonly cells: number;
  readonly unanswered: number;
}

/** Makes inputs ready and gives them one case after the other; NaN clears. */
export function compareAhead(
  start: Workbook,
  inputs: readonly CellName[],
  cases: readonly (readonly number[])[],
): AheadComparison {
  let book = start;
  const engine = new Engine(book);
  const found = { notes: [] as readonly string[], differences: [] as string[], cells: 0, unanswered: 0 };
  let ahead: Ahead | undefined;
  const [shown, truth] = [new ValueStore(book), new ValueStore(book)];
  for (const store of [shown, truth]) store.accept(engine.values());
  for (const values of cases) {
    if (!ahead) {
      const model = engine.model();
      const outcome = model && prepareAhead(model, inputs);
      if (!outcome?.ok) {
        found.notes = outcome?.notes ?? ["no model"];
        break;
      }
      ahead = outcome.ahead;
    }
    const isForetold = layOver(shown, ahead, values);
    if (!isForetold) {
      found.unanswered += 1;
      ahead = undefined;
    }
    const change = caseChange(book, inputs, values);
    book = applyChange(book, change);
    const said = engine.apply(change);
    truth.accept(said);
    if (isForetold) compareShown(book, shown, truth, found);
    const isNews = shown.accept(said);
    if (isForetold && (isNews || shown.liftOver())) found.differences.push(`${values}: the engine said something new`);
  }
  engine.close();
  return found;
}

function layOver(store: ValueStore, ahead: Ahead, values: readonly number[]): boolean {
  const foretold = ahead.answer(Float64Array.from(values));
  if (foretold) store.layOver(patchOf(ahead.columns, foretold));
  return foretold !== undefined;
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
        found.differences.push(`${sheet} ${row.id} ${column.key}: ${texts[0]} foretold, ${texts[1]} by the engine`);
      }
}
