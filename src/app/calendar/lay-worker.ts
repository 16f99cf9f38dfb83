// The one calendar is laid in a worker of its own: once, and again for each edition that might be put first.
import type { OneCalendarInput } from "../../ceramics/calendar/one-calendar";
import { type LayReply, layAll } from "./lay-client";

declare const self: DedicatedWorkerGlobalScope;

self.onmessage = ({ data }: MessageEvent<OneCalendarInput>) => {
  const reply = (one: LayReply) => self.postMessage(one);
  try {
    layAll(data, reply);
  } catch (error) {
    reply({ kind: "failure", failure: error instanceof Error ? error.message : String(error) });
  }
};
