// What must hold of areas, coats, metal, slip, shrinkage and cones, whatever the numbers.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coatGrams, shrink, slipDryGramsPerLitre } from "../../src/ceramics/coats";
import { coneTable } from "../../src/ceramics/cone-table";
import { coneTemperature } from "../../src/ceramics/cones";
import { filmGrams, fineMetal, lustreGrams } from "../../src/ceramics/metal";
import { bandArea, discArea, profileArea, zoneArea } from "../../src/ceramics/shapes";
import { valueIn } from "../ceramics/read-reference";

const size = fc.double({ min: 0, max: 200, noNaN: true });
const coats = fc.double({ min: 0, max: 6, noNaN: true });
const laydown = fc.double({ min: 0, max: 0.3, noNaN: true });
const share = fc.double({ min: 0.01, max: 1, noNaN: true });
const below = fc.double({ min: 0, max: 0.9, noNaN: true });
const rate = fc.double({ min: 30, max: 300, noNaN: true });
const cone = fc.constantFrom(...coneTable.map((row) => row.cone));

const close = (a: number, b: number) => expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-9 * Math.max(1, a, b));

describe("grams", () => {
  it("never fall with more area, more coats, a heavier coat, a poorer transfer or more waste", () => {
    fc.assert(
      fc.property(size, size, coats, laydown, share, below, (area, more, n, g, part, waste) => {
        const glaze = valueIn(coatGrams(area, n, g, part));
        expect(valueIn(coatGrams(area + more, n, g, part))).toBeGreaterThanOrEqual(glaze);
        expect(valueIn(coatGrams(area, n + more, g, part))).toBeGreaterThanOrEqual(glaze);
        expect(valueIn(coatGrams(area, n, g + more, part))).toBeGreaterThanOrEqual(glaze);
        expect(valueIn(coatGrams(area, n, g, part / 2))).toBeGreaterThanOrEqual(glaze);
        expect(glaze).toBeGreaterThanOrEqual(area * n * g);
        const lustre = valueIn(lustreGrams(area, n, g, waste));
        expect(valueIn(lustreGrams(area + more, n, g, waste))).toBeGreaterThanOrEqual(lustre);
        expect(valueIn(lustreGrams(area, n, g, (1 + waste) / 2))).toBeGreaterThanOrEqual(lustre);
        expect(lustre).toBeGreaterThanOrEqual(area * n * g);
      }),
      { seed: 1611, numRuns: 400 },
    );
  });

  it("on the piece come back from what was used: coat × transfer, lustre × (1 − waste)", () => {
    fc.assert(
      fc.property(size, coats, laydown, share, below, (area, n, g, part, waste) => {
        close(valueIn(coatGrams(area, n, g, part)) * part, area * n * g);
        close(valueIn(lustreGrams(area, n, g, waste)) * (1 - waste), area * n * g);
      }),
      { seed: 1612, numRuns: 300 },
    );
  });

  it("of fine metal never exceed the preparation, and grow with fraction and carat", () => {
    fc.assert(
      fc.property(size, share, share, fc.double({ min: 0.1, max: 24, noNaN: true }), (grams, f, e, carat) => {
        const fine = valueIn(fineMetal(grams, Math.min(f, e), carat));
        expect(fine).toBeLessThanOrEqual(grams);
        expect(fine).toBeLessThanOrEqual(valueIn(fineMetal(grams, Math.max(f, e), carat)));
        expect(fine).toBeLessThanOrEqual(valueIn(fineMetal(grams, Math.min(f, e), 24)));
        close(valueIn(filmGrams(grams, 2 * carat, "gold")), 2 * valueIn(filmGrams(grams, carat, "gold")));
      }),
      { seed: 1613, numRuns: 300 },
    );
  });
});

describe("areas", () => {
  it("grow with the square of the size", () => {
    fc.assert(
      fc.property(size, size, size, fc.double({ min: 0.1, max: 10, noNaN: true }), (d, e, h, k) => {
        close(valueIn(bandArea(k * d, k * e, k * h)), k * k * valueIn(bandArea(d, e, h)));
        close(valueIn(discArea(k * d)), k * k * valueIn(discArea(d)));
      }),
      { seed: 1614, numRuns: 300 },
    );
  });

  it("of a band do not change when it is cut in two or turned over, and are never less than the ring it covers", () => {
    fc.assert(
      fc.property(size, size, size, fc.double({ min: 0, max: 1, noNaN: true }), (d, e, h, cut) => {
        const middle = d + (e - d) * cut;
        const whole = valueIn(bandArea(d, e, h));
        close(valueIn(profileArea([0, h * cut, h], [d, middle, e])), whole);
        close(valueIn(bandArea(e, d, h)), whole);
        expect(whole).toBeGreaterThanOrEqual(Math.abs(valueIn(discArea(d)) - valueIn(discArea(e))) - 1e-6);
      }),
      { seed: 1615, numRuns: 300 },
    );
  });

  it("of a zone add up, to the whole sphere at full height", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (d, cut) => {
          close(valueIn(zoneArea(d, d * cut)) + valueIn(zoneArea(d, d - d * cut)), 4 * valueIn(discArea(d)));
        },
      ),
      { seed: 1616, numRuns: 200 },
    );
  });
});

describe("clay", () => {
  it("shrinks to less than the parts added up suggest", () => {
    fc.assert(
      fc.property(size, below, below, (length, d, f) => {
        const total = 1 - valueIn(shrink(1, d, f));
        expect(total).toBeLessThanOrEqual(d + f + 1e-12);
        expect(total).toBeGreaterThanOrEqual(Math.max(d, f) - 1e-12);
        close(valueIn(shrink(length, d, f)), length * (1 - total));
      }),
      { seed: 1617, numRuns: 300 },
    );
  });

  it("in slip grows with the weight of the litre, and falls with the density of the solids", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1001, max: 2200, noNaN: true }),
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.double({ min: 2.4, max: 3.5, noNaN: true }),
        (litre, more, density) => {
          const dry = valueIn(slipDryGramsPerLitre(litre, density));
          expect(valueIn(slipDryGramsPerLitre(litre + more, density))).toBeGreaterThanOrEqual(dry);
          expect(valueIn(slipDryGramsPerLitre(litre, density + 1))).toBeLessThan(dry);
          expect(dry).toBeLessThanOrEqual(litre + 1e-9);
        },
      ),
      { seed: 1618, numRuns: 300 },
    );
  });
});

describe("cones", () => {
  it("fall hotter when fired faster, and the hotter cone is the hotter", () => {
    const cones = coneTable.map((row) => row.cone);
    fc.assert(
      fc.property(cone, cone, rate, rate, (a, b, slow, fast) => {
        const least = valueIn(coneTemperature(a, Math.min(slow, fast)));
        expect(least).toBeLessThanOrEqual(valueIn(coneTemperature(a, Math.max(slow, fast))));
        const inRange = Math.min(150, Math.max(60, slow));
        const hotter = valueIn(coneTemperature(a, inRange)) > valueIn(coneTemperature(b, inRange));
        expect(hotter).toBe(cones.indexOf(a) > cones.indexOf(b));
      }),
      { seed: 1619, numRuns: 300 },
    );
  });
});
