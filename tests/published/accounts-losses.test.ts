// Normal and abnormal loss, spoilage and rework against published exercises.
// KAP = an ACCA F2 integrated workbook, chapter 9, process costing.
import { describe, expect, test } from "vitest";
import { jobSpoilage, reworkCost } from "../../src/accounts/job-spoilage";
import { chanceOfAsMany } from "../../src/accounts/loss-chance";
import { shareNormalLoss, splitLosses } from "../../src/accounts/losses";
import { processLoss } from "../../src/accounts/process-loss";
import { roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";

const cost = 1000 * 18 + 1800 + 900;
const process = { enteredUnits: 1000, cost, normalRate: 0.1, scrapEach: 0, outputUnits: 900 };

describe("a process with a normal loss of 10 % (KAP)", () => {
  test("L1a: as planned, no scrap value", () => {
    const valued = must(processLoss(process));
    expect(valued.unitCost).toBe(23);
    expect(valued).toMatchObject({ outputCost: 20_700, abnormalUnits: 0, gainUnits: 0 });
  });

  test("L1b: 100 kg of abnormal loss, scrap at 1.80", () => {
    const valued = must(processLoss({ ...process, scrapEach: 1.8, outputUnits: 800 }));
    expect(roundMoney(valued.unitCost, 9)).toBe(22.8);
    expect(roundMoney(valued.outputCost, 9)).toBe(18_240);
    expect(valued).toMatchObject({ normalScrap: 180, abnormalUnits: 100, gainUnits: 0, scrapCash: 360 });
    expect(roundMoney(valued.abnormalCost, 9)).toBe(2280);
    expect(roundMoney(valued.abnormalCharge, 9)).toBe(2100);
  });

  test("L1c: 50 kg of abnormal gain", () => {
    const valued = must(processLoss({ ...process, scrapEach: 1.8, outputUnits: 950 }));
    expect(roundMoney(valued.outputCost, 9)).toBe(21_660);
    expect(valued).toMatchObject({ gainUnits: 50, abnormalUnits: 0, scrapCash: 90 });
    expect(roundMoney(valued.gainValue, 9)).toBe(1140);
    expect(roundMoney(valued.gainValue - valued.gainNet, 9)).toBe(90);
    expect(roundMoney(valued.gainNet, 9)).toBe(1050);
  });
});

describe("J1: 50 started, 5 spoiled (Horngren, Datar and Rajan, Cost Accounting, 2018, p. 751)", () => {
  const job = { startedPieces: 50, spoiledPieces: 5, costEach: 2000, disposalEach: 600 } as const;

  test("abnormal: a loss of 7,000, units stay at 2,000", () => {
    expect(must(jobSpoilage({ ...job, bearer: "the period" }))).toEqual({
      netCost: 7000,
      perGoodPiece: 2000,
      toPeriod: 7000,
    });
  });

  test("common to all jobs: 2,050 a good unit", () => {
    // The published 2,050 means 50 a unit, 7,000 over 140 good units of all jobs; that number is implied there, not given.
    expect(must(jobSpoilage({ ...job, bearer: "all jobs", goodPiecesOfAllJobs: 140 })).perGoodPiece).toBe(2050);
  });

  test("the job's own: 97,000 over 45 good units (exact arithmetic on the same data)", () => {
    expect(roundMoney(must(jobSpoilage({ ...job, bearer: "this job" })).perGoodPiece, 2)).toBe(2155.56);
  });
});

test("J2: abnormal rework of 360 units, ¼ h at 4.00 labour and 7.50 overhead, is 4,140 expensed (exam question bank)", () => {
  const rework = { pieces: 360, hoursEach: 0.25, wagePerHour: 4 / 0.25, overheadPerHour: 7.5 / 0.25, materialEach: 0 };
  expect(must(reworkCost({ ...rework, isAbnormal: true }))).toEqual({ toPieces: 0, toPeriod: 4140 });
});

test("L1b by step: the excess of a step's loss is expensed (IAS 2 §16(a); ASC 330-10-30-7; split computed exactly)", () => {
  // 200 kg lost of 1,000, 100 planned: half of what the lost kilograms cost is the period's.
  const input = { entered: 1000, lost: 200, plannedRate: 0.1, costOfLost: 200 * 20.7, recovered: 200 * 1.8 };
  for (const runs of [0, 20]) {
    const [lost] = must(splitLosses([input], runs)).steps;
    expect(roundMoney(lost?.normalCost ?? 0, 9)).toBe(1890);
    expect(roundMoney(lost?.abnormalCost ?? 0, 9)).toBe(1890);
  }
});

test("J1 by stream: spoilage common to all is spread over all, that of one job's own step stays with it (Horngren p. 751)", () => {
  // 140 good units of all jobs, 45 of them of the job; 5 spoiled, 7,000 net. Common: 50 each; the job's own: 7,000 ÷ 45.
  const units = Array.from({ length: 140 }, (_, at) => ({
    ...{ piece: String(at), grade: "good" as const, isSpecial: at < 45, reached: Number.POSITIVE_INFINITY, own: 2000 },
  }));
  const each = (isForSpecial: boolean) =>
    must(shareNormalLoss([{ order: 1, isForSpecial, normalCost: 7000 }], units, 0)).shares.map(({ share }) => share);
  expect(each(false).map((share) => roundMoney(2000 + share, 9))).toEqual(units.map(() => 2050));
  expect(roundMoney(2000 + (each(true)[0] ?? 0), 2)).toBe(2155.56);
  expect(each(true).slice(45)).toEqual(units.slice(45).map(() => 0));
});

test("a chance of losses is the binomial table's: n = 20, p = 0.05 (published tables: P(≤ 2) = .9245, P(≤ 3) = .9841; from memory)", () => {
  const step = [{ entered: 20, plannedRate: 0.05 }];
  expect(1 - chanceOfAsMany(step, 3)).toBeCloseTo(0.9245, 4);
  expect(1 - chanceOfAsMany(step, 4)).toBeCloseTo(0.9841, 4);
  // The same pieces in two steps: a sum of independent counts of one rate is binomial too.
  const two = [
    { entered: 12, plannedRate: 0.05 },
    { entered: 8, plannedRate: 0.05 },
  ];
  expect(chanceOfAsMany(two, 3)).toBeCloseTo(chanceOfAsMany(step, 3), 14);
});
