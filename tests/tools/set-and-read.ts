// What-if answered by an engine of its own, one case at a time: set, read, set back. Right, and slow.
import { type CellName, cellKeyOf, columnOf, formulaOf, rowOf } from "../../src/core/document/access";
import type { Change, Operation } from "../../src/core/document/change";
import type { Raw, Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";
import { ValueStore } from "../../src/engine/value-store";
import { isCellError, type Value } from "../../src/engine/values";
import type { Answers, Prepared, WhatIfClient } from "../../src/whatif/run/client-port";

/** A client that asks an engine built for the edition as it is when a question is prepared. */
export function askByEngine(bookNow: () => Workbook, breathe: () => Promise<void>): WhatIfClient {
  let live: LiveBook | undefined;
  let next = 0;
  const books = new Map<number, LiveBook>();
  return {
    async prepare(inputs, outputs, signal) {
      await breathe();
      signal?.throwIfAborted();
      const book = bookNow();
      if (live?.book !== book) live = new LiveBook(book);
      next += 1;
      books.set(next, live);
      const now = (cells: readonly CellName[]) => Float64Array.from(cells, (cell) => numberOf(live?.read(cell)));
      const how = { kind: "engine", notes: ["it is asked one case at a time"] } as const;
      return { id: next, inputs, outputs, how, todayInputs: now(inputs), todayOutputs: now(outputs) };
    },
    async run(prepared, cases, options) {
      const book = books.get(prepared.id);
      if (!book) throw new Error("the question was not prepared");
      return runCases(book, prepared, cases, breathe, options);
    },
    release: ({ id }) => void books.delete(id),
    close() {
      books.clear();
      live = undefined;
    },
  };
}

async function runCases(
  book: LiveBook,
  { inputs, outputs }: Prepared,
  cases: Float64Array,
  breathe: () => Promise<void>,
  options: Parameters<WhatIfClient["run"]>[2],
): Promise<Answers> {
  const count = inputs.length === 0 ? 1 : cases.length / inputs.length;
  const found = new Float64Array(count * outputs.length);
  const failures: Answers["failures"][number][] = [];
  try {
    for (let at = 0; at < count; at += 1) {
      if (at % 4 === 0) {
        options?.onProgress?.(at, count);
        await breathe();
        options?.signal?.throwIfAborted();
      }
      book.set(inputs, cases.subarray(at * inputs.length, (at + 1) * inputs.length));
      outputs.forEach((cell, output) => {
        const value = book.read(cell);
        found[at * outputs.length + output] = numberOf(value);
        if (typeof value === "number" || failures.some((one) => one.output === output)) return;
        failures.push({ output, case: at, message: isCellError(value) ? value.message : "It is blank there." });
      });
    }
  } finally {
    book.restore(inputs);
  }
  return { outputs: found, failures };
}

function numberOf(value: Value | undefined): number {
  return typeof value === "number" ? value : Number.NaN;
}

/** An edition with an engine whose cells are set and read. */
class LiveBook {
  readonly book: Workbook;
  private readonly engine: Engine;
  private readonly store: ValueStore;
  private readonly held = new Map<string, Raw | undefined>();

  constructor(book: Workbook) {
    this.book = book;
    this.engine = new Engine(book);
    this.store = new ValueStore(book);
    this.store.accept(this.engine.values());
  }

  read(cell: CellName): Value {
    const [row, column] = [rowOf(this.book, cell.sheet, cell.row), columnOf(this.book, cell.sheet, cell.column)];
    if (!row || !column) return null;
    const held = this.held.get(cellKeyOf(cell));
    if (held !== undefined) return held as Value;
    if (formulaOf(column, row) !== undefined) return this.store.get(cell.sheet, cell.row, cell.column) ?? null;
    return this.raw(cell) as Value;
  }

  /** No number clears a cell: it is blank then, or what its formula gives. */
  set(cells: readonly CellName[], values: Float64Array): void {
    this.write(cells, (_, at) => {
      const value = values[at] ?? Number.NaN;
      return Number.isNaN(value) ? undefined : value;
    });
  }

  restore(cells: readonly CellName[]): void {
    this.write(cells, (cell) => this.entered(cell));
    this.held.clear();
  }

  private write(cells: readonly CellName[], contentOf: (cell: CellName, at: number) => Raw | undefined): void {
    const operations = cells.flatMap((cell, at): Operation[] => {
      const [was, is] = [this.raw(cell), contentOf(cell, at)];
      return was === is ? [] : [{ kind: "cell", ...cell, was, is }];
    });
    const change: Change = { label: "", operations };
    this.store.follow(change);
    this.store.accept(this.engine.apply(change));
    for (const operation of operations)
      if (operation.kind === "cell") {
        if (operation.is === this.entered(operation)) this.held.delete(cellKeyOf(operation));
        else this.held.set(cellKeyOf(operation), operation.is);
      }
  }

  private raw(cell: CellName): Raw | undefined {
    const name = cellKeyOf(cell);
    return this.held.has(name) ? this.held.get(name) : this.entered(cell);
  }

  private entered(cell: CellName): Raw | undefined {
    return rowOf(this.book, cell.sheet, cell.row)?.cells[cell.column];
  }
}
