import { describe, expect, test } from "vitest";
import {
  aluminaKjPerKg,
  aluminaKjPerMol,
  bodyKjPerKg,
  quartzKjPerKg,
  quartzKjPerMol,
  STONEWARE_BODY,
} from "../../src/ceramics/kiln/enthalpy";
import { boundWaterKjPerKg, freeWaterKjPerKg, WATER_IN_KAOLINITE } from "../../src/ceramics/kiln/water";

function offBy(found: number, published: number): number {
  return Math.abs(found / published - 1);
}

describe("heat of quartz and alumina above 25 °C", () => {
  // NIST WebBook, quartz C14808607 (Chase 1998): the record's own table of H − H298.15, kJ/mol.
  test.each([
    [400, 5.01],
    [600, 16.89],
    [800, 30.67],
    [847, 34.93],
    [1000, 45.36],
    [1200, 59.35],
    [1400, 73.74],
    [1600, 88.54],
  ])("quartz at %d K is %d kJ/mol", (kelvin, published) => {
    expect(offBy(quartzKjPerMol(kelvin), published)).toBeLessThan(0.005);
  });

  // Computed from NIST C1344281 coefficients (WallyToolbox.jl thermodata.yaml), kJ/mol.
  test.each([
    [400, 9.028],
    [600, 30.145],
    [800, 53.416],
    [1000, 77.925],
    [1200, 103.279],
    [1400, 129.255],
    [1600, 155.708],
  ])("alumina at %d K is %d kJ/mol", (kelvin, published) => {
    expect(offBy(aluminaKjPerMol(kelvin), published)).toBeLessThan(0.0005);
  });

  // zhclg.com table 14, Cp of alumina: an independent table, J/mol K.
  test.each([
    [1000, 124.771],
    [1400, 131.081],
    [2000, 136.608],
  ])("the slope of alumina at %d K is %d J/mol K", (kelvin, published) => {
    const slope = (aluminaKjPerMol(kelvin + 0.5) - aluminaKjPerMol(kelvin - 0.5)) * 1000;
    expect(offBy(slope, published)).toBeLessThan(0.005);
  });

  test("by weight at 1000 and 1222 °C (NIST coefficients, molar masses 60.0843 and 101.9613)", () => {
    expect(offBy(quartzKjPerKg(1000), 1074.6)).toBeLessThan(0.0005);
    expect(offBy(quartzKjPerKg(1222), 1343.6)).toBeLessThan(0.0005);
    expect(offBy(aluminaKjPerKg(1000), 1105.5)).toBeLessThan(0.0005);
    expect(offBy(aluminaKjPerKg(1222), 1390.6)).toBeLessThan(0.0005);
  });

  test("the turn of quartz at 847 K takes 0.729 kJ/mol (difference of the two NIST fits)", () => {
    expect(quartzKjPerMol(847) - quartzKjPerMol(847 - 1e-9)).toBeCloseTo(0.729, 3);
  });
});

describe("mixtures", () => {
  test("a 65/25/10 body takes about 1.36 MJ/kg to 1222 °C (NIST oxides by the mixture rule)", () => {
    expect(offBy(bodyKjPerKg(STONEWARE_BODY, 1222), 1360)).toBeLessThan(0.005);
  });

  test("what is neither silica nor alumina counts as their mean: (1074.6 + 1105.5)/2 kJ/kg to 1000 °C (NIST)", () => {
    expect(offBy(bodyKjPerKg({ silica: 0, alumina: 0, other: 5 }, 1000), 1090.05)).toBeLessThan(0.0001);
    expect(offBy(bodyKjPerKg({ silica: 3, alumina: 0, other: 1 }, 1000), 1074.6 + 30.9 / 8)).toBeLessThan(0.0001);
  });

  test("mullite, 3 Al₂O₃·2 SiO₂, takes 1097 kJ/kg to 1000 °C (sum of its oxides, NIST)", () => {
    expect(offBy(bodyKjPerKg({ silica: 28.2, alumina: 71.8, other: 0 }, 1000), 1097)).toBeLessThan(0.001);
  });
});

describe("water", () => {
  test("20 °C water to 100 °C steam takes 0.720 kWh/kg (2256.5 kJ/kg at the boil, realservices.com; 4.186 kJ/kg K)", () => {
    // The steam of the boil is warmed by 10 °C on average until the last of it has gone at 120 °C.
    expect((freeWaterKjPerKg(20, 120) - 2.0 * 10) / 3600).toBeCloseTo(0.72, 3);
  });

  test("20 °C water to 500 °C steam takes about 3.39 MJ/kg (steam 2.0 kJ/kg K, from memory)", () => {
    expect(offBy(freeWaterKjPerKg(20, 120) + 2.0 * (500 - 110), 3390)).toBeLessThan(0.002);
  });

  test("kaolinite holds 13.96 % water (2 × 18.015 of 258.16)", () => {
    expect(WATER_IN_KAOLINITE).toBeCloseTo((2 * 18.015) / 258.16, 4);
  });

  test("kaolin to 1000 °C: MacGee's 2092 kJ/kg lies inside the range the clay's bound water leaves open", () => {
    // E. A. MacGee, J. Am. Ceram. Soc. 1926: about 500 cal/g for any kaolin. Values of the endotherm: 250–1300 kJ/kg.
    const oxides = { silica: 46.5, alumina: 39.5, other: 0 };
    const total = (endotherm: number) =>
      (1 - WATER_IN_KAOLINITE) * bodyKjPerKg(oxides, 1000) + boundWaterKjPerKg(0, 1000, endotherm);
    expect(total(250)).toBeLessThan(2092);
    expect(total(1300)).toBeGreaterThan(2092);
  });
});
