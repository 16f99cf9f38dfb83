import { describe, expect, test } from "vitest";
import { calibrate } from "../../src/ceramics/kiln/calibrate";
import { dutyKwh } from "../../src/ceramics/kiln/duty";
import type { KilnSpec } from "../../src/ceramics/kiln/kiln-spec";
import type { Load } from "../../src/ceramics/kiln/load";
import { oneRamp } from "../../src/ceramics/kiln/programme";
import { simulateFiring } from "../../src/ceramics/kiln/simulate";
import { steadyLoss } from "../../src/ceramics/kiln/steady";
import { UNCALIBRATED } from "../../src/ceramics/kiln/trust";
import { valueIn } from "../ceramics/kiln/example";

// I. Townshend, Clayart 21 Jul 2001 (potters.org/subject43125): metered, 2.6 cubic feet (74 litres), three-inch brick, full
// load; cone 06 in 10 hours took 26–29 kWh, cone 9, faster, 34–36 kWh. Loads were not weighed and power was not given.
// Assumed here: 445 mm wide and 475 mm deep, 1260 °C class brick, 6.5 kW; bisque of 18 kg of raw ware, half of it kaolinite,
// 0.4 kg of water left, 10 kg of shelves and props; glaze firing of 18 kg of bisque ware, 0.2 kg of water, 14 kg of shelves,
// in 8 hours; one even ramp; cone 06 = 998 °C and cone 9 = 1260 °C (Orton self-supporting, 60 °C/h).
const kiln: KilnSpec = {
  name: "74 litres",
  chamber: { kind: "round", diameterMm: 445, heightMm: 475 },
  wall: [{ material: "brick-1260", thicknessMm: 76 }],
  ratedKw: 6.5,
};
const rawWare: Load = { wareKg: 18, furnitureKg: 10, freeWaterKg: 0.4, kaoliniteKg: 9 };
const glazedWare: Load = { wareKg: 18, furnitureKg: 14, freeWaterKg: 0.2, kaoliniteKg: 0 };
const cone06 = oneRamp(998, (998 - 20) / 10, 0);
const cone9 = oneRamp(1260, (1260 - 20) / 8, 0);
const COLD = { withCooling: false };

describe("a metered kiln of 74 litres", () => {
  test("uncalibrated, both firings lie within ±40 % of the meter", () => {
    expect(UNCALIBRATED.percent).toBe(40);
    const bisqueKwh = valueIn(simulateFiring(kiln, cone06, rawWare, COLD)).kwh;
    const glazeKwh = valueIn(simulateFiring(kiln, cone9, glazedWare, COLD)).kwh;
    expect(Math.abs(bisqueKwh / 27.5 - 1)).toBeLessThan(0.4);
    expect(Math.abs(glazeKwh / 35 - 1)).toBeLessThan(0.4);
  });

  test("calibrated on the bisque, the glaze firing lies within ±20 %", () => {
    const fit = valueIn(calibrate(kiln, [{ programme: cone06, load: rawWare, meteredKwh: 27.5 }]));
    const fitted = { ...kiln, wallLossFactor: fit.wallLossFactor };
    expect(valueIn(simulateFiring(fitted, cone06, rawWare, COLD)).kwh).toBeCloseTo(27.5, 3);
    expect(Math.abs(valueIn(simulateFiring(fitted, cone9, glazedWare, COLD)).kwh / 35 - 1)).toBeLessThan(0.2);
    expect(fit.trust.percent).toBe(20);
  });
});

describe("a front-loading kiln at its peak (kilns.co.uk, Notes on ventilation)", () => {
  // Assumed: 500 × 600 × 670 mm, 114 mm of 1260 °C class brick and 25 mm of board.
  const frontLoader: KilnSpec = {
    name: "front loader",
    chamber: { kind: "rectangular", widthMm: 500, depthMm: 600, heightMm: 670 },
    wall: [
      { material: "brick-1260", thicknessMm: 114 },
      { material: "board", thicknessMm: 25 },
    ],
    ratedKw: 15,
  };

  test("gives off 1.3–2.6 kW for each 100 litres", () => {
    for (const peakC of [1000, 1240]) {
      const loss = valueIn(steadyLoss(frontLoader, peakC));
      const kwPer100Litres = (loss.wallKw + loss.ventKw) / 2.01;
      expect(kwPer100Litres).toBeGreaterThan(1.3);
      expect(kwPer100Litres).toBeLessThan(2.6);
    }
  });

  test("has a shell near the 120 °C that such kilns can reach", () => {
    expect(Math.abs(valueIn(steadyLoss(frontLoader, 1240)).shellC - 120)).toBeLessThan(20);
  });
});

describe("rated power × hours × duty", () => {
  test("16.64 kW, 8.47 h, half the time: 70.5 kWh (Skutt FAQ, cone 6 medium)", () => {
    expect(valueIn(dutyKwh(16.64, 8.47, 0.5))).toBeCloseTo(70.5, 1);
  });

  test("11.52 kW, 7 h preheat at 15 % and 9 h at 50 %: 63.9 kWh (lakesidepottery.com)", () => {
    expect(valueIn(dutyKwh(11.52, 7, 0.15)) + valueIn(dutyKwh(11.52, 9, 0.5))).toBeCloseTo(63.9, 1);
  });

  test("11.5 kW, 13.5 h by quarters of 25, 50, 75 and 100 %: 97.0 kWh (baileypottery.com)", () => {
    const quarters = [0.25, 0.5, 0.75, 1].map((duty) => valueIn(dutyKwh(11.5, 13.5 / 4, duty)));
    expect(quarters.reduce((sum, kwh) => sum + kwh, 0)).toBeCloseTo(97.0, 1);
  });

  test("5.5 kW, 8 h at 0.6: 26.4 kWh (countryloveceramics.com)", () => {
    expect(valueIn(dutyKwh(5.5, 8, 0.6))).toBeCloseTo(26.4, 9);
  });
});
