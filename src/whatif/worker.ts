// What-ifs in a worker of their own: neither the page nor its engine waits for ten thousand cases.
/// <reference lib="webworker" />
import type { WhatIfReply, WhatIfRequest } from "./messages";
import { WhatIfWork } from "./work";

declare const self: DedicatedWorkerGlobalScope;

/** Whoever pauses is woken by a message of our own, behind those that have come meanwhile. */
const turn = new MessageChannel();
const sleeping: (() => void)[] = [];
turn.port1.onmessage = () => sleeping.shift()?.();

const work = new WhatIfWork({
  reply: (reply) => self.postMessage(reply, buffersOf(reply)),
  now: () => performance.now(),
  pause: () =>
    new Promise((resolve) => {
      sleeping.push(resolve);
      turn.port2.postMessage(undefined);
    }),
  async buildEngine(book) {
    const [{ Engine }, { PrivateEngine }] = await Promise.all([import("../engine/engine"), import("./by-engine")]);
    return new PrivateEngine(book, new Engine(book));
  },
});

self.onmessage = ({ data }: MessageEvent<WhatIfRequest>) => void work.handle(data);

function buffersOf(reply: WhatIfReply): ArrayBuffer[] {
  return "answers" in reply ? [reply.answers.outputs.buffer as ArrayBuffer] : [];
}
