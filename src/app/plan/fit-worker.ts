// A kiln is fitted to its meter in a worker of its own: some seconds of firings, while the page stays free.
import { calibrate } from "../../ceramics/kiln/calibrate";
import type { FitQuestion, FitReply } from "./fit-client";

declare const self: DedicatedWorkerGlobalScope;

self.onmessage = ({ data }: MessageEvent<FitQuestion>) => {
  const answer = (reply: FitReply) => self.postMessage(reply);
  try {
    answer({ answer: calibrate(data.kiln, data.readings, (tried) => answer({ tried })) });
  } catch (error) {
    answer({ failure: error instanceof Error ? error.message : String(error) });
  }
};
