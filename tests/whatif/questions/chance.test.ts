import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { describe, expect, test } from "vitest";
import { askChance, bandOf, type Chance, type ChanceQuestion, runsOf } from "../../../src/whatif/questions/chance";
import { deliveryOf, quantileOf, type Spread, spreadOf, sumOfSpreads } from "../../../src/whatif/questions/good-count";
import {
  bestOf,
  startsToWeigh,
  sureEnough,
  type WeighedStarts,
  weigh,
} from "../../../src/whatif/questions/start-choice";
import { drawsFrom } from "../../../src/whatif/run/random";
import { drawRun, lossesOfTier, type RouteStep } from "../../../src/whatif/run/run-draws";
import { asking, formulaClient, named } from "../../tools/formula-client";

const ROUTE: readonly RouteStep[] = [
  { id: "cast", loss: 0.03, who: "all", needed: 1 },
  { id: "firing", loss: 0.05, who: "all", needed: 1 },
  { id: "gild", loss: 0.02, who: "special", needed: 1 },
  { id: "low", loss: 0.04, who: "special", needed: 1 },
  { id: "pack", loss: 0.01, who: "all", needed: 1 },
];
const Y_ALL = 0.97 * 0.95 * 0.99;
const Y_SPECIAL = Y_ALL * 0.98 * 0.96;
const value = <T>(result: { readonly ok: true; readonly value: T } | { readonly ok: false }): T => {
  if (!result.ok) throw new Error("refused");
  return result.value;
};
const chanceAt = ({ from, chances }: Spread, good: number) => chances[good - from] ?? 0;

describe("good pieces", () => {
  test("of one tier have the chances of a library of statistics", () => {
    const spread = value(spreadOf({ starts: 141, losses: lossesOfTier(ROUTE, "standard") }));
    let sum = 0;
    for (let good = 0; good <= 141; good += 1) {
      sum += chanceAt(spread, good);
      expect(sum).toBeCloseTo(binomialCdf(good, 141, Y_ALL), 10);
    }
  });

  test("of two tiers have the chances of every pair of counts", () => {
    const [a, b] = [value(spreadOf({ starts: 9, losses: [0.2] })), value(spreadOf({ starts: 4, losses: [0.5] }))];
    const sum = sumOfSpreads([a, b]);
    for (let good = 0; good <= 13; good += 1) {
      let expected = 0;
      for (let x = 0; x <= good; x += 1) expected += chanceAt(a, x) * chanceAt(b, good - x);
      expect(chanceAt(sum, good)).toBeCloseTo(expected, 14);
    }
  });

  test("by hand: two started, each good with 0.8", () => {
    const spread = value(spreadOf({ starts: 2, losses: [0.2] }));
    const of = deliveryOf(spread, 2);
    expect(of.chance).toBeCloseTo(0.64, 12);
    expect(of.expectedGood).toBeCloseTo(1.6, 12);
    // One missing with 0.32, two with 0.04.
    expect(of.expectedShort).toBeCloseTo(0.4, 12);
    expect(deliveryOf(spread, 1).expectedOver).toBeCloseTo(0.64, 12);
    expect([0.03, 0.05, 0.36, 0.37, 1].map((chance) => quantileOf(spread, chance))).toEqual([0, 1, 1, 2, 2]);
  });
});

describe("a drawn run", () => {
  test("loses where the route loses: what comes to a step is what is left", () => {
    const { entries, good } = drawRun(drawsFrom(1), ROUTE, 5000, 1000);
    expect(entries[0]).toBe(6000);
    expect(entries[1]).toBeLessThan(6000);
    expect(entries[2]).toBeLessThan(1000);
    expect(entries[4]).toBeGreaterThan(entries[2] ?? 0);
    expect(good.standard + good.special).toBeLessThan(entries[4] ?? 0);
    const refire = (needed: number) => [{ id: "refire", loss: 0.5, who: "all", needed } as const];
    const none = drawRun(drawsFrom(1), refire(0), 10, 0);
    expect([[...none.entries], none.good.standard]).toEqual([[0], 10]);
  });

  test("a step as needed has the share expected to need it, and loses of those only", () => {
    const refire = [{ id: "refire", loss: 0.5, who: "all", needed: 0.2 } as const];
    const { entries, good } = drawRun(drawsFrom(3), refire, 40_000, 10_000);
    expect(Math.abs((entries[0] ?? 0) / 50_000 - 0.2)).toBeLessThan(0.01);
    expect(Math.abs((good.standard + good.special) / 50_000 - 0.9)).toBeLessThan(0.01);
    expect(lossesOfTier(refire, "standard")).toEqual([0.1]);
  });

  test("seeded draws agree with the exact spread within their own error", () => {
    const draw = drawsFrom(42);
    const draws = 20_000;
    const counts = Array.from({ length: draws }, () => drawRun(draw, ROUTE, 113, 28).good);
    for (const [tier, starts, share] of [
      ["standard", 113, Y_ALL],
      ["special", 28, Y_SPECIAL],
    ] as const) {
      const spread = value(spreadOf({ starts, losses: lossesOfTier(ROUTE, tier) }));
      for (const cut of [0.05, 0.25, 0.5, 0.75, 0.95].map((chance) => quantileOf(spread, chance))) {
        const exact = binomialCdf(cut, starts, share);
        const drawn = counts.filter((good) => good[tier] <= cut).length / draws;
        // Four standard errors of a share.
        expect(Math.abs(drawn - exact)).toBeLessThan(4 * Math.sqrt((exact * (1 - exact)) / draws));
      }
      const mean = counts.reduce((sum, good) => sum + good[tier], 0) / draws;
      expect(Math.abs(mean - starts * share)).toBeLessThan(4 * Math.sqrt((starts * share * (1 - share)) / draws));
    }
  });
});

describe("chance", () => {
  const stakes = { worth: { standard: 90, special: 160 }, shortfall: 40, surplus: 5, fixed: 500 };
  const wanted = { standard: 96, special: 24 };
  const each = [4, 9, 12, 7, 3];
  const cost = (inputs: Readonly<Record<string, number>>) =>
    ROUTE.reduce((sum, { id }, at) => sum + (inputs[id] ?? 0) * (each[at] ?? 0), 0) * ((inputs.price ?? 1) / 1);
  const today = { cast: 0, firing: 0, gild: 0, low: 0, pack: 0, price: 1 };
  const inputs = [...ROUTE.map(({ id }) => id), "price"];
  const question: ChanceQuestion = {
    steps: ROUTE,
    entries: ROUTE.map(({ id }) => named(id)),
    ...{ starts: 141, specialStarts: 28, wanted, stakes, draws: 4000, seed: 9, ranges: [], cost: 0 },
  };
  const ask = async (is: Partial<ChanceQuestion> = {}, of = cost): Promise<Chance> => {
    const ready = await asking(
      formulaClient(today, (given) => ({ cost: of(given) })),
      inputs,
      ["cost"],
    );
    return value(await askChance(ready, { ...question, ...is }, () => Promise.resolve()));
  };

  test("of falling short is exact, tier by tier and together", async () => {
    const found = await ask();
    const [standard, special] = [1 - binomialCdf(95, 113, Y_ALL), 1 - binomialCdf(23, 28, Y_SPECIAL)];
    expect(found.shortOf.standard).toBeCloseTo(1 - standard, 10);
    expect(found.shortOf.special).toBeCloseTo(1 - special, 10);
    expect(found.short).toBeCloseTo(1 - standard * special, 10);
    expect(found.shortTogether).toBeLessThan(found.short);
  });

  test("money drawn has the mean that can be calculated exactly", async () => {
    const found = await ask();
    const runs = runsOf(question);
    let [x, y] = [113, 28];
    let expectedCost = 0;
    ROUTE.forEach(({ loss, who }, at) => {
      expectedCost += ((who === "all" ? x : 0) + y) * (each[at] ?? 0);
      if (who === "all") x *= 1 - loss;
      y *= 1 - loss;
    });
    const exact = value(weigh({ starts: 141, runs, cost: expectedCost }, stakes));
    const spread = Math.sqrt(found.profits.reduce((sum, one) => sum + (one - found.meanProfit) ** 2, 0) / 4000);
    expect(Math.abs(found.meanProfit - exact.profit)).toBeLessThan((4 * spread) / Math.sqrt(4000));
    expect(found.profit.low).toBeLessThan(found.profit.median);
    expect(found.profit.median).toBeLessThan(found.profit.high);
    expect([found.losing, found.left]).toEqual([0, 0]);
  });

  test("the same seed gives the same money, another seed other money", async () => {
    const [first, again, other] = [await ask(), await ask(), await ask({ seed: 10 })];
    expect([...again.profits]).toEqual([...first.profits]);
    expect([...other.profits]).not.toEqual([...first.profits]);
  });

  test("an uncertain price widens the money and not the pieces", async () => {
    const [sure, unsure] = [await ask(), await ask({ ranges: [{ input: named("price"), low: 0.5, high: 2 }] })];
    expect(unsure.profit.high - unsure.profit.low).toBeGreaterThan(2 * (sure.profit.high - sure.profit.low));
    expect(unsure.good).toEqual(sure.good);
  });

  test("of losing money is the share of draws below nothing, with its error", async () => {
    const { profit } = await ask();
    const found = await ask({ stakes: { ...stakes, fixed: stakes.fixed + profit.low } });
    expect(found.losing).toBeCloseTo(0.1, 2);
    expect(found.losingError).toBeCloseTo(Math.sqrt((0.1 * 0.9) / 4000), 3);
  });

  test("draws without a cost are left out and counted; with none left it is refused", async () => {
    const found = await ask({}, (given) => ((given.gild ?? 0) > 26 ? Number.NaN : cost(given)));
    expect(found.left).toBeGreaterThan(0);
    expect(found.profits.length + found.left).toBe(4000);
    const ready = await asking(
      formulaClient(today, () => ({ cost: Number.NaN })),
      inputs,
      ["cost"],
    );
    const refused = await askChance(ready, question, () => Promise.resolve());
    expect(refused).toMatchObject({ ok: false, problems: [{ code: "chance.cost" }] });
  });

  test("stops between portions of the draws", async () => {
    const stopping = new AbortController();
    const ready = await asking(
      formulaClient(today, (given) => ({ cost: cost(given) })),
      inputs,
      ["cost"],
    );
    const asked = askChance({ ...ready, options: { signal: stopping.signal } }, question, async () =>
      stopping.abort(new Error("stopped")),
    );
    await expect(asked).rejects.toThrow("stopped");
  });

  test("losses that can't be are told", async () => {
    const ready = await asking(
      formulaClient(today, () => ({ cost: 1 })),
      inputs,
      ["cost"],
    );
    const steps = [{ id: "cast", loss: 1.2, who: "all", needed: 1 }] as const;
    const refused = await askChance(ready, { ...question, steps, entries: [named("cast")] }, () => Promise.resolve());
    expect(refused.ok).toBe(false);
  });
});

test("a band has a tenth below and a tenth above", () => {
  expect(bandOf(Float64Array.from({ length: 100 }, (_, at) => at + 1))).toEqual({ low: 10, median: 50, high: 90 });
  expect(bandOf(Float64Array.of(4))).toEqual({ low: 4, median: 4, high: 4 });
  expect(bandOf(new Float64Array()).median).toBeNaN();
});

describe("how many to start", () => {
  const stakes = { worth: { standard: 50, special: 0 }, shortfall: 30, surplus: 4, fixed: 10 };

  test("weighs by hand: two of two wanted, each good with 0.8", () => {
    const runs = [{ tier: "standard", starts: 2, wanted: 2, losses: [0.2] }] as const;
    // 1.6 sold × 50 − 0.4 short × 30 − cost 20 − fixed 10.
    expect(value(weigh({ starts: 2, runs, cost: 20 }, stakes)).profit).toBeCloseTo(1.6 * 50 - 0.4 * 30 - 30, 10);
    const three = [{ tier: "standard", starts: 3, wanted: 2, losses: [0.2] }] as const;
    // One over with 0.512; short: one with 0.096, two with 0.008.
    const short = 0.096 + 2 * 0.008;
    expect(value(weigh({ starts: 3, runs: three, cost: 30 }, stakes)).profit).toBeCloseTo(
      (2 - short) * 50 - short * 30 - 0.512 * 4 - 40,
      10,
    );
  });

  test("weighs two tiers by hand: neither may be short", () => {
    const runs = [
      { tier: "standard", starts: 2, wanted: 2, losses: [0.2] },
      { tier: "special", starts: 1, wanted: 1, losses: [0.5] },
    ] as const;
    const found = value(weigh({ starts: 3, runs, cost: 0 }, { ...stakes, worth: { standard: 50, special: 80 } }));
    expect(found.chance).toBeCloseTo(0.64 * 0.5, 12);
    expect(found.expectedGood).toBeCloseTo(2.1, 12);
    expect(found.profit).toBeCloseTo(1.6 * 50 - 0.4 * 30 + 0.5 * 80 - 0.5 * 30 - 10, 10);
  });

  test("is best where one more start no longer pays: the critical ratio", () => {
    const [yieldShare, costEach, pieces] = [0.85, 12, 100];
    const weighed = Array.from(startsToWeigh(pieces, 118, 200), (starts): WeighedStarts => {
      const runs = [{ tier: "standard", starts, wanted: pieces, losses: [1 - yieldShare] }] as const;
      return value(weigh({ starts, runs, cost: starts * costEach }, stakes));
    });
    const best = bestOf(weighed);
    const sure = sureEnough(50 + 30 - costEach / yieldShare, 4 + costEach / yieldShare);
    // One more start is needed with the chance of fewer than wanted among those before it.
    const starts = best?.starts ?? 0;
    expect(1 - binomialCdf(pieces - 1, starts - 1, yieldShare)).toBeLessThan(sure);
    expect(1 - binomialCdf(pieces - 1, starts, yieldShare)).toBeGreaterThanOrEqual(sure);
  });

  test("of equals the fewest, and none without a cost", () => {
    const one = (starts: number, profit: number) => ({ starts, profit }) as WeighedStarts;
    expect(bestOf([one(10, 5), one(11, 5), one(12, Number.NaN)])?.starts).toBe(10);
    expect(bestOf([one(10, Number.NaN)])).toBeUndefined();
  });

  test("looks from those wanted to beyond the plan", () => {
    expect([...startsToWeigh(120, 141, 121)].slice(0, 2)).toEqual([120, 121]);
    expect(startsToWeigh(120, 141, 121).at(-1)).toBe(169);
    expect(startsToWeigh(5000, 5600, 121).length).toBeLessThanOrEqual(121);
    expect([...startsToWeigh(0, 0, 121)]).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
  });
});
