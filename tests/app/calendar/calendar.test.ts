// When Marram can be ready: read from the sheets, moved by what is recorded, told in words.

import { describe, expect, test } from "vitest";
import { type CalendarRead, readCalendar } from "../../../src/app/calendar/calendar";
import {
  addDaysOff,
  removeDaysOff,
  setDue,
  setHours,
  setPeople,
  setStart,
} from "../../../src/app/calendar/calendar-commands";
import {
  headline,
  holdUpSentences,
  pictureOf,
  remedyWords,
  stepRows,
  taskName,
  timeName,
} from "../../../src/app/calendar/calendar-view";
import { dayName } from "../../../src/app/edition/day-name";
import { loadsBoard, makeTheseFirings } from "../../../src/app/loads/loads-board";
import { type Ready, readyWhen } from "../../../src/ceramics/calendar/ready";
import { remedies } from "../../../src/ceramics/calendar/remedies";
import { removeRows } from "../../../src/core/document/edits";
import { demoSession, type Typed } from "../../tools/demo-session";

const { session, settled, make, type } = demoSession();

function read(): CalendarRead {
  const found = readCalendar(session);
  if (!found?.ok) throw new Error(found?.problems[0]?.message ?? "not computed yet");
  return found.value;
}

function ready(): Ready {
  const found = readyWhen(read().input);
  if (!found.ok) throw new Error(found.problems[0]?.message);
  return found.value;
}

// The large kiln is given its hours, so that days can be counted.
const TAKEN: readonly Typed[] = [["kilns", "k2", "taken", "30"]];

describe("the calendar of Marram", () => {
  test("has every piece in progress, with what is still ahead of it", async () => {
    await type(TAKEN);
    const { input, started, toStart } = read();
    expect(started).toBe(session.result("in_progress"));
    expect(toStart).toBe(0);
    const ahead = (id: string) => input.pieces.find((piece) => piece.id === id)?.ahead;
    expect(ahead("129")).toEqual(["glaze", "glaze_firing", "pack"]);
    expect(ahead("110")).toEqual(["pack"]);
    expect(ahead("025")).toEqual(["low_firing", "lustre_2", "low_firing_2", "pack"]);
    expect(ahead("001")).toBeUndefined();
    // Three coats at three minutes each; seven minutes for the second lustre.
    const minutes = (id: string) => input.steps.find((step) => step.id === id)?.minutesEach;
    expect([minutes("glaze"), minutes("lustre_2"), minutes("bisque")]).toEqual([9, 7, 0]);
    expect(input.steps.find((step) => step.id === "low_firing")?.firing).toEqual({
      ...{
        kiln: "Large kiln",
        room: 48,
        hours: 30,
        loadingMinutes: 40,
        programme: "low lustre",
        peak: expect.closeTo(729.4, 1),
      },
    });
  });

  test("fires the lustre load first and again last, with the glaze load between", async () => {
    await type(TAKEN);
    // Wednesday 9:00 lustre of 028 and 029: 18 min; loaded by 9:58, 30 h: Thursday 15:58. Lustre 2 on the four takes 28
    // min; the glaze load goes in first or after it. Each firing takes 30 h 40 min, so three end on Tuesday at the latest.
    const made = ready();
    const rows = stepRows(made).map(({ title, loads, pieces }) => `${title} ${loads} ${pieces}`);
    expect(rows).toEqual(
      expect.arrayContaining(["Lustre 1 2", "Low firing 1 4", "Glaze 1 12", "Glaze firing 1 21", "Low firing 2 1 6"]),
    );
    const low = made.slots.find(({ task }) => task.step === "low_firing");
    expect([timeName(low?.start ?? 0, "en-GB"), timeName(low?.end ?? 0, "en-GB")]).toEqual([
      "Wed 25 Nov 09:18",
      "Thu 26 Nov 15:58",
    ]);
    expect(holdUpSentences(made, "en-GB")[0]).toMatch(
      /^Large kiln holds it up most: its 3 firings take 3.8 days out of /,
    );
  });

  test("grows shorter as pieces are finished", async () => {
    const before = ready().slots.length;
    const rows = session.book.value.sheets.pieces.rows.filter(
      (row) => row.cells.tier === "special" && row.cells.lost_at === undefined,
    );
    const grade = rows.map((row): Typed => ["pieces", row.id, "grade", "good"]);
    await type(grade);
    expect(ready().slots.length).toBeLessThan(before);
    const all = session.book.value.sheets.pieces.rows.filter((row) => row.cells.lost_at === undefined);
    await type(all.map((row): Typed => ["pieces", row.id, "grade", "good"]));
    expect(headline(ready(), "en-GB")).toBe("Nothing is left to be done.");
  });

  test("counts pieces the plan has yet to start, as many of them special as are still wanted", async () => {
    const last = session.book.value.sheets.pieces.rows.slice(-10).map(({ id }) => id);
    const fewer = removeRows(session.book.value, "pieces", last, "");
    if (!fewer.ok) throw new Error("refused");
    await make(fewer.value);
    expect(read().toStart).toBe(10);
    const all = read().input.pieces.filter(({ id }) => id.startsWith("to start"));
    // 141 × 24 ÷ 120 = 28.2: 28 special in all. The sheet has as many as the demo says, 23 or 24.
    const special = session.book.value.sheets.pieces.rows.filter((row) => row.cells.tier === "special").length;
    expect(all.filter(({ ahead }) => ahead.includes("lustre"))).toHaveLength(28 - special);
    expect(all[0]?.ahead[0]).toBe("cast");
    expect(all.every(({ ahead }) => !ahead.includes("refire"))).toBe(true);
  });

  test("says what stands in the way: the kiln of a step is too low, and which is not", async () => {
    await type([["route", "glaze_firing", "kiln", "Small kiln"]]);
    const found = readCalendar(session);
    expect(found?.ok === false && found.problems.map(({ message }) => message)).toEqual([
      "Glaze firing in Small kiln: found “a height of 36 cm”, but it takes pieces up to 32 cm tall. Choose Large kiln for it on the Route sheet.",
    ]);
    await type([
      ["kilns", "k2", "height", "20"],
      ["route", "glaze_firing", "kiln", ""],
    ]);
    const never = readCalendar(session);
    expect(never?.ok === false && never.problems[0]?.message).toContain("No kiln takes them");
  });

  test("waits for planned firings, and for rests by the run log", async () => {
    await type(TAKEN);
    const board = loadsBoard(session);
    if (!board) throw new Error("not computed yet");
    expect(makeTheseFirings(session, board)).toBe(true);
    await settled();
    const { input } = read();
    expect(input.planned.map(({ id, day, hours, loadingMinutes }) => [id, day, hours, loadingMinutes])).toEqual([
      ["L12", "2026-11-25", 30, 40],
      // The kiln is taken for 30 h: the second load is two days later.
      ["G13", "2026-11-27", 30, 40],
    ]);
    expect(input.pieces.find(({ id }) => id === "120")).toEqual({
      id: "120",
      ahead: ["pack"],
      planned: "G13",
      behind: 6,
    });
    expect(input.pieces.find(({ id }) => id === "025")?.planned).toBe("L12");

    await type([
      ["route", "glaze", "rest", "3"],
      ["pieces", "p129", "glaze.coats", "3"],
      ["pieces", "p131", "glaze.coats", "3"],
    ]);
    const entry = {
      id: "e1",
      at: "2026-11-24T10:00:00Z",
      act: "done",
      label: "Glaze: 129",
      pieces: ["p129"],
      writes: [{ sheet: "pieces", row: "p129", column: "glaze.coats", is: 3 }],
    } as const;
    await make({ label: "log", operations: [{ kind: "list", list: "log", at: 0, was: undefined, is: entry }] });
    const rests = (id: string) => read().input.pieces.find((piece) => piece.id === id)?.restsUntil;
    // Recorded on the 24th it rests to the 27th; where nothing was recorded it is taken to begin today.
    expect([rests("129"), rests("131"), rests("132")]).toEqual(["2026-11-27", "2026-11-28", undefined]);
    expect(read().notes.join(" ")).toContain(
      "Pieces that last had Glaze are assumed to begin their 3 days of rest today",
    );
    await make({
      label: "back",
      operations: [{ kind: "list", list: "log", at: 0, was: entry, is: { ...entry, takenBack: "2026-11-25" } }],
    });
    expect(rests("129")).toBe("2026-11-28");
  });

  test("calculates a kiln's hours from its build, and says a guess where it can't", async () => {
    const hours = () => read().input.steps.find((step) => step.id === "glaze_firing")?.firing?.hours ?? 0;
    expect(hours()).toBeGreaterThan(30);
    expect(read().notes.join(" ")).toContain("calculated from its build");
    await type([["kilns", "k2", "brick", ""]]);
    // 11 usual hours and 16 to cool.
    expect(hours()).toBe(27);
    expect(read().notes.join(" ")).toContain("a guess of 16 to cool");
  });
});

describe("the studio's calendar", () => {
  test("is edited in steps that can be taken back one by one, and refuses what is no day or no hour", async () => {
    const calendar = () => session.book.value.meta.calendar;
    expect(calendar()).toBeUndefined();
    setDue(session, "2026-12-24");
    setHours(session, 5, 4);
    setPeople(session, 2);
    addDaysOff(session, "2026-12-08", "");
    addDaysOff(session, "2026-11-30", "2026-12-02");
    setStart(session, "2026-11-27");
    expect(calendar()).toEqual({
      due: "2026-12-24",
      from: "2026-11-27",
      hours: [8, 8, 8, 8, 8, 4, 0],
      closed: ["2026-11-30", "2026-12-01", "2026-12-02", "2026-12-08"],
      people: 2,
    });
    expect(read().input).toMatchObject({ from: "2026-11-27", due: "2026-12-24", studio: { people: 2 } });
    removeDaysOff(session, ["2026-12-08"]);
    setDue(session, "");
    expect(calendar()?.due).toBeUndefined();
    expect(session.history.value.done).toHaveLength(8);
    for (let steps = 8; steps > 0; steps -= 1) session.undo();
    expect(calendar()).toBeUndefined();

    const refused = [
      setDue(session, "2026-02-30"),
      setHours(session, 0, 25),
      setHours(session, 0, Number.NaN),
      setPeople(session, 0),
      addDaysOff(session, "2026-12-02", "2026-12-01"),
    ];
    expect(refused).toEqual([false, false, false, false, false]);
    expect(session.history.value.done).toHaveLength(0);
  });

  test("told: too late by so many days, with what would help", async () => {
    await type(TAKEN);
    setDue(session, "2026-11-27");
    const made = ready();
    const late = -(made.slackDays ?? 0);
    expect(late).toBeGreaterThan(0);
    expect(headline(made, "en-GB")).toMatch(
      new RegExp(`^Too late by ${late} days: ready on .*, due on Fri,? 27 Nov 2026\\.$`),
    );
    const ways = remedies(read().input, made).map(({ way }) => remedyWords(way, "en-GB"));
    expect(ways).toContain("a second kiln like Large kiln");
    setDue(session, "2027-01-04");
    expect(headline(ready(), "en-GB")).toContain("days before it is due");
    setHours(session, 0, 0);
    for (const day of [1, 2, 3, 4]) setHours(session, day, 0);
    expect(readyWhen(read().input).ok).toBe(false);
  });

  test("drawn: a row a kiln and a row a step, closed days apart", async () => {
    await type(TAKEN);
    setDue(session, "2026-12-10");
    const made = ready();
    const { steps } = read().input;
    const picture = pictureOf(made, steps, "2026-11-25", "en-GB");
    expect(picture.lanes[0]).toBe("Large kiln");
    expect(picture.lanes).toContain("Inspect and pack");
    expect(picture.bars).toHaveLength(made.slots.length);
    // 28 November 2026 is a Saturday.
    const days = picture.closed.map((day) => new Date(day * 86_400_000).toISOString().slice(0, 10));
    expect(days.slice(0, 2)).toEqual(["2026-11-28", "2026-11-29"]);
    expect(new Date((picture.due ?? 0) * 86_400_000).toISOString()).toBe("2026-12-10T00:00:00.000Z");
    expect(made.slots.map(({ task }) => taskName(task, steps))).toContain("Glaze, load 1 for Glaze firing");
    expect([dayName("2026-12-10", "en-GB", "short"), dayName("soon", "en-GB")]).toEqual(["Thu 10 Dec", "soon"]);
  });
});
