// The page's end of laying one calendar: one question, the calendar, then edition by edition what moves when it is put
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
export interface Laid {
  readonly calendar: OneCalendar;
  readonly offers: readonly Offer[];
}

export type LayReply =
  | { readonly laid: Result<Laid> }
  | { readonly edition: string; readonly moves: Result<readonly Move[]> }
  | { readonly failure: string }
  | "done";

export type LayPort = QuestionPort<OneCalendarInput, LayReply>;

/** Lays a calendar and says piece by piece what comes of it. */
export function layAll(input: OneCalendarInput, reply: (reply: LayReply) => void): void {
  const made = oneCalendar(input);
  if (!made.ok) {
    reply({ laid: made });
    return;
  }
  const calendar = made.value;
  reply({ laid: ok({ calendar, offers: offersOf(calendar.slots) }) });
  // The first is first already.
  for (const { id } of input.editions.slice(1)) reply({ edition: id, moves: movesWhenFirst(input, calendar, id) });
  reply("done");
}

/** Starts laying in a worker that lasts as long as that takes; gives what stops it, and nothing more is told then. */
export function runLay(
  input: OneCalendarInput,
  onReply: (reply: LayReply) => void,
  makeWorker: () => LayPort = startWorker,
): () => void {
  return askWorker(makeWorker(), input, {
    isLast: (reply) => reply === "done" || "failure" in reply || ("laid" in reply && !reply.laid.ok),
    onReply,
    onFailure: (message) => onReply({ failure: message || "the calendar was not started" }),
  });
}

function startWorker(): LayPort {
  return new Worker(new URL("./lay-worker.ts", import.meta.url), { type: "module", name: "calendar" });
}
