// The interval of a fitted kiln against Student's t of a library, and what it promises against draws.
import * as jstat from "jstat";
import { describe, expect, test } from "vitest";
import { studentT975, trustIn } from "../../src/ceramics/kiln/trust";

describe("Student's t, 0.975 (NIST/SEMATECH e-Handbook 1.3.6.7.2; here against jStat 1.9)", () => {
  test.each([1, 2, 3, 4, 5, 7, 10, 15, 20, 25, 30])("%d degrees of freedom, to three digits", (freedom) => {
    expect(Math.abs(studentT975(freedom) - jstat.studentt.inv(0.975, freedom))).toBeLessThan(6e-4);
  });

  test.each([31, 40, 60, 120, 1000])("%d degrees of freedom, to two digits", (freedom) => {
    expect(Math.abs(studentT975(freedom) - jstat.studentt.inv(0.975, freedom))).toBeLessThan(5e-3);
  });
});

/** Prediction interval of a regression at mean leverage, NIST/SEMATECH e-Handbook 4.5.1.2: ŷ ± t · s · √(1 + p/n). */
test("a further reading lies within the interval 19 times of 20", () => {
  // A straight line through 8 points at ±1 has leverage p/n at every point. Seeded draws by Marsaglia's polar method.
  let state = 20261128;
  const uniform = () => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return (state + 0.5) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  let within = 0;
  const runs = 4000;
  for (let run = 0; run < runs; run += 1) {
    const x = [-1, 1, -1, 1, -1, 1, -1, 1];
    const y = x.map(() => 0.06 * normal());
    const mean = y.reduce((sum, value) => sum + value, 0) / 8;
    const slope = y.reduce((sum, value, at) => sum + value * (x[at] ?? 0), 0) / 8;
    const errors = y.map((value, at) => value - mean - slope * (x[at] ?? 0));
    if (Math.abs(0.06 * normal() - mean - slope) <= trustIn(errors, false).percent / 100) within += 1;
  }
  // Rounding up to whole percent widens it a little.
  expect(within / runs).toBeGreaterThan(0.945);
  expect(within / runs).toBeLessThan(0.975);
});
