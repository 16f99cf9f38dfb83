// Above the class of a brick is warned of, at the layer where it is; what physics can't do is refused.
import { describe, expect, test } from "vitest";
import type { KilnSpec } from "../../../src/ceramics/kiln/kiln-spec";
import { hotLayerWarning } from "../../../src/ceramics/kiln/limits";
import { oneRamp } from "../../../src/ceramics/kiln/programme";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import { steadyLoss } from "../../../src/ceramics/kiln/steady";
import { usualVent } from "../../../src/ceramics/kiln/vent";
import { glazeLoad, heron, problemsIn, valueIn } from "./example";

const strong: KilnSpec = { ...heron, ratedKw: 12 };
const fired = (kiln: KilnSpec, peakC: number, soak = 15) =>
  valueIn(simulateFiring(kiln, oneRamp(peakC, 120, soak), glazeLoad));

describe("a hot face above its class", () => {
  test("is calculated and warned of; at the class it is not", () => {
    expect(fired(strong, 1260).hotLayers).toEqual([]);
    const high = fired(strong, 1305);
    expect(high.hotLayers).toEqual([
      { material: "brick-1260", behind: 0, hottestC: expect.closeTo(1305, 6), limitC: 1260, isBeyondData: true },
    ]);
    expect(high.kwh).toBeGreaterThan(fired(strong, 1260).kwh);
    expect(hotLayerWarning(high.hotLayers)).toBe("hot face above its class");
  });

  test("is refused only where the power does not get there, or no table goes", () => {
    const weak = simulateFiring({ ...heron, ratedKw: 3 }, oneRamp(1305, 120, 15), glazeLoad);
    expect(problemsIn(weak)[0]?.code).toBe("kiln.cannot-reach");
    expect(problemsIn(simulateFiring(strong, oneRamp(1900, 120, 15), glazeLoad))[0]?.code).toBe("kiln.number");
    expect(steadyLoss(strong, 1305).ok).toBe(true);
  });
});

describe("a layer behind", () => {
  const behind = (brickMm: number): KilnSpec => ({
    ...strong,
    wall: [
      { material: "brick-1400", thicknessMm: brickMm },
      { material: "board", thicknessMm: 50 },
    ],
  });

  test("counts at its own hot face: board behind too little brick is told, behind enough it is not", () => {
    const thin = fired(behind(25), 1250, 120).hotLayers;
    expect(thin.map(({ material, behind: at }) => [material, at])).toEqual([["board", 1]]);
    expect(thin[0]?.hottestC).toBeGreaterThan(1000);
    expect(thin[0]?.hottestC).toBeLessThan(1250);
    expect(hotLayerWarning(thin)).toBe("backing above its limit");
    expect(fired(behind(114), 1250, 15).hotLayers).toEqual([]);
  });

  test("comes, in the long run, to where two resistances in series put it", () => {
    // Brick 30 mm at about 0.36 W/mK, board 50 mm at about 0.12: 0.083 and 0.417 m²K/W for a plane wall. By hand from
    // 1230 °C to a shell near 150 °C: 1230 − 1080 × 0.083 ÷ 0.5 ≈ 1050 °C; edges and curvature move it a little.
    const [hot] = fired(behind(30), 1230, 60 * 20).hotLayers;
    expect(Math.abs((hot?.hottestC ?? 0) - 1050)).toBeLessThan(40);
    // 100 °C cooler in the chamber, about 85 cooler there: within its limit.
    expect(fired(behind(30), 1130, 60 * 20).hotLayers).toEqual([]);
  });
});

test("the air that leaves a closed chamber goes with the root of its volume: own reasoning, no source", () => {
  expect(usualVent(100)).toBeCloseTo(0.3, 12);
  expect(usualVent(400)).toBeCloseTo(0.6, 12);
  expect(usualVent(25)).toBeCloseTo(0.15, 12);
});
