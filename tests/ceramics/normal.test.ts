import * as jstat from "jstat";
import { describe, expect, it } from "vitest";
import { normalQuantile } from "../../src/ceramics/normal";

describe("the normal quantile", () => {
  // Computed with mpmath at 40 digits (root of the complementary error function).
  it.each([
    [1e-300, -37.0470962993612],
    [1e-20, -9.262340089798407],
    [1e-10, -6.361340902404057],
    [0.001, -3.0902323061678136],
    [0.025, -1.9599639845400543],
    [0.05, -1.6448536269514726],
    [0.07, -1.4757910281791706],
    [0.0750001, -1.4395307645017297],
    [0.2, -0.8416212335729142],
    [0.4, -0.2533471031357998],
    [0.5, 0],
    [0.75, 0.6744897501960817],
    [0.9, 1.2815515655446004],
    [0.925, 1.439531470938456],
    [0.975, 1.9599639845400543],
    [0.995, 2.575829303548901],
    [0.9995, 3.290526731491895],
    [0.999999, 4.753424308822899],
  ])("at %d", (chance, expected) => {
    // 0.999999 itself is rounded when written in binary, and that alone moves the answer by 1e-11.
    expect(Math.abs(normalQuantile(chance) - expected)).toBeLessThan(chance > 0.9995 ? 2e-11 : 1e-13);
  });

  it("agrees with jstat, is odd about a half, and rises", () => {
    let before = Number.NEGATIVE_INFINITY;
    for (let chance = 0.001; chance < 0.9995; chance += 0.001) {
      const value = normalQuantile(chance);
      expect(value).toBeCloseTo(jstat.normal.inv(chance, 0, 1), 8);
      expect(value).toBeCloseTo(-normalQuantile(1 - chance), 11);
      expect(value).toBeGreaterThan(before);
      before = value;
    }
  });

  it("has edges", () => {
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    for (const outside of [-0.1, 1.1, Number.NaN]) expect(normalQuantile(outside)).toBeNaN();
  });
});
