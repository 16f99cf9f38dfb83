// Process costing, write-downs and costs to complete, held to worked examples of textbooks and to the words of the standards.
import { describe, expect, test } from "vitest";
import { type ProcessMethod, type ProcessPeriod, processCosts } from "../../src/accounts/equivalent-units";
import { type CostedStep, fetchedWhenFinished, toFinish } from "../../src/accounts/to-finish";
import { roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";
import { carriedOver } from "../tools/carried-over";

const NONE = (elements: number) => ({ units: 0, done: Array.from({ length: elements }, () => 0) });

function costed(period: ProcessPeriod, method: ProcessMethod) {
  const { elements, ...money } = must(processCosts(period, method));
  const round = (amount: number) => roundMoney(amount, 2);
  return {
    units: elements.map(({ units }) => roundMoney(units, 6)),
    rates: elements.map(({ rate }) => rate),
    ...{ completed: round(money.completed), closing: round(money.closing) },
    ...{ normal: round(money.normal), abnormal: round(money.abnormal) },
  };
}

describe("equivalent units", () => {
  // OpenStax, Principles of Accounting, vol. 2, 5.3: no opening stock.
  test("8,700 started, 7,500 completed: 8,700 and 7,920 units, 1.17 and 2.80", () => {
    const period: ProcessPeriod = {
      elements: [
        { name: "materials", opening: 0, added: 10_179 },
        { name: "conversion", opening: 0, added: 15_176 + 7000 },
      ],
      ...{ opening: NONE(2), started: 8700, completed: 7500 },
      ...{ closing: { units: 1200, done: [1200, 420] }, normal: NONE(2), abnormal: NONE(2) },
    };
    for (const method of ["weighted average", "first in first out"] as const) {
      const found = costed(period, method);
      expect(found).toMatchObject({ units: [8700, 7920], completed: 29_775, closing: 2580 });
      expect(found.rates).toEqual([1.17, 2.8]);
    }
  });

  // Saylor Academy, Managerial Accounting (2012), 4.4: weighted average with opening stock.
  test("3,000 open, 6,000 started, 5,000 left: 30 + 20 + 12 a unit", () => {
    const found = costed(
      {
        elements: [
          { name: "materials", opening: 95_000, added: 115_000 },
          { name: "labour", opening: 40_000, added: 70_000 },
          { name: "overhead", opening: 26_000, added: 40_000 },
        ],
        ...{ opening: { units: 3000, done: [3000, 2000, 2000] }, started: 6000, completed: 4000 },
        ...{ closing: { units: 5000, done: [3000, 1500, 1500] }, normal: NONE(3), abnormal: NONE(3) },
      },
      "weighted average",
    );
    expect(found).toMatchObject({ units: [7000, 5500, 5500], rates: [30, 20, 12] });
    expect(found).toMatchObject({ completed: 248_000, closing: 138_000 });
  });

  // A published answer key: closing 167,954 from rates at three places, 167,955.06 unrounded.
  describe("18,000 open (75 and 70 %), 27,000 started, 33,000 completed", () => {
    const period: ProcessPeriod = {
      elements: [
        { name: "materials", opening: 32_000, added: 252_000 },
        { name: "conversion", opening: 64_000, added: 440_000 },
      ],
      ...{ opening: { units: 18_000, done: [13_500, 12_600] }, started: 27_000, completed: 33_000 },
      ...{ closing: { units: 12_000, done: [7200, 6000] }, normal: NONE(2), abnormal: NONE(2) },
    };
    test("first in, first out: 26,700 and 26,400 units", () => {
      const found = costed(period, "first in first out");
      expect(found).toMatchObject({ units: [26_700, 26_400], completed: 620_044.94, closing: 167_955.06 });
    });
    test("weighted average: 40,200 and 39,000 units", () => {
      expect(costed(period, "weighted average")).toMatchObject({
        ...{ units: [40_200, 39_000], completed: 659_595.87, closing: 128_404.13 },
      });
    });
  });

  // Spoilage inspected at 80 %, 10 % of the good units inspected being normal; materials go in at 90 %. Figures published, the
  // answer calculated from them: 9.13, 9.36 and 16.80 a unit.
  test("7,000 units of normal spoilage at 157,990, 3,000 of abnormal at 67,710", () => {
    const found = costed(
      {
        elements: [
          { name: "transferred in", opening: 82_900, added: 647_500 },
          { name: "materials", opening: 0, added: 655_200 },
          { name: "conversion", opening: 42_000, added: 635_600 + 616_000 },
        ],
        ...{ opening: { units: 10_000, done: [10_000, 0, 2500] }, started: 70_000, completed: 50_000 },
        closing: { units: 20_000, done: [20_000, 20_000, 19_000] },
        normal: { units: 7000, done: [7000, 0, 5600] },
        abnormal: { units: 3000, done: [3000, 0, 2400] },
      },
      "weighted average",
    );
    expect(found.units).toEqual([80_000, 70_000, 77_000]);
    expect(found.rates.map((rate) => roundMoney(rate ?? 0, 9))).toEqual([9.13, 9.36, 16.8]);
    expect(found).toMatchObject({ normal: 157_990, abnormal: 67_710, closing: 689_000 });
    expect(roundMoney(found.completed + found.normal, 2)).toBe(2_679_200 - 67_710 - 689_000);
  });
});

// IAS 2 §9, §28 to 33 and ASC 330-10-35-1B, 35-14; ASC 270-10-45-6 for interim days. The figures are ours, the outcome is what
// the paragraphs say; textbooks have the like (Kieso, Intermediate Accounting, on the recovery of inventory; from memory).
describe("written down, and what it will fetch rises again", () => {
  const day = (on: string, fetches: number, closesYear = true, cost = 100) => ({ day: on, cost, fetches, closesYear });
  const days = [day("2024-12-31", 80), day("2025-12-31", 95), day("2026-12-31", 130)];
  test("IAS 2 §33: taken back to what it will fetch, and never above cost", () => {
    expect(carriedOver(days, "IAS 2")).toEqual([
      { day: "2024-12-31", carried: 80, writtenDown: 20, down: 20, back: 0 },
      { day: "2025-12-31", carried: 95, writtenDown: 5, down: 0, back: 15 },
      { day: "2026-12-31", carried: 100, writtenDown: 0, down: 0, back: 5 },
    ]);
  });
  test("ASC 330-10-35-14: at the close of a year a new cost basis, not to be marked up", () => {
    expect(carriedOver(days, "ASC 330").map(({ carried, back }) => [carried, back])).toEqual([
      [80, 0],
      [80, 0],
      [80, 0],
    ]);
  });
  test("ASC 270-10-45-6: a write-down of an interim day may be taken back within its year", () => {
    const interim = [day("2026-03-31", 80, false), day("2026-06-30", 95, false), day("2026-12-31", 90)];
    expect(carriedOver(interim, "ASC 330").map(({ carried }) => carried)).toEqual([80, 95, 90]);
  });
  test("work done after a write-down is cost again, by both", () => {
    const worked = [day("2025-12-31", 80), day("2026-12-31", 130, true, 110)];
    expect(carriedOver(worked, "ASC 330").map(({ carried }) => carried)).toEqual([80, 90]);
    expect(carriedOver(worked, "IAS 2").map(({ carried }) => carried)).toEqual([80, 110]);
  });
});

// IAS 2 §6: estimated selling price less estimated costs of completion and to make the sale. By hand: two pieces at the start
// of the last two steps, of which the first loses a tenth and the second a half.
test("what is left to do, with the losses still to come", () => {
  const step = (order: number, more: Partial<CostedStep>): CostedStep => ({
    ...{
      id: `s${order}`,
      order,
      isForSpecial: false,
      share: 1,
      loss: 0,
      material: 0,
      labour: 0,
      overhead: 0,
      firing: 0,
    },
    ...{ minutes: 0, givesBack: 0, ...more },
  });
  const steps = [
    step(1, { material: 50, loss: 0.3 }),
    step(2, { material: 4, labour: 6, minutes: 20, loss: 0.1, givesBack: 1 }),
    step(3, { isForSpecial: true, material: 30 }),
    step(4, { firing: 8, loss: 0.5, givesBack: 2 }),
  ];
  const found = toFinish(steps, 1, false);
  // 10 for each, 8 for the nine tenths that are left; 1 back for a tenth, 2 for half of nine tenths.
  expect(roundMoney(found.cost, 9)).toBe(10 + 0.9 * 8 - 0.1 * 1 - 0.45 * 2);
  expect(roundMoney(found.comesThrough, 9)).toBe(0.45);
  expect(roundMoney(fetchedWhenFinished(100, found), 9)).toBe(45 - 16.2);
  expect(roundMoney(toFinish(steps, 1, true).cost, 9)).toBe(16.2 + 0.9 * 30);
  expect(toFinish(steps, 4, false)).toMatchObject({ cost: 0, comesThrough: 1 });
});
