// Answers for what can't be compiled: a private engine is set and read, one case after the other. It is built from a copy
// of the document, once for each version of it, and never seen by the maker.
import { type CellName, rawAt, typedValueOf } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import type { Workbook } from "../../core/document/workbook";
import type { Engine } from "../../engine/engine";
import { ValueStore } from "../../engine/value-store";
import type { Value } from "../../engine/values";

export class PrivateEngine {
  private readonly values: ValueStore;
  private readonly book: Workbook;
  private readonly engine: Engine;

  constructor(book: Workbook, engine: Engine) {
    this.book = book;
    this.engine = engine;
    this.values = new ValueStore(book);
    this.values.accept(engine.values());
  }

  /** What the outputs give when the inputs are set; NaN clears one. The document's own values come back after `reset`. */
  answer(inputs: readonly CellName[], outputs: readonly CellName[], values: Float64Array): readonly Value[] {
    this.set(inputs, (_, at) => {
      const value = values[at] ?? Number.NaN;
      return Number.isNaN(value) ? undefined : value;
    });
    return outputs.map((cell) => this.valueOf(cell, inputs, values));
  }

  /** Puts back what the document holds. */
  reset(inputs: readonly CellName[]): void {
    this.set(inputs, (cell) => rawAt(this.book, cell));
  }

  /** What a cell holds now: computed, or typed in the document. */
  today(cell: CellName): Value {
    const value = this.values.get(cell.sheet, cell.row, cell.column);
    if (value !== undefined) return value;
    return typedValueOf(rawAt(this.book, cell));
  }

  close(): void {
    this.engine.close();
  }

  private valueOf(cell: CellName, inputs: readonly CellName[], values: Float64Array): Value {
    const at = inputs.findIndex(
      ({ sheet, row, column }) => sheet === cell.sheet && row === cell.row && column === cell.column,
    );
    const given = values[at] ?? Number.NaN;
    return Number.isNaN(given) ? this.today(cell) : given;
  }

  private set(inputs: readonly CellName[], is: (cell: CellName, at: number) => ReturnType<typeof rawAt>): void {
    const change: Change = {
      label: "What if",
      operations: inputs.map((cell, at) => ({ kind: "cell", ...cell, was: rawAt(this.book, cell), is: is(cell, at) })),
    };
    this.values.accept(this.engine.apply(change));
  }
}
