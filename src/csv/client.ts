// How the page talks to the worker that reads CSV files: one question at a time, with news of how far it is.
// Whoever does not want to wait ends the worker; the next question starts another.
import type { Change } from "../core/document/change";
import type { SheetKey, Workbook } from "../core/document/workbook";
import type { Problem } from "../core/problem";
import type { FilePreview } from "./file-table";
import type { FileReading, ImportOptions } from "./import-options";
import type { ImportReport } from "./report";
import type { StudioContents, StudioPart } from "./studio-contents";

/** How far the worker is with what it was asked. */
export interface Progress {
  readonly doing: "reading" | "packing" | "unpacking" | "parting" | "checking";
  readonly done: number;
  readonly of: number;
}

/** What the worker can be asked; the file and the workbook stay with it from one question to the next. */
export type CsvQuestion =
  | { readonly kind: "file"; readonly file: Blob; readonly name: string }
  /** A whole workbook, from a zip of tables. */
  | { readonly kind: "workbook"; readonly file: Blob; readonly name: string }
  /** The file of a whole studio, made or read; of one that was read, the editions are had by their indices. */
  | { readonly kind: "pack studio"; readonly at: string; readonly parts: readonly StudioPart[] }
  | { readonly kind: "studio"; readonly file: Blob; readonly name: string }
  | { readonly kind: "studio edition"; readonly index: number }
  | { readonly kind: "text"; readonly text: string; readonly name: string }
  | { readonly kind: "table"; readonly reading: FileReading; readonly book: Workbook; readonly sheet: SheetKey }
  | { readonly kind: "plan"; readonly options: ImportOptions }
  | { readonly kind: "change" }
  | { readonly kind: "rejected" };

interface Answers {
  readonly file: undefined;
  readonly text: undefined;
  readonly workbook: Workbook;
  readonly "pack studio": Uint8Array<ArrayBuffer>;
  readonly studio: StudioContents;
  readonly "studio edition": Workbook;
  readonly table: FilePreview;
  readonly plan: ImportReport;
  readonly change: Change;
  readonly rejected: string;
}

export type CsvReply =
  | { readonly kind: "progress"; readonly id: number; readonly progress: Progress }
  | { readonly kind: "answer"; readonly id: number; readonly answer: unknown }
  | { readonly kind: "problems"; readonly id: number; readonly problems: readonly Problem[] }
  | { readonly kind: "failure"; readonly id: number; readonly failure: string };

/** What a worker looks like from here. */
export interface CsvPort {
  postMessage(request: CsvQuestion & { readonly id: number }): void;
  onmessage: ((event: MessageEvent<CsvReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** An answer, what stood in its way, or that nobody waits for it any more. */
export type CsvOutcome<T> =
  | { readonly kind: "answer"; readonly value: T }
  | { readonly kind: "refused"; readonly problems: readonly Problem[] }
  | { readonly kind: "cancelled" };

export interface CsvClient {
  ask<Q extends CsvQuestion>(
    question: Q,
    onProgress?: (progress: Progress) => void,
  ): Promise<CsvOutcome<Answers[Q["kind"]]>>;
  /** Stops whatever is being done; the file has to be given again. */
  cancel(): void;
}

interface Waiting {
  readonly settle: (outcome: CsvOutcome<unknown>) => void;
  readonly fail: (error: Error) => void;
  readonly onProgress: ((progress: Progress) => void) | undefined;
}

/** A client of a worker that `makeWorker` gives when one is needed. */
export function connectCsv(makeWorker: () => CsvPort): CsvClient {
  let worker: CsvPort | undefined;
  let next = 1;
  const waiting = new Map<number, Waiting>();
  const receive = ({ data }: MessageEvent<CsvReply>) => {
    const one = waiting.get(data.id);
    if (data.kind === "progress") return one?.onProgress?.(data.progress);
    waiting.delete(data.id);
    if (data.kind === "answer") one?.settle({ kind: "answer", value: data.answer });
    else if (data.kind === "problems") one?.settle({ kind: "refused", problems: data.problems });
    else one?.fail(new Error(data.failure));
  };
  const start = (): CsvPort => {
    const made = makeWorker();
    made.onmessage = receive;
    made.onerror = (event) => {
      for (const { fail } of waiting.values()) fail(new Error(event.message || "the reading of CSV did not start"));
      waiting.clear();
    };
    return made;
  };
  return {
    ask(question, onProgress) {
      worker ??= start();
      const port = worker;
      const id = next;
      next += 1;
      return new Promise((resolve, reject) => {
        waiting.set(id, { settle: resolve as Waiting["settle"], fail: reject, onProgress });
        port.postMessage({ ...question, id });
      });
    },
    cancel() {
      worker?.terminate();
      worker = undefined;
      for (const { settle } of waiting.values()) settle({ kind: "cancelled" });
      waiting.clear();
    },
  };
}

/** The client the app uses: the bundled worker. */
export function startCsv(): CsvClient {
  return connectCsv(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "csv" }));
}
