// The engine in a worker of its own: the page never waits for a recalculation.
import { buffersOf } from "./cell-lists";
import type { Reply, Request } from "./client";
import { Engine } from "./engine";
import { hearEveryFormula } from "./hyperformula/index";
import { buffersOfModel } from "./model-buffers";
import type { Patch } from "./values";

declare const self: DedicatedWorkerGlobalScope;

let engine: Engine | undefined;

/** How often the page hears that the calculation moves on, in milliseconds. */
const BEAT_EVERY = 250;
let beatAt = 0;
let formulas = 0;
hearEveryFormula(() => {
  formulas = (formulas + 1) & 15;
  // Looking at the clock for every formula would cost more than the quickest of them.
  if (formulas !== 0) return;
  const now = performance.now();
  if (now - beatAt < BEAT_EVERY) return;
  beatAt = now;
  self.postMessage("beat" satisfies Reply);
});

self.onmessage = ({ data }: MessageEvent<Request>) => {
  try {
    const { answer, buffers } = answerTo(data);
    self.postMessage({ id: data.id, answer } satisfies Reply, buffers);
  } catch (error) {
    const failure = error instanceof Error ? `${error.message}\n${error.stack}` : String(error);
    self.postMessage({ id: data.id, failure } satisfies Reply);
  }
};

/** An answer, and what of it goes over without being copied. */
interface Answer {
  readonly answer: unknown;
  readonly buffers: ArrayBuffer[];
}

function answerTo(request: Request): Answer {
  if (request.kind === "open") {
    engine?.close();
    engine = new Engine(request.book, request.aside);
    return patch(engine.values());
  }
  if (!engine) throw new Error("the engine has no edition open");
  switch (request.kind) {
    case "apply":
      return patch(engine.apply(request.change));
    case "reckon":
      return { answer: engine.reckon(request.formula), buffers: [] };
    case "model": {
      const answer = engine.model(request.known);
      return { answer, buffers: buffersOfModel(answer) };
    }
    case "source":
      return { answer: engine.source(), buffers: [] };
  }
}

function patch(answer: Patch): Answer {
  return { answer, buffers: buffersOf(answer.columns.map(({ values }) => values)) };
}
