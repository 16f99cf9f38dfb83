// The calculator: it keeps a document of its own, compiled, and answers changes before the engine does. What it can't
// answer it leaves to the engine; whatever it says is held against the engine's values by the page.
import { type CellName, cellKeyOf, rawAt } from "../../core/document/access";
import { applyChange, type Change } from "../../core/document/change";
import type { Workbook } from "../../core/document/workbook";
import { type Layout, layOut } from "../../engine/layout";
import { readModel } from "../../engine/model";
import type { Patch } from "../../engine/values";
import { isNumberOf, movesValues } from "./input-change";
import { type Compiled, compileWorkbook } from "./speculate";

/** The values of every formula, or why they can't be given. */
export type CalculatedWorkbook =
  | { readonly ok: true; readonly patch: Patch }
  | { readonly ok: false; readonly notes: readonly string[] };

interface Ready {
  readonly inputs: readonly CellName[];
  /** Where each input stands among them. */
  readonly keys: ReadonlyMap<string, number>;
  readonly compiled: Compiled;
}

const NOTHING: Patch = { columns: [], others: [] };

/** A document that is calculated from its compiled formulas. */
export class Calculator {
  #book: Workbook;
  readonly #layout: Layout;
  readonly #excluded: readonly string[];
  #ready: Ready | undefined;

  /** The layout is the engine's, and becomes the calculator's own. */
  constructor(book: Workbook, layout: Layout, excluded: readonly string[]) {
    this.#book = book;
    this.#layout = layout;
    this.#excluded = excluded;
  }

  /** Compiles everything, so that changes of these inputs are answered at once from now on. */
  prepare(inputs: readonly CellName[]): CalculatedWorkbook {
    this.#ready = undefined;
    const outcome = compileWorkbook(readModel(this.#book, this.#layout, this.#excluded), inputs);
    if (!outcome.ok) return { ok: false, notes: outcome.notes };
    this.#ready = {
      inputs,
      keys: new Map(inputs.map((cell, at) => [cellKeyOf(cell), at])),
      compiled: outcome.compiled,
    };
    return { ok: true, patch: outcome.compiled.values() };
  }

  /** Makes the first answer as quick as the next ones; done when nobody waits. */
  warmUp(): void {
    this.#ready?.compiled.warmUp();
  }

  /** Follows a change, and gives the values that hang on it where they are prepared; nothing where only the engine knows. */
  apply(change: Change): Patch | undefined {
    this.#book = applyChange(this.#book, change);
    layOut(this.#layout, change);
    const ready = this.#ready;
    if (!ready) return undefined;
    const cells = change.operations.filter(movesValues);
    if (cells.length === 0) return NOTHING;
    const patch = this.#answer(ready, cells);
    if (!patch) this.#ready = undefined;
    return patch;
  }

  /** Compiles anew for those of these inputs that are there; every value, or nothing where that is no use. */
  again(inputs: readonly CellName[]): Patch | undefined {
    const there = inputs.filter(({ sheet, row }) => this.#layout[sheet].rows.has(row));
    const opened = this.prepare(there);
    return opened.ok ? opened.patch : undefined;
  }

  #answer({ inputs, keys, compiled }: Ready, operations: Change["operations"]): Patch | undefined {
    const latest = operations.flatMap((one) => (isNumberOf(one, keys) ? (keys.get(cellKeyOf(one)) ?? []) : []));
    if (latest.length < operations.length) return undefined;
    const numbers = Float64Array.from(inputs, (cell) => {
      const raw = rawAt(this.#book, cell);
      return typeof raw === "number" ? raw : Number.NaN;
    });
    return compiled.answer(numbers, latest);
  }
}
