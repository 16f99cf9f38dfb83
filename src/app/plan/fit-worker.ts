// A kiln is fitted to its meter in a worker of its own: some seconds of firings, while the page stays free.
import { calibrate } from "../../ceramics/kiln/calibrate";
import type { FitQuestion, FitReply } from "./fit-client";

declare const self: DedicatedWorkerGlobalScope;

self.onmessage = ({ data }: MessageEvent<FitQuestion>) => {
  const answer = (reply: FitReply) => self.postMessage(reply);
  try {
    answer({
      kind: "answer",
      answer: calibrate(data.kiln, data.readings, (tried) => answer({ kind: "progress", tried })),
    });
  } catch (error) {
    answer({ kind: "failure", failure: error instanceof Error ? error.message : String(error) });
  }
};
