// The page's end of what-ifs: formulas and numbers go from the engine's worker to the one that answers, as they are.
import type { EngineClient } from "../../engine/client";
import { PendingAnswers, type WaitOptions } from "../../engine/pending-answers";
import type { Answers, Prepared, RunOptions, WhatIfClient } from "./client-port";
import type { WhatIfReply, WhatIfRequest } from "./messages";

/** What a worker looks like from here. */
export interface WhatIfPort {
  postMessage(request: WhatIfRequest): void;
  onmessage: ((event: MessageEvent<WhatIfReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** A client over the engine of the open edition; `makeWorker` is called when the first question is asked. */
export function connectWhatIf(engine: EngineClient, makeWorker: () => WhatIfPort): WhatIfClient {
  const client = new Client(engine, makeWorker);
  return {
    prepare: (inputs, outputs, signal) => client.prepare(inputs, outputs, signal),
    run: (prepared, cases, options) => client.run(prepared, cases, options),
    release: (prepared) => client.release(prepared),
    close: () => client.close(),
  };
}

/** The client the app uses: the bundled worker. */
export function startWhatIf(engine: EngineClient): WhatIfClient {
  return connectWhatIf(
    engine,
    () => new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "what-if" }),
  );
}

class Client {
  private readonly engine: EngineClient;
  private readonly makeWorker: () => WhatIfPort;
  private worker: WhatIfPort | undefined;
  private isClosed = false;
  /** The version of the model that the worker has. */
  private known: number | undefined;
  private readonly pending = new PendingAnswers();

  constructor(engine: EngineClient, makeWorker: () => WhatIfPort) {
    this.engine = engine;
    this.makeWorker = makeWorker;
  }

  async prepare(inputs: Prepared["inputs"], outputs: Prepared["outputs"], signal?: AbortSignal): Promise<Prepared> {
    signal?.throwIfAborted();
    if (this.isClosed) throw new Error("the what-if was closed");
    const id = this.pending.nextId();
    // Asked before the model is fetched, so that it can be given up meanwhile. A question that is made ready all the same
    // is let go of.
    const answer = this.wait<Prepared>(id, { signal, onLate: (prepared) => this.release(prepared) });
    this.engine.model(this.known).then(
      (model) => {
        if (signal?.aborted || !this.pending.has(id)) {
          this.pending.forget(id);
          return;
        }
        if (model) this.known = model.version;
        this.port().postMessage({ kind: "prepare", id, model, inputs, outputs });
      },
      (error: unknown) => this.pending.fail(id, error),
    );
    return answer;
  }

  async run(prepared: Prepared, cases: Float64Array, options: RunOptions = {}): Promise<Answers> {
    options.signal?.throwIfAborted();
    const id = this.pending.nextId();
    const answer = this.wait<Answers>(id, options);
    this.port().postMessage({ kind: "run", id, question: prepared.id, cases });
    return answer;
  }

  release(prepared: Prepared): void {
    this.worker?.postMessage({ kind: "release", question: prepared.id });
  }

  close(): void {
    this.isClosed = true;
    this.pending.failAll(new Error("the what-if was closed"));
    this.dropWorker();
  }

  private dropWorker(): void {
    this.worker?.terminate();
    this.worker = undefined;
    this.known = undefined;
  }

  private port(): WhatIfPort {
    if (this.isClosed) throw new Error("the what-if was closed");
    if (!this.worker) {
      this.worker = this.makeWorker();
      this.worker.onmessage = ({ data }) => this.receive(data);
      this.worker.onerror = (event) => {
        this.dropWorker();
        this.pending.failAll(new Error(event.message || "the what-if did not start"));
      };
    }
    return this.worker;
  }

  /** The answer to a request; the worker is notified when it is given up. */
  private wait<Answer>(id: number, options: WaitOptions<Answer>): Promise<Answer> {
    return this.pending.wait(id, { ...options, onAbort: () => this.worker?.postMessage({ kind: "stop", id }) });
  }

  private receive(reply: WhatIfReply): void {
    if (reply.kind === "progress") this.pending.progress(reply.id, reply.done, reply.total);
    else if (reply.kind === "wants document") this.sendDocument(reply.id);
    else if (reply.kind === "failure") this.pending.fail(reply.id, new Error(reply.failure));
    else this.pending.settle(reply.id, reply.kind === "prepared" ? reply.prepared : reply.answers);
  }

  private sendDocument(id: number): void {
    this.engine.source().then(
      (source) => this.worker?.postMessage({ kind: "document", id, source }),
      (error: unknown) => this.pending.fail(id, error),
    );
  }
}
