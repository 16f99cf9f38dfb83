// Calendars of any route keep what they promise: nothing before its time, nothing twice, nothing while it is closed.
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DAY_MINUTES, dayNumber, isoDay, weekdayOf } from "../../src/ceramics/calendar/days";
import { type CalendarInput, type Ready, readyWhen } from "../../src/ceramics/calendar/ready";
import type { CalendarStep } from "../../src/ceramics/calendar/route-tasks";
import type { Slot } from "../../src/ceramics/calendar/task";

const FIRST = dayNumber("2026-11-25") ?? 0;
const KILNS = ["North", "South"] as const;

const step = fc.record({
  minutes: fc.integer({ min: 0, max: 40 }),
  rest: fc.constantFrom(0, 0, 0, 0.5, 3),
  fires: fc.boolean(),
  kiln: fc.constantFrom(...KILNS),
  room: fc.integer({ min: 1, max: 9 }),
  hours: fc.integer({ min: 1, max: 50 }),
  loading: fc.constantFrom(0, 25, 60),
});
const inputs: fc.Arbitrary<CalendarInput> = fc
  .record({
    steps: fc.array(step, { minLength: 1, maxLength: 7 }),
    pieces: fc.array(fc.tuple(fc.integer({ min: 0, max: 7 }), fc.array(fc.boolean(), { minLength: 7, maxLength: 7 })), {
      minLength: 1,
      maxLength: 30,
    }),
    hours: fc.array(fc.constantFrom(0, 4, 7.5, 8, 12, 24), { minLength: 7, maxLength: 7 }),
    closed: fc.array(fc.integer({ min: 0, max: 20 }), { maxLength: 5 }),
    people: fc.integer({ min: 1, max: 3 }),
    second: fc.boolean(),
  })
  .filter(({ hours }) => hours.some((each) => each > 0))
  .map(({ steps, pieces, hours, closed, people, second }) => {
    const named = steps.map(
      (one, at): CalendarStep => ({
        id: `s${at}`,
        title: `Step ${at}`,
        minutesEach: one.fires ? 0 : one.minutes,
        restDays: one.rest,
        ...(one.fires
          ? { firing: { kiln: one.kiln, room: one.room, hours: one.hours, loadingMinutes: one.loading, programme: "" } }
          : {}),
      }),
    );
    return {
      steps: named,
      // A piece begins somewhere and may pass steps by.
      pieces: pieces.map(([from, has], at) => ({
        id: `p${at}`,
        ahead: named.filter((_, place) => place >= from && has[place]).map(({ id }) => id),
      })),
      planned: [],
      studio: { hours, closed: closed.map((day) => isoDay(FIRST + day)), people },
      kilns: second ? { North: 2 } : {},
      from: isoDay(FIRST),
    };
  });

function holds(check: (input: CalendarInput, ready: Ready) => void, runs = 300): void {
  fc.assert(
    fc.property(inputs, (input) => {
      const ready = readyWhen(input);
      expect(ready.ok).toBe(true);
      if (ready.ok) check(input, ready.value);
    }),
    { seed: 20_261_125, numRuns: runs },
  );
}

/** Whether a minute of the clock is worked, by the words on the page: from nine, or earlier where hours are long. */
function isWorked({ studio }: CalendarInput, minute: number): boolean {
  const day = Math.floor(minute / DAY_MINUTES);
  if (studio.closed.includes(isoDay(day))) return false;
  const length = (studio.hours[weekdayOf(day)] ?? 0) * 60;
  const from = 9 * 60 + length > DAY_MINUTES ? DAY_MINUTES - length : 9 * 60;
  const into = minute - day * DAY_MINUTES;
  return into >= from && into < from + length;
}

const apart = (slots: readonly Slot[], end: (slot: Slot) => number) =>
  [...slots]
    .sort((a, b) => a.start - b.start)
    .every((slot, at, all) => at === 0 || slot.start >= end(all[at - 1] ?? slot));

function groups(slots: readonly Slot[], key: (slot: Slot) => string): readonly Slot[][] {
  const found = new Map<string, Slot[]>();
  for (const slot of slots) found.set(key(slot), [...(found.get(key(slot)) ?? []), slot]);
  return [...found.values()];
}

describe("a calendar", () => {
  it("does every step of every piece once, in loads that go in", () => {
    holds((input, { slots }) => {
      const wanted = input.pieces.flatMap((piece) => piece.ahead.map((id) => `${id} ${piece.id}`)).sort();
      expect(slots.flatMap(({ task }) => task.pieces.map((id) => `${task.step} ${id}`)).sort()).toEqual(wanted);
      for (const { task } of slots) {
        const room = input.steps.find(({ id }) => id === task.step)?.firing?.room;
        if (room !== undefined) expect(task.pieces.length).toBeLessThanOrEqual(room);
      }
    });
  });

  it("never fills a kiln twice at once, and has no more kilns than there are", () => {
    holds((input, { slots }) => {
      for (const fired of groups(
        slots.filter(({ task }) => task.kiln !== undefined),
        ({ task, oven }) => `${task.kiln} ${oven}`,
      )) {
        expect(apart(fired, ({ end }) => end)).toBe(true);
        expect(fired[0]?.oven).toBeLessThan(input.kilns[fired[0]?.task.kiln ?? ""] ?? 1);
      }
    });
  });

  it("gives nobody two things to do at once, and all the minutes a task needs", () => {
    holds((input, { slots }) => {
      const worked = slots.filter(({ person }) => person !== undefined);
      for (const mine of groups(worked, ({ person }) => String(person)))
        expect(apart(mine, ({ workEnd }) => workEnd)).toBe(true);
      for (const { task, start, workEnd, end, person } of worked.slice(0, 12)) {
        let minutes = 0;
        for (let at = start; at < workEnd; at += 1) if (isWorked(input, at)) minutes += 1;
        expect(minutes).toBe(task.workMinutes);
        expect(end - workEnd).toBe(task.kilnMinutes);
        expect(person).toBeLessThan(input.studio.people);
      }
    }, 150);
  });

  it("begins nothing while the studio is closed, and no work ends then", () => {
    holds((input, { slots }) => {
      for (const { start, workEnd, task } of slots) {
        expect(isWorked(input, start)).toBe(true);
        if (task.workMinutes > 0) expect(isWorked(input, workEnd - 1)).toBe(true);
      }
    });
  });

  it("begins no step before the one before it is done and rested", () => {
    holds((input, { slots }) => {
      const rests = new Map(input.steps.map(({ id, restDays }) => [id, restDays * DAY_MINUTES]));
      for (const piece of input.pieces) {
        const mine = piece.ahead.map((id) =>
          slots.find(({ task }) => task.step === id && task.pieces.includes(piece.id)),
        );
        mine.forEach((slot, at) => {
          const before = mine[at - 1];
          if (slot && before)
            expect(slot.start).toBeGreaterThanOrEqual(before.end + (rests.get(before.task.step) ?? 0));
        });
      }
    });
  });

  it("is no shorter than the longest way of a piece, all the work shared out, and all the firings of a kiln", () => {
    holds((input, { slots }) => {
      const end = Math.max(FIRST * DAY_MINUTES, ...slots.map((slot) => slot.end)) - FIRST * DAY_MINUTES;
      const work = slots.reduce((sum, { task }) => sum + task.workMinutes, 0);
      expect(end).toBeGreaterThanOrEqual(work / input.studio.people);
      for (const kiln of KILNS) {
        const fired = slots.filter(({ task }) => task.kiln === kiln);
        const shut = fired.reduce((sum, slot) => sum + slot.end - slot.start, 0);
        expect(end).toBeGreaterThanOrEqual(shut / (input.kilns[kiln] ?? 1));
      }
      const byStep = new Map(input.steps.map((one) => [one.id, one]));
      for (const { ahead } of input.pieces) {
        const way = ahead.reduce((sum, id, at) => {
          const one = byStep.get(id);
          const rest = at < ahead.length - 1 ? (one?.restDays ?? 0) * DAY_MINUTES : 0;
          return (
            sum + (one?.firing ? one.firing.loadingMinutes + one.firing.hours * 60 : (one?.minutesEach ?? 0)) + rest
          );
        }, 0);
        expect(end).toBeGreaterThanOrEqual(way);
      }
    });
  });

  it("of one piece in a studio that never closes is the sum of its steps", () => {
    const always = { hours: [24, 24, 24, 24, 24, 24, 24], closed: [], people: 1 };
    fc.assert(
      fc.property(inputs, (input) => {
        const ahead = input.steps.map(({ id }) => id);
        const ready = readyWhen({ ...input, studio: always, pieces: [{ id: "1", ahead }] });
        const sum = input.steps.reduce((total, one, at) => {
          const rest = at < input.steps.length - 1 ? one.restDays * DAY_MINUTES : 0;
          return total + (one.firing ? one.firing.loadingMinutes + one.firing.hours * 60 : one.minutesEach) + rest;
        }, 0);
        expect(ready.ok && Math.max(...ready.value.slots.map(({ end }) => end)) - FIRST * DAY_MINUTES).toBe(sum);
      }),
      { seed: 20_261_126, numRuns: 200 },
    );
  });

  it("is the same each time, and what holds it up adds up to the whole time", () => {
    holds((input, ready) => {
      const again = readyWhen(input);
      expect(again.ok && again.value.slots).toEqual(ready.slots);
      if (ready.slots.length === 0) return;
      const end = Math.max(...ready.slots.map((slot) => slot.end));
      const sum = ready.holdUps.reduce((total, { minutes }) => total + minutes, 0);
      expect(sum).toBe(end - FIRST * DAY_MINUTES);
    });
  });
});
