// Precious-metal lustre against published densities, carats and film thicknesses.
import { describe, expect, it } from "vitest";
import { filmGrams, fineMetal, metalDensityGPerCm3 } from "../../src/ceramics/metal";
import { valueIn } from "../ceramics/read-reference";

const milligrams = (film: number, metal: string | number, carat = 24) =>
  1000 * valueIn(fineMetal(valueIn(filmGrams(1, film, metal)), 1, carat));

describe("metals", () => {
  it("have the published densities", () => {
    // Perth Mint: gold, silver, platinum, palladium; platinum also in five handbooks (hypertextbook.com).
    expect(metalDensityGPerCm3).toEqual({ gold: 19.32, silver: 10.5, platinum: 21.45, palladium: 12.02 });
  });

  it("have the published fineness", () => {
    // World Gold Council: 18 carat is 750 ‰, 24 carat pure. 22 carat is 22/24 = 916.7 ‰, marked 916.
    expect(valueIn(fineMetal(1000, 1, 18))).toBe(750);
    expect(valueIn(fineMetal(1000, 1, 24))).toBe(1000);
    expect(valueIn(fineMetal(1000, 1, 22))).toBeCloseTo(916.7, 1);
  });
});

describe("metal in a film", () => {
  // Thickness × density × fineness, worked out by hand from the Perth Mint's densities. 125 nm: A. Papazian, "Liquid
  // Golds", Gold Bulletin. 50–200 nm: Heraeus technical sheet, docslib 13185519. 22 carat at 17.75 g/cm³: supermalta.com.
  it.each([
    [50, "gold", 24, 0.0966, 10_352],
    [100, "gold", 24, 0.1932, 5176],
    [125, "gold", 24, 0.2415, 4141],
    [125, 17.75, 22, 0.2034, 4917],
    [200, "gold", 24, 0.3864, 2588],
    [125, "platinum", 24, 0.268, 3730],
    [125, "palladium", 24, 0.15, 6656],
  ] as const)("%i nm of %s, %i carat: %d mg/cm², %i cm² to the gram", (film, metal, carat, mgPerCm2, cm2PerGram) => {
    const mg = milligrams(film, metal, carat);
    const places = mgPerCm2 === 0.15 || mgPerCm2 === 0.268 ? 3 : 4;
    expect(Number(mg.toFixed(places))).toBe(mgPerCm2);
    expect(Math.abs(1000 / mg - cm2PerGram)).toBeLessThanOrEqual(0.5);
  });

  it.each([
    [50, "gold", 24, 0.97, 1035],
    [100, "gold", 24, 1.93, 518],
    [125, "gold", 24, 2.42, 414],
    [125, 17.75, 22, 2.03, 492],
    [200, "gold", 24, 3.86, 259],
  ] as const)(
    "%i nm from a preparation with a tenth of gold (%s, %i carat)",
    (film, metal, carat, mgPerCm2, cm2PerGram) => {
      const preparationMg = milligrams(film, metal, carat) / 0.1;
      expect(Math.abs(preparationMg - mgPerCm2)).toBeLessThanOrEqual(0.0051);
      expect(Math.round(1000 / preparationMg)).toBe(cm2PerGram);
    },
  );

  it("is less for a weaker preparation and more for a stronger", () => {
    // 8 and 11 % (saralusters.com), 10 or 12 % (Heraeus glass sheet, docslib 4126055): cover in proportion to the gold.
    const cover = (fraction: number) => valueIn(fineMetal(1, fraction, 24)) / valueIn(filmGrams(1, 125, "gold"));
    expect(cover(0.08) / cover(0.1)).toBeCloseTo(0.8, 12);
    expect(cover(0.12) / cover(0.1)).toBeCloseTo(1.2, 12);
    expect(cover(0.1)).toBeGreaterThan(260);
    expect(cover(0.1)).toBeLessThan(1000);
  });
});

describe("common practice, no source", () => {
  it("a bright gold of a tenth 22-carat gold holds 9.17 % fine gold", () => {
    expect(Number(valueIn(fineMetal(100, 0.1, 22)).toFixed(2))).toBe(9.17);
  });
});
