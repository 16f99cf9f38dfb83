// The engine in a worker of its own: the page never waits for a recalculation.
/// <reference lib="webworker" />
import type { Workbook } from "../core/workbook";
import type { Reply, Request } from "./client";
import { Engine } from "./engine";
import type { EngineModel } from "./model";
import type { Patch } from "./values";

declare const self: DedicatedWorkerGlobalScope;

let engine: Engine | undefined;

self.onmessage = ({ data }: MessageEvent<Request>) => {
  try {
    const answer = answerTo(data);
    self.postMessage({ id: data.id, answer } satisfies Reply, buffersOf(answer));
  } catch (error) {
    const failure = error instanceof Error ? `${error.message}\n${error.stack}` : String(error);
    self.postMessage({ id: data.id, failure } satisfies Reply);
  }
};

function answerTo(request: Request): Patch | EngineModel | Workbook | undefined {
  if (request.ask === "open") {
    engine?.close();
    engine = new Engine(request.book);
    return engine.values();
  }
  if (!engine) throw new Error("the engine has no edition open");
  if (request.ask === "apply") return engine.apply(request.change);
  return request.ask === "model" ? engine.model(request.known) : engine.document();
}

/** Whatever is long goes over without being copied. */
function buffersOf(answer: Patch | EngineModel | Workbook | undefined): ArrayBuffer[] {
  if (answer === undefined || "kind" in answer) return [];
  if (!("sheets" in answer)) return answer.map((column) => column.places.buffer as ArrayBuffer);
  return answer.sheets.flatMap(({ typed, formulas }) =>
    [...typed, ...formulas].flatMap(({ values }) =>
      [values.places, values.numbers, values.others].map((list) => list.buffer as ArrayBuffer),
    ),
  );
}
