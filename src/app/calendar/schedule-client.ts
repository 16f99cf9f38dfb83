// The page's end of scheduling one calendar: one question, the calendar, then edition by edition what moves when it is put
// first, and a way to stop it.
import { type Offer, offersOf } from "../../ceramics/calendar/offers";
import {
  type Move,
  movesWhenFirst,
  type OneCalendar,
  type OneCalendarInput,
  oneCalendar,
} from "../../ceramics/calendar/one-calendar";
import { ok, type Result } from "../../core/problem";
import { askWorker, type QuestionPort } from "../edition/worker-question";

/** A calendar with the room its firings leave. */
export interface ScheduledCalendar {
  readonly calendar: OneCalendar;
  readonly offers: readonly Offer[];
}

export type ScheduleReply =
  | { readonly kind: "scheduled"; readonly scheduled: Result<ScheduledCalendar> }
  | { readonly kind: "moves"; readonly edition: string; readonly moves: Result<readonly Move[]> }
  | { readonly kind: "failure"; readonly failure: string }
  | { readonly kind: "done" };

export type SchedulePort = QuestionPort<OneCalendarInput, ScheduleReply>;

/** Schedules a calendar and says piece by piece what comes of it. */
export function scheduleAll(input: OneCalendarInput, reply: (reply: ScheduleReply) => void): void {
  const made = oneCalendar(input);
  if (!made.ok) {
    reply({ kind: "scheduled", scheduled: made });
    return;
  }
  const calendar = made.value;
  reply({ kind: "scheduled", scheduled: ok({ calendar, offers: offersOf(calendar.slots) }) });
  // The first is first already.
  for (const { id } of input.editions.slice(1))
    reply({ kind: "moves", edition: id, moves: movesWhenFirst(input, calendar, id) });
  reply({ kind: "done" });
}

/** Starts scheduling in a worker that lasts as long as that takes; gives what stops it, and nothing more is reported then. */
export function runSchedule(
  input: OneCalendarInput,
  onReply: (reply: ScheduleReply) => void,
  makeWorker: () => SchedulePort = startWorker,
): () => void {
  return askWorker(makeWorker(), input, {
    isLast: (reply) =>
      reply.kind === "done" || reply.kind === "failure" || (reply.kind === "scheduled" && !reply.scheduled.ok),
    onReply,
    onFailure: (message) => onReply({ kind: "failure", failure: message || "the calendar was not started" }),
  });
}

function startWorker(): SchedulePort {
  return new Worker(new URL("./schedule-worker.ts", import.meta.url), { type: "module", name: "calendar" });
}
