// A run against its plan: nothing where it came out as planned, and only the cause that moved where one thing moves.
import { describe, expect, test } from "vitest";
import { CAUSE_NAMES, type Cause } from "../../src/accounts/plan-causes";
import type { RealRun, RealWork } from "../../src/accounts/plan-records";
import { planVariances } from "../../src/accounts/plan-variances";
import { roundVariances } from "../../src/accounts/variance-rounding";
import { asPlanned, marginOf, marginOfPlan, plainPlan, workAsPlanned } from "./plan-runs";
import { must } from "./results";

const plan = plainPlan();
const run = asPlanned(plan);

/** Causes that moved, to a millionth. */
function moved(real: RealRun, of = plan): Partial<Record<Cause, number>> {
  const { variances } = planVariances(of, real, "once sold");
  const amounts = CAUSE_NAMES.map((cause): [Cause, number] => [
    cause,
    Math.round(variances.reduce((sum, one) => sum + (one.cause === cause ? one.amount : 0), 0) * 1e6) / 1e6,
  ]);
  return Object.fromEntries(amounts.filter(([, amount]) => amount !== 0));
}

/** The run with one step's work altered. */
const altered = (id: string, alter: (step: RealWork) => RealWork): RealRun => ({
  ...run,
  steps: run.steps.map((step) => (step.id === id ? alter(step) : step)),
});

const loadOf = (step: RealWork) => {
  if (!step.load) throw new Error(`${step.id} is no firing`);
  return step.load;
};

describe("a run that came out as planned", () => {
  test("has no variance, and leaves what the plan does", () => {
    expect(moved(run)).toEqual({});
    const found = planVariances(plan, run, "once sold");
    expect(found.planned).toBeCloseTo(marginOfPlan(plan), 9);
    expect(found.real).toBeCloseTo(marginOf(run), 9);
  });
});

describe("one thing moves, and one cause with it", () => {
  const glaze = run.steps.find(({ id }) => id === "glaze");
  test("price of material, by what was used", () => {
    expect(moved(altered("glaze", (step) => ({ ...step, material: step.material * 1.1 })))).toEqual({
      materialPrice: expect.closeTo(-0.1 * (glaze?.material ?? 0), 5),
    });
  });

  test("grams used, at the planned price", () => {
    const more = altered("glaze", (step) => ({ ...step, grams: step.grams + 100, material: step.material + 1.5 }));
    expect(moved(more)).toEqual({ grams: -1.5 });
  });

  test("wear of moulds", () => {
    expect(moved(altered("cast", (step) => ({ ...step, mouldWear: step.mouldWear + 4 })))).toEqual({ mouldWear: -4 });
  });

  test("minutes, at the planned wage; the overhead of those hours beside it", () => {
    const longer = altered("glaze", (step) => ({
      ...{ ...step, hours: step.hours + 2 },
      ...{ labour: step.labour + 40, overhead: step.overhead + 12 },
    }));
    expect(moved(longer)).toEqual({ minutes: -40, overheadHours: -12 });
  });

  test("wage and overhead an hour, on pieces and at the kiln", () => {
    expect(moved(altered("pack", (step) => ({ ...step, labour: step.labour + 3 })))).toEqual({ wage: -3 });
    expect(moved(altered("pack", (step) => ({ ...step, overhead: step.overhead - 2 })))).toEqual({ overheadRate: 2 });
    const loading = altered("bisque", (step) => ({
      ...step,
      load: { ...loadOf(step), labour: loadOf(step).labour + 5, overhead: loadOf(step).overhead + 1 },
    }));
    expect(moved(loading)).toEqual({ wage: -5, overheadRate: -1 });
  });

  test("tariff, energy a load, wear and loading", () => {
    const firing = (more: (load: ReturnType<typeof loadOf>) => Partial<ReturnType<typeof loadOf>>) =>
      moved(altered("bisque", (step) => ({ ...step, load: { ...loadOf(step), ...more(loadOf(step)) } })));
    expect(firing(({ energy }) => ({ energy: energy + 7 }))).toEqual({ tariff: -7 });
    expect(firing(({ kwh, energy }) => ({ kwh: kwh + 10, energy: energy + 3.2 }))).toEqual({ kwh: -3.2 });
    expect(firing(({ wear }) => ({ wear: wear - 1 }))).toEqual({ kilnWear: 1 });
    const hour = { hours: 1, labour: 20, overhead: 6 };
    expect(
      firing((load) => ({
        ...{ hours: load.hours + hour.hours, labour: load.labour + hour.labour },
        overhead: load.overhead + hour.overhead,
      })),
    ).toEqual({ loading: -26 });
  });

  test("filling: the same pieces in one load more, as each load was planned", () => {
    const one = altered("bisque", (step) => {
      const load = loadOf(step);
      const more = (amount: number) => (amount * (load.loads + 1)) / load.loads;
      return {
        ...step,
        load: {
          ...{ loads: load.loads + 1, kwh: more(load.kwh), energy: more(load.energy), wear: more(load.wear) },
          ...{ hours: more(load.hours), labour: more(load.labour), overhead: more(load.overhead) },
        },
      };
    });
    expect(moved(one)).toEqual({ filling: -(50 * 0.32 + 8 + 0.75 * 26) });
  });

  test("a piece more that is refired, at what a place in the planned load costs", () => {
    const pieces = run.pieces.map((piece, at) =>
      at === run.pieces.findIndex(({ state, had }) => state === "finished" && !had.includes("refire"))
        ? { ...piece, had: [...piece.had, "refire"] }
        : piece,
    );
    const cost = (80 * 0.32 + 9 + 0.5 * 26) / 12;
    expect(moved({ ...run, pieces, steps: workAsPlanned(plan, pieces) })).toEqual({
      refires: expect.closeTo(-cost, 5),
    });
  });

  test("a piece more that was started and lost beyond plan costs what it had in it", () => {
    const pieces = [...run.pieces, { tier: "standard", state: "lost", had: ["cast"], lostAt: "bisque" } as const];
    const {
      lossesBeyond = 0,
      lossesInPlan = 0,
      ...others
    } = moved({
      ...{ ...run, pieces },
      steps: workAsPlanned(plan, pieces),
    });
    expect(others).toEqual({});
    expect(lossesBeyond + lossesInPlan).toBeCloseTo(-(900 * 0.0012 + 0.7 + 0.25 * 26), 5);
    // One more entered, of which a quarter was to be lost: three quarters of one are beyond, at what the 73 cost on average.
    expect(lossesBeyond).toBeCloseTo(
      (-(900 * 0.0012 + 0.7 + 0.25 * 26) * 73 - 72 * ((50 * 0.32 + 8 + 0.75 * 26) / 16)) * (0.75 / 73),
      5,
    );
  });

  test("a step left out, and one that the plan did not have", () => {
    const first = run.pieces.findIndex(({ state }) => state === "finished");
    const pieces = run.pieces.map((piece, at) =>
      at === first ? { ...piece, had: piece.had.filter((id) => id !== "glaze") } : piece,
    );
    const without = moved({ ...run, pieces, steps: workAsPlanned(plan, pieces) });
    expect(without).toEqual({ steps: expect.closeTo(60 * 0.015 + 0.1 * 26, 5) });
    const nothing = { grams: 0, hours: 0, overhead: 0, mouldWear: 0 };
    const extra = { id: "decal", ...nothing, material: 4, labour: 2.5 };
    expect(moved({ ...run, steps: [...run.steps, extra] })).toEqual({ steps: -6.5 });
  });

  test("selling price, at planned tax and fees; then tax, fees and packing by themselves", () => {
    const [first, ...rest] = run.sales;
    if (!first) throw new Error("nothing sold");
    const sold = (one: Partial<typeof first>) => moved({ ...run, sales: [{ ...first, ...one }, ...rest] });
    const dearer = { price: first.price + 12, net: first.net + 10, fees: first.fees + 0.6 };
    expect(sold(dearer)).toEqual({ price: 9.4 });
    expect(sold({ net: first.net - 2 })).toEqual({ tax: -2 });
    expect(sold({ fees: first.fees + 5 })).toEqual({ fees: -5 });
    expect(sold({ packing: 1 })).toEqual({ packing: 2 });
  });

  test("one more finished and sold in the planned mix is number alone; a good one sold as special is mix", () => {
    const lone = plainPlan({ starts: { standard: 256, special: 0 }, sold: { standard: 108, special: 0 } });
    const held = asPlanned(lone);
    const good = held.pieces.find(({ state }) => state === "finished");
    const [sale] = held.sales;
    if (!good || !sale) throw new Error("nothing finished");
    const pieces = [...held.pieces, good];
    const steps = workAsPlanned(lone, pieces);
    const more = moved({ ...held, pieces, steps, sales: [...held.sales, sale] }, lone);
    // The piece more bore no losses, though a planned one would.
    expect(Object.keys(more).sort()).toEqual(
      ["lossesInPlan", "number", "refires"].filter((one) => more[one as Cause]).sort(),
    );
    expect((more.number ?? 0) + (more.lossesInPlan ?? 0) + (more.refires ?? 0)).toBeCloseTo(
      marginOf({ ...held, pieces, steps, sales: [...held.sales, sale] }) - marginOf(held),
      5,
    );
    const seconds = held.sales.map((one, at) =>
      at === 0 ? { ...one, isSecond: true, price: 25, net: 25 / 1.2, fees: 1.65 } : one,
    );
    expect(Object.keys(moved({ ...held, sales: seconds }, lone))).toEqual(["mix"]);
  });

  test("a piece given away is a spare one, and a sale fewer", () => {
    const given = moved({ ...run, sales: run.sales.slice(1) });
    expect(Object.keys(given).sort()).toEqual(["mix", "number", "spare"]);
    expect(Object.values(given).reduce((sum, one) => sum + one, 0)).toBeCloseTo(-(60 / 1.2 - 3.4 - 3), 5);
  });

  test("clay back, firings with nothing in them, idle hours, moulds and fixed costs", () => {
    expect(moved({ ...run, back: 3 })).toEqual({ back: 3 });
    expect(moved({ ...run, emptyFirings: 4 })).toEqual({ firedEmpty: -4 });
    expect(moved({ ...run, idleOverhead: 5 })).toEqual({ idle: -5 });
    expect(moved({ ...run, mouldsCharged: 10 })).toEqual({ moulds: 2 });
    expect(moved({ ...run, fixedCosts: 250 })).toEqual({ fixed: -50 });
  });

  test("a planned number written over by hand is told, not spread", () => {
    const leaves = marginOfPlan(plan) + 30;
    expect(moved(run, { ...plan, leaves })).toEqual({ byHand: -30 });
  });
});

describe("a run that is not over", () => {
  test("nothing entered yet: all that the plan leaves is still to come, and no other cause moves", () => {
    const pieces = run.pieces.map(({ tier }) => ({ tier, state: "not started", had: [] }) as const);
    const bare = { ...run, pieces, sales: [], steps: workAsPlanned(plan, pieces), mouldsCharged: 12, fixedCosts: 200 };
    expect(moved(bare)).toEqual({ inProgress: expect.closeTo(-marginOfPlan(plan) - 212, 5) });
  });

  test("half way: pieces carried at cost, and the rest as planned", () => {
    const pieces = run.pieces.map(({ tier, had, lostAt }) =>
      lostAt === "cast"
        ? ({ tier, state: "lost", had, lostAt } as const)
        : ({ tier, state: "in progress", had: ["cast"] } as const),
    );
    const steps = workAsPlanned(plan, pieces);
    const {
      inProgress = 0,
      lossesInPlan = 0,
      ...others
    } = moved({ ...run, pieces, sales: [], steps, inProgress: 1000 });
    expect(others).toEqual({});
    expect(lossesInPlan).toBeCloseTo(0, 5);
    expect(inProgress).toBeCloseTo(
      marginOf({ ...run, pieces, sales: [], steps, inProgress: 1000 }) - marginOfPlan(plan),
      5,
    );
  });

  test("made so far is what the stock is carried at, until it is sold", () => {
    const held = { ...run, stock: { brings: 500, carried: 320 } };
    const found = planVariances(plan, held, "so far");
    expect(found.real).toBeCloseTo(marginOf(held, false), 9);
    expect(found.variances.find(({ cause }) => cause === "inStock")?.amount).toBe(-180);
    expect(planVariances(plan, held, "once sold").variances.some(({ cause }) => cause === "inStock")).toBe(false);
  });
});

describe("rounded", () => {
  test("causes and their parts add up to the cent, and an end that is another is refused", () => {
    const real = altered("glaze", (step) => ({ ...step, material: step.material * 1.017, hours: step.hours * 1.01 }));
    const found = planVariances(plan, real, "once sold");
    const rounded = must(roundVariances(found, marginOf(real), 5000, 2));
    const causes = rounded.causes.reduce((sum, { minor }) => sum + minor, 0);
    expect(causes).toBe(rounded.realMinor - rounded.plannedMinor);
    for (const { minor, parts } of rounded.causes) expect(parts.reduce((sum, part) => sum + part.minor, 0)).toBe(minor);
    const other = roundVariances(found, marginOf(real) + 0.01, 5000, 2);
    expect(other.ok ? "" : other.problems[0]?.code).toBe("variance.apart");
  });
});
