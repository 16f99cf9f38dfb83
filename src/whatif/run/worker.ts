// What-ifs in a worker of their own: neither the page nor its engine waits for ten thousand cases.
import { CalculatorWork } from "./calculator-work";
import type { CalculatorReply, CalculatorRequest, WhatIfReply, WhatIfRequest } from "./messages";
import { WhatIfWork } from "./work";

declare const self: DedicatedWorkerGlobalScope;

/** Whoever pauses is woken by a message of our own, behind those that have come meanwhile. */
const wakeChannel = new MessageChannel();
const sleeping: (() => void)[] = [];
wakeChannel.port1.onmessage = () => sleeping.shift()?.();

const pause = () =>
  new Promise<void>((resolve) => {
    sleeping.push(resolve);
    wakeChannel.port2.postMessage(undefined);
  });

const work = new WhatIfWork({
  reply: (reply) => self.postMessage(reply, handedOver(reply)),
  now: () => performance.now(),
  pause,
  async buildEngine({ book, excluded }) {
    const [{ Engine }, { PrivateEngine }] = await Promise.all([import("../../engine/engine"), import("./by-engine")]);
    return new PrivateEngine(book, new Engine(book, excluded));
  },
});

const calculator = new CalculatorWork((reply) => self.postMessage(reply, numbersOf(reply)), pause);

self.onmessage = ({ data }: MessageEvent<WhatIfRequest | CalculatorRequest>) => {
  if (data.kind === "open" || data.kind === "prepare inputs" || data.kind === "apply") calculator.handle(data);
  else void work.handle(data);
};

/** What of a reply goes over without being copied. */
function handedOver(reply: WhatIfReply): ArrayBuffer[] {
  return reply.kind === "answers" ? [reply.answers.outputs.buffer as ArrayBuffer] : [];
}

/** The same of a calculator's reply: all columns of a patch share the memory of their numbers; row indices are kept here. */
function numbersOf(reply: CalculatorReply): ArrayBuffer[] {
  const patch =
    reply.kind === "patch" ? reply.patch : reply.kind === "opened" && reply.opened.ok ? reply.opened.patch : undefined;
  const { values } = patch?.columns[0] ?? {};
  return values ? [values.numbers.buffer as ArrayBuffer, values.others.buffer as ArrayBuffer] : [];
}
