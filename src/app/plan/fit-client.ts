// The page's end of fitting a kiln to its meter: one question, news of how far it is, and a way to stop it.
import type { Calibration, MeterReading } from "../../ceramics/kiln/calibrate";
import type { KilnSpec } from "../../ceramics/kiln/kiln-spec";
import type { Result } from "../../core/problem";

export interface FitQuestion {
  readonly kiln: KilnSpec;
  readonly readings: readonly MeterReading[];
}

export type FitReply =
  | { readonly tried: number }
  | { readonly answer: Result<Calibration> }
  | { readonly failure: string };

/** What a worker looks like from here. */
export interface FitPort {
  postMessage(question: FitQuestion): void;
  onmessage: ((event: MessageEvent<FitReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** How far a fit is; `stop` ends it, and nothing more is told then. */
export interface RunningFit {
  stop(): void;
}

/** What is told of a fit: pairs of factors tried so far, and in the end the answer or that the worker failed. */
export interface FitNews {
  readonly onTried: (tried: number) => void;
  readonly onAnswer: (answer: Result<Calibration>) => void;
  readonly onFailure: (message: string) => void;
}

/** Starts a fit in a worker that lasts as long as the fit. */
export function runFit(question: FitQuestion, news: FitNews, makeWorker: () => FitPort = startWorker): RunningFit {
  const worker = makeWorker();
  const stop = () => {
    worker.onmessage = null;
    worker.onerror = null;
    worker.terminate();
  };
  worker.onmessage = ({ data }) => {
    if ("tried" in data) return news.onTried(data.tried);
    stop();
    if ("answer" in data) news.onAnswer(data.answer);
    else news.onFailure(data.failure);
  };
  worker.onerror = (event) => {
    stop();
    news.onFailure(event.message || "the fit did not start");
  };
  worker.postMessage(question);
  return { stop };
}

function startWorker(): FitPort {
  return new Worker(new URL("./fit-worker.ts", import.meta.url), { type: "module", name: "fit" });
}
