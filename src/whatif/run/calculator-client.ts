// The page's end of the calculator.
import type { CellName } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import type { Workbook } from "../../core/document/workbook";
import type { Layout } from "../../engine/layout";
import { PendingAnswers } from "../../engine/pending-answers";
import type { Patch } from "../../engine/values";
import type { CalculatedWorkbook } from "./calculator";
import type { CalculatorReply, CalculatorRequest } from "./messages";

/** What a worker looks like from here. */
export interface CalculatorPort {
  postMessage(request: CalculatorRequest): void;
  onmessage: ((event: MessageEvent<CalculatorReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** Requests are answered in their turn. A promise is broken where the worker fails, and by `close`. */
export interface CalculatorClient {
  /** Takes a document by the engine's layout, in place of the one before; formulas set aside are not calculated. */
  open(book: Workbook, layout: Layout, excluded: readonly string[]): Promise<void>;
  /** Makes inputs ready, in place of those before, and gives every value; or says why it can't. */
  prepare(inputs: readonly CellName[]): Promise<CalculatedWorkbook>;
  /**
   * The values that a change moves, if it gives numbers to inputs that are ready. Any other change is followed, and only
   * where other inputs are named is everything compiled anew for it, which gives every value and makes those inputs ready.
   * Nothing where only the engine knows.
   */
  apply(change: Change, inputs: readonly CellName[] | undefined): Promise<Patch | undefined>;
  close(): void;
}

/** A client of a calculator in a worker. */
export function connectCalculator(makeWorker: () => CalculatorPort): CalculatorClient {
  const worker = makeWorker();
  const pending = new PendingAnswers();
  const close = (message: string) => {
    worker.terminate();
    pending.failAll(new Error(message));
  };
  worker.onmessage = ({ data }) => {
    if (data.kind === "failure") pending.fail(data.id, new Error(data.failure));
    else pending.settle(data.id, data.kind === "opened" ? data.opened : data.patch);
  };
  worker.onerror = (event) => close(event.message || "the calculator did not start");
  const ask = <Answer>(make: (id: number) => CalculatorRequest): Promise<Answer> => {
    const id = pending.nextId();
    const answer = pending.wait<Answer>(id);
    worker.postMessage(make(id));
    return answer;
  };
  return {
    open: (book, layout, excluded) => ask((id) => ({ kind: "open", id, book, layout, excluded })),
    prepare: (inputs) => ask((id) => ({ kind: "prepare inputs", id, inputs })),
    apply: (change, inputs) => ask((id) => ({ kind: "apply", id, change, inputs })),
    close: () => close("the calculator was closed"),
  };
}

/** The client the app uses: the worker that answers what-ifs, once more. */
export function startCalculator(): CalculatorClient {
  return connectCalculator(
    () => new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "calculator" }),
  );
}
