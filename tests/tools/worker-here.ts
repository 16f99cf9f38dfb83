// The worker of what-ifs in this thread, its messages copied as they would be between threads.
import type { EngineClient } from "../../src/engine/client";
import { Engine } from "../../src/engine/engine";
import { PrivateEngine } from "../../src/whatif/run/by-engine";
import { connectWhatIf, type WhatIfPort } from "../../src/whatif/run/client";
import type { WhatIfClient } from "../../src/whatif/run/client-port";
import type { WhatIfReply } from "../../src/whatif/run/messages";
import { WhatIfWork } from "../../src/whatif/run/work";

/** A what-if client over an engine, without a thread of its own. */
export function answerHere(engine: EngineClient): WhatIfClient {
  return connectWhatIf(engine, () => {
    let isOver = false;
    const work = new WhatIfWork({
      reply: (reply) => {
        const data = structuredClone(reply);
        setImmediate(() => !isOver && port.onmessage?.({ data } as MessageEvent<WhatIfReply>));
      },
      now: () => performance.now(),
      pause: () => new Promise((resolve) => setImmediate(() => setImmediate(resolve))),
      buildEngine: async ({ book, excluded }) => new PrivateEngine(book, new Engine(book, excluded)),
    });
    const port: WhatIfPort = {
      postMessage: (request) => {
        const copy = structuredClone(request);
        setImmediate(() => !isOver && void work.handle(copy));
      },
      onmessage: null,
      onerror: null,
      terminate: () => {
        isOver = true;
      },
    };
    return port;
  });
}
