// Process costing against published exercises. OSX = OpenStax, Principles of Accounting, Volume 2 (Managerial);
// SAY = Saylor Academy, Managerial Accounting (2012).
import { describe, expect, test } from "vitest";
import { shareDone } from "../../src/accounts/equivalent-units";
import { type ProcessElement, type ProcessInput, valueProcess } from "../../src/accounts/process-costing";
import { roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";

function element(
  name: string,
  openingCost: number,
  addedCost: number,
  openingDone: number,
  closingDone: number,
  spoiledDone = 0,
): ProcessElement {
  return { name, openingCost, addedCost, openingDone, closingDone, spoiledDone };
}

const unitsOf = (input: ProcessInput) => must(valueProcess(input)).rates.map((rate) => rate.equivalentUnits);

describe("P1: no opening stock (OSX 5.3)", () => {
  const valued = must(
    valueProcess({
      method: "weighted average",
      units: { opening: 0, started: 8700, completed: 7500, closing: 1200, spoiled: 0 },
      elements: [element("materials", 0, 10_179, 0, 1), element("conversion", 0, 15_176 + 7000, 0, 0.35)],
    }),
  );

  test("equivalent units 8,700 and 7,920 at 1.17 and 2.80", () => {
    expect(valued.rates.map((rate) => [rate.equivalentUnits, roundMoney(rate.ratePerUnit, 9)])).toEqual([
      [8700, 1.17],
      [7920, 2.8],
    ]);
  });

  test("29,775 transferred, 2,580 closing: 1,404 materials and 1,176 conversion", () => {
    expect(roundMoney(valued.completedCost, 8)).toBe(29_775);
    expect(roundMoney(valued.closingCost, 8)).toBe(2580);
    expect(roundMoney(valued.closingByElement.materials!, 8)).toBe(1404);
    expect(roundMoney(valued.closingByElement.conversion!, 8)).toBe(1176);
  });
});

test("P3: rates are not rounded on the way (data OSX 5.3; exact answer computed)", () => {
  const valued = must(
    valueProcess({
      method: "weighted average",
      units: { opening: 0, started: 8700, completed: 7500, closing: 1200, spoiled: 0 },
      elements: [element("materials", 0, 10_353, 0, 1), element("conversion", 0, 17_970 + 9000, 0, 0.3)],
    }),
  );
  expect(roundMoney(valued.rates[1]!.ratePerUnit, 6)).toBe(3.431298);
  expect(roundMoney(valued.completedCost, 2)).toBe(34_659.73);
  expect(roundMoney(valued.closingCost, 2)).toBe(2663.27);
});

test("P4: weighted average with opening stock (SAY 4.4)", () => {
  const input: ProcessInput = {
    method: "weighted average",
    units: { opening: 3000, started: 6000, completed: 4000, closing: 5000, spoiled: 0 },
    elements: [
      element("materials", 95_000, 115_000, 1, 0.6),
      element("labour", 40_000, 70_000, 1, 0.3),
      element("overhead", 26_000, 40_000, 1, 0.3),
    ],
  };
  const valued = must(valueProcess(input));
  expect(unitsOf(input)).toEqual([7000, 5500, 5500]);
  expect(valued.rates.map((rate) => roundMoney(rate.ratePerUnit, 9))).toEqual([30, 20, 12]);
  expect(roundMoney(valued.completedCost, 8)).toBe(248_000);
  expect(roundMoney(valued.closingCost, 8)).toBe(138_000);
  expect(valued.totalCost).toBe(386_000);
});

describe("P6: first in, first out and weighted average (published answer key, which rounds rates to 3 places; exact answer computed)", () => {
  const input: ProcessInput = {
    method: "first in, first out",
    units: { opening: 18_000, started: 27_000, completed: 33_000, closing: 12_000, spoiled: 0 },
    elements: [element("materials", 32_000, 252_000, 0.75, 0.6), element("conversion", 64_000, 440_000, 0.7, 0.5)],
  };

  test("first in, first out", () => {
    const valued = must(valueProcess(input));
    expect(unitsOf(input)).toEqual([26_700, 26_400]);
    expect(roundMoney(valued.closingCost, 2)).toBe(167_955.06);
    expect(roundMoney(valued.completedCost, 2)).toBe(620_044.94);
  });

  test("weighted average", () => {
    const averaged: ProcessInput = { ...input, method: "weighted average" };
    const valued = must(valueProcess(averaged));
    expect(unitsOf(averaged)).toEqual([40_200, 39_000]);
    expect(roundMoney(valued.completedCost, 2)).toBe(659_595.87);
    expect(roundMoney(valued.closingCost, 2)).toBe(128_404.13);
  });
});

test("L7: transferred in, material added at 90 %, inspection at 80 % (data published; answer computed)", () => {
  const inspectedAt = 0.8;
  const closingStage = 0.95;
  const done = (whenAdded: "evenly" | number, stage: number) => must(shareDone(whenAdded, stage));
  const at = (whenAdded: "evenly" | number) =>
    [done(whenAdded, 0.25), done(whenAdded, closingStage), done(whenAdded, inspectedAt)] as const;
  const input: ProcessInput = {
    method: "weighted average",
    units: { opening: 10_000, started: 70_000, completed: 50_000, closing: 20_000, spoiled: 10_000 },
    elements: [
      element("transferred in", 82_900, 647_500, ...at(0)),
      element("materials", 0, 655_200, ...at(0.9)),
      element("conversion", 42_000, 635_600 + 616_000, ...at("evenly")),
    ],
    // 10 % of the good units inspected; the answer leaves the normal spoilage on the completed units.
    inspection: { normalRateOfGood: 0.1, goodInspected: 50_000 + 20_000, closingBearing: 0 },
  };
  const valued = must(valueProcess(input));
  expect(unitsOf(input)).toEqual([80_000, 70_000, 77_000]);
  expect(valued.rates.map((rate) => roundMoney(rate.ratePerUnit, 9))).toEqual([9.13, 9.36, 16.8]);
  expect(roundMoney(valued.normalCost, 7)).toBe(157_990);
  expect(roundMoney(valued.abnormalCost, 7)).toBe(67_710);
  expect(roundMoney(valued.closingCost, 7)).toBe(689_000);
  expect(valued.totalCost).toBe(2_679_200);
  expect(roundMoney(valued.completedCost + valued.closingCost + valued.abnormalCost, 7)).toBe(2_679_200);
});
