// The one calendar is scheduled in a worker of its own: once, and again for each edition that might be put first.
import type { OneCalendarInput } from "../../ceramics/calendar/one-calendar";
import { type ScheduleReply, scheduleAll } from "./schedule-client";

declare const self: DedicatedWorkerGlobalScope;

self.onmessage = ({ data }: MessageEvent<OneCalendarInput>) => {
  const reply = (one: ScheduleReply) => self.postMessage(one);
  try {
    scheduleAll(data, reply);
  } catch (error) {
    reply({ kind: "failure", failure: error instanceof Error ? error.message : String(error) });
  }
};
