import { describe, expect, test } from "vitest";
import { chamberLitres, chamberSurfaces, joinSurfaces } from "../../../src/ceramics/kiln/geometry";
import { ventWattsPerDegree } from "../../../src/ceramics/kiln/vent";
import { cutWall } from "../../../src/ceramics/kiln/wall-grid";
import { conductivityAt, WALL_MATERIALS, wallEnthalpyAt } from "../../../src/ceramics/kiln/wall-materials";

describe("wall materials", () => {
  // VDI Heat Atlas, 2nd ed., as coded in CalebBell/ht ht/insulation.py, commit f9ff144.
  test.each([
    ["brick-1260", 490, 400, 0.14, 942],
    ["brick-1260", 490, 1200, 0.22, 1033],
    ["brick-1400", 790, 800, 0.32, 1018],
    ["brick-1540", 890, 1000, 0.41, 1075],
    ["fireclay", 2150, 600, 1.1, 997],
    ["mullite", 2540, 1000, 1.63, 1087],
  ] as const)("%s: %d kg/m³; at %d °C, %d W/m K and %d J/kg K", (name, density, celsius, conductivity, heat) => {
    const material = WALL_MATERIALS[name];
    expect(material.densityKgPerM3).toBe(density);
    expect(conductivityAt(material, celsius)).toBeCloseTo(conductivity, 12);
    expect(wallEnthalpyAt(material, celsius)).toBeCloseTo(heat * celsius, 6);
  });

  test("are read straight between the points and on along the end slopes", () => {
    const brick = WALL_MATERIALS["brick-1260"];
    expect(conductivityAt(brick, 700)).toBeCloseTo(0.17, 12);
    expect(conductivityAt(brick, 200)).toBeCloseTo(0.12, 12);
    expect(conductivityAt(brick, 1300)).toBeCloseTo(0.23, 12);
  });

  test("name a source and stay positive and rising in heat up to their limit", () => {
    for (const material of Object.values(WALL_MATERIALS)) {
      expect(material.source.length).toBeGreaterThan(10);
      for (let celsius = 0; celsius < material.maxUseC; celsius += 50) {
        expect(conductivityAt(material, celsius)).toBeGreaterThan(0);
        expect(wallEnthalpyAt(material, celsius + 50)).toBeGreaterThan(wallEnthalpyAt(material, celsius));
      }
    }
  });

  test("dense fireclay to 1000 °C holds within 5 % of the oxides it is made of (NIST: 1075–1106 kJ/kg)", () => {
    expect(Math.abs(wallEnthalpyAt(WALL_MATERIALS.fireclay, 1000) / 1090e3 - 1)).toBeLessThan(0.05);
  });
});

describe("shapes", () => {
  const round = { kind: "round", diameterMm: 400, heightMm: 500 } as const;
  const box = { kind: "rectangular", widthMm: 400, depthMm: 300, heightMm: 500 } as const;

  test("volume in litres", () => {
    expect(chamberLitres(round)).toBeCloseTo(Math.PI * 4 * 5, 9);
    expect(chamberLitres(box)).toBeCloseTo(60, 9);
  });

  test("inside areas of side, lid and floor", () => {
    const drum = chamberSurfaces(round);
    expect(drum.side.insideM2).toBeCloseTo(Math.PI * 0.4 * 0.5, 12);
    expect(drum.lid.insideM2).toBeCloseTo(Math.PI * 0.04, 12);
    expect(drum.floor).toEqual(drum.lid);
    const chest = chamberSurfaces(box);
    expect(chest.side.insideM2).toBeCloseTo(0.7, 12);
    expect(chest.lid.insideM2).toBeCloseTo(0.12, 12);
  });

  test("a box's shape factor is A/x + 0.54 per metre of its twelve edges (Langmuir, Adams and Meikle; from memory)", () => {
    const { side, lid, floor } = chamberSurfaces(box);
    const whole = joinSurfaces([side, lid, floor]);
    const depth = 0.001;
    const meanArea = whole.insideM2 + (whole.growthM * depth) / 2;
    expect(meanArea / depth).toBeCloseTo(0.94 / depth + 0.54 * 4 * (0.4 + 0.3 + 0.5), 6);
  });

  test("slices fill the layers: volume, and half thickness over area on either side", () => {
    const brick = WALL_MATERIALS["brick-1260"];
    const layers = [
      { material: brick, thicknessMm: 76 },
      { material: WALL_MATERIALS.board, thicknessMm: 25 },
    ];
    const slices = cutWall(layers, { insideM2: 2, growthM: 6 });
    const volume = slices.reduce((sum, slice) => sum + slice.volumeM3, 0);
    expect(volume).toBeCloseTo(2 * 0.101 + 3 * 0.101 ** 2, 12);
    const boardVolume = slices.reduce((sum, slice) => sum + (slice.layer === 1 ? slice.volumeM3 : 0), 0);
    expect(boardVolume).toBeCloseTo(2 * 0.025 + 3 * (0.101 ** 2 - 0.076 ** 2), 12);
    const flat = cutWall(layers, { insideM2: 2, growthM: 0 });
    const depth = flat.reduce((sum, slice) => sum + slice.inwardPerM + slice.outwardPerM, 0) * 2;
    expect(depth).toBeCloseTo(0.101, 12);
    expect(cutWall(layers, { insideM2: 2, growthM: 6 }, 2).length).toBeGreaterThan(slices.length);
  });
});

test("a litre of room air a second weighs 1.204 g and takes 1.04 J/g K to 500 °C, 1.09 to 1000 °C (air, from memory)", () => {
  expect(Math.abs(ventWattsPerDegree(1, 500) / (1.204 * 1.04) - 1)).toBeLessThan(0.01);
  expect(Math.abs(ventWattsPerDegree(2, 1000) / (2 * 1.204 * 1.09) - 1)).toBeLessThan(0.01);
});
