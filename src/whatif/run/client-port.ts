// What a what-if asks of the worker that answers it.
import type { CellName } from "../../core/document/access";

/** A question made ready: the cells that are changed, the cells that are read, and what they hold today. */
export interface Prepared {
  readonly id: number;
  readonly inputs: readonly CellName[];
  readonly outputs: readonly CellName[];
  /** Compiled, or answered by the engine one case at a time, with the reason. */
  readonly how: { readonly kind: "compiled" } | { readonly kind: "engine"; readonly notes: readonly string[] };
  /** Today's numbers; NaN where an input is blank or an output is no number. */
  readonly todayInputs: Float64Array;
  readonly todayOutputs: Float64Array;
}
export interface RunOptions {
  readonly signal?: AbortSignal;
  readonly onProgress?: (done: number, total: number) => void;
}
/** `outputs` is cases × outputs, row by row; NaN where the result is no number. `failures` says why for the first case of each output that failed. */
export interface Answers {
  readonly outputs: Float64Array;
  readonly failures: readonly { readonly output: number; readonly case: number; readonly message: string }[];
}
export interface WhatIfClient {
  prepare(inputs: readonly CellName[], outputs: readonly CellName[], signal?: AbortSignal): Promise<Prepared>;
  /** `cases` is cases × inputs, row by row. Rejects with the signal's reason when it is aborted. */
  run(prepared: Prepared, cases: Float64Array, options?: RunOptions): Promise<Answers>;
  release(prepared: Prepared): void;
  close(): void;
}
