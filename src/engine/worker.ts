// The engine in a worker of its own: the page never waits for a recalculation.
/// <reference lib="webworker" />
import type { Workbook } from "../core/workbook";
import type { Reply, Request } from "./client";
import { Engine } from "./engine";
import type { EngineModel } from "./model";
import type { Patch, Value } from "./values";

declare const self: DedicatedWorkerGlobalScope;

let engine: Engine | undefined;

self.onmessage = ({ data }: MessageEvent<Request>) => {
  try {
    const { answer, buffers } = answerTo(data);
    self.postMessage({ id: data.id, answer } satisfies Reply, buffers);
  } catch (error) {
    const failure = error instanceof Error ? `${error.message}\n${error.stack}` : String(error);
    self.postMessage({ id: data.id, failure } satisfies Reply);
  }
};

/** An answer with what goes over without being copied, because it is long. */
interface Answered {
  readonly answer: Patch | Value | EngineModel | Workbook | undefined;
  readonly buffers: ArrayBuffer[];
}

function answerTo(request: Request): Answered {
  if (request.ask === "open") {
    engine?.close();
    engine = new Engine(request.book);
    return patched(engine.values());
  }
  if (!engine) throw new Error("the engine has no edition open");
  switch (request.ask) {
    case "apply":
      return patched(engine.apply(request.change));
    case "reckon":
      return { answer: engine.reckon(request.formula), buffers: [] };
    case "model":
      return modelled(engine.model(request.known));
    case "document":
      return { answer: engine.document(), buffers: [] };
  }
}

function patched(patch: Patch): Answered {
  return { answer: patch, buffers: patch.map((column) => column.places.buffer as ArrayBuffer) };
}

function modelled(model: EngineModel | undefined): Answered {
  const columns = model?.sheets.flatMap(({ typed, formulas }) => [...typed, ...formulas]) ?? [];
  const lists = columns.flatMap(({ values }) => [values.places, values.numbers, values.others]);
  return { answer: model, buffers: lists.map((list) => list.buffer as ArrayBuffer) };
}
