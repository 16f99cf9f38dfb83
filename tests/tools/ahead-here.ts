// The worker that looks ahead in this thread, its messages copied as they would be between threads.
import type { EngineClient } from "../../src/engine/client";
import { type AheadClient, type AheadPort, connectAhead } from "../../src/whatif/run/ahead-client";
import { AheadWork } from "../../src/whatif/run/ahead-work";
import type { AheadReply, AheadRequest } from "../../src/whatif/run/messages";

/** A client over an engine, with what it asked for. */
export function aheadHere(engine: EngineClient): { readonly client: AheadClient; readonly asked: AheadRequest[] } {
  const asked: AheadRequest[] = [];
  const client = connectAhead(engine, () => {
    let isOver = false;
    const work = new AheadWork((reply) => {
      const data = structuredClone(reply);
      setImmediate(() => !isOver && port.onmessage?.({ data } as MessageEvent<AheadReply>));
    });
    const port: AheadPort = {
      postMessage: (request, handedOver) => {
        asked.push(request);
        const copy = structuredClone(request, { transfer: handedOver });
        setImmediate(() => !isOver && work.handle(copy));
      },
      onmessage: null,
      onerror: null,
      terminate: () => {
        isOver = true;
      },
    };
    return port;
  });
  return { client, asked };
}
