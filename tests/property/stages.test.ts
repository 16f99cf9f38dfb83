// What must hold of process costing and write-downs whatever the figures: everything is accounted for, the work of two periods
// is that of both together, nothing is carried below nothing, and nothing is taken back above cost.
import fc from "fast-check";
import { expect, test } from "vitest";
import { type ProcessPeriod, processCosts, type StagedUnits } from "../../src/accounts/equivalent-units";
import { must } from "../accounts/results";
import { carriedOver, type StockDay } from "../tools/carried-over";

const degree = fc.double({ min: 0, max: 1, noNaN: true });
const staged = fc.array(fc.tuple(degree, degree), { maxLength: 6 }).map((pieces): StagedUnits => {
  const sum = (at: 0 | 1) =>
    Math.min(
      pieces.length,
      pieces.reduce((all, piece) => all + piece[at], 0),
    );
  return { units: pieces.length, done: [sum(0), sum(1)] };
});
const money = fc.double({ min: 0, max: 10_000, noNaN: true });

/** A period that begins with some units open and ends with others; those that were open come further or are finished. */
const periodFrom = (opening: StagedUnits) =>
  fc
    .record({ started: fc.integer({ min: 0, max: 9 }), closing: staged, normal: staged, abnormal: staged, cost: money })
    .filter(({ started, closing, normal, abnormal }) => {
      const completed = opening.units + started - closing.units - normal.units - abnormal.units;
      const isFurther = [0, 1].every(
        (at) =>
          completed + [closing, normal, abnormal].reduce((sum, one) => sum + (one.done[at] ?? 0), 0) >=
          (opening.done[at] ?? 0),
      );
      return completed >= 0 && isFurther;
    })
    .map(({ started, closing, normal, abnormal, cost }): ProcessPeriod => {
      const completed = opening.units + started - closing.units - normal.units - abnormal.units;
      const elements = ["materials", "conversion"].map((name, at) => ({
        ...{ name, opening: opening.units === 0 ? 0 : 50 * (at + 1), added: cost / (at + 1) },
      }));
      return { elements, opening, started, completed, closing, normal, abnormal };
    });
const none: StagedUnits = { units: 0, done: [0, 0] };
const twoPeriods = periodFrom(none).chain((first) =>
  periodFrom(first.closing).map((second) => [first, second] as const),
);

test("every cost is in what was finished, what is open or what was lost, by both methods", () => {
  fc.assert(
    fc.property(twoPeriods, ([, period]) => {
      for (const method of ["weighted average", "first in first out"] as const) {
        const { completed, closing, normal, abnormal, unspread } = must(processCosts(period, method));
        const all = period.elements.reduce((sum, { opening, added }) => sum + opening + added, 0);
        expect(Math.abs(completed + closing + normal + abnormal + unspread - all)).toBeLessThan(1e-6 * (1 + all));
      }
    }),
  );
});

/** Equivalent units of the work done in the period itself. */
const workDone = (period: ProcessPeriod) =>
  must(processCosts(period, "first in first out")).elements.map(({ units }) => units);

test("the work done in two periods is that of both together", () => {
  fc.assert(
    fc.property(twoPeriods, ([first, second]) => {
      const add = (a: StagedUnits, b: StagedUnits): StagedUnits => ({
        units: a.units + b.units,
        done: a.done.map((one, at) => one + (b.done[at] ?? 0)),
      });
      const both: ProcessPeriod = {
        ...second,
        ...{ opening: first.opening, started: first.started + second.started },
        completed: first.completed + second.completed,
        ...{ normal: add(first.normal, second.normal), abnormal: add(first.abnormal, second.abnormal) },
      };
      const together = workDone(both);
      for (const [at, one] of workDone(first).entries())
        expect(one + (workDone(second)[at] ?? 0)).toBeCloseTo(together[at] ?? 0, 9);
    }),
  );
});

const days = fc
  .array(
    fc.record({
      added: fc.integer({ min: 0, max: 5000 }),
      fetches: fc.option(fc.double({ min: -50, max: 200, noNaN: true }), { nil: undefined }),
      byHand: fc.double({ min: 0, max: 60, noNaN: true }),
      closesYear: fc.boolean(),
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((list) => {
    let cents = 0;
    return list.map(({ added, ...day }, at): StockDay => {
      cents += added;
      return { ...day, day: `2026-01-0${at + 1}`, cost: cents / 100 };
    });
  });

test("carried between nothing and cost, by both; ASC 330 never above IAS 2, and never marked up once a year is closed", () => {
  fc.assert(
    fc.property(days, (list) => {
      const [ias, asc] = [carriedOver(list, "IAS 2"), carriedOver(list, "ASC 330")];
      for (const [at, { cost }] of list.entries()) {
        const [one, other] = [ias[at]?.carried ?? -1, asc[at]?.carried ?? -1];
        expect(other).toBeGreaterThanOrEqual(0);
        expect(one).toBeLessThanOrEqual(cost);
        expect(other).toBeLessThanOrEqual(one + 1e-9);
        if (at > 0 && list[at - 1]?.closesYear) expect(asc[at]?.back ?? 0).toBeLessThanOrEqual(1e-9);
      }
      const net = (of: typeof ias) => of.reduce((sum, { down, back }) => sum + down - back, 0);
      expect(net(ias)).toBeCloseTo(ias.at(-1)?.writtenDown ?? 0, 6);
      expect(net(asc)).toBeCloseTo(asc.at(-1)?.writtenDown ?? 0, 6);
    }),
  );
});
