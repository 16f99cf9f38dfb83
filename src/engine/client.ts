// How the page talks to the engine: requests answered in order.
import type { Change } from "../core/change";
import type { Workbook } from "../core/workbook";
import type { EngineModel } from "./model";
import type { Patch, Value } from "./values";

export type Request =
  | { readonly id: number; readonly ask: "open"; readonly book: Workbook }
  | { readonly id: number; readonly ask: "apply"; readonly change: Change }
  | { readonly id: number; readonly ask: "reckon"; readonly formula: string }
  | { readonly id: number; readonly ask: "model"; readonly known: number | undefined }
  | { readonly id: number; readonly ask: "document" };
export type Reply =
  | { readonly id: number; readonly answer: unknown }
  | { readonly id: number; readonly failure: string };

/** What a worker looks like from here; tests put an engine of their own behind it. */
export interface WorkerPort {
  postMessage(request: Request): void;
  onmessage: ((event: MessageEvent<Reply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** The page's end of an engine. Every promise is settled in the order of the calls. */
export interface EngineClient {
  /** Builds the engine for a workbook and gives every computed value. */
  open(book: Workbook): Promise<Patch>;
  /** Applies a change and gives the values that moved. */
  apply(change: Change): Promise<Patch>;
  /** The value of a formula that stands in no cell, such as an example of the help. */
  reckon(formula: string): Promise<Value>;
  /** Formulas, typed cells and values as plain data; nothing if the version known is still the latest. */
  model(known?: number): Promise<EngineModel | undefined>;
  /** The document as the engine has it, every change so far applied. */
  document(): Promise<Workbook>;
  close(): void;
}

/** A client of the engine in a worker. `makeWorker` is called once; a failed worker fails every open request. */
export function connectEngine(makeWorker: () => WorkerPort): EngineClient {
  const worker = makeWorker();
  const open = new Map<number, { resolve: (answer: unknown) => void; reject: (error: Error) => void }>();
  let next = 1;
  const failAll = (message: string) => {
    for (const { reject } of open.values()) reject(new Error(message));
    open.clear();
  };
  worker.onmessage = ({ data }) => {
    const request = open.get(data.id);
    open.delete(data.id);
    if ("answer" in data) request?.resolve(data.answer);
    else request?.reject(new Error(data.failure));
  };
  worker.onerror = (event) => failAll(event.message || "the engine did not start");
  const ask = <Answer>(request: Request) =>
    new Promise<Answer>((resolve, reject) => {
      open.set(request.id, { resolve: resolve as (answer: unknown) => void, reject });
      worker.postMessage(request);
    });
  const nextId = () => {
    next += 1;
    return next;
  };
  return {
    open: (book) => ask({ id: nextId(), ask: "open", book }),
    apply: (change) => ask({ id: nextId(), ask: "apply", change }),
    reckon: (formula) => ask({ id: nextId(), ask: "reckon", formula }),
    model: (known) => ask({ id: nextId(), ask: "model", known }),
    document: () => ask({ id: nextId(), ask: "document" }),
    close() {
      failAll("the engine was closed");
      worker.terminate();
    },
  };
}

/** The client the app uses: the bundled worker. */
export function startEngine(): EngineClient {
  return connectEngine(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "engine" }));
}
