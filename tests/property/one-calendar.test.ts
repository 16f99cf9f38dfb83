// Calendars of any studio: no kiln and no hand twice over all editions, the first as if it were alone, the same each time,
// and what is expected adds up.
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayNumber, isoDay } from "../../src/ceramics/calendar/days";
import { expectedOf } from "../../src/ceramics/calendar/expected";
import { offersOf } from "../../src/ceramics/calendar/offers";
import {
  type CalendarEdition,
  type OneCalendar,
  type OneCalendarInput,
  oneCalendar,
} from "../../src/ceramics/calendar/one-calendar";
import { readyWhen } from "../../src/ceramics/calendar/ready";
import type { CalendarStep } from "../../src/ceramics/calendar/route-tasks";
import type { Slot } from "../../src/ceramics/calendar/task";
import { nameKey } from "../../src/core/same-name";

const FIRST = dayNumber("2026-11-25") ?? 0;
const SEED = 20_261_129;
// Written in several ways, and two kilns all the same.
const KILNS = ["North", "north ", " NORTH", "South", "south"] as const;

const step = fc.record({
  minutes: fc.integer({ min: 0, max: 40 }),
  rest: fc.constantFrom(0, 0, 0.5, 3),
  fires: fc.boolean(),
  kiln: fc.constantFrom(...KILNS),
  room: fc.integer({ min: 1, max: 9 }),
  hours: fc.integer({ min: 1, max: 50 }),
  loading: fc.constantFrom(0, 25, 60),
  programme: fc.constantFrom("Bisque", "Glaze", "Low"),
});
const one = fc.record({
  steps: fc.array(step, { minLength: 1, maxLength: 5 }),
  pieces: fc.array(fc.integer({ min: 0, max: 4 }), { maxLength: 12 }),
  begins: fc.integer({ min: 0, max: 9 }),
  due: fc.option(fc.integer({ min: 0, max: 60 }), { nil: undefined }),
  fixed: fc.option(fc.record({ day: fc.integer({ min: 0, max: 9 }), kiln: fc.constantFrom(...KILNS) }), {
    nil: undefined,
  }),
});
const studio = fc
  .record({
    hours: fc.array(fc.constantFrom(0, 4, 7.5, 8, 24), { minLength: 7, maxLength: 7 }),
    closed: fc.array(fc.integer({ min: 0, max: 20 }), { maxLength: 5 }),
    people: fc.integer({ min: 1, max: 3 }),
  })
  .filter(({ hours }) => hours.some((each) => each > 0));

const inputs: fc.Arbitrary<OneCalendarInput> = fc
  .record({ editions: fc.array(one, { minLength: 1, maxLength: 6 }), studio })
  .map(({ editions, studio: { hours, closed, people } }) => ({
    from: isoDay(FIRST),
    studio: { hours, closed: closed.map((day) => isoDay(FIRST + day)), people },
    editions: editions.map(({ steps, pieces, begins, due, fixed }, at): CalendarEdition => {
      const route = steps.map(
        (each, place): CalendarStep => ({
          ...{ id: `s${place}`, title: `Step ${place}`, restDays: each.rest },
          minutesEach: each.fires ? 0 : each.minutes,
          ...(each.fires ? { firing: { ...each, loadingMinutes: each.loading } } : {}),
        }),
      );
      const planned = fixed
        ? [{ id: "G1", kiln: fixed.kiln, hours: 9, loadingMinutes: 30, restDays: 1, day: isoDay(FIRST + fixed.day) }]
        : [];
      return {
        ...{ id: `e${at}`, title: `Edition ${at}`, from: isoDay(FIRST + begins) },
        ...(due === undefined ? {} : { due: isoDay(FIRST + due) }),
        work: {
          ...{ steps: route, planned },
          pieces: pieces.map((from, number) => ({
            id: String(number),
            ahead: route.slice(from).map(({ id }) => id),
            ...(number === 0 && fixed ? { planned: "G1" } : {}),
          })),
        },
      };
    }),
  }));

function holds(check: (input: OneCalendarInput, calendar: OneCalendar) => void, numRuns = 300): void {
  fc.assert(
    fc.property(inputs, (input) => {
      const calendar = oneCalendar(input);
      expect(calendar.ok).toBe(true);
      if (calendar.ok) check(input, calendar.value);
    }),
    { seed: SEED, numRuns },
  );
}

const apart = (slots: readonly Slot[], end: (slot: Slot) => number) =>
  [...slots]
    .sort((a, b) => a.start - b.start || end(a) - end(b))
    .every((slot, at, all) => at === 0 || slot.start >= end(all[at - 1] ?? slot));

function groups<T>(all: readonly T[], key: (one: T) => string): readonly T[][] {
  const found = new Map<string, T[]>();
  for (const each of all) found.set(key(each), [...(found.get(key(each)) ?? []), each]);
  return [...found.values()];
}

describe("a calendar of several editions", () => {
  it("fills no kiln twice at once, and gives nobody two things to do", () => {
    holds((input, { slots }) => {
      const fired = slots.filter(({ task, start, end }) => task.kiln !== undefined && end > start);
      for (const mine of groups(fired, ({ task }) => nameKey(task.kiln ?? "")))
        expect(apart(mine, ({ end }) => end)).toBe(true);
      const worked = slots.filter(({ person }) => person !== undefined);
      for (const mine of groups(worked, ({ person }) => String(person)))
        expect(apart(mine, ({ workEnd }) => workEnd)).toBe(true);
      expect(Math.max(0, ...worked.map(({ person }) => (person ?? 0) + 1))).toBeLessThanOrEqual(input.studio.people);
    });
  });

  it("does every step of every piece of every edition once, and none before the one before it or before its day", () => {
    holds(({ editions }, { slots }) => {
      const wanted = editions.flatMap(({ id, work }) =>
        work.pieces.flatMap((piece) => [
          ...piece.ahead.map((ahead) => `${id} ${ahead} ${piece.id}`),
          ...(piece.planned ? [`${id}  ${piece.id}`] : []),
        ]),
      );
      const had = slots.flatMap(({ task }) => task.pieces.map((piece) => `${task.edition} ${task.step} ${piece}`));
      expect(had.sort()).toEqual(wanted.sort());
      const byId = new Map(slots.map((slot) => [slot.task.id, slot]));
      for (const { task, start } of slots) {
        const from = editions.find(({ id }) => id === task.edition)?.from ?? "";
        expect(start).toBeGreaterThanOrEqual((dayNumber(from) ?? 0) * 1440);
        for (const before of task.after)
          expect(start).toBeGreaterThanOrEqual((byId.get(before.task)?.end ?? 0) + before.restMinutes);
      }
    });
  });

  it("gives the first edition the calendar it has alone, and is the same each time", () => {
    holds((input, calendar) => {
      expect(oneCalendar(input)).toEqual({ ok: true, value: calendar });
      const [first] = input.editions;
      if (!first || input.editions.some(({ work }) => work.planned.length > 0)) return;
      const alone = oneCalendar({ ...input, editions: [first] });
      const times = ({ slots }: OneCalendar) =>
        slots.filter(({ task }) => task.edition === first.id).map(({ task, start, end }) => [task.id, start, end]);
      expect(alone.ok && times(alone.value)).toEqual(times(calendar));
      if (first.work.steps.some(({ firing }) => firing && firing.kiln !== firing.kiln.trim())) return;
      const ready = readyWhen({ ...first.work, studio: input.studio, kilns: {}, from: first.from });
      const finish = calendar.editions[0]?.finish;
      if (
        ready.ok &&
        finish !== undefined &&
        first.work.steps.every(({ firing }) => !firing || firing.kiln === "North")
      )
        expect(finish).toBe(ready.value.finish);
    });
  });

  it("offers room that is there to pieces that are ready, of other editions, for a firing as hot in the same kiln", () => {
    holds((_, { slots }) => {
      for (const { slot, takers } of offersOf(slots)) {
        const free = (slot.task.load?.room ?? 0) - slot.task.pieces.length;
        expect(free).toBeGreaterThan(0);
        for (const { edition, waiting } of takers) {
          expect(edition).not.toBe(slot.task.edition);
          const later = slots.filter(
            ({ task, start }) => task.edition === edition && task.kiln === slot.task.kiln && start > slot.start,
          );
          expect(later.reduce((sum, { task }) => sum + task.pieces.length, 0)).toBeGreaterThanOrEqual(waiting);
        }
      }
    });
  });
});

describe("losses that are planned", () => {
  const rates = fc.array(
    fc.record({
      loss: fc.double({ min: 0, max: 0.9, noNaN: true }),
      needed: fc.option(fc.double({ min: 0, max: 1, noNaN: true }), { nil: undefined }),
    }),
    { minLength: 1, maxLength: 8 },
  );

  it("take whole pieces, each once, and never more than enter", () => {
    fc.assert(
      fc.property(rates, fc.integer({ min: 0, max: 60 }), (steps, count) => {
        const named = steps.map(({ loss, needed }, at) => ({
          ...{ id: `s${at}`, loss },
          ...(needed === undefined ? {} : { needed }),
        }));
        const ahead = named.filter(({ needed }) => needed === undefined).map(({ id }) => id);
        const pieces = Array.from({ length: count }, (_, at) => ({ id: String(at), ahead }));
        const { pieces: left, lost, again } = expectedOf(named, pieces);
        expect(left).toHaveLength(count);
        expect(lost.reduce((sum, each) => sum + each.pieces, 0)).toBeLessThanOrEqual(count);
        const had = (id: string) => left.filter((piece) => piece.ahead.includes(id)).length;
        for (const each of [...lost, ...again]) expect(each.pieces).toBeLessThanOrEqual(had(each.step));
        const counts = ahead.map(had);
        expect(counts).toEqual([...counts].sort((a, b) => b - a));
        const last = counts.at(-1) ?? 0;
        const lostAtEnd = lost.find(({ step: id }) => id === ahead.at(-1))?.pieces ?? 0;
        const total = lost.reduce((sum, each) => sum + each.pieces, 0);
        if (named.at(-1)?.needed === undefined) expect(last - lostAtEnd).toBe(count - total);
      }),
      { seed: SEED, numRuns: 500 },
    );
  });
});
