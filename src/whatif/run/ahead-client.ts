// The page's end of what is ahead of the engine: a worker that is given the engine's formulas and numbers.
import type { CellName } from "../../core/document/access";
import type { EngineClient } from "../../engine/client";
import { buffersOfModel } from "../../engine/model-buffers";
import type { Patch } from "../../engine/values";
import { type AheadColumn, patchOf } from "./foretold";
import type { AheadReply, AheadRequest } from "./messages";

/** What a worker looks like from here. */
export interface AheadPort {
  postMessage(request: AheadRequest, handedOver: ArrayBuffer[]): void;
  onmessage: ((event: MessageEvent<AheadReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

export interface AheadClient {
  /** Makes inputs ready, in the place of those before; says why they can't be, and nothing where they are. */
  foresee(inputs: readonly CellName[]): Promise<readonly string[]>;
  /** All values that hang on the inputs made ready last, for a number each, NaN for none; nothing where it can't say. */
  foretell(values: Float64Array): Promise<Patch | undefined>;
  close(): void;
}

interface Waiting {
  readonly settle: (reply: Exclude<AheadReply, { readonly failure: string }>) => void;
  readonly fail: (reason: Error) => void;
}

/** A client over the engine of the open edition; `makeWorker` is called when something is first to be foreseen. */
export function connectAhead(engine: EngineClient, makeWorker: () => AheadPort): AheadClient {
  const waiting = new Map<number, Waiting>();
  let worker: AheadPort | undefined;
  let isClosed = false;
  /** The version of the model that the worker has. */
  let known: number | undefined;
  let next = 0;
  let latest = 0;
  let columns: readonly AheadColumn[] = [];
  const close = (message: string) => {
    isClosed = true;
    worker?.terminate();
    worker = undefined;
    for (const { fail } of waiting.values()) fail(new Error(message));
    waiting.clear();
  };
  const hear = (reply: AheadReply) => {
    const asked = waiting.get(reply.id);
    waiting.delete(reply.id);
    if ("failure" in reply) asked?.fail(new Error(reply.failure));
    else asked?.settle(reply);
  };
  const port = () => {
    if (isClosed) throw new Error("looking ahead was closed");
    if (!worker) {
      worker = makeWorker();
      worker.onmessage = ({ data }) => hear(data);
      worker.onerror = (event) => close(event.message || "looking ahead did not start");
    }
    return worker;
  };
  const ask = (request: AheadRequest) =>
    new Promise<Exclude<AheadReply, { readonly failure: string }>>((settle, fail) => {
      waiting.set(request.id, { settle, fail });
      // Nobody else needs a model that was asked for.
      port().postMessage(request, buffersOfModel(request.kind === "foresee" ? request.model : undefined));
    });
  return {
    async foresee(inputs) {
      next += 1;
      const id = next;
      latest = id;
      const model = await engine.model(known);
      if (model) known = model.version;
      const reply = await ask({ kind: "foresee", id, model, inputs });
      if ("columns" in reply && id === latest) columns = reply.columns;
      return "notes" in reply ? reply.notes : [];
    },
    async foretell(inputs) {
      next += 1;
      const reply = await ask({ kind: "foretell", id: next, of: latest, inputs });
      return "foretold" in reply && reply.foretold ? patchOf(columns, reply.foretold) : undefined;
    },
    close: () => close("looking ahead was closed"),
  };
}

/** The client the app uses: the worker that answers what-ifs, once more. */
export function startAhead(engine: EngineClient): AheadClient {
  return connectAhead(
    engine,
    () => new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "ahead" }),
  );
}
