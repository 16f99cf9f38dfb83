// Normal and abnormal loss, spoilage and rework against published exercises.
// KAP = an ACCA F2 integrated workbook, chapter 9, process costing.
import { describe, expect, test } from "vitest";
import { buildPieceCosts } from "../../src/accounts/cost-build";
import { chanceOfAsMany } from "../../src/accounts/loss-chance";
import { shareNormalLoss, splitLosses } from "../../src/accounts/losses";
import type { PlainEdition } from "../../src/accounts/plain-edition";
import { roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";

/** Pieces of one casting that cost `each` in slip and work, `lost` of them lost in a firing that costs nothing. */
function casting(
  pieces: number,
  each: { readonly material: number; readonly work: number; readonly scrap: number },
  lost: number,
) {
  const edition: PlainEdition = {
    wagePerHour: each.work,
    overhead: { ratePerHour: 0 },
    moulds: { cost: 0, lifeCasts: 1 },
    reclaimFraction: 0,
    scrapEach: each.scrap,
    secondNetRealisable: 0,
    lossRuns: 0,
    steps: [
      { id: "cast", kind: "cast", order: 1, minutesEach: 60, pricePerGram: each.material },
      { id: "inspect", kind: "firing", order: 2 },
    ],
    firings: [{ id: "F", kwh: 0, pricePerKwh: 0, wear: 0, loadingMinutes: 0, basis: "count" }],
    pieces: Array.from({ length: pieces }, (_, at) => ({
      ...{ id: `${at + 1}`, kg: 1, footprintCm2: 1, entries: { cast: { slip: 1 }, inspect: { firing: "F" } } },
      ...(at < lost ? { lostAt: "inspect" } : { grade: "good" as const }),
    })),
  };
  return (plannedLoss: number) => {
    const steps = edition.steps.map((step) => (step.id === "inspect" ? { ...step, plannedLoss } : step));
    return must(buildPieceCosts({ ...edition, steps }));
  };
}

test("L1a: 1,000 at 18.00, labour 1,800 and overhead 900, 10 % lost as planned: 900 at 23.00, 20,700 (KAP)", () => {
  const { totals } = casting(1000, { material: 18, work: (1800 + 900) / 1000, scrap: 0 }, 100)(0.1);
  expect(roundMoney(totals.full.good, 6)).toBe(20_700);
  expect(roundMoney(totals.full.good / 900, 6)).toBe(23);
  expect(roundMoney(totals.abnormal, 6)).toBe(0);
});

describe("J1: 50 started at 2,000, 5 spoiled that fetch 600 (Horngren, Datar and Rajan, Cost Accounting, 2018, p. 751)", () => {
  const job = casting(50, { material: 1500, work: 500, scrap: 600 }, 5);

  test("abnormal: a loss of 7,000, units stay at 2,000", () => {
    expect(roundMoney(job(0).totals.abnormal, 6)).toBe(7000);
    expect(roundMoney(job(0).totals.full.good / 45, 6)).toBe(2000);
  });

  test("the job's own: 97,000 over 45 good units (exact arithmetic on the same data)", () => {
    expect(roundMoney(job(0.1).totals.full.good / 45, 2)).toBe(2155.56);
  });
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
