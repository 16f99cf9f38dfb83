// A calendar as a file for other calendars. What was written is remembered in this browser, so that an event that moved
// says so by its sequence, and one that is no longer to be is called off.
import { DAY_MINUTES, dayNumber } from "../../ceramics/calendar/days";
import { ownTaskId } from "../../ceramics/calendar/one-calendar";
import type { CalendarStep } from "../../ceramics/calendar/route-tasks";
import type { Slot } from "../../ceramics/calendar/task";
import { counted } from "../../core/counted";
import { type FileKind, fileNameFor, saveTextFile } from "../../storage/files";
import type { SavedEvent } from "../../storage/preferences";
import type { Session } from "../edition/session";
import type { Studio } from "../keeping/studio";
import { taskName } from "./calendar-view";
import { type CalendarEvent, icalendarText } from "./icalendar";

const ICALENDAR_FILE: FileKind = {
  description: "iCalendar",
  extensions: [".ics"],
  mime: "text/calendar",
  largestBytes: 20_000_000,
};

/** An edition whose slots are written. */
interface EventEdition {
  readonly id: string;
  readonly title: string;
  readonly steps: readonly CalendarStep[];
  readonly due: string | undefined;
}

/** What is to be written: firings and due dates, or the work as well. */
export interface EventChoice {
  readonly editions: readonly EventEdition[];
  /** Of these editions; slots that name none are of the first. */
  readonly slots: readonly Slot[];
  readonly isWorkToo: boolean;
}

type Draft = Omit<CalendarEvent, "sequence"> & Pick<SavedEvent, "edition" | "kind">;

/** The events of a calendar. A load goes by its step and its first piece: that stays when loads before it are done. */
export function eventsOf({ editions, slots, isWorkToo }: EventChoice): readonly Draft[] {
  const byId = new Map(editions.map((one) => [one.id, one]));
  const done = slots.flatMap((slot): Draft[] => {
    const edition = byId.get(slot.task.edition ?? "") ?? editions[0];
    return edition && (isWorkToo || slot.task.kiln !== undefined) ? [taskEvent(slot, edition)] : [];
  });
  const due = editions.flatMap(({ id, title, due: day }): Draft[] => {
    const number = day === undefined ? undefined : dayNumber(day);
    if (number === undefined) return [];
    const [from, to] = [number * DAY_MINUTES, (number + 1) * DAY_MINUTES];
    const uid = uidOf(id, "due");
    return [{ uid, edition: id, kind: "due", summary: `${title} is due`, from, to, isDays: true }];
  });
  return [...done, ...due];
}

function taskEvent({ task, start, end, workEnd }: Slot, { id, title, steps }: EventEdition): Draft {
  const { kiln } = task;
  const name = taskName({ ...task, id: ownTaskId(task) }, steps);
  const pieces = counted(task.pieces.length, "piece");
  return {
    uid: task.step === "" ? uidOf(id, "firing", task.title) : uidOf(id, task.step, task.pieces[0] ?? ""),
    edition: id,
    kind: kiln === undefined ? "work" : "firing",
    summary: `${title}: ${name} (${pieces})`,
    description: `Pieces: ${task.pieces.join(", ")}`,
    ...(kiln === undefined ? {} : { location: kiln, isFree: true }),
    from: start,
    to: kiln === undefined ? workEnd : end,
  };
}

const uidOf = (...parts: readonly string[]) => `${parts.map(encodeURIComponent).join(".")}@saggar`;

/** What was written is remembered for so long after it. */
const REMEMBERED = 90 * DAY_MINUTES;
const MOST_REMEMBERED = 5000;

/** Events with their sequence by what was written before, those called off, and what to remember. `now` is a minute of the clock. */
export function withSequences(
  drafts: readonly Draft[],
  before: readonly SavedEvent[],
  scope: { readonly editions: readonly string[]; readonly isWorkToo: boolean },
  now: number,
): { readonly events: readonly CalendarEvent[]; readonly remembered: readonly SavedEvent[] } {
  const known = new Map(before.map((one) => [one.uid, one]));
  const events = drafts.map(({ edition: _, kind: _kind, ...event }): CalendarEvent => {
    const was = known.get(event.uid);
    const isMoved = was !== undefined && (was.from !== event.from || was.to !== event.to || was.isCancelled === true);
    return { ...event, sequence: (was?.sequence ?? 0) + Number(isMoved) };
  });
  const written = new Set(drafts.map(({ uid }) => uid));
  const isGone = ({ uid, edition, kind, to, isCancelled }: SavedEvent) =>
    !written.has(uid) &&
    !isCancelled &&
    to > now &&
    scope.editions.includes(edition) &&
    (scope.isWorkToo || kind !== "work");
  const gone = before
    .filter(isGone)
    .map((one): SavedEvent => ({ ...one, sequence: one.sequence + 1, isCancelled: true }));
  const off = gone.map(({ edition: _, kind, ...one }): CalendarEvent => ({ ...one, isDays: kind === "due" }));
  const changed = new Set([...written, ...gone.map(({ uid }) => uid)]);
  const remembered = [
    ...before.filter(({ uid, to }) => !changed.has(uid) && to > now - REMEMBERED),
    ...gone,
    ...drafts.map(({ uid, edition, kind, summary, from, to }, at): SavedEvent => {
      return { uid, edition, kind, summary, from, to, sequence: events[at]?.sequence ?? 0 };
    }),
  ];
  return { events: [...events, ...off], remembered: remembered.slice(-MOST_REMEMBERED) };
}

/** Saves a calendar as a file; false, with a message, where that fails, and without one where the maker thought otherwise. */
export async function saveCalendar(
  studio: Studio,
  session: Session,
  name: string,
  choice: EventChoice,
): Promise<boolean> {
  const { preferences } = studio.home;
  const held = await preferences.get("calendarSaved");
  const scope = { editions: choice.editions.map(({ id }) => id), isWorkToo: choice.isWorkToo };
  const now = Math.floor(Date.parse(session.now()) / 60_000);
  const { events, remembered } = withSequences(eventsOf(choice), (held.ok && held.value) || [], scope, now);
  const file = fileNameFor(name, ".ics");
  const saved = await saveTextFile(file, icalendarText(name, events, session.now()), ICALENDAR_FILE);
  if (!saved.ok) session.refuse(saved.problems);
  if (!saved.ok || !saved.value) return false;
  void preferences.set("calendarSaved", remembered);
  const off = events.filter(({ isCancelled }) => isCancelled).length;
  session.notify(
    "done",
    `Saved as the file ${file}: ${counted(events.length - off, "event")}${off > 0 ? `, ${off} called off` : ""}.`,
  );
  return true;
}
