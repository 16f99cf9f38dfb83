// The worker of the calculator in this thread, its messages copied as they would be between threads.
import { type CalculatorClient, type CalculatorPort, connectCalculator } from "../../src/whatif/run/calculator-client";
import { CalculatorWork } from "../../src/whatif/run/calculator-work";
import type { CalculatorReply, CalculatorRequest } from "../../src/whatif/run/messages";

/** A client, with what it asked for. */
export function calculatorHere(): { readonly client: CalculatorClient; readonly asked: CalculatorRequest[] } {
  const asked: CalculatorRequest[] = [];
  const client = connectCalculator(() => {
    let isOver = false;
    const work = new CalculatorWork(
      (reply) => {
        const data = structuredClone(reply);
        setImmediate(() => !isOver && port.onmessage?.({ data } as MessageEvent<CalculatorReply>));
      },
      () => new Promise((done) => setImmediate(() => done())),
    );
    const port: CalculatorPort = {
      postMessage: (request) => {
        asked.push(request);
        const copy = structuredClone(request);
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
