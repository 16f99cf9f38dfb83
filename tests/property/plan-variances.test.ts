// Whatever was planned and whatever came of it, and however little they fit each other: the causes lead from the planned margin
// to the real one, both added up here by themselves, and once rounded to the cent. In what order pieces, sales and steps are
// listed does not matter.
import fc from "fast-check";
import { expect, test } from "vitest";
import type { PlannedRun, PlannedWork, RealPiece, RealRun, RealSale, RealWork } from "../../src/accounts/plan-records";
import { planVariances } from "../../src/accounts/plan-variances";
import { roundVariances } from "../../src/accounts/variance-rounding";
import { roundMoney } from "../../src/core/money";
import { marginOf, marginOfPlan } from "../accounts/plan-runs";
import { must } from "../accounts/results";

/** To nine decimals: what is smaller than that is lost in sums of doubles, here and there. */
const amount = (max: number) => fc.double({ min: 0, max, noNaN: true }).map((one) => Math.round(one * 1e9) / 1e9);
const some = (max: number) => fc.oneof(fc.constant(0), amount(max));
const STEPS = ["cast", "bisque", "glaze", "again", "band", "pack"] as const;
const tier = fc.constantFrom("standard", "special");

const planned = (id: string, order: number) =>
  fc
    .record({
      who: fc.constantFrom("all", "special", "as needed"),
      share: amount(1),
      loss: fc.oneof(fc.constant(0), amount(0.6)),
      grams: some(1000),
      pricePerGram: some(1),
      hours: some(2),
      mouldWear: some(3),
      load: fc.option(
        fc.record({
          pieces: fc.double({ min: 0.5, max: 60, noNaN: true }),
          kwh: some(90),
          wear: some(20),
          hours: some(2),
        }),
      ),
    })
    .map(
      ({ load, share, ...rest }): PlannedWork => ({
        ...{ ...rest, id, order, share: rest.who === "as needed" ? share : 1 },
        ...(load ? { load, grams: 0, hours: 0, mouldWear: 0 } : {}),
      }),
    );

const sale = fc.record({
  price: some(200),
  taxRate: some(0.3),
  feeRate: some(0.2),
  feeFixed: some(2),
  packing: some(9),
});
const byTier = (max: number) => fc.record({ standard: some(max), special: some(max) });

const plan: fc.Arbitrary<PlannedRun> = fc.record({
  ...{ wagePerHour: some(40), overheadPerHour: some(20), loadingOverhead: some(20), pricePerKwh: some(1) },
  ...{ starts: byTier(300), sold: byTier(300), mouldsCharged: some(100), fixedCosts: some(500) },
  sale: fc.record({ standard: sale, special: sale, second: sale }),
  steps: fc.tuple(...STEPS.slice(0, 5).map((id, at) => planned(id, at + 1))).map((steps) => [...steps]),
});

const load = fc.record({
  ...{
    loads: some(9),
    kwh: some(500),
    energy: some(200),
    wear: some(50),
    hours: some(9),
    labour: some(200),
    overhead: some(60),
  },
});
const real = (id: string): fc.Arbitrary<RealWork> =>
  fc
    .record({
      ...{
        grams: some(9e4),
        material: some(500),
        hours: some(90),
        labour: some(900),
        overhead: some(300),
        mouldWear: some(99),
      },
      load: fc.option(load),
    })
    .map(({ load: of, ...rest }) => ({ ...rest, id, ...(of ? { load: of } : {}) }));

const piece: fc.Arbitrary<RealPiece> = fc
  .record({
    tier,
    state: fc.constantFrom("not started", "in progress", "finished", "lost"),
    had: fc.subarray([...STEPS]),
    lostAt: fc.constantFrom(...STEPS),
  })
  .map(({ state, had, lostAt, ...rest }) => ({
    ...{ ...rest, state, had: state === "not started" ? [] : had },
    ...(state === "lost" ? { lostAt } : {}),
  }));

const sold: fc.Arbitrary<RealSale> = fc.record({
  ...{ tier, isSecond: fc.boolean(), price: some(200), net: some(200), fees: some(40), packing: some(9) },
});

/** A run, of which what a step of the plan took fits its kind, as a firing has no grams. */
const run: fc.Arbitrary<RealRun> = fc.record({
  steps: fc.tuple(...STEPS.map(real)).map((steps) => [...steps]),
  pieces: fc.array(piece, { maxLength: 30 }),
  sales: fc.array(sold, { maxLength: 20 }),
  ...{ back: some(90), emptyFirings: some(90), idleOverhead: some(90), mouldsCharged: some(90), fixedCosts: some(900) },
  inProgress: some(900),
  stock: fc.record({ brings: some(900), carried: some(900) }),
});

function fitting(of: PlannedRun, one: RealRun): RealRun {
  const steps = one.steps.map((step): RealWork => {
    const its = of.steps.find(({ id }) => id === step.id);
    const { load: taken, ...rest } = step;
    if (its?.load)
      return {
        id: step.id,
        grams: 0,
        material: 0,
        hours: 0,
        labour: 0,
        overhead: 0,
        mouldWear: 0,
        ...(taken ? { load: taken } : {}),
      };
    return its ? rest : step;
  });
  return { ...one, steps };
}

const END = fc.constantFrom("so far", "once sold");

test("the causes lead from the planned margin to the real one, to the cent", () => {
  fc.assert(
    fc.property(plan, run, END, fc.constantFrom(0, 2, 3), (of, one, end, digits) => {
      const held = fitting(of, one);
      const found = planVariances(of, held, end);
      const [left, made] = [marginOfPlan(of), marginOf(held, end === "once sold")];
      const size = Math.max(1, Math.abs(left), ...found.variances.map((each) => Math.abs(each.amount)));
      expect(Math.abs(found.planned - left) / size).toBeLessThan(1e-9);
      expect(Math.abs(found.real - made) / size).toBeLessThan(1e-9);
      const rounded = must(roundVariances(found, made, size * 1e3, digits));
      expect(rounded.realMinor).toBe(Math.round(roundMoney(made, digits) * 10 ** digits));
      const sum = rounded.causes.reduce((total, { minor }) => total + minor, 0);
      expect(sum).toBe(rounded.realMinor - rounded.plannedMinor);
      for (const { minor, parts } of rounded.causes)
        expect(parts.reduce((total, part) => total + part.minor, 0)).toBe(minor);
    }),
    { numRuns: 300 },
  );
});

test("in what order things are listed changes no cause", () => {
  fc.assert(
    fc.property(plan, run, (of, one) => {
      const held = fitting(of, one);
      const reversed = {
        ...held,
        pieces: held.pieces.toReversed(),
        sales: held.sales.toReversed(),
        steps: held.steps.toReversed(),
      };
      const [a, b] = [
        planVariances(of, held, "so far"),
        planVariances({ ...of, steps: of.steps.toReversed() }, reversed, "so far"),
      ];
      const amounts = (found: typeof a) => {
        const sums = new Map<string, number>();
        for (const { cause, of: which = "", amount: each } of found.variances)
          sums.set(`${cause} ${which}`, (sums.get(`${cause} ${which}`) ?? 0) + each);
        return sums;
      };
      const other = amounts(b);
      for (const [name, each] of amounts(a)) expect(other.get(name)).toBeCloseTo(each, 6);
    }),
    { numRuns: 60 },
  );
});
