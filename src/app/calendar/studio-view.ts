// The one calendar in words: a row an edition, what moves, room that is free, and the picture.
import { DAY_MINUTES, dayNumber, isoDay } from "../../ceramics/calendar/days";
import type { ExpectedCount } from "../../ceramics/calendar/expected";
import { dayOfSlot, type Offer } from "../../ceramics/calendar/offers";
import type { EditionReady, Move, OneCalendar } from "../../ceramics/calendar/one-calendar";
import { editionsOf, ownTaskId } from "../../ceramics/calendar/one-calendar";
import type { Slot } from "../../ceramics/calendar/task";
import type { CalendarBar, CalendarPicture } from "../../charts/calendar-plots";
import { counted } from "../../core/counted";
import { dayName } from "../edition/day-name";
import { showNumber } from "../edition/format";
import { days, dayTicks, taskName } from "./calendar-view";
import type { StudioRules } from "./studio-order";
import type { EditionRead } from "./studio-read";

/** A, B, … Z, AA, AB: what an edition goes by in the picture. */
export function letterOf(at: number): string {
  const letter = String.fromCharCode(65 + (at % 26));
  return at < 26 ? letter : `${letterOf(Math.floor(at / 26) - 1)}${letter}`;
}

/** When an edition is ready, against the day it is due. */
export function readyWords({ finish, due, slackDays }: EditionReady, locale: string): string {
  if (finish === undefined) return "Nothing is left to be done";
  const ready = `ready ${dayName(finish, locale)}`;
  if (due === undefined || slackDays === undefined) return `${ready}, no due date`;
  const day = dayName(due, locale);
  if (slackDays < 0) return `⚠ ${ready}, ${days(-slackDays)} late (due ${day})`;
  return slackDays === 0 ? `${ready}, the day it is due` : `${ready}, ${days(slackDays)} before it is due (${day})`;
}

/** What moves when an edition is put first: “Put first: Kestrel is ready 4 days earlier; Marram 6 days later, past the day it is due.” */
export function movesWords(moves: readonly Move[], id: string, titleOf: (id: string) => string): string {
  const own = moves.find(({ edition }) => edition === id);
  const words = ({ days: by, isNowLate, isNowInTime }: Move) =>
    `${days(Math.abs(by))} ${by < 0 ? "earlier" : "later"}${isNowLate ? ", past the day it is due" : isNowInTime ? ", in time" : ""}`;
  const first = own ? `${titleOf(id)} is ready ${words(own)}` : `${titleOf(id)} is ready no earlier`;
  const others = moves.filter((move) => move !== own).map((move) => `${titleOf(move.edition)} ${words(move)}`);
  return `Put first: ${[first, ...others].join("; ")}.`;
}

/** Free room of a firing, and which editions could use it. */
export function offerWords({ slot, takers }: Offer, titleOf: (id: string) => string, locale: string): string {
  const { task } = slot;
  const what = task.step === "" ? task.title : task.title.toLowerCase();
  const day = dayName(isoDay(dayOfSlot(slot)), locale, "short");
  const rooms = new Set(takers.map(({ room }) => room));
  const waits = takers.map(({ edition, room, waiting }, at) => {
    const those = rooms.size > 1 ? `, room for ${counted(room, "piece")} of them` : "";
    return `${titleOf(edition)} has ${waiting}${at === 0 ? " waiting for it" : ""}${those}`;
  });
  const room = rooms.size > 1 ? "has room" : `has room for ${counted([...rooms][0] ?? 0, "piece")}`;
  return `The load of ${day} in ${task.kiln} (${titleOf(task.edition ?? "")}, ${what}) ${room}: ${waits.join("; ")}.`;
}

/** How many pieces an edition has ahead, and what is expected of them. */
export function workWords({ started, toStart, lost, again, edition }: EditionRead): string {
  const named = (counts: readonly ExpectedCount[]) =>
    counts
      .map(({ step, pieces }) => `${pieces} at ${edition.work.steps.find(({ id }) => id === step)?.title ?? step}`)
      .join(", ");
  return [
    `${started} on the way`,
    ...(toStart > 0 ? [`${toStart} to start`] : []),
    ...(lost.length > 0 ? [`planned losses: ${named(lost)}`] : []),
    ...(again.length > 0 ? [`expected to need it: ${named(again)}`] : []),
  ].join("; ");
}

/** Whose hours the calendar goes by. */
export function hoursWords({ hours, of }: StudioRules, locale: string): string {
  const week = showNumber(
    hours.hours.reduce((sum, each) => sum + each, 0),
    0,
    1,
    locale,
  );
  const people = counted(hours.people, "person", "people");
  const off = hours.closed.length === 0 ? "no days off" : `${days(hours.closed.length)} off`;
  const whose =
    of === "the shelf"
      ? "as on the studio’s shelf"
      : of === "this edition"
        ? "as in this edition, since the shelf says none"
        : "usual hours, since neither the shelf nor this edition says any";
  return `${week} hours a week, ${people}, ${off}: ${whose}.`;
}

/** A row of the table: the firings of all editions, or one step of one edition. */
export interface SlotRow {
  readonly key: string;
  /** Whose it is first, and whose pieces are in it besides. */
  readonly edition: string;
  readonly guests: readonly string[];
  readonly what: string;
  readonly kiln: string;
  readonly pieces: number;
  readonly from: number;
  readonly to: number;
}

/** Every firing, in the order in which they are loaded. */
export function firingRows(calendar: OneCalendar, editions: readonly EditionRead[]): readonly SlotRow[] {
  return calendar.slots
    .filter(({ task }) => task.kiln !== undefined)
    .map((slot) => slotRow(slot, taskOf(slot, editions)));
}

/** Each edition step by step, from its first task to its last. */
export function editionRows(calendar: OneCalendar, editions: readonly EditionRead[]): readonly SlotRow[] {
  const rows = new Map<string, SlotRow>();
  for (const slot of calendar.slots) {
    const { task, start, end } = slot;
    const what = task.step === "" ? "Planned firings" : task.title;
    const key = `${task.edition} ${what}`;
    const held = rows.get(key);
    if (!held) rows.set(key, { ...slotRow(slot, what), key });
    else
      rows.set(key, {
        ...held,
        pieces: held.pieces + task.pieces.length,
        from: Math.min(held.from, start),
        to: Math.max(held.to, end),
      });
  }
  const indices = new Map(editions.map(({ edition }, at) => [edition.id, at]));
  return [...rows.values()].sort(
    (a, b) => (indices.get(a.edition) ?? 0) - (indices.get(b.edition) ?? 0) || a.from - b.from,
  );
}

const slotRow = ({ task, start, end }: Slot, what: string): SlotRow => ({
  ...{
    key: task.id,
    edition: task.edition ?? "",
    guests: task.guests ?? [],
    what,
    kiln: task.kiln ?? "",
    pieces: task.pieces.length,
  },
  ...{ from: start, to: end },
});

/** What a task is called within its edition. */
function taskOf({ task }: Slot, editions: readonly EditionRead[]): string {
  const steps = editions.find(({ edition }) => edition.id === task.edition)?.edition.work.steps ?? [];
  return taskName({ ...task, id: ownTaskId(task) }, steps);
}

/** Stretches of work closer than this are one bar. */
const NEAR = DAY_MINUTES;

/** A lane a kiln with who is in it, and a lane an edition with its work, the day it is ready and the day it is due. */
export function studioPicture(
  calendar: OneCalendar,
  editions: readonly EditionRead[],
  today: string,
  locale: string,
): CalendarPicture {
  const letters = new Map(editions.map(({ edition }, at) => [edition.id, letterOf(at)]));
  const laneOf = new Map(editions.map(({ edition: { id, title } }) => [id, `${letters.get(id)} ${title}`]));
  const todayNumber = dayNumber(today) ?? calendar.fromDay;
  const ends = new Map<string | undefined, number>();
  for (const { task, end } of calendar.slots)
    for (const id of editionsOf(task)) ends.set(id, Math.max(end, ends.get(id) ?? 0));
  const marks = calendar.editions.flatMap(({ id, due }) => {
    const lane = laneOf.get(id) ?? "";
    const end = ends.get(id);
    return [
      ...(end === undefined ? [] : [{ lane, day: end / DAY_MINUTES, sign: "●", label: "ready" }]),
      ...(due === undefined ? [] : [{ lane, day: (dayNumber(due) ?? 0) + 1, sign: "◆", label: "due" }]),
    ];
  });
  const first = Math.min(calendar.fromDay, todayNumber);
  const last = Math.max(first, ...marks.map(({ day }) => day)) + 2;
  const firings = calendar.slots
    .filter(({ task }) => task.kiln !== undefined)
    .map(({ task, start, end }): CalendarBar => {
      const label = `${editionsOf(task)
        .map((id) => letters.get(id))
        .join("+")} ${task.pieces.length}`;
      const [from, to] = [start / DAY_MINUTES, end / DAY_MINUTES];
      return { lane: task.kiln ?? "", from, to, kind: "firing", holdsUp: false, label };
    });
  const work = editions.flatMap(({ edition: { id } }) => runsOfWork(calendar.slots, id, laneOf.get(id) ?? ""));
  return {
    lanes: [...calendar.kilns, ...laneOf.values()],
    ...{ bars: [...firings, ...work], marks, first, last, closed: calendar.closed, today: todayNumber, due: undefined },
    ticks: dayTicks(first, last, locale),
  };
}

function runsOfWork(slots: readonly Slot[], id: string, lane: string): readonly CalendarBar[] {
  const runs: { from: number; to: number }[] = [];
  for (const { task, start, end, workEnd } of slots) {
    if (!editionsOf(task).includes(id)) continue;
    const to = task.kiln === undefined ? workEnd : end;
    const open = runs.at(-1);
    if (open && start - open.to <= NEAR) open.to = Math.max(open.to, to);
    else runs.push({ from: start, to });
  }
  return runs.map(({ from, to }) => {
    return { lane, from: from / DAY_MINUTES, to: to / DAY_MINUTES, kind: "work", holdsUp: false, label: "" };
  });
}
