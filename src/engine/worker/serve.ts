// The engine in a worker of its own: the page never waits for a recalculation. It may be one that knows the common functions
// only; where a formula calls another, the whole engine's file is fetched into the same worker and goes on in its place.
import { buffersOf } from "../cell-lists";
import type { Reply, Request } from "../client";
import { Engine } from "../engine";
import { onEveryFormula } from "../hyperformula/index";
import { buffersOfModel } from "../model-buffers";
import type { Patch } from "../values";

declare const self: DedicatedWorkerGlobalScope;

let engine: Engine | undefined;

/** How often the page hears that the calculation moves on, in milliseconds. */
const BEAT_EVERY = 250;
let beatAt = 0;
let formulas = 0;
onEveryFormula(() => {
  formulas = (formulas + 1) & 15;
  // Looking at the clock for every formula would cost more than the quickest of them.
  if (formulas !== 0) return;
  const now = performance.now();
  if (now - beatAt < BEAT_EVERY) return;
  beatAt = now;
  self.postMessage("beat" satisfies Reply);
});

/** Answers what the page asks. `fetchWhole` runs the file of the engine with all functions, which then listens here instead. */
export function serveEngine(fetchWhole?: () => Promise<unknown>): void {
  const listen = ({ data }: MessageEvent<Request>): void => {
    const reply = replyTo(data);
    if (fetchWhole && engine?.callsUnknown && reply.message.kind === "answer") void handOver(data, reply, engine);
    else post(reply);
  };
  /** What is asked meanwhile waits. Where the file can't be had, the unknown functions stay errors of their cells. */
  const handOver = async (asked: Request, reply: PreparedReply, from: Engine): Promise<void> => {
    const waiting: MessageEvent<Request>[] = [];
    self.onmessage = (event) => waiting.push(event);
    self.postMessage("fetching" satisfies Reply);
    try {
      await fetchWhole?.();
      self.postMessage("beat" satisfies Reply);
      const open: Request = { id: asked.id, kind: "open", ...from.source(), version: from.latestVersion };
      const isOfValues = asked.kind === "open" || asked.kind === "apply";
      for (const request of isOfValues ? [open] : [{ ...open, id: NOBODY }, asked])
        self.onmessage?.(new MessageEvent("message", { data: request }));
      from.close();
    } catch {
      self.onmessage = listen;
      post(reply);
    }
    fetchWhole = undefined;
    for (const event of waiting) self.onmessage?.(event);
  };
  self.onmessage = listen;
}

/** The id of what nobody waits for. */
const NOBODY = 0;

interface PreparedReply {
  readonly message: Exclude<Reply, string>;
  readonly buffers: ArrayBuffer[];
}

function post({ message, buffers }: PreparedReply): void {
  self.postMessage(message, buffers);
}

function replyTo(request: Request): PreparedReply {
  try {
    const { answer, buffers } = answerTo(request);
    return { message: { kind: "answer", id: request.id, answer }, buffers };
  } catch (error) {
    const failure = error instanceof Error ? `${error.message}\n${error.stack}` : String(error);
    return { message: { kind: "failure", id: request.id, failure }, buffers: [] };
  }
}

/** An answer, and what of it goes over without being copied. */
interface Answer {
  readonly answer: unknown;
  readonly buffers: ArrayBuffer[];
}

function answerTo(request: Request): Answer {
  if (request.kind === "open") {
    engine?.close();
    engine = new Engine(request.book, request.excluded, request.version);
    return patch(engine.values());
  }
  if (!engine) throw new Error("the engine has no edition open");
  switch (request.kind) {
    case "apply":
      return patch(engine.apply(request.change));
    case "calculate":
      return { answer: engine.calculate(request.formula), buffers: [] };
    case "model": {
      const answer = engine.model(request.known);
      return { answer, buffers: buffersOfModel(answer) };
    }
    case "source":
      return { answer: engine.source(), buffers: [] };
  }
}

function patch(answer: Patch): Answer {
  return { answer, buffers: buffersOf(answer.columns.map(({ values }) => values)) };
}
