// What-ifs in a worker of their own: neither the page nor its engine waits for ten thousand cases.
import { AheadWork } from "./ahead-work";
import type { AheadReply, AheadRequest, WhatIfReply, WhatIfRequest } from "./messages";
import { WhatIfWork } from "./work";

declare const self: DedicatedWorkerGlobalScope;

/** Whoever pauses is woken by a message of our own, behind those that have come meanwhile. */
const turn = new MessageChannel();
const sleeping: (() => void)[] = [];
turn.port1.onmessage = () => sleeping.shift()?.();

const work = new WhatIfWork({
  reply: (reply) => self.postMessage(reply, handedOver(reply)),
  now: () => performance.now(),
  pause: () =>
    new Promise((resolve) => {
      sleeping.push(resolve);
      turn.port2.postMessage(undefined);
    }),
  async buildEngine({ book, aside }) {
    const [{ Engine }, { PrivateEngine }] = await Promise.all([import("../../engine/engine"), import("./by-engine")]);
    return new PrivateEngine(book, new Engine(book, aside));
  },
});

const ahead = new AheadWork((reply) => self.postMessage(reply, handedOver(reply)));

self.onmessage = ({ data }: MessageEvent<WhatIfRequest | AheadRequest>) => {
  if (data.kind === "foresee" || data.kind === "foretell") ahead.handle(data);
  else void work.handle(data);
};

/** What of a reply goes over without being copied. */
function handedOver(reply: WhatIfReply | AheadReply): ArrayBuffer[] {
  if ("answers" in reply) return [reply.answers.outputs.buffer as ArrayBuffer];
  const foretold = "foretold" in reply ? reply.foretold : undefined;
  return foretold ? [foretold.numbers.buffer as ArrayBuffer, foretold.codes.buffer as ArrayBuffer] : [];
}
