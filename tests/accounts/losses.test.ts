import { describe, expect, test } from "vitest";
import { chanceOfAsMany } from "../../src/accounts/loss-chance";
import { type BearingPiece, shareNormalLoss, splitLosses } from "../../src/accounts/losses";
import { codesOf, must, problemsOf } from "./results";

describe("losses of an edition", () => {
  const step = { entered: 100, lost: 8, plannedRate: 0.05, costOfLost: 168, recovered: 8 };
  const none = { ...step, lost: 0, costOfLost: 0, recovered: 0 };

  test("above plan are abnormal by the plain rule, pieces and money alike", () => {
    // 5 of 8 are planned: 160 × 5/8 = 100, and 60 over.
    expect(must(splitLosses([step]))).toMatchObject({
      ...{ plannedPieces: 5, lostPieces: 8, abnormalPieces: 3 },
      steps: [{ plannedPieces: 5, normalPieces: 5, abnormalPieces: 3, normalCost: 100, abnormalCost: 60 }],
    });
  });

  test("are beyond chance only where fewer than 1 run of so many has as many", () => {
    // One piece, planned at 5 %: lost in exactly 1 run of 20, so that 20 is not enough and 19.9 is.
    const one = { entered: 1, lost: 1, plannedRate: 0.05, costOfLost: 10, recovered: 0 };
    // The last binary digit of a chance that equals 1 in so many does not decide.
    for (let runs = 2; runs <= 60; runs += 1)
      expect(must(splitLosses([{ ...one, plannedRate: 1 / runs }], runs)).abnormalPieces).toBe(0);
    expect(must(splitLosses([one], 19.9)).abnormalPieces).toBeCloseTo(0.95, 12);
    expect(must(splitLosses([{ ...one, plannedRate: 0.01 }], 20)).abnormalPieces).toBeCloseTo(0.99, 12);
  });

  test("below plan are all normal", () => {
    expect(must(splitLosses([{ ...step, lost: 2 }])).steps).toEqual([
      { plannedPieces: 5, normalPieces: 2, abnormalPieces: 0, normalCost: 160, abnormalCost: 0 },
    ]);
  });

  test("at steps below plan set off those above", () => {
    // 3 over at one step and 1 spared at another: 2 of the 3 are abnormal, 160 × 2/8 = 40.
    const spared = { ...step, lost: 4, costOfLost: 40, recovered: 0 };
    const { abnormalPieces, steps } = must(splitLosses([step, spared]));
    expect(abnormalPieces).toBe(2);
    expect(steps.map(({ abnormalCost }) => abnormalCost)).toEqual([40, 0]);
    expect(must(splitLosses([step, none])).steps[0]).toMatchObject({ abnormalPieces: 0, normalCost: 160 });
  });

  test("beyond plan fall on the steps above it in proportion to how far each is above", () => {
    // 3 and 1 over, 2 spared: half of each is abnormal.
    const little = { ...step, lost: 6, costOfLost: 60, recovered: 0 };
    const { steps } = must(splitLosses([step, little, { ...step, lost: 3, costOfLost: 30, recovered: 0 }]));
    expect(steps.map(({ abnormalPieces }) => abnormalPieces)).toEqual([1.5, 0.5, 0]);
    expect(steps.map(({ abnormalCost }) => abnormalCost)).toEqual([30, 5, 0]);
  });

  test("are normal as long as chance gives as many in 1 run of 20, and abnormal beyond plan after that", () => {
    // Bin(100, 0.05): P(≥ 9) = 6.3 %, P(≥ 10) = 2.8 %.
    const judged = (lost: number) => must(splitLosses([{ ...step, lost }], 20)).abnormalPieces;
    expect(judged(9)).toBe(0);
    expect(judged(10)).toBe(5);
  });

  test("of a chance that is exactly 1 in 20 are normal", () => {
    const one = { entered: 1, lost: 1, plannedRate: 0.05, costOfLost: 10, recovered: 0 };
    expect(must(splitLosses([one], 20))).toMatchObject({ abnormalPieces: 0 });
    expect(must(splitLosses([{ ...one, plannedRate: 0.049 }], 20)).abnormalPieces).toBeCloseTo(0.951, 12);
  });

  test("of nothing cost nothing", () => {
    expect(must(splitLosses([none], 20)).steps[0]).toMatchObject({ normalCost: 0, abnormalCost: 0 });
    expect(must(splitLosses([{ ...none, entered: 0 }]))).toMatchObject({
      plannedPieces: 0,
      abnormalPieces: 0,
      chance: 1,
    });
    expect(must(splitLosses([]))).toMatchObject({ chance: 1, abnormalPieces: 0 });
  });

  test("with no plan are abnormal, whatever the odds asked for", () => {
    expect(must(splitLosses([{ ...step, plannedRate: 0 }], 20)).steps[0]).toMatchObject({ abnormalCost: 160 });
  });

  test.each([
    ["more lost than entered", { lost: 101 }, "number.range"],
    ["a planned loss of 100 %", { plannedRate: 1 }, "number.range"],
    ["a planned loss in percent", { plannedRate: 5 }, "number.range"],
    ["half a piece", { lost: 1.5 }, "number.range"],
    ["a cost that is no number", { costOfLost: Number.NaN }, "number.missing"],
    ["a cost where nothing was lost", { lost: 0, recovered: 0 }, "number.range"],
    ["something recovered from nothing", { lost: 0, costOfLost: 0 }, "number.range"],
  ])("refuse %s", (_, changed, code) => {
    expect(codesOf(splitLosses([{ ...step, ...changed }]))).toEqual([code]);
  });

  test("refuse odds that are none", () => {
    expect(codesOf(splitLosses([step], -1))).toEqual(["number.range"]);
  });

  test("say what a rate may be", () => {
    expect(problemsOf(splitLosses([{ ...step, plannedRate: 5 }]))[0]?.message).toBe(
      "Planned loss: found 5, but it takes a fraction from 0 to below 1. Write a percentage as a fraction: 65 % is 0.65.",
    );
  });
});

test("the chance of as many losses is that of independent pieces, exactly, for one step or several", () => {
  // Against a spread built piece by piece.
  const steps = [
    { entered: 40, plannedRate: 0.03 },
    { entered: 38, plannedRate: 0.2 },
    { entered: 0, plannedRate: 0.5 },
    { entered: 12, plannedRate: 0 },
    { entered: 7, plannedRate: 0.6 },
  ];
  let spread = [1];
  for (const { entered, plannedRate } of steps)
    for (let piece = 0; piece < entered; piece += 1)
      spread = Array.from(
        { length: spread.length + 1 },
        (_, k) => (spread[k] ?? 0) * (1 - plannedRate) + (spread[k - 1] ?? 0) * plannedRate,
      );
  for (let lost = 0; lost <= 97; lost += 1) {
    const exact = spread.slice(lost).reduce((sum, chance) => sum + chance, 0);
    expect(chanceOfAsMany(steps, lost)).toBeCloseTo(exact, 12);
  }
  // The chance of none is known outright, and rare ones keep their digits: all three of three, at 1 in 10 000 each.
  expect(chanceOfAsMany([{ entered: 40, plannedRate: 0.1 }], 0)).toBe(1);
  expect(chanceOfAsMany([{ entered: 40, plannedRate: 0.1 }], 1)).toBeCloseTo(1 - 0.9 ** 40, 14);
  const [two, one] = [2, 1].map((entered) => ({ entered, plannedRate: 1e-4 }));
  expect(
    chanceOfAsMany(
      [two, one].flatMap((each) => each ?? []),
      3,
    ) / 1e-12,
  ).toBeCloseTo(1, 9);
  // 10 000 pieces through fifteen steps.
  const many = Array.from({ length: 15 }, () => ({ entered: 10_000, plannedRate: 0.01 }));
  expect(chanceOfAsMany(many, 1500)).toBeCloseTo(0.5, 1);
});

describe("sharing normal loss", () => {
  const piece = (name: string, own: number, grade: BearingPiece["grade"] = "good"): BearingPiece => ({
    ...{ piece: name, own, grade, isSpecial: false, reached: Number.POSITIVE_INFINITY },
  });
  const special = (name: string, own: number, grade: BearingPiece["grade"] = "good") => ({
    ...piece(name, own, grade),
    isSpecial: true,
  });
  const at = (order: number, normalCost: number, isForSpecial = false) => ({ order, isForSpecial, normalCost });
  const shares = (pieces: readonly BearingPiece[], lost: number | ReturnType<typeof at>[], fetches: number) => {
    const steps = typeof lost === "number" ? [at(1, lost)] : lost;
    const shared = must(shareNormalLoss(steps, pieces, fetches));
    return { shares: shared.shares.map(({ share }) => share), unshared: shared.unshared };
  };

  test("is the same for every good piece, whatever it cost", () => {
    expect(shares([piece("1", 10), piece("2", 90)], 30, 0)).toEqual({ shares: [15, 15], unshared: 0 });
  });

  test("falls on the pieces that have passed the step, and on no others", () => {
    const early = { ...piece("1", 10, "in progress"), reached: 1 };
    const later = { ...piece("2", 10, "in progress"), reached: 3 };
    // 30 at step 1 over all three; 20 at step 2 over those beyond it; 7 at step 4 on the finished one.
    expect(shares([early, later, piece("3", 10)], [at(1, 30), at(2, 20), at(4, 7)], 0)).toEqual({
      shares: [10, 20, 27],
      unshared: 0,
    });
    expect(shares([early], [at(1, 30), at(2, 20)], 0)).toEqual({ shares: [30], unshared: 20 });
  });

  test("at a step for special pieces falls on them alone", () => {
    expect(shares([piece("1", 10), special("2", 40), special("3", 40)], [at(1, 30), at(2, 12, true)], 0)).toEqual({
      shares: [10, 16, 16],
      unshared: 0,
    });
    expect(shares([piece("1", 10)], [at(2, 12, true)], 0)).toEqual({ shares: [0], unshared: 12 });
  });

  test("lifts a second to what it fetches and no further; the good ones bear the rest", () => {
    const pieces = [piece("1", 20), piece("2", 28, "second"), piece("3", 20)];
    expect(shares(pieces, 30, 30)).toEqual({ shares: [14, 2, 14], unshared: 0 });
  });

  test("lifts a second with a price of its own to what that price fetches", () => {
    const agreed = (fetches: number) => ({ ...piece("2", 28, "second"), fetches });
    // 30 over three, 10 each: the usual second has room for 2 up to 30; at 33 for 5, at 60 for all.
    expect(shares([piece("1", 20), piece("2", 28, "second"), piece("3", 20)], 30, 30).shares[1]).toBe(2);
    expect(shares([piece("1", 20), agreed(33), piece("3", 20)], 30, 30).shares).toEqual([12.5, 5, 12.5]);
    expect(shares([piece("1", 20), agreed(60), piece("3", 20)], 30, 30).shares).toEqual([10, 10, 10]);
  });

  test("that a special second can't bear of its own steps falls on special pieces, the rest on all", () => {
    // Dues 10 + 20; it bears 6: 2 of the common 10 and 4 of its own 20. The lacking 8 fall on 1 and 3, the lacking 16 on 3.
    const pieces = [piece("1", 20), special("2", 24, "second"), special("3", 50)];
    const { shares: found, unshared } = shares(pieces, [at(1, 30), at(2, 40, true)], 30);
    expect(unshared).toBe(0);
    expect(found[0]).toBeCloseTo(14, 12);
    expect(found[1]).toBeCloseTo(6, 12);
    expect(found[2]).toBeCloseTo(14 + 36, 12);
  });

  test("gives a second that fetches plenty its equal part, and one below its own cost nothing", () => {
    expect(shares([piece("1", 20), piece("2", 20, "second")], 10, 100)).toEqual({ shares: [5, 5], unshared: 0 });
    expect(shares([piece("1", 20), piece("2", 20, "second")], 10, 15)).toEqual({ shares: [10, 0], unshared: 0 });
    expect(shares([piece("1", 20), piece("2", 20, "second")], 10, -5)).toEqual({ shares: [10, 0], unshared: 0 });
  });

  test("tells what seconds alone, or nobody, cannot bear", () => {
    expect(shares([piece("1", 20, "second"), piece("2", 28, "second")], 20, 30)).toEqual({
      shares: [10, 2],
      unshared: 8,
    });
    expect(shares([], 20, 30)).toEqual({ shares: [], unshared: 20 });
  });

  test("refuses amounts that are none and pieces named twice", () => {
    expect(codesOf(shareNormalLoss([at(1, Number.NaN)], [], 1))).toEqual(["number.missing"]);
    expect(codesOf(shareNormalLoss([at(1, 1)], [piece("1", Number.NaN)], 1))).toEqual(["number.missing"]);
    expect(codesOf(shareNormalLoss([at(1, 1)], [piece("1", 1), piece("1", 1)], 1))).toEqual(["name.twice"]);
  });
});
