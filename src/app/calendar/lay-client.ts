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
  | { readonly kind: "laid"; readonly laid: Result<Laid> }
  | { readonly kind: "moves"; readonly edition: string; readonly moves: Result<readonly Move[]> }
  | { readonly kind: "failure"; readonly failure: string }
  | { readonly kind: "done" };

export type LayPort = QuestionPort<OneCalendarInput, LayReply>;

/** Lays a calendar and says piece by piece what comes of it. */
export function layAll(input: OneCalendarInput, reply: (reply: LayReply) => void): void {
  const made = oneCalendar(input);
  if (!made.ok) {
    reply({ kind: "laid", laid: made });
    return;
  }
  const calendar = made.value;
  reply({ kind: "laid", laid: ok({ calendar, offers: offersOf(calendar.slots) }) });
  // The first is first already.
  for (const { id } of input.editions.slice(1))
    reply({ kind: "moves", edition: id, moves: movesWhenFirst(input, calendar, id) });
  reply({ kind: "done" });
}

/** Starts laying in a worker that lasts as long as that takes; gives what stops it, and nothing more is told then. */
export function runLay(
  input: OneCalendarInput,
  onReply: (reply: LayReply) => void,
  makeWorker: () => LayPort = startWorker,
): () => void {
  return askWorker(makeWorker(), input, {
    isLast: (reply) => reply.kind === "done" || reply.kind === "failure" || (reply.kind === "laid" && !reply.laid.ok),
    onReply,
    onFailure: (message) => onReply({ kind: "failure", failure: message || "the calendar was not started" }),
  });
}

function startWorker(): LayPort {
  return new Worker(new URL("./lay-worker.ts", import.meta.url), { type: "module", name: "calendar" });
}
