// What-ifs without workers: engine and answers in the same thread, messages copied as they would be between threads.
import { applyChange, type Change } from "../../src/core/document/change";
import type { Workbook } from "../../src/core/document/workbook";
import type { EngineClient } from "../../src/engine/client";
import { Engine } from "../../src/engine/engine";
import { PrivateEngine } from "../../src/whatif/run/by-engine";
import { connectWhatIf, type WhatIfPort } from "../../src/whatif/run/client";
import type { WhatIfReply, WhatIfRequest } from "../../src/whatif/run/messages";
import { WhatIfWork } from "../../src/whatif/run/work";

/** A what-if client over a workbook, with what it asked for and what it answered. */
export function whatIfHere(book: Workbook) {
  const engine = new Engine(book);
  let current = book;
  const asked: WhatIfRequest[] = [];
  const replies: WhatIfReply[] = [];
  const built: Workbook[] = [];
  const engineClient: EngineClient = {
    open: async () => engine.values(),
    apply: async (change) => engine.apply(change),
    model: async (known) => structuredClone(engine.model(known)),
    calculate: async (formula) => engine.calculate(formula),
    source: async () => structuredClone(engine.source()),
    close: () => engine.close(),
  };
  let clock = 0;
  const makeWorker = (): WhatIfPort => {
    const port: WhatIfPort = {
      postMessage(request) {
        asked.push(request);
        const copy = structuredClone(request);
        setImmediate(() => void work.handle(copy));
      },
      onmessage: null,
      onerror: null,
      terminate: () => undefined,
    };
    const work = new WhatIfWork({
      reply(reply) {
        replies.push(reply);
        const data = structuredClone(reply);
        setImmediate(() => port.onmessage?.({ data } as MessageEvent<WhatIfReply>));
      },
      // A stretch is over after a few blocks, however fast they were.
      now: () => {
        clock += 8;
        return clock;
      },
      pause: () => new Promise((resolve) => setImmediate(() => setImmediate(resolve))),
      async buildEngine({ book, excluded }) {
        built.push(book);
        return new PrivateEngine(book, new Engine(book, excluded));
      },
    });
    return port;
  };
  return {
    client: connectWhatIf(engineClient, makeWorker),
    engine,
    asked,
    replies,
    built,
    /** The document after a change, the engine told of it. */
    change(change: Change): void {
      current = applyChange(current, change);
      engine.apply(change);
    },
    close: () => engine.close(),
  };
}
