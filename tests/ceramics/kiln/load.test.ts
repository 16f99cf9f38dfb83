import { describe, expect, test } from "vitest";
import { type Load, loadCurves, loadProblems } from "../../../src/ceramics/kiln/load";
import { readTable, TABLE_POINTS, tableSlope } from "../../../src/ceramics/kiln/table";
import { bisqueLoad, EMPTY_LOAD } from "./example";

describe("faults of a load name their field", () => {
  const body = { silica: 1, alumina: 1, other: 1 };
  const cases: readonly (readonly [string, Partial<Load>, string])[] = [
    ["negative ware", { wareKg: -1, kaoliniteKg: 0 }, "load, ware"],
    ["negative furniture", { furnitureKg: -1 }, "load, furniture"],
    ["water that is no number", { freeWaterKg: Number.NaN }, "load, free water"],
    ["more clay mineral than ware", { wareKg: 2, kaoliniteKg: 3 }, "load, clay mineral"],
    ["bound water that takes no heat", { dehydroxylationKjPerKg: 10 }, "load, heat of bound water"],
    ["a body with less than nothing", { wareBody: { ...body, alumina: -1 } }, "ware body, alumina"],
  ];
  test.each(cases)("%s", (_, change, where) => {
    const problems = loadProblems({ ...bisqueLoad, ...change });
    expect(problems.map((one) => one.where)).toEqual([where]);
  });

  test("a body of nothing at all", () => {
    const [found] = loadProblems({ ...bisqueLoad, furnitureBody: { silica: 0, alumina: 0, other: 0 } });
    expect(found?.where).toBe("furniture body, all parts");
  });

  test("a sound load has none, and an empty kiln is sound", () => {
    expect(loadProblems(bisqueLoad)).toEqual([]);
    expect(loadProblems(EMPTY_LOAD)).toEqual([]);
  });
});

describe("heat curves", () => {
  const curves = loadCurves(bisqueLoad, 20);

  test("begin at nothing, in the room, and never fall", () => {
    for (const curve of [curves.ware, curves.furniture, curves.solids, curves.water]) {
      expect(readTable(curve, 20)).toBeCloseTo(0, 6);
      expect(curve).toHaveLength(TABLE_POINTS);
      expect(Array.from(curve.slice(1), (joules, i) => joules - curve[i]!).every((rise) => rise >= 0)).toBe(true);
    }
  });

  test("solids are ware and furniture together", () => {
    expect(readTable(curves.solids, 873)).toBeCloseTo(
      readTable(curves.ware, 873) + readTable(curves.furniture, 873),
      3,
    );
  });

  test("water warms to 100 °C, boils by 120 °C, and the clay gives its own off from 400 to 700 °C", () => {
    const { water } = curves;
    expect(readTable(water, 100) / 1000).toBeCloseTo(0.4 * 4.186 * 80, 3);
    expect(readTable(water, 120) / 1000).toBeCloseTo(0.4 * (4.186 * 80 + 2257 + 2.0 * 10), 3);
    expect(tableSlope(water, 300)).toBe(0);
    expect((readTable(water, 700) - readTable(water, 400)) / 1000).toBeCloseTo(9 * (540 + 0.1396 * 2 * 530), 3);
    expect(tableSlope(water, 701)).toBe(0);
  });
});
