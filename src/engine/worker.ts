// The engine in a worker of its own: the page never waits for a recalculation.
/// <reference lib="webworker" />
import type { Reply, Request } from "./client";
import { Engine } from "./engine";

declare const self: DedicatedWorkerGlobalScope;

let engine: Engine | undefined;

self.onmessage = ({ data }: MessageEvent<Request>) => {
  try {
    if (data.ask === "open") {
      engine?.close();
      engine = new Engine(data.book);
      answer({ id: data.id, patch: engine.values() });
    } else if (engine && data.ask === "apply") answer({ id: data.id, patch: engine.apply(data.change) });
    else if (engine && data.ask === "reckon") answer({ id: data.id, value: engine.reckon(data.formula) });
    else answer({ id: data.id, failure: "the engine has no edition open" });
  } catch (error) {
    answer({ id: data.id, failure: error instanceof Error ? `${error.message}\n${error.stack}` : String(error) });
  }
};

function answer(reply: Reply): void {
  const buffers = "patch" in reply ? reply.patch.map((column) => column.places.buffer as ArrayBuffer) : [];
  self.postMessage(reply, buffers);
}
