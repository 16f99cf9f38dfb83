// The one calendar of the studio as it is being made: the other editions are read once, the calendar is scheduled whenever the
// open edition or the order moves, and both can be stopped.
import { batch, type Signal, signal } from "@preact/signals";
import type { Move } from "../../ceramics/calendar/one-calendar";
import type { Result } from "../../core/problem";
import type { Session } from "../edition/session";
import type { Studio } from "../keeping/studio";
import { runSchedule, type ScheduledCalendar, type SchedulePort, type ScheduleReply } from "./schedule-client";
import { keepOrder, type StudioRules, studioRules } from "./studio-order";
import { type EditionRead, inOrderOf, type LeftOut, type OthersRead, readEdition, readOthers } from "./studio-read";

/** How far the work on the calendar is. */
export type CalendarState =
  | { readonly kind: "idle" | "scheduling" | "stopped" }
  | { readonly kind: "reading"; readonly done: number; readonly of: number }
  | { readonly kind: "failed"; readonly why: string };

/** What was scheduled: the editions in their order, and what is not among them. */
export interface Shown {
  readonly editions: readonly EditionRead[];
  readonly leftOut: readonly LeftOut[];
  readonly rules: StudioRules;
  readonly scheduled: Result<ScheduledCalendar>;
}

export class CalendarDesk {
  readonly state: Signal<CalendarState> = signal({ kind: "idle" });
  readonly shown: Signal<Shown | undefined> = signal(undefined);
  /** What moves when an edition is put first, by its id, as far as it was tried. */
  readonly moves: Signal<ReadonlyMap<string, readonly Move[]>> = signal(new Map());
  private readonly studio: Studio;
  private readonly session: Session;
  private readonly makeWorker: (() => SchedulePort) | undefined;
  private others: OthersRead | undefined;
  private rules: StudioRules | undefined;
  private reading: AbortController | undefined;
  private stopScheduling: (() => void) | undefined;

  constructor(studio: Studio, session: Session, makeWorker?: () => SchedulePort) {
    this.studio = studio;
    this.session = session;
    this.makeWorker = makeWorker;
  }

  /** Reads the other editions and what the shelf says, and schedules the calendar. */
  async read(): Promise<void> {
    this.stop();
    const reading = new AbortController();
    this.reading = reading;
    this.state.value = { kind: "reading", done: 0, of: 0 };
    const news = (done: number, of: number) => {
      if (this.reading === reading) this.state.value = { kind: "reading", done, of };
    };
    const others = await readOthers(this.studio, this.session, news, reading.signal);
    const rules = others && (await studioRules(this.studio, this.session));
    if (!others || !rules || this.reading !== reading) return;
    [this.others, this.rules, this.reading] = [others, rules, undefined];
    this.schedule();
  }

  /** Lays the calendar anew, as after an edit; nothing before the others are read, or while the sheets are calculated. */
  schedule(): void {
    const { others, rules, session } = this;
    const id = this.studio.editionId.value ?? "";
    const own = others && rules && readEdition(session, id);
    if (!own) return;
    this.stopScheduling?.();
    const { title } = session.book.value.meta;
    const isDone = own.ok && own.value.edition.work.pieces.length === 0;
    const editions = inOrderOf(own.ok && !isDone ? [...others.editions, own.value] : others.editions, rules.order);
    const why = own.ok ? "Nothing is left to be done." : own.problems.map(({ message }) => message).join(" ");
    const leftOut = own.ok && !isDone ? others.leftOut : [{ id, title, why, isWrong: !own.ok }, ...others.leftOut];
    const input = { editions: editions.map(({ edition }) => edition), studio: rules.hours, from: session.today() };
    this.state.value = { kind: "scheduling" };
    this.moves.value = new Map();
    const onReply = (reply: ScheduleReply) => this.receive(reply, { editions, leftOut, rules });
    this.stopScheduling = runSchedule(input, onReply, this.makeWorker);
  }

  /** Keeps another order on the shelf and schedules by it; none is by due date. */
  async order(order: readonly string[], label: string): Promise<void> {
    const rules = await keepOrder(this.studio, this.session, order, label);
    if (!rules) return;
    this.rules = rules;
    this.session.notify("done", `${label}. It is kept on the studio’s shelf, and undone there.`, [], { passes: true });
    this.schedule();
  }

  /** Stops reading and scheduling; what was shown stays. */
  stop(): void {
    const isAtWork = this.state.value.kind === "reading" || this.state.value.kind === "scheduling";
    this.reading?.abort();
    this.stopScheduling?.();
    [this.reading, this.stopScheduling] = [undefined, undefined];
    if (isAtWork) this.state.value = { kind: "stopped" };
  }

  private receive(reply: ScheduleReply, of: Omit<Shown, "scheduled">): void {
    if (reply.kind === "done") this.state.value = { kind: "idle" };
    else if (reply.kind === "failure") this.state.value = { kind: "failed", why: reply.failure };
    else if (reply.kind === "scheduled")
      batch(() => {
        this.shown.value = { ...of, scheduled: reply.scheduled };
        if (!reply.scheduled.ok) this.state.value = { kind: "idle" };
      });
    else if (reply.moves.ok) this.moves.value = new Map(this.moves.value).set(reply.edition, reply.moves.value);
  }
}
