// Runs drawn at the planned rates, and at twice them, judged by the rule: how much of what is lost it calls abnormal.
import { describe, expect, test } from "vitest";
import { splitLosses } from "../../src/accounts/losses";
import { seeded } from "../tools/random-workbook";
import { must } from "./results";

/** Planned losses of the invented edition's route; of five pieces one is special. */
const COMMON = [0.02, 0.01, 0.015, 0.015, 0.005, 0.03];
const SPECIAL = [0.005, 0.01, 0, 0.005];
const LAST = [0.005];
const RUNS = 2000;

interface Judged {
  readonly lost: number;
  readonly abnormal: number;
  /** Beyond plan, whether chance explains it or not. */
  readonly excess: number;
  /** Runs that show any abnormal loss. */
  readonly shown: number;
}

function judge(starts: number, times: number, odds: number): Judged {
  const random = seeded(20_261_128 + starts);
  const sums = { lost: 0, abnormal: 0, excess: 0, shown: 0 };
  for (let run = 0; run < RUNS; run += 1) {
    let left = Array.from({ length: starts }, (_, piece) => ({ isSpecial: piece % 5 === 0 }));
    const pass = (isForSpecial: boolean) => (plannedRate: number) => {
      const came = left.filter(({ isSpecial }) => isSpecial || !isForSpecial);
      const gone = new Set(came.filter(() => random() < plannedRate * times));
      left = left.filter((piece) => !gone.has(piece));
      return { entered: came.length, lost: gone.size, plannedRate, costOfLost: gone.size * 10, recovered: 0 };
    };
    const steps = [...COMMON.map(pass(false)), ...SPECIAL.map(pass(true)), ...LAST.map(pass(false))];
    const { plannedPieces, lostPieces, abnormalPieces, steps: parts } = must(splitLosses(steps, odds));
    expect(parts.reduce((sum, part) => sum + part.abnormalCost, 0)).toBeCloseTo(abnormalPieces * 10, 8);
    sums.lost += lostPieces;
    sums.abnormal += abnormalPieces;
    sums.excess += Math.max(0, lostPieces - plannedPieces);
    if (abnormalPieces > 0) sums.shown += 1;
  }
  return sums;
}

describe.each([30, 141])("%d started", (starts) => {
  test("at the planned rates hardly anything is abnormal, in fewer than 1 run of 20", () => {
    const { lost, abnormal, shown } = judge(starts, 1, 20);
    expect(abnormal / lost).toBeLessThan(0.05);
    expect(shown / RUNS).toBeLessThan(0.055);
  });

  test("by the plain rule set-off alone leaves much of what chance does abnormal", () => {
    const { lost, abnormal, excess } = judge(starts, 1, 0);
    expect(abnormal).toBeCloseTo(excess, 8);
    expect(abnormal / lost).toBeGreaterThan(0.07);
  });

  // Of 30 pieces 6 lost instead of 3 is still what chance does now and then; each run that is beyond it loses all it is over.
  test("at twice the planned rates nearly all of the excess is abnormal, as far as so few pieces can tell", () => {
    const { abnormal, excess } = judge(starts, 2, 20);
    expect(abnormal / excess).toBeGreaterThan(starts === 30 ? 0.6 : 0.97);
  });
});
