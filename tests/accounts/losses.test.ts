import { describe, expect, test } from "vitest";
import { jobSpoilage, reworkCost } from "../../src/accounts/job-spoilage";
import { type BearingPiece, shareNormalLoss, splitStepLoss } from "../../src/accounts/losses";
import { processLoss } from "../../src/accounts/process-loss";
import { codesOf, must, problemsOf } from "./results";

describe("losses of a step", () => {
  const step = { entered: 100, lost: 8, plannedRate: 0.05, costOfLost: 168, recovered: 8 };

  test("above plan are abnormal, pieces and money alike", () => {
    // 5 of 8 are planned: 160 × 5/8 = 100, and 60 over.
    expect(must(splitStepLoss(step))).toEqual({
      plannedPieces: 5,
      normalPieces: 5,
      abnormalPieces: 3,
      normalCost: 100,
      abnormalCost: 60,
      fewerThanPlanned: 0,
    });
  });

  test("below plan are all normal, and the pieces spared are told", () => {
    expect(must(splitStepLoss({ ...step, lost: 2 }))).toMatchObject({
      normalPieces: 2,
      abnormalPieces: 0,
      normalCost: 160,
      abnormalCost: 0,
      fewerThanPlanned: 3,
    });
  });

  test("of nothing cost nothing", () => {
    const none = { ...step, lost: 0, costOfLost: 0, recovered: 0 };
    expect(must(splitStepLoss(none))).toMatchObject({ normalCost: 0, abnormalCost: 0, fewerThanPlanned: 5 });
    expect(must(splitStepLoss({ ...none, entered: 0 }))).toMatchObject({ plannedPieces: 0, normalCost: 0 });
  });

  test("with no plan are abnormal", () => {
    expect(must(splitStepLoss({ ...step, plannedRate: 0 }))).toMatchObject({ normalCost: 0, abnormalCost: 160 });
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
    expect(codesOf(splitStepLoss({ ...step, ...changed }))).toEqual([code]);
  });

  test("say what a rate may be", () => {
    expect(problemsOf(splitStepLoss({ ...step, plannedRate: 5 }))[0]?.message).toBe(
      "Planned loss: found 5, but it takes a fraction from 0 to below 1. Write a percentage as a fraction: 65 % is 0.65.",
    );
  });
});

describe("sharing normal loss", () => {
  const piece = (name: string, own: number, grade: "good" | "second" = "good"): BearingPiece => ({
    piece: name,
    own,
    grade,
  });
  const shares = (pieces: readonly BearingPiece[], pool: number, fetches: number) => {
    const shared = must(shareNormalLoss(pieces, pool, fetches));
    return { shares: shared.shares.map(({ share }) => share), unshared: shared.unshared };
  };

  test("is the same for every good piece, whatever it cost", () => {
    expect(shares([piece("1", 10), piece("2", 90)], 30, 0)).toEqual({ shares: [15, 15], unshared: 0 });
  });

  test("lifts a second to what it fetches and no further; the good ones bear the rest", () => {
    const pieces = [piece("1", 20), piece("2", 28, "second"), piece("3", 20)];
    expect(shares(pieces, 30, 30)).toEqual({ shares: [14, 2, 14], unshared: 0 });
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
    expect(codesOf(shareNormalLoss([], Number.NaN, 1))).toEqual(["number.missing"]);
    expect(codesOf(shareNormalLoss([piece("1", Number.NaN)], 1, 1))).toEqual(["number.missing"]);
    expect(codesOf(shareNormalLoss([piece("1", 1), piece("1", 1)], 1, 1))).toEqual(["name.twice"]);
  });
});

describe("a process with a normal loss", () => {
  const process = { enteredUnits: 200, cost: 1000, normalRate: 0.1, scrapEach: 1, outputUnits: 180 };

  test("that meets its plan has neither loss nor gain", () => {
    // (1,000 − 20 × 1) ÷ 180 = 5.444…
    const met = must(processLoss(process));
    expect(met.unitCost).toBeCloseTo(980 / 180, 12);
    expect(met).toMatchObject({
      normalScrap: 20,
      abnormalUnits: 0,
      abnormalCost: 0,
      gainUnits: 0,
      gainNet: 0,
      scrapCash: 20,
    });
    expect(met.outputCost + met.normalScrap).toBeCloseTo(1000, 10);
  });

  test.each([
    ["a normal loss of 100 %", { normalRate: 1 }],
    ["nothing entered", { enteredUnits: 0, outputUnits: 0 }],
    ["more out than in", { outputUnits: 201 }],
    ["negative output", { outputUnits: -1 }],
    ["negative scrap", { scrapEach: -1 }],
    ["negative cost", { cost: -1 }],
  ])("refuses %s", (_, changed) => {
    expect(codesOf(processLoss({ ...process, ...changed }))).toEqual(["number.range"]);
  });
});

describe("spoilage and rework of a job", () => {
  const job = { startedPieces: 10, spoiledPieces: 2, costEach: 30, disposalEach: 10, bearer: "this job" } as const;

  test("borne by the job falls on its good pieces", () => {
    expect(must(jobSpoilage(job))).toEqual({ netCost: 40, perGoodPiece: 35, toPeriod: 0 });
  });

  test("borne by all jobs falls on the good pieces of all", () => {
    expect(must(jobSpoilage({ ...job, bearer: "all jobs", goodPiecesOfAllJobs: 40 })).perGoodPiece).toBe(31);
    expect(codesOf(jobSpoilage({ ...job, bearer: "all jobs" }))).toEqual(["number.range"]);
  });

  test.each([
    [{ spoiledPieces: 10 }, "loss.all"],
    [{ spoiledPieces: 1.5 }, "number.range"],
    [{ startedPieces: 0, spoiledPieces: 0 }, "number.range"],
    [{ disposalEach: -1 }, "number.range"],
    [{ costEach: Number.NaN }, "number.missing"],
  ])("%j is refused", (changed, code) => {
    expect(codesOf(jobSpoilage({ ...job, ...changed }))).toContain(code);
  });

  test("rework that was planned stays with the pieces", () => {
    const rework = {
      pieces: 4,
      hoursEach: 0.5,
      wagePerHour: 20,
      overheadPerHour: 6,
      materialEach: 2,
      isAbnormal: false,
    };
    expect(must(reworkCost(rework))).toEqual({ toPieces: 60, toPeriod: 0 });
    expect(must(reworkCost({ ...rework, isAbnormal: true }))).toEqual({ toPieces: 0, toPeriod: 60 });
    expect(codesOf(reworkCost({ ...rework, hoursEach: -1 }))).toEqual(["number.range"]);
  });
});
