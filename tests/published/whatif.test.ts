// What-if held against worked examples.
import { describe, expect, test } from "vitest";
import { normalQuantile } from "../../src/ceramics/normal";
import { askRanking } from "../../src/whatif/questions/ranking";
import { askCases } from "../../src/whatif/questions/side-by-side";
import { bestOf, sureEnough, type WeighedStarts, weigh } from "../../src/whatif/questions/start-choice";
import { asking, formulaClient, named } from "../tools/formula-client";

describe("sensitivity: price 250, variable 150, fixed 50,000, 700 units (Saylor Academy, Managerial Accounting 2012, 6.3)", () => {
  const today = { price: 250, variable: 150, fixed: 50_000, units: 700 };
  const client = formulaClient(today, ({ price = 0, variable = 0, fixed = 0, units = 0 }) => ({
    profit: (price - variable) * units - fixed,
  }));
  const inputs = Object.keys(today);

  test("today's profit is 20,000; price up 10 % gives 37,500; volume down 10 % gives 13,000", async () => {
    const tenth = Object.entries(today).map(([name, value]) => ({
      input: named(name),
      low: value * 0.9,
      high: value * 1.1,
    }));
    const { now, ranked } = await askRanking(await asking(client, inputs, ["profit"]), tenth, 0);
    expect(now).toBe(20_000);
    const of = (name: string) => ranked.find(({ input }) => input.row === name);
    expect(of("price")?.atHigh).toBeCloseTo(37_500, 8);
    expect(of("units")?.atLow).toBeCloseTo(13_000, 8);
    // A tenth of the price moves profit most; the rest follows from the same formula.
    expect(ranked.map(({ input }) => input.row)).toEqual(["price", "variable", "units", "fixed"]);
  });

  test("fixed down 30 % with variable up 10 % gives 24,500", async () => {
    const both = [
      { cell: named("fixed"), value: 35_000 },
      { cell: named("variable"), value: 165 },
    ];
    const { results } = await askCases(await asking(client, inputs, ["profit"]), [both]);
    expect(results[0]?.[0]).toBeCloseTo(24_500, 8);
  });
});

describe("the newsvendor (from memory)", () => {
  test("price 7, cost 5, nothing fetched by what is left: a critical ratio of 2/7", () => {
    const ratio = sureEnough(7 - 5, 5);
    expect(ratio).toBeCloseTo(2 / 7, 14);
    // Demand even between 50 and 80: 58.57, that is 59. Demand normal with mean 50 and spread 20: 39.
    expect(Math.round(50 + (80 - 50) * ratio)).toBe(59);
    expect(Math.round(50 + 20 * normalQuantile(ratio))).toBe(39);
  });

  // Cachon and Terwiesch, Matching Supply with Demand: wetsuits at 190, bought at 110, salvaged at 90; demand 3192 ± 1181.
  test("price 190, cost 110, salvage 90: a critical ratio of 0.80", () => {
    const ratio = sureEnough(190 - 110, 110 - 90);
    expect(ratio).toBeCloseTo(0.8, 14);
    // The book's table goes by z = 0.85, rounded up, to 4,196; the exact quantile is a little lower.
    expect(Math.ceil(normalQuantile(ratio) * 100) / 100).toBe(0.85);
    expect(Math.round(3192 + 1181 * 0.85)).toBe(4196);
  });
});

// Hillier and Lieberman, Introduction to Operations Research, dynamic programming, the Hit-and-Miss Manufacturing Company
// (from memory): one acceptable item is wanted; an item is acceptable with ½ and costs 100; a run costs 300 to set up.
describe("a reject allowance: one wanted, half are acceptable, 100 each, 300 to set up", () => {
  const costOf = (starts: number, penalty: number): WeighedStarts => {
    const runs = [{ tier: "standard", starts, wanted: 1, losses: [0.5] }] as const;
    const stakes = { worth: { standard: 0, special: 0 }, shortfall: penalty, surplus: 0, fixed: 0 };
    const found = weigh({ starts, runs, cost: starts === 0 ? 0 : 300 + 100 * starts }, stakes);
    if (!found.ok) throw new Error(found.problems[0]?.message);
    return found.value;
  };
  const weighed = (penalty: number) => Array.from({ length: 6 }, (_, starts) => costOf(starts, penalty));
  const costs = (penalty: number) => weighed(penalty).map(({ profit }) => Math.round(-profit * 100) / 100);

  test("last run, 1,600 for none: 1600, 1200, 900, 800, 800, 850; start 3 or 4", () => {
    expect(costs(1600)).toEqual([1600, 1200, 900, 800, 800, 850]);
    expect(bestOf(weighed(1600))?.starts).toBe(3);
  });

  test("second run, 800 for none: start 2 or 3, at 700", () => {
    expect(costs(800)).toEqual([800, 800, 700, 700, 750, 825]);
    expect(bestOf(weighed(800))?.starts).toBe(2);
  });

  test("first run, 700 for none: start 2, at 675", () => {
    expect(bestOf(weighed(700))).toMatchObject({ starts: 2, profit: -675 });
  });
});
