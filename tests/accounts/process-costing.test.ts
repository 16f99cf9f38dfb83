import { describe, expect, test } from "vitest";
import { equivalentUnits, shareDone } from "../../src/accounts/equivalent-units";
import { type ProcessElement, type ProcessInput, valueProcess } from "../../src/accounts/process-costing";
import { codesOf, must } from "./results";

const element = (more: Partial<ProcessElement> = {}): ProcessElement => ({
  name: "Glaze",
  openingCost: 0,
  addedCost: 1000,
  openingDone: 0,
  closingDone: 0.5,
  spoiledDone: 1,
  ...more,
});
const process: ProcessInput = {
  method: "weighted average",
  units: { opening: 0, started: 100, completed: 60, closing: 20, spoiled: 20 },
  elements: [element()],
  inspection: { normalRateOfGood: 0.1, goodInspected: 80, closingBearing: 0 },
};

describe("how much of a cost a unit has received", () => {
  test.each([
    ["evenly", 0.4, 0.4],
    [0, 0, 1],
    [0.9, 0.8, 0],
    [0.9, 0.9, 1],
  ] as const)("added %s, unit at %d: %d", (whenAdded, stage, done) => {
    expect(must(shareDone(whenAdded, stage))).toBe(done);
  });

  test("refuses stages that are none", () => {
    expect(codesOf(shareDone("evenly", 1.1))).toEqual(["number.range"]);
    expect(codesOf(shareDone(2, 0.5))).toEqual(["number.range"]);
  });
});

test("equivalent units leave out opening work only where it leaves first", () => {
  const units = { opening: 10, started: 90, completed: 70, closing: 20, spoiled: 10 };
  const done = { openingDone: 0.4, closingDone: 0.5, spoiledDone: 0.8 };
  expect(equivalentUnits(units, done, "weighted average")).toBe(88);
  expect(equivalentUnits(units, done, "first in, first out")).toBe(84);
});

describe("spoilage at an inspection", () => {
  test("goes to the completed units up to the normal rate, the rest to the period", () => {
    // 60 + 10 + 20 = 90 units of 1,000; 8 of the 20 spoiled are normal.
    const valued = must(valueProcess(process));
    const rate = 1000 / 90;
    expect(valued.normalUnits).toBe(8);
    expect(valued.abnormalUnits).toBe(12);
    expect(valued.completedCost).toBeCloseTo(68 * rate, 10);
    expect(valued.closingCost).toBeCloseTo(10 * rate, 10);
    expect(valued.abnormalCost).toBeCloseTo(12 * rate, 10);
  });

  test("falls on closing units too where they are beyond the inspection", () => {
    const inspection = { normalRateOfGood: 0.1, goodInspected: 80, closingBearing: 20 };
    const valued = must(valueProcess({ ...process, inspection }));
    const rate = 1000 / 90;
    expect(valued.completedCost).toBeCloseTo((60 + 6) * rate, 10);
    expect(valued.closingCost).toBeCloseTo((10 + 2) * rate, 10);
  });

  test("below the normal rate is all normal", () => {
    const inspection = { normalRateOfGood: 0.5, goodInspected: 80, closingBearing: 0 };
    expect(must(valueProcess({ ...process, inspection }))).toMatchObject({ normalUnits: 20, abnormalCost: 0 });
  });
});

describe("first in, first out", () => {
  test("finishes the opening units at the period's rate and keeps what they had cost", () => {
    // Opening 10 at half, 100; 20 completed, 10 closing at half: 20 − 5 + 5 = 20 units of 400.
    const valued = must(
      valueProcess({
        method: "first in, first out",
        units: { opening: 10, started: 20, completed: 20, closing: 10, spoiled: 0 },
        elements: [element({ openingCost: 100, addedCost: 400, openingDone: 0.5 })],
      }),
    );
    expect(valued.rates).toEqual([{ name: "Glaze", equivalentUnits: 20, ratePerUnit: 20 }]);
    expect(valued).toMatchObject({ completedCost: 100 + 5 * 20 + 10 * 20, closingCost: 100, totalCost: 500 });
  });
});

describe("what cannot be valued", () => {
  test.each<[string, Partial<ProcessInput>, string]>([
    ["units that vanish", { units: { ...process.units, started: 101 } }, "units.flow"],
    ["spoiled units with no inspection", {}, "units.inspection"],
    ["a negative count", { units: { ...process.units, closing: -20, completed: 100 } }, "number.range"],
    ["a cost twice", { elements: [element(), element()] }, "name.twice"],
    ["more than done", { elements: [element({ closingDone: 30 })] }, "number.range"],
    ["a negative cost", { elements: [element({ addedCost: -1 })] }, "number.range"],
    [
      "opening units that stay behind",
      {
        method: "first in, first out",
        units: { opening: 50, started: 50, completed: 40, closing: 60, spoiled: 0 },
      },
      "units.first-out",
    ],
    [
      "a cost that no unit has received",
      {
        units: { opening: 0, started: 10, completed: 0, closing: 10, spoiled: 0 },
        elements: [element({ closingDone: 0 })],
      },
      "units.none",
    ],
    [
      "normal spoilage with nobody to bear it",
      {
        units: { opening: 0, started: 10, completed: 0, closing: 0, spoiled: 10 },
        inspection: { normalRateOfGood: 0.1, goodInspected: 0, closingBearing: 0 },
      },
      "loss.all",
    ],
    [
      "more closing units beyond the inspection than there are",
      { inspection: { normalRateOfGood: 0.1, goodInspected: 80, closingBearing: 21 } },
      "number.range",
    ],
  ])("%s", (name, changed, code) => {
    const { inspection: _, ...without } = process;
    const input = name === "spoiled units with no inspection" ? without : { ...process, ...changed };
    expect(codesOf(valueProcess(input))).toContain(code);
  });

  test("a cost of nothing that no unit has received is no trouble", () => {
    const input: ProcessInput = {
      method: "weighted average",
      units: { opening: 0, started: 10, completed: 0, closing: 10, spoiled: 0 },
      elements: [element({ addedCost: 0, closingDone: 0 })],
    };
    expect(must(valueProcess(input)).closingCost).toBe(0);
  });
});
