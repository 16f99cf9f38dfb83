// The page's end of what-ifs: formulas and numbers go from the engine's worker to the one that answers, as they are.
import type { EngineClient } from "../../engine/client";
import type { Answers, Prepared, RunOptions, WhatIfClient } from "./client-port";
import type { WhatIfReply, WhatIfRequest } from "./messages";

/** What a worker looks like from here. */
export interface WhatIfPort {
  postMessage(request: WhatIfRequest): void;
  onmessage: ((event: MessageEvent<WhatIfReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

interface Waiting {
  readonly settle: (answer: Prepared | Answers) => void;
  readonly fail: (reason: unknown) => void;
  readonly onProgress: RunOptions["onProgress"] | undefined;
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
  private next = 1;
  /** The version of the model that the worker has. */
  private known: number | undefined;
  private readonly waiting = new Map<number, Waiting>();

  constructor(engine: EngineClient, makeWorker: () => WhatIfPort) {
    this.engine = engine;
    this.makeWorker = makeWorker;
  }

  async prepare(inputs: Prepared["inputs"], outputs: Prepared["outputs"], signal?: AbortSignal): Promise<Prepared> {
    signal?.throwIfAborted();
    if (this.isClosed) throw new Error("the what-if was closed");
    const id = this.nextId();
    // Asked before the model is fetched, so that it can be given up meanwhile.
    const answer = this.wait<Prepared>(id, signal, undefined, (prepared) => this.release(prepared));
    this.engine.model(this.known).then(
      (model) => {
        if (signal?.aborted || !this.waiting.has(id)) {
          this.waiting.delete(id);
          return;
        }
        if (model) this.known = model.version;
        this.port().postMessage({ kind: "prepare", id, model, inputs, outputs });
      },
      (error: unknown) => this.fail(id, error),
    );
    return answer;
  }

  async run(prepared: Prepared, cases: Float64Array, options: RunOptions = {}): Promise<Answers> {
    options.signal?.throwIfAborted();
    const id = this.nextId();
    const answer = this.wait<Answers>(id, options.signal, options.onProgress, undefined);
    this.port().postMessage({ kind: "run", id, question: prepared.id, cases });
    return answer;
  }

  release(prepared: Prepared): void {
    this.worker?.postMessage({ kind: "release", question: prepared.id });
  }

  close(): void {
    this.isClosed = true;
    this.failAll(new Error("the what-if was closed"));
    this.dropWorker();
  }

  private dropWorker(): void {
    this.worker?.terminate();
    this.worker = undefined;
    this.known = undefined;
  }

  private nextId(): number {
    this.next += 1;
    return this.next;
  }

  private port(): WhatIfPort {
    if (this.isClosed) throw new Error("the what-if was closed");
    if (!this.worker) {
      this.worker = this.makeWorker();
      this.worker.onmessage = ({ data }) => this.hear(data);
      this.worker.onerror = (event) => {
        this.dropWorker();
        this.failAll(new Error(event.message || "the what-if did not start"));
      };
    }
    return this.worker;
  }

  /** A promise for the answer to a request; given up when the signal says so. `late` takes an answer nobody waits for. */
  private wait<Answer extends Prepared | Answers>(
    id: number,
    signal: AbortSignal | undefined,
    onProgress: RunOptions["onProgress"] | undefined,
    late: ((answer: Prepared) => void) | undefined,
  ): Promise<Answer> {
    return new Promise<Answer>((resolve, reject) => {
      const giveUp = () => {
        this.worker?.postMessage({ kind: "stop", id });
        // A question that is made ready all the same is let go of.
        if (late)
          this.waiting.set(id, {
            settle: (answer) => "how" in answer && late(answer),
            fail: () => {},
            onProgress: undefined,
          });
        else this.waiting.delete(id);
        reject(signal?.reason);
      };
      signal?.addEventListener("abort", giveUp, { once: true });
      const done = () => signal?.removeEventListener("abort", giveUp);
      this.waiting.set(id, {
        settle: (answer) => {
          done();
          resolve(answer as Answer);
        },
        fail: (reason) => {
          done();
          reject(reason);
        },
        onProgress,
      });
    });
  }

  private hear(reply: WhatIfReply): void {
    const waiting = this.waiting.get(reply.id);
    if ("done" in reply) waiting?.onProgress?.(reply.done, reply.total);
    else if ("wants" in reply) this.sendDocument(reply.id);
    else if ("failure" in reply) this.fail(reply.id, new Error(reply.failure));
    else {
      this.waiting.delete(reply.id);
      waiting?.settle("prepared" in reply ? reply.prepared : reply.answers);
    }
  }

  private sendDocument(id: number): void {
    this.engine.source().then(
      (source) => this.worker?.postMessage({ kind: "document", id, source }),
      (error: unknown) => this.fail(id, error),
    );
  }

  private fail(id: number, reason: unknown): void {
    const waiting = this.waiting.get(id);
    this.waiting.delete(id);
    waiting?.fail(reason);
  }

  private failAll(error: Error): void {
    for (const id of [...this.waiting.keys()]) this.fail(id, error);
  }
}
