import { describe, expect, test } from "vitest";
import { calibrate, type MeterReading } from "../../../src/ceramics/kiln/calibrate";
import { leastSquares } from "../../../src/ceramics/kiln/least-squares";
import { oneRamp } from "../../../src/ceramics/kiln/programme";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import { trustIn, UNCALIBRATED } from "../../../src/ceramics/kiln/trust";
import { bisque, bisqueLoad, EMPTY_LOAD, glazeLoad, heron, problemsIn, valueIn } from "./example";

const firings = [
  { programme: bisque, load: bisqueLoad },
  { programme: oneRamp(1220, 180, 10), load: glazeLoad },
  { programme: oneRamp(720, "fastest" as const, 0), load: EMPTY_LOAD },
  { programme: oneRamp(1000, 60, 240), load: EMPTY_LOAD },
];

/** Readings of a kiln whose walls are really so much leakier and heavier. */
function readingsOf(wallLossFactor: number, storedHeatFactor: number, count: number): readonly MeterReading[] {
  const real = { ...heron, wallLossFactor, storedHeatFactor };
  return firings.slice(0, count).map(({ programme, load }) => {
    const { kwh } = valueIn(simulateFiring(real, programme, load, { withCooling: false }));
    return { programme, load, meteredKwh: kwh };
  });
}

describe("calibration", () => {
  test("with one reading fits wall loss alone, exactly", () => {
    const fit = valueIn(calibrate(heron, readingsOf(1.35, 1, 1)));
    expect(fit.wallLossFactor).toBeCloseTo(1.35, 3);
    expect(fit.storedHeatFactor).toBe(1);
    expect(fit.isAtBound).toBe(false);
    expect(fit.trust.percent).toBe(20);
  });

  test.each([
    [1.4, 0.8],
    [0.7, 1.5],
    [1, 1],
  ])("with four unlike firings finds both factors again: %d and %d", (loss, stored) => {
    const fit = valueIn(calibrate(heron, readingsOf(loss, stored, 4)));
    expect(Math.abs(fit.wallLossFactor / loss - 1)).toBeLessThan(0.1);
    expect(Math.abs(fit.storedHeatFactor / stored - 1)).toBeLessThan(0.15);
    for (const { errorPercent } of fit.lines) expect(Math.abs(errorPercent)).toBeLessThan(1.5);
    // Two readings left over to judge by: t is 4.3, and the errors are a percent or less.
    expect(fit.trust.percent).toBeGreaterThanOrEqual(3);
    expect(fit.trust.percent).toBeLessThan(12);
  });

  test("gives a line to each reading: metered, before, after, and what is left", () => {
    const readings = readingsOf(1.35, 1, 2);
    const { lines } = valueIn(calibrate(heron, readings));
    expect(lines.map(({ programme }) => programme)).toEqual(["bisque", "one ramp"]);
    lines.forEach((line, i) => {
      const { programme, load, meteredKwh } = readings[i]!;
      expect(line.meteredKwh).toBe(meteredKwh);
      expect(line.uncalibratedKwh).toBe(valueIn(simulateFiring(heron, programme, load)).kwh);
      expect(line.errorPercent).toBeCloseTo(100 * (line.calibratedKwh / meteredKwh - 1), 9);
      expect(Math.abs(line.errorPercent)).toBeLessThan(100 * (1 - line.uncalibratedKwh / meteredKwh));
    });
  });

  test("doesn't trade wild factors when two readings disagree", () => {
    const readings = readingsOf(1, 1, 2).map((reading, i) => ({
      ...reading,
      meteredKwh: reading.meteredKwh * (i === 0 ? 1.05 : 0.95),
    }));
    const fit = valueIn(calibrate(heron, readings));
    expect(fit.wallLossFactor).toBeGreaterThan(0.6);
    expect(fit.wallLossFactor).toBeLessThan(1.6);
    expect(fit.storedHeatFactor).toBeGreaterThan(0.5);
    expect(fit.storedHeatFactor).toBeLessThan(1.6);
  });

  test("stops at the bounds and says so", () => {
    const fit = valueIn(calibrate(heron, [{ programme: bisque, load: bisqueLoad, meteredKwh: 12 }]));
    expect(fit.wallLossFactor).toBeCloseTo(0.3, 9);
    expect(fit.isAtBound).toBe(true);
    expect(fit.trust.percent).toBe(40);
    expect(fit.lines[0]?.errorPercent).toBeGreaterThan(10);
  });

  test("finds a kiln that did reach its peak although the plain model says it can't", () => {
    const weak = { ...heron, ratedKw: 2.3 };
    expect(simulateFiring(weak, bisque, bisqueLoad).ok).toBe(false);
    const fit = valueIn(calibrate(weak, [{ programme: bisque, load: bisqueLoad, meteredKwh: 22 }]));
    expect(fit.wallLossFactor).toBeLessThan(0.95);
    expect(fit.lines[0]?.uncalibratedKwh).toBeNaN();
    expect(Math.abs(fit.lines[0]?.errorPercent ?? 100)).toBeLessThan(5);
  });

  test("without readings leaves the kiln alone and says ±40 %", () => {
    const fit = valueIn(calibrate(heron, []));
    expect(fit).toMatchObject({ wallLossFactor: 1, storedHeatFactor: 1, lines: [], isAtBound: false });
    expect(fit.trust).toBe(UNCALIBRATED);
    expect(fit.trust.text).toMatch(/^not fitted to your meter: ±40 %/);
  });

  test("names a reading of nothing, and passes on a fault of the kiln", () => {
    const nothing = problemsIn(calibrate(heron, [{ programme: bisque, load: bisqueLoad, meteredKwh: 0 }]));
    expect(nothing[0]).toMatchObject({ where: "reading 1, metered energy", found: "0" });
    const broken = problemsIn(calibrate({ ...heron, ratedKw: 0 }, readingsOf(1, 1, 1)));
    expect(broken[0]?.where).toBe("Heron, rated power");
  });
});

describe("trust", () => {
  test("narrows with readings, never below ±3 %, and widens with their spread", () => {
    expect(trustIn([0], false).percent).toBe(20);
    expect(trustIn([0, 0], false).percent).toBe(15);
    expect(trustIn([0, 0, 0], false).percent).toBe(3);
    // One reading left over: 12.706 × √(2 × 0.5² ÷ 1) × √(1 + 2/3) = 11.6 %.
    expect(trustIn([0.005, -0.005, 0], false).percent).toBe(12);
    // Four left over: 2.776 × √(6 × 1² ÷ 4) × √(1 + 2/6) = 3.93 %.
    expect(trustIn([0.01, -0.01, 0.01, -0.01, 0.01, -0.01], false).percent).toBe(4);
    expect(trustIn([0.5, -0.5, 0], false).percent).toBe(40);
    expect(trustIn([0, 0, 0], true).percent).toBe(40);
  });

  test("says its own number", () => {
    for (const errors of [[0], [0, 0], [0.06, -0.06, 0]]) {
      const { percent, text } = trustIn(errors, false);
      expect(text).toContain(`±${percent} %`);
    }
  });
});

describe("least squares", () => {
  const bounds = { min: -1, max: 1 };

  test("finds the corner of two lines, and the nearest bound where it lies outside", () => {
    const lines = (a: number, b: number) => (point: readonly number[]) => {
      const [x = 0, y = 0] = point;
      return [x + y - a, x - 2 * y - b];
    };
    // x + y = 0.5 and x − 2y = −0.4: x = 0.2, y = 0.3.
    const inside = leastSquares([0, 0], lines(0.5, -0.4), bounds);
    expect(inside[0]).toBeCloseTo(0.2, 5);
    expect(inside[1]).toBeCloseTo(0.3, 5);
    // x + y = 3 and x − 2y = 0 meet at x = 2; held at x = 1, y minimises (y − 2)² + (1 − 2y)²: y = 0.8.
    const held = leastSquares([0, 0], lines(3, 0), bounds);
    expect(held[0]).toBeCloseTo(1, 5);
    expect(held[1]).toBeCloseTo(0.8, 4);
  });

  test("turns round where there is no answer", () => {
    const found = leastSquares([0], ([x = 0]) => (x > 0.5 ? undefined : [Math.exp(x) - Math.exp(0.4)]), bounds);
    expect(found[0]).toBeCloseTo(0.4, 5);
  });
});
