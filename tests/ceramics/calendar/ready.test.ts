// Calendars worked by hand. 30 November 2026 is a Monday; work is from nine for the hours of the day.
import { describe, expect, it } from "vitest";
import { DAY_MINUTES, dayNumber, isoDay, weekdayOf } from "../../../src/ceramics/calendar/days";
import { type CalendarInput, type Ready, readyWhen } from "../../../src/ceramics/calendar/ready";
import { remedies, startBy } from "../../../src/ceramics/calendar/remedies";
import type { CalendarPiece, CalendarStep } from "../../../src/ceramics/calendar/route-tasks";

const MONDAY = "2026-11-30";
const WEEK = [8, 8, 8, 8, 8, 0, 0];

const hand = (id: string, minutesEach: number, restDays = 0): CalendarStep => ({
  id,
  title: id,
  minutesEach,
  restDays,
});
const firing = (id: string, hours: number, room: number, loadingMinutes = 60, kiln = "Kiln"): CalendarStep => ({
  id,
  title: id,
  minutesEach: 0,
  restDays: 0,
  firing: { kiln, room, hours, loadingMinutes, programme: "" },
});
const through = (count: number, steps: readonly CalendarStep[]): readonly CalendarPiece[] =>
  Array.from({ length: count }, (_, at) => ({ id: String(at + 1), ahead: steps.map(({ id }) => id) }));

function input(count: number, steps: readonly CalendarStep[], more: Partial<CalendarInput> = {}): CalendarInput {
  return {
    steps,
    pieces: through(count, steps),
    planned: [],
    studio: { hours: WEEK, closed: [], people: 1 },
    kilns: {},
    from: MONDAY,
    ...more,
  };
}

function made(of: CalendarInput): Ready {
  const ready = readyWhen(of);
  if (!ready.ok) throw new Error(ready.problems[0]?.message);
  return ready.value;
}

/** A minute of the clock as “1 Tue 10:40”: day from the first, weekday, time. */
function clockText(minute: number): string {
  const day = Math.floor(minute / DAY_MINUTES);
  const rest = minute - day * DAY_MINUTES;
  const name = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"][weekdayOf(day)];
  return `${day - (dayNumber(MONDAY) ?? 0)} ${name} ${String(Math.floor(rest / 60)).padStart(2, "0")}:${String(rest % 60).padStart(2, "0")}`;
}
const slotsOf = (ready: Ready) =>
  ready.slots.map(({ task, start, end }) => `${task.id}: ${clockText(start)} to ${clockText(end)}`);

describe("calendars worked by hand", () => {
  it("goes through one load: work, rest, fire, cool, pack", () => {
    // 10 × 30 min = 300 min: Monday 9:00 to 14:00. Two days' rest: Wednesday 14:00. Loading 60 min to 15:00, then 20 h:
    // Thursday 11:00. 10 × 10 min = 100 min: Thursday 12:40.
    const ready = made(input(10, [hand("fettle", 30, 2), firing("bisque", 20, 10), hand("pack", 10)]));
    expect(slotsOf(ready)).toEqual([
      "fettle 1 of bisque: 0 Mon 09:00 to 0 Mon 14:00",
      "bisque 1: 2 Wed 14:00 to 3 Thu 11:00",
      "pack 1 of bisque: 3 Thu 11:00 to 3 Thu 12:40",
    ]);
    expect(ready.finish).toBe("2026-12-03");
    // 5 h + 48 h + 21 h + 1 h 40 min, and 9 h before the studio opens: 84 h 40 min from Monday 0:00.
    expect(ready.holdUps.map(({ kind, name, minutes }) => [kind, name, minutes])).toEqual([
      ["rest", "fettle", 2880],
      ["kiln", "Kiln", 1260],
      ["closed", "", 540],
      ["work", "fettle", 300],
      ["work", "pack", 100],
    ]);
  });

  it("fires loads in turn in one kiln, side by side in two", () => {
    // Load 1: Monday 9:00 to 10:00, then 30 h: Tuesday 16:00. Load 2 from then: 17:00, 30 h: Wednesday 23:00.
    const one = input(10, [firing("glaze", 30, 5)]);
    expect(slotsOf(made(one))).toEqual(["glaze 1: 0 Mon 09:00 to 1 Tue 16:00", "glaze 2: 1 Tue 16:00 to 2 Wed 23:00"]);
    expect(made(one).slots[1]?.hold).toEqual({ kind: "kiln", task: "glaze 1" });
    // With two kilns load 2 waits only for the hands: Monday 10:00 to 11:00, then 30 h.
    const two = made({ ...one, kilns: { Kiln: 2 } });
    expect(slotsOf(two)).toEqual(["glaze 1: 0 Mon 09:00 to 1 Tue 16:00", "glaze 2: 0 Mon 10:00 to 1 Tue 17:00"]);
    expect(two.slots[1]?.hold).toEqual({ kind: "hands", task: "glaze 1" });
  });

  it("stops at night, on days off and at the weekend, and goes on where it stopped", () => {
    // 20 h of work: 8 on Monday, none on Tuesday, 8 on Wednesday, 4 on Thursday: 13:00.
    const off = made(input(20, [hand("cut", 60)], { studio: { hours: WEEK, closed: ["2026-12-01"], people: 1 } }));
    expect(clockText(off.slots[0]?.end ?? 0)).toBe("3 Thu 13:00");
    // From Friday: 8 h on Friday, then Monday and Tuesday: 12 h more end on Tuesday at 13:00.
    const weekend = made(input(20, [hand("cut", 60)], { from: "2026-12-04" }));
    expect(clockText(weekend.slots[0]?.end ?? 0)).toBe("8 Tue 13:00");
    // A kiln is not opened on Sunday: shut from Friday 10:00 for 30 h, packed on Monday from 9:00.
    const kiln = made(input(1, [firing("glaze", 30, 5), hand("pack", 60)], { from: "2026-12-04" }));
    expect(slotsOf(kiln)).toEqual([
      "glaze 1: 4 Fri 09:00 to 5 Sat 16:00",
      "pack 1 of glaze: 7 Mon 09:00 to 7 Mon 10:00",
    ]);
  });

  it("lets two people work on two loads at once", () => {
    // Two batches of 24 and 16 pieces at 15 min: 6 h and 4 h. Alone 10 h: Tuesday 11:00; by two Monday 15:00.
    const work = input(40, [hand("wipe", 15)]);
    expect(clockText(Math.max(...made(work).slots.map(({ end }) => end)))).toBe("1 Tue 11:00");
    const both = made({ ...work, studio: { hours: WEEK, closed: [], people: 2 } });
    expect(clockText(Math.max(...both.slots.map(({ end }) => end)))).toBe("0 Mon 15:00");
    expect(both.slots.map(({ person, task }) => [person, task.pieces.length])).toEqual([
      [1, 16],
      [0, 24],
    ]);
  });

  it("puts the longest way ahead first: the load with a second firing behind it goes before the other", () => {
    const steps = [firing("glaze", 10, 1), firing("low", 10, 1), hand("pack", 10)];
    const pieces: readonly CalendarPiece[] = [
      { id: "plain", ahead: ["glaze", "pack"] },
      { id: "lustred", ahead: ["glaze", "low", "pack"] },
    ];
    const ready = made({ ...input(0, steps), pieces });
    expect(ready.slots[0]?.task.pieces).toEqual(["lustred"]);
    // Monday 9–10 and 10 h: 20:00; the plain one on Tuesday 9–10: 20:00; low on Wednesday: 20:00; packed on Thursday.
    expect(slotsOf(ready).at(-1)).toBe("pack 1 of low: 3 Thu 09:00 to 3 Thu 09:10");
  });

  it("fills loads with the pieces furthest along, and of equals those with most ahead of them", () => {
    const steps = [hand("fettle", 10), firing("glaze", 10, 2), firing("low", 10, 9), hand("pack", 10)];
    const loadsOf = (pieces: readonly CalendarPiece[]) =>
      made({ ...input(0, steps), pieces })
        .slots.filter(({ task }) => task.step === "glaze")
        .map(({ task }) => task.pieces.join(""))
        .sort();
    const behind = { ahead: ["fettle", "glaze"] };
    const waits = { ahead: ["glaze"] };
    expect(
      loadsOf([
        { id: "a", ...behind },
        { id: "b", ...waits },
        { id: "c", ...behind },
        { id: "d", ...waits },
      ]),
    ).toEqual(["ac", "bd"]);
    const lustred = { ahead: ["glaze", "low"] };
    expect(
      loadsOf([
        { id: "a", ...waits },
        { id: "b", ...lustred },
        { id: "c", ...waits },
        { id: "d", ...lustred },
      ]),
    ).toEqual(["ac", "bd"]);
  });

  it("counts the night between two loadings as closed, though the first kiln burns through it", () => {
    // Loading takes 8 h: Monday 9:00 to 17:00, then the other kiln on Tuesday 9:00 to 17:00, 10 h: Wednesday 3:00.
    const ready = made(input(2, [firing("glaze", 10, 1, 480)], { kilns: { Kiln: 2 } }));
    expect(ready.chain).toEqual(["glaze 1", "glaze 2"]);
    expect(ready.holdUps.map(({ kind, minutes }) => [kind, minutes])).toEqual([
      ["closed", 540 + 960],
      ["kiln", 480 + 600],
      ["work", 480],
    ]);
  });

  it("goes through planned firings on their day, and lets pieces rest to their day", () => {
    const steps = [hand("pack", 10)];
    const planned = [{ id: "G9", kiln: "Kiln", hours: 20, loadingMinutes: 60, day: "2026-12-02", restDays: 1 }];
    const pieces = [
      { id: "1", ahead: ["pack"], planned: "G9" },
      { id: "2", ahead: ["pack"], restsUntil: "2026-12-01" },
    ];
    // G9: Wednesday 9:00, loaded 10:00, Thursday 6:00; a day's rest: Friday 6:00; both packed Friday 9:00 to 9:20.
    const ready = made({ ...input(0, steps), planned, pieces });
    expect(slotsOf(ready)).toEqual(["planned G9: 2 Wed 09:00 to 3 Thu 06:00", "pack 1: 4 Fri 09:00 to 4 Fri 09:20"]);
    expect(ready.slots[0]?.hold).toEqual({ kind: "date" });
  });

  it("is ready at once where nothing is left", () => {
    expect(made(input(0, [hand("pack", 10)]))).toMatchObject({ finish: MONDAY, slots: [], holdUps: [] });
  });

  it("is ready on the day whose midnight it ends at", () => {
    const studio = { hours: [24, 24, 24, 24, 24, 24, 24], closed: [], people: 1 };
    expect(made(input(24, [hand("cut", 60)], { studio })).finish).toBe(MONDAY);
    expect(made(input(25, [hand("cut", 60)], { studio })).finish).toBe("2026-12-01");
  });
});

describe("the due date", () => {
  const work = input(60, [hand("fettle", 60), firing("bisque", 20, 60)]);
  // 60 h at 8 a day: seven days and 4 h: Wednesday week, 9 December, 13:00; loaded 14:00; Thursday 10 December 10:00.

  it("says slack and lateness in days", () => {
    expect(made(work).finish).toBe("2026-12-10");
    expect(made({ ...work, due: "2026-12-12" }).slackDays).toBe(2);
    expect(made({ ...work, due: "2026-12-10" }).slackDays).toBe(0);
    expect(made({ ...work, due: "2026-12-07" }).slackDays).toBe(-3);
    expect(made(work).slackDays).toBeUndefined();
  });

  it("tries what would help and says when that would be ready", () => {
    const due = { ...work, due: "2026-12-09" };
    const found = remedies(due, made(due));
    const by = (kind: string) => found.find(({ way }) => way.kind === kind);
    // Saturday adds 8 h: 60 h end on Tuesday at 13:00, fired by Wednesday 10:00.
    expect(by("day")).toMatchObject({ finish: "2026-12-09", daysGained: 1, meetsDue: true });
    // 9 h a day: 60 h = 6 days and 6 h: Tuesday 15:00; fired by Wednesday 12:00.
    expect(by("hours")).toMatchObject({ way: { more: 1 }, finish: "2026-12-09", meetsDue: true });
    // One batch is one person's: a second pair of hands does not help, nor does a kiln.
    expect([by("person"), by("kiln")]).toEqual([undefined, undefined]);
    // 55 pieces: 55 h end on Tuesday at 16:00, loaded by 17:00, fired Wednesday 13:00; 56 end at 17:00 and are loaded on
    // Wednesday by 10:00, ready on Thursday 6:00.
    expect(by("fewer")).toMatchObject({ way: { pieces: 55, of: 60 }, meetsDue: true });
    expect(found.map(({ meetsDue }) => meetsDue)).toEqual([...found.map(({ meetsDue }) => meetsDue)].sort().reverse());
  });

  it("tries two ways together where no single one is enough, and tries nothing where all is well", () => {
    const due = { ...work, due: "2026-12-05" };
    const both = remedies(due, made(due)).find(({ way }) => way.kind === "both");
    // 12 h a day from Monday to Saturday: 60 h end on Friday at 21:00; fired on Saturday from 9:00: Sunday, too late.
    expect(both).toBeUndefined();
    const later = { ...work, due: "2026-12-06" };
    // 12 h a day alone: 60 h end on Friday at 21:00, loaded on Monday; with Saturday at 12 h it is loaded there and ready on Sunday 6:00.
    const meets = remedies(later, made(later)).map(({ meetsDue }) => meetsDue);
    expect(meets.lastIndexOf(true)).toBeLessThan(meets.indexOf(false));
    expect(remedies(later, made(later)).find(({ way }) => way.kind === "both")).toMatchObject({ finish: "2026-12-06" });
    const well = { ...work, due: "2026-12-20" };
    expect(remedies(well, made(well))).toEqual([]);
  });

  it("gives days off back where that helps", () => {
    const closed = ["2026-12-01", "2026-12-02", "2027-01-06"];
    const off = { ...work, due: "2026-12-10", studio: { hours: WEEK, closed, people: 1 } };
    const found = remedies(off, made(off)).find(({ way }) => way.kind === "days off");
    expect(found).toMatchObject({ way: { days: ["2026-12-01", "2026-12-02"] }, finish: "2026-12-10", meetsDue: true });
  });

  it("knows the last day to begin", () => {
    // Begun on Tuesday it ends a day later, on Friday 11 December; begun on Wednesday the loading is on Friday: Saturday.
    const due = { ...work, due: "2026-12-12" };
    expect(startBy(due, made(due))).toBe("2026-12-02");
    const late = { ...work, due: "2026-12-09" };
    // Friday before, 27 November: 8 h on it, 52 h left: Tuesday week 13:00; fired by Wednesday. Saturday and Sunday are Monday.
    expect(startBy(late, made(late))).toBe("2026-11-27");
    expect(startBy(work, made(work))).toBeUndefined();
  });
});

describe("what makes it impossible, in words", () => {
  const messages = (of: CalendarInput) => {
    const ready = readyWhen(of);
    return ready.ok ? [] : ready.problems.map(({ message }) => message);
  };
  const steps = [hand("fettle", 60), firing("bisque", 20, 60)];

  it("says that there are no working hours", () => {
    expect(messages(input(1, steps, { studio: { hours: [0, 0, 0, 0, 0, 0, 0], closed: [], people: 1 } }))).toEqual([
      "Working hours: found “no hours on any day of the week”, but it takes hours on one day or more. Without working hours nothing is ever ready.",
    ]);
    expect(messages(input(1, steps, { studio: { hours: [8, 8], closed: ["soon"], people: 0 } }))).toHaveLength(3);
  });

  it("says that no kiln takes the piece, but only where the step is still ahead", () => {
    const low = [hand("fettle", 60), firing("bisque", 20, 0)];
    expect(messages(input(1, low))[0]).toContain(
      "bisque: found “room for 0 pieces in Kiln”, but it takes a kiln that takes the piece.",
    );
    expect(messages({ ...input(0, low), pieces: [{ id: "1", ahead: ["fettle"] }] })).toEqual([]);
  });

  it("says that it would take years, and that a day is none", () => {
    const hours = [0.25, 0, 0, 0, 0, 0, 0];
    expect(messages(input(2000, [hand("cut", 60)], { studio: { hours, closed: [], people: 1 } }))[0]).toContain(
      "10 years",
    );
    expect(messages(input(1, steps, { due: "2026-02-30" }))[0]).toContain("Due: found “2026-02-30”");
  });
});

describe("days", () => {
  it("are counted without time zones", () => {
    // 1 January 1970 was a Thursday; 29 February 2024 was a Thursday; 19 782 days lie between.
    expect([dayNumber("1970-01-01"), weekdayOf(0)]).toEqual([0, 3]);
    expect([dayNumber("2024-02-29"), weekdayOf(19_782), isoDay(19_782)]).toEqual([19_782, 3, "2024-02-29"]);
    expect([dayNumber("2026-02-29"), dayNumber("26-02-01"), dayNumber("2026-13-01")]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(weekdayOf(dayNumber(MONDAY) ?? 0)).toBe(0);
    expect(weekdayOf(-1)).toBe(2);
  });
});
