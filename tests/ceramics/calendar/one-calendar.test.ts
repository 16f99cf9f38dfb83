// Two editions on one kiln, worked by hand. 30 November 2026 is a Monday; one person works from nine to five.
import { describe, expect, it } from "vitest";
import { DAY_MINUTES, weekdayOf } from "../../../src/ceramics/calendar/days";
import { expectedOf } from "../../../src/ceramics/calendar/expected";
import { offersOf } from "../../../src/ceramics/calendar/offers";
import {
  type CalendarEdition,
  calendarProblems,
  movesWhenFirst,
  type OneCalendar,
  type OneCalendarInput,
  oneCalendar,
} from "../../../src/ceramics/calendar/one-calendar";
import { type CalendarInput, readyWhen } from "../../../src/ceramics/calendar/ready";
import type { CalendarStep, PlannedFiring } from "../../../src/ceramics/calendar/route-tasks";

const MONDAY = "2026-11-30";
const STUDIO = { hours: [8, 8, 8, 8, 8, 0, 0], closed: [], people: 1 };
const glaze = (minutesEach: number): CalendarStep => ({ id: "glaze", title: "Glaze", minutesEach, restDays: 0 });
const fire = (kiln: string, room: number, hours: number, programme = "Glaze 1220"): CalendarStep => ({
  ...{ id: "fire", title: "Glaze firing", minutesEach: 0, restDays: 0 },
  firing: { kiln, room, hours, loadingMinutes: 60, programme },
});
const work = (pieces: number, steps: readonly CalendarStep[], planned: readonly PlannedFiring[] = []) => ({
  ...{ steps, planned },
  pieces: Array.from({ length: pieces }, (_, at) => ({ id: String(at + 1), ahead: steps.map(({ id }) => id) })),
});
const edition = (title: string, of: CalendarEdition["work"], due?: string): CalendarEdition => ({
  ...{ id: title.toLowerCase(), title, work: of, from: MONDAY },
  ...(due === undefined ? {} : { due }),
});
const marram = edition("Marram", work(2, [glaze(60), fire("Large", 2, 24)]), "2026-12-01");
const kestrel = edition("Kestrel", work(3, [glaze(40), fire(" large ", 3, 12)]), "2026-12-04");
const input = (...editions: readonly CalendarEdition[]): OneCalendarInput => ({
  ...{ editions, studio: STUDIO, from: MONDAY },
});

function made(of: OneCalendarInput): OneCalendar {
  const calendar = oneCalendar(of);
  if (!calendar.ok) throw new Error(calendar.problems[0]?.message);
  return calendar.value;
}
function clockText(minute: number): string {
  const rest = minute % DAY_MINUTES;
  const name = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"][weekdayOf(Math.floor(minute / DAY_MINUTES))];
  return `${name} ${String(Math.floor(rest / 60)).padStart(2, "0")}:${String(rest % 60).padStart(2, "0")}`;
}
const slotsOf = ({ slots }: OneCalendar) =>
  slots.map(({ task, start, end }) => `${task.edition} ${task.step}: ${clockText(start)} to ${clockText(end)}`);

describe("two editions on one kiln", () => {
  it("the first has the studio to itself, the second takes what is left; kilns go by their names", () => {
    // Marram glazes 2 × 60 min to 11:00, loads to 12:00, and the kiln is shut for 24 h. Kestrel glazes 3 × 40 min when the
    // hands are free, 12:00 to 14:00; the kiln is empty on Tuesday at 12:00: loading to 13:00, 12 h to Wednesday 1:00.
    const calendar = made(input(marram, kestrel));
    expect(slotsOf(calendar)).toEqual([
      "marram glaze: Mon 09:00 to Mon 11:00",
      "marram fire: Mon 11:00 to Tue 12:00",
      "kestrel glaze: Mon 12:00 to Mon 14:00",
      "kestrel fire: Tue 12:00 to Wed 01:00",
    ]);
    expect(calendar.kilns).toEqual(["Large"]);
    expect(calendar.editions.map(({ finish, slackDays }) => [finish, slackDays])).toEqual([
      ["2026-12-01", 0],
      ["2026-12-02", 2],
    ]);
  });

  it("says what moves when one is put first", () => {
    // Kestrel glazes to 11:00, loads to 12:00 and is out at midnight: ready on Monday. Marram glazes 12:00 to 14:00, loads
    // on Tuesday 9:00 to 10:00 and is ready on Wednesday, a day past its due date.
    const now = made(input(marram, kestrel));
    const moves = movesWhenFirst(input(marram, kestrel), now, "kestrel");
    expect(moves).toEqual({
      ok: true,
      value: [
        { edition: "marram", days: 1, isNowLate: true, isNowInTime: false },
        { edition: "kestrel", days: -2, isNowLate: false, isNowInTime: false },
      ],
    });
    const back = movesWhenFirst(input(kestrel, marram), made(input(kestrel, marram)), "marram");
    expect(back.ok && back.value.find(({ edition: id }) => id === "marram")?.isNowInTime).toBe(true);
    expect(movesWhenFirst(input(marram, kestrel), now, "marram")).toEqual({ ok: true, value: [] });
  });

  it("keeps the day of a firing that is planned, whoever is first", () => {
    // Kestrel's pieces stand in a firing of Monday: loaded 9:00 to 10:00, 12 h to 22:00. Marram's is the next one:
    // glazing 10:00 to 12:00, the kiln is empty on Tuesday at 9:00.
    const planned = { ...{ id: "G7", kiln: "Large", hours: 12, loadingMinutes: 60, restDays: 0 }, day: MONDAY };
    const fixed = edition("Kestrel", {
      ...{ steps: [], planned: [planned] },
      pieces: [{ id: "1", ahead: [], planned: "G7" }],
    });
    expect(slotsOf(made(input(marram, fixed)))).toEqual([
      "kestrel : Mon 09:00 to Mon 22:00",
      "marram glaze: Mon 10:00 to Mon 12:00",
      "marram fire: Tue 09:00 to Wed 10:00",
    ]);
  });

  it("fires a load once that two editions have pieces in, for both of them", () => {
    // Each says it on its own Firings sheet under the same name: 12 h here, 14 h there, once from Tuesday 9:00. Of six
    // places five are taken, by one piece here, one there and three of other ware.
    const part = (title: string, hours: number, filled: number) => {
      const load = { programme: "Glaze 1220", room: 6, filled };
      const firing = {
        ...{ id: "G7", kiln: "Large", hours, loadingMinutes: 60, restDays: 0, load },
        day: "2026-12-01",
      };
      const pack: CalendarStep = { id: "pack", title: "Pack", minutesEach: 30, restDays: 0 };
      const pieces = [{ id: "1", ahead: title === "Kestrel" ? ["pack"] : [], planned: "G7" }];
      return edition(title, { steps: [pack], planned: [{ ...firing, shared: "1 Dec" }], pieces });
    };
    const waits = edition("Thrift", work(2, [fire("Large", 2, 10)]));
    const calendar = made(input(part("Marram", 12, 5), part("Kestrel", 14, 5), { ...waits, from: "2026-12-01" }));
    expect(slotsOf(calendar)).toEqual([
      "marram : Tue 09:00 to Wed 00:00",
      "kestrel pack: Wed 09:00 to Wed 09:30",
      "thrift fire: Wed 09:30 to Wed 20:30",
    ]);
    expect(calendar.slots[0]?.task).toMatchObject({ guests: ["kestrel"], pieces: ["1", "1"] });
    expect(calendar.editions.map(({ finish }) => finish)).toEqual(["2026-12-01", "2026-12-02", "2026-12-02"]);
    // A sixth of the kiln is no whole one of Thrift's two.
    expect(offersOf(calendar.slots)).toEqual([]);
  });

  it("an edition alone has the same calendar as by itself", () => {
    const alone: CalendarInput = { ...kestrel.work, studio: STUDIO, kilns: {}, from: MONDAY };
    const ready = readyWhen(alone);
    const times = (slots: OneCalendar["slots"]) =>
      slots.map(({ start, workEnd, end, person }) => [start, workEnd, end, person]);
    expect(ready.ok && times(ready.value.slots)).toEqual(times(made(input(kestrel)).slots));
  });

  it("begins no edition before its own day, and has none to do that is finished", () => {
    const later = { ...kestrel, from: "2026-12-03" };
    const done = edition("Thrift", work(0, [glaze(5)]));
    const { editions, slots } = made(input(later, done));
    expect(clockText(slots[0]?.start ?? 0)).toBe("Thu 09:00");
    expect(editions[1]).toEqual({ id: "thrift", due: undefined, finish: undefined, slackDays: undefined });
  });

  it("is not made with an edition that can't be put in", () => {
    const never = edition("Thrift", work(1, [fire("Small", 0, 5)]));
    expect(calendarProblems(never).map(({ code }) => code)).toEqual(["calendar.room"]);
    expect(oneCalendar(input(marram, never)).ok).toBe(false);
    expect(calendarProblems(marram)).toEqual([]);
  });
});

describe("free room", () => {
  // Marram fires one piece on Monday at 10:00 in a load for two; half of the kiln is 1 of Kestrel's 3, which wait.
  const one = edition("Marram", work(1, [glaze(60), fire("Large", 2, 24)]));
  const offered = (programme?: string, minutes = 0) => {
    const ready = work(3, [...(minutes > 0 ? [glaze(minutes)] : []), fire("large", 3, 12, programme)]);
    return offersOf(made(input(one, edition("Kestrel", ready))).slots);
  };

  it("is offered to pieces of another edition that are ready for the same firing", () => {
    expect(offered().map(({ slot, takers }) => [slot.task.edition, takers])).toEqual([
      ["marram", [{ edition: "kestrel", room: 1, waiting: 3 }]],
    ]);
  });

  it("is not offered for another programme, nor to pieces that are not ready by then", () => {
    expect(offered("Low firing")).toEqual([]);
    expect(offered("Glaze 1220", 60)).toEqual([]);
  });

  it("goes by how hot it gets where both programmes are described", () => {
    const hot = (title: string, programme: string, peak: number, pieces: number) => {
      const step = fire("Large", 2, 12, programme);
      return edition(title, work(pieces, step.firing ? [{ ...step, firing: { ...step.firing, peak } }] : []));
    };
    const takers = (a: number, b: number) => offersOf(made(input(hot("A", "One", a, 1), hot("B", "Two", b, 1))).slots);
    expect(takers(1220, 1225)).toHaveLength(1);
    expect(takers(1220, 1225.5)).toEqual([]);
  });
});

describe("what the plan expects, in whole pieces", () => {
  const pieces = Array.from({ length: 20 }, (_, at) => ({ id: String(at + 1), ahead: ["bisque", "glaze", "pack"] }));

  it("loses a piece when the planned losses have come to one, and fires again as many as are expected to need it", () => {
    // Bisque: 20 × 4 % = 0.8, nearest 1. Glaze: 19 × 10 % = 1.9, together 2.7, nearest 3: two more. Again: 17 × 15 % =
    // 2.55, nearest 3, of which 10 % of 2.55 makes 2.955 and loses none. Pack loses none.
    const rates = [
      { id: "bisque", loss: 0.04 },
      { id: "glaze", loss: 0.1 },
      { id: "again", loss: 0.1, needed: 0.15 },
      { id: "pack", loss: 0 },
    ];
    const { lost, again, pieces: left } = expectedOf(rates, pieces);
    expect(lost).toEqual([
      { step: "bisque", pieces: 1 },
      { step: "glaze", pieces: 2 },
    ]);
    expect(again).toEqual([{ step: "again", pieces: 3 }]);
    const count = (step: string) => left.filter(({ ahead }) => ahead.includes(step)).length;
    expect(rates.map(({ id }) => count(id))).toEqual([20, 19, 3, 17]);
    // Those furthest behind are taken, and go through the step that they are lost at.
    expect(left.at(-1)?.ahead).toEqual(["bisque"]);
    expect(left[16]?.ahead).toEqual(["bisque", "glaze", "again", "pack"]);
  });

  it("takes steps as needed only for pieces that have not passed them, and losses of a planned firing", () => {
    const rates = [
      { id: "glaze", loss: 0.5 },
      { id: "again", loss: 0, needed: 1 },
      { id: "pack", loss: 0 },
    ];
    const past = { id: "1", ahead: ["pack"], behind: 2 };
    const fired = (id: string) => ({ id, ahead: ["pack"], planned: "G7", behind: 1 });
    const { pieces: left, lost } = expectedOf(rates, [past, fired("2"), fired("3")]);
    expect(lost).toEqual([{ step: "glaze", pieces: 1 }]);
    expect(left.map(({ id, ahead }) => [id, ahead])).toEqual([
      ["1", ["pack"]],
      ["2", ["again", "pack"]],
      ["3", []],
    ]);
  });
});
