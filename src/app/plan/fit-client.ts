// The page's end of fitting a kiln to its meter: one question, news of how far it is, and a way to stop it.
import type { Calibration, MeterReading } from "../../ceramics/kiln/calibrate";
import type { KilnSpec } from "../../ceramics/kiln/kiln-spec";
import type { Result } from "../../core/problem";
import { askWorker, type QuestionPort } from "../edition/worker-question";

export interface FitQuestion {
  readonly kiln: KilnSpec;
  readonly readings: readonly MeterReading[];
}

export type FitReply =
  | { readonly kind: "progress"; readonly tried: number }
  | { readonly kind: "answer"; readonly answer: Result<Calibration> }
  | { readonly kind: "failure"; readonly failure: string };

export type FitPort = QuestionPort<FitQuestion, FitReply>;

/** How far a fit is; `stop` ends it, and nothing more is reported then. */
export interface RunningFit {
  stop(): void;
}

/** What is reported of a fit: pairs of factors tried so far, and in the end the answer or that the worker failed. */
export interface FitNews {
  readonly onTried: (tried: number) => void;
  readonly onAnswer: (answer: Result<Calibration>) => void;
  readonly onFailure: (message: string) => void;
}

/** Starts a fit in a worker that lasts as long as the fit. */
export function runFit(question: FitQuestion, news: FitNews, makeWorker: () => FitPort = startWorker): RunningFit {
  const stop = askWorker(makeWorker(), question, {
    isLast: (reply) => reply.kind !== "progress",
    onReply(reply) {
      if (reply.kind === "progress") news.onTried(reply.tried);
      else if (reply.kind === "answer") news.onAnswer(reply.answer);
      else news.onFailure(reply.failure);
    },
    onFailure: (message) => news.onFailure(message || "the fit did not start"),
  });
  return { stop };
}

function startWorker(): FitPort {
  return new Worker(new URL("./fit-worker.ts", import.meta.url), { type: "module", name: "fit" });
}
