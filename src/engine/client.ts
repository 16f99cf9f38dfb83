// How the page talks to the engine: requests answered in order.
import type { Change } from "../core/document/change";
import type { Workbook } from "../core/document/workbook";
import type { EngineSource } from "./engine";
import type { EngineModel } from "./model";
import { PendingAnswers } from "./pending-answers";
import type { Patch, Value } from "./values";

export type Request =
  | {
      readonly id: number;
      readonly kind: "open";
      readonly book: Workbook;
      readonly excluded: readonly string[];
      /** The latest version that the page may know of another engine's values. */
      readonly version?: number;
    }
  | { readonly id: number; readonly kind: "apply"; readonly change: Change }
  | { readonly id: number; readonly kind: "calculate"; readonly formula: string }
  | { readonly id: number; readonly kind: "model"; readonly known: number | undefined }
  | { readonly id: number; readonly kind: "source" };
/** An answer, why there is none, that the calculation moves on, or that it waits for a file. */
export type Reply =
  | "beat"
  | "fetching"
  | { readonly kind: "answer"; readonly id: number; readonly answer: unknown }
  | { readonly kind: "failure"; readonly id: number; readonly failure: string };

/** What a worker looks like from here; tests put an engine of their own behind it. */
export interface WorkerPort {
  postMessage(request: Request): void;
  onmessage: ((event: MessageEvent<Reply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** The page's end of an engine. Every promise is settled in the order of the calls. */
export interface EngineClient {
  /** Builds the engine for a workbook and gives every computed value; formulas that are set aside are not calculated. */
  open(book: Workbook, excluded?: readonly string[]): Promise<Patch>;
  /** Applies a change and gives the values that moved. */
  apply(change: Change): Promise<Patch>;
  /** The value of a formula that stands in no cell, such as an example of the help. */
  calculate(formula: string): Promise<Value>;
  /** Formulas, typed cells and values as plain data; nothing if the version known is still the latest. */
  model(known?: number): Promise<EngineModel | undefined>;
  /** The document as the engine has it, every change so far applied, and what is set aside. */
  source(): Promise<EngineSource>;
  close(): void;
}

/** The engine has said nothing for longer than any sound formula takes: it was stopped. */
export class EngineSilent extends Error {}

/** Who looks at the clock while the engine works. */
export interface Watch {
  setTimer(run: () => void, ms: number): number;
  clearTimer(timer: number): void;
  /** How long the engine may say nothing while it has something to do, in milliseconds, besides what large editions take. */
  readonly patience: number;
}

/** What the engine does without a word, such as putting all cells in order, in milliseconds a cell. */
const SILENT_MS_A_CELL = 0.02;
/** A computer that slept must not look like an engine that hangs: the clock is read so many times. */
const CHECKS = 5;

/**
 * A client of the engine in a worker. `makeWorker` is called once; a failed worker fails every open request, and so does one
 * that has said nothing for too long (`EngineSilent`).
 */
export function connectEngine(makeWorker: () => WorkerPort, watch?: Watch): EngineClient {
  const worker = makeWorker();
  const pending = new PendingAnswers();
  let patience = watch?.patience ?? 0;
  let checksLeft = CHECKS;
  let timer: number | undefined;
  const failAll = (error: Error) => {
    if (timer !== undefined) watch?.clearTimer(timer);
    timer = undefined;
    pending.failAll(error);
  };
  const check = () => {
    timer = undefined;
    if (pending.size === 0) return;
    checksLeft -= 1;
    if (checksLeft > 0) checkLater();
    else {
      worker.terminate();
      failAll(new EngineSilent("a formula takes too long"));
    }
  };
  const checkLater = () => {
    timer ??= watch?.setTimer(check, patience / CHECKS);
  };
  worker.onmessage = ({ data }) => {
    // A slow line is no formula that takes too long.
    checksLeft = data === "fetching" ? Number.POSITIVE_INFINITY : CHECKS;
    if (typeof data === "string") return;
    if (data.kind === "answer") pending.settle(data.id, data.answer);
    else pending.fail(data.id, new Error(data.failure));
  };
  worker.onerror = (event) => failAll(new Error(event.message || "the engine did not start"));
  const ask = <Answer>(request: Request): Promise<Answer> => {
    if (pending.size === 0) checksLeft = CHECKS;
    const answer = pending.wait<Answer>(request.id);
    checkLater();
    worker.postMessage(request);
    return answer;
  };
  const nextId = () => pending.nextId();
  return {
    open: (book, excluded = []) => {
      if (watch) patience = watch.patience + SILENT_MS_A_CELL * cellCount(book);
      return ask({ id: nextId(), kind: "open", book, excluded });
    },
    apply: (change) => ask({ id: nextId(), kind: "apply", change }),
    calculate: (formula) => ask({ id: nextId(), kind: "calculate", formula }),
    model: (known) => ask({ id: nextId(), kind: "model", known }),
    source: () => ask({ id: nextId(), kind: "source" }),
    close() {
      failAll(new Error("the engine was closed"));
      worker.terminate();
    },
  };
}

function cellCount({ sheets }: Workbook): number {
  return Object.values(sheets).reduce((count, { rows, columns }) => count + rows.length * columns.length, 0);
}

/** The client the app uses: the bundled worker of the common functions, which fetches the others where a formula calls one. */
export function startEngine(watch?: Watch): EngineClient {
  const makeWorker = () =>
    new Worker(new URL("./worker/common-engine.ts", import.meta.url), { type: "module", name: "engine" });
  return connectEngine(makeWorker, watch);
}
