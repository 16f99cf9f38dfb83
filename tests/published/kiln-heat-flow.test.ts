import { describe, expect, test } from "vitest";
import { STEFAN_BOLTZMANN } from "../../src/ceramics/kiln/constants";
import { coolDown } from "../../src/ceramics/kiln/cooling";
import type { KilnState } from "../../src/ceramics/kiln/kiln-state";
import { churchillChuNusselt, convectionWPerM2K, radiationWPerM2K } from "../../src/ceramics/kiln/shell";
import { TABLE_POINTS, tabulate } from "../../src/ceramics/kiln/table";
import { createWall, wallHeldJoules } from "../../src/ceramics/kiln/wall";
import { cutWall } from "../../src/ceramics/kiln/wall-grid";
import type { WallMaterial } from "../../src/ceramics/kiln/wall-materials";
import { moveWall, readWall, settleWall, sweepWall } from "../../src/ceramics/kiln/wall-step";

/** A material whose properties don't change with temperature. */
function steadyMaterial(conductivityWPerMK: number, densityKgPerM3: number, heatJPerKgK: number): WallMaterial {
  const at = (celsius: number) => ({ celsius, conductivityWPerMK, meanHeatJPerKgK: heatJPerKgK });
  return { title: "test", densityKgPerM3, maxUseC: 2000, points: [at(0), at(1000)], source: "made up" };
}

const ROOM_C = 20;
const shellOf = (wattsPerM2K: number) => new Float64Array(TABLE_POINTS).fill(wattsPerM2K);

/** Complementary error function by its series and continued fraction (textbook forms), good to 1e-9. */
function erfc(x: number): number {
  if (x > 2.5) {
    let fraction = 0;
    for (let k = 60; k > 0; k--) fraction = k / 2 / (x + fraction);
    return Math.exp(-x * x) / (Math.sqrt(Math.PI) * (x + fraction));
  }
  let term = x;
  let sum = x;
  for (let n = 1; n < 80; n++) {
    term *= (-x * x) / n;
    sum += term / (2 * n + 1);
  }
  return 1 - (2 / Math.sqrt(Math.PI)) * sum;
}

describe("steady conduction against the closed form", () => {
  const layers = [
    { material: steadyMaterial(0.2, 500, 1000), thicknessMm: 76 },
    { material: steadyMaterial(0.06, 150, 1000), thicknessMm: 25 },
    { material: steadyMaterial(0.5, 900, 1000), thicknessMm: 12 },
  ];

  test("a flat layered wall: ΔT over Σ thickness/(k A) + 1/(h A)", () => {
    const area = 1.7;
    const wall = createWall(layers, { insideM2: area, growthM: 0 }, { roomC: ROOM_C, shell: shellOf(12) });
    settleWall(wall, 1100);
    const resistance = (0.076 / 0.2 + 0.025 / 0.06 + 0.012 / 0.5 + 1 / 12) / area;
    expect(Math.abs((wall.inflowW * resistance) / 1080 - 1)).toBeLessThan(0.005);
    expect(Math.abs(wall.shellLossW / wall.inflowW - 1)).toBeLessThan(1e-9);
    expect(wall.shellC).toBeCloseTo(ROOM_C + 1080 / resistance / (12 * area), 3);
  });

  test("a cylinder: ΔT over Σ ln(outer/inner)/(2π k L) + 1/(h A)", () => {
    const radius = 0.15;
    const length = 0.6;
    const surface = { insideM2: 2 * Math.PI * radius * length, growthM: 2 * Math.PI * length };
    const wall = createWall(layers, surface, { roomC: ROOM_C, shell: shellOf(12) });
    settleWall(wall, 1100);
    const radii = [0.15, 0.226, 0.251, 0.263];
    const around = 2 * Math.PI * length;
    const resistance =
      (Math.log(radii[1]! / radii[0]!) / 0.2 +
        Math.log(radii[2]! / radii[1]!) / 0.06 +
        Math.log(radii[3]! / radii[2]!) / 0.5 +
        1 / (12 * radii[3]!)) /
      around;
    expect(Math.abs((wall.inflowW * resistance) / 1080 - 1)).toBeLessThan(0.005);
  });

  test("conductivity rising straight with temperature: the flow is that of its mean (Fourier, integrated)", () => {
    const material: WallMaterial = {
      ...steadyMaterial(0.1, 500, 1000),
      points: [
        { celsius: 0, conductivityWPerMK: 0.1, meanHeatJPerKgK: 1000 },
        { celsius: 1000, conductivityWPerMK: 0.3, meanHeatJPerKgK: 1000 },
      ],
    };
    const layer = [{ material, thicknessMm: 100 }];
    const wall = createWall(layer, { insideM2: 1, growthM: 0 }, { roomC: ROOM_C, shell: shellOf(1e7) });
    settleWall(wall, 1000);
    const mean = 0.1 + (0.2 / 1000) * ((1000 + ROOM_C) / 2);
    expect(Math.abs(wall.inflowW / ((mean * 980) / 0.1) - 1)).toBeLessThan(0.005);
  });
});

describe("a wall too thick to feel its far side, its face held hot (Carslaw and Jaeger: erfc)", () => {
  const k = 0.25;
  const density = 600;
  const heat = 1000;
  const layer = [{ material: steadyMaterial(k, density, heat), thicknessMm: 400 }];
  const surface = { insideM2: 1, growthM: 0 };
  const slices = cutWall(layer, surface, 4);
  const wall = createWall(layer, surface, { roomC: ROOM_C, shell: shellOf(10), finer: 4 });
  const hours = 2;
  let enteredJ = 0;
  for (let minute = 0; minute < hours * 60; minute++) {
    readWall(wall);
    sweepWall(wall, 60);
    moveWall(wall, 1020, 60);
    enteredJ += wall.inflowW * 60;
  }
  const diffusivity = k / (density * heat);
  const spread = 2 * Math.sqrt(diffusivity * hours * 3600);

  test("temperatures within 1 % of the step", () => {
    let depth = 0;
    slices.forEach((slice, i) => {
      const middle = depth + slice.volumeM3 / 2;
      depth += slice.volumeM3;
      expect(Math.abs(wall.celsius[i]! - (ROOM_C + 1000 * erfc(middle / spread)))).toBeLessThan(10);
    });
  });

  test("heat taken up within 1 %: 2 k ΔT √(t/πα)", () => {
    const published = 2 * k * 1000 * Math.sqrt((hours * 3600) / (Math.PI * diffusivity));
    expect(Math.abs(enteredJ / published - 1)).toBeLessThan(0.01);
    expect(Math.abs(wallHeldJoules(wall) / enteredJ - 1)).toBeLessThan(1e-6);
  });
});

test("a lump behind a weightless wall cools by the exponential, within 0.5 %", () => {
  const capacity = 40_000;
  const layer = [{ material: steadyMaterial(0.2, 0.001, 1000), thicknessMm: 100 }];
  const wall = createWall(layer, { insideM2: 1.25, growthM: 0 }, { roomC: ROOM_C, shell: shellOf(10) });
  const solids = tabulate((celsius) => capacity * (celsius - ROOM_C));
  const nothing = tabulate(() => 0);
  const state: KilnState = {
    roomC: ROOM_C,
    walls: [wall],
    curves: { ware: solids, furniture: nothing, solids, water: nothing },
    ventLitresPerSecond: 0,
    chamberC: 1020,
    waterJ: 0,
    suppliedJ: 0,
    shellJ: 0,
    ventJ: 0,
    inflowSlope: 0,
    inflowBase: 0,
    ventWattsPerDegree: 0,
  };
  settleWall(wall, 1020);
  const { minutes, celsius } = coolDown(state);
  const timeConstantMinutes = (capacity * (0.1 / 0.2 + 1 / 10)) / 1.25 / 60;
  expect(celsius.at(-1)).toBeLessThan(ROOM_C + 10);
  for (let i = 1; i < minutes.length; i += 7) {
    const exact = timeConstantMinutes * Math.log(1000 / (celsius[i]! - ROOM_C));
    expect(Math.abs(minutes[i]! / exact - 1)).toBeLessThan(0.005);
  }
});

describe("loss of the shell", () => {
  test("Churchill and Chu 1975: Pr 0.69 and Gr 2.63e9 give 147.16185223770603 (ht documentation)", () => {
    expect(churchillChuNusselt(0.69, 0.69 * 2.63e9)).toBeCloseTo(147.1618522377, 9);
  });

  test("σ is 5.670374419e-8 W/m²K⁴ (CODATA 2018), and a black surface at 100 °C in a 0 °C room gives off σ(T⁴ − T⁴)", () => {
    expect(STEFAN_BOLTZMANN).toBe(5.670374419e-8);
    expect(100 * radiationWPerM2K(100, 0, 1)).toBeCloseTo(5.670374419e-8 * (373.15 ** 4 - 273.15 ** 4), 9);
  });

  // Radiation at emissivity 0.9 and 0.3 to a room of 20 °C, W/m²K, and 1.31 ΔT^⅓ (Holman, from memory) for rising air.
  test.each([
    [60, 4.5, 6.3, 2.1],
    [80, 5.1, 6.9, 2.3],
    [100, 5.6, 7.7, 2.6],
    [120, 6.1, 8.4, 2.8],
  ])("a shell at %d °C: rising air near %d, radiation %d and %d W/m²K", (shellC, rising, dull, bright) => {
    expect(Math.abs(radiationWPerM2K(shellC, 20, 0.9) - dull)).toBeLessThan(0.06);
    expect(Math.abs(radiationWPerM2K(shellC, 20, 0.3) - bright)).toBeLessThan(0.06);
    // Two correlations for the same thing: they agree within a seventh for a metre of height.
    expect(Math.abs(convectionWPerM2K(shellC, 20, 1) / rising - 1)).toBeLessThan(0.14);
  });
});
