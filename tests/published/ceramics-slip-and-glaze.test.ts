// Slip, glaze and shrinkage against published worked examples.
import { describe, expect, it } from "vitest";
import { coatGrams, shrink, slipDryGramsPerLitre } from "../../src/ceramics/coats";
import { valueIn } from "../ceramics/read-reference";

describe("Brongniart's formula", () => {
  it.each([
    // litre weight, solids density, dry grams, tolerance, source
    [1700, 2.5, 1166, 1, "GTZ, Forming Techniques for the Self-Reliant Potter, 1991"],
    [1500, 2.5, 833.3, 0.05, "Altmann, potters.org 11877"],
    [1750, 2.5, 1250, 0, "Altmann, potters.org 13664"],
    [1500, 2.6, 812, 1, "Handbook for Australian Potters, scribd 187727916"],
    [1700, 2.6, 1137, 1, "Handbook for Australian Potters, scribd 187727916"],
    [1800, 2.6, 1300, 1e-9, "worked out by hand"],
    [1450, 2.6, 731, 0.5, "worked out by hand"],
  ])("a litre of %i g, solids %d: %d g dry", (litre, density, dry, tolerance) => {
    expect(Math.abs(valueIn(slipDryGramsPerLitre(litre, density)) - dry)).toBeLessThanOrEqual(tolerance);
  });

  it("gives the other figures of the same examples", () => {
    // GTZ 1991: 30 litres hold 35 kg.
    expect(Math.round((30 * valueIn(slipDryGramsPerLitre(1700, 2.5))) / 1000)).toBe(35);
    // Altmann, potters.org 11877: water 666.7 g.
    expect(1500 - valueIn(slipDryGramsPerLitre(1500, 2.5))).toBeCloseTo(666.7, 1);
    // Altmann, potters.org 13664: water 500 g, 40 % of the dry weight.
    const dry = valueIn(slipDryGramsPerLitre(1750, 2.5));
    expect(1750 - dry).toBeCloseTo(500, 9);
    expect((1750 - dry) / dry).toBeCloseTo(0.4, 12);
    // By hand: 72.2 % and 50.4 % solids.
    expect(Number(((100 * valueIn(slipDryGramsPerLitre(1800, 2.6))) / 1800).toFixed(1))).toBe(72.2);
    expect(Number(((100 * valueIn(slipDryGramsPerLitre(1450, 2.6))) / 1450).toFixed(1))).toBe(50.4);
  });

  it("agrees with the pint form, (P − 20)·g/(g − 1) in ounces per imperial pint (from memory)", () => {
    // A pint of water weighs 20 oz, so a pint of slip at P oz is a litre at 50·P g.
    for (const [pint, density] of [
      [36, 2.5],
      [28, 2.65],
    ] as const)
      expect(valueIn(slipDryGramsPerLitre(50 * pint, density))).toBeCloseTo(
        (50 * ((pint - 20) * density)) / (density - 1),
        9,
      );
  });
});

describe("glaze", () => {
  it("sprayed is what stays divided by the transfer", () => {
    // Solids adhering ÷ solids used, 65 %: SCAQMD, aqmd.gov spray-equipment page. 100 g on the ware is 153.8 g sprayed.
    expect(Number(valueIn(coatGrams(2000, 1, 0.05, 0.65)).toFixed(1))).toBe(153.8);
    // Ron Joseph, ronjoseph.com: on small parts 5 %, that is twenty times what stays.
    expect(valueIn(coatGrams(2000, 1, 0.05, 0.05))).toBeCloseTo(2000, 9);
  });
});

describe("shrinkage", () => {
  it("of drying and firing does not simply add", () => {
    // ceramicninja.com adds 6.25 % and 6.66 % to 12.9 %; firing shrinks the dry length, so it is 12.5 %.
    expect(Number((100 - valueIn(shrink(100, 0.0625, 0.0666))).toFixed(1))).toBe(12.5);
    expect(valueIn(shrink(100, 0.0625, 0.0666))).toBeCloseTo(100 - 12.49, 2);
    // ceramic-research.com: dry % = (L0 − L1)/L0, fired % = (L1 − L2)/L1.
    const [drying, firing] = [(128 - 120) / 128, (120 - 112) / 120];
    expect(valueIn(shrink(128, drying, firing))).toBeCloseTo(112, 10);
  });
});
