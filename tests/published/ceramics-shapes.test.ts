// Areas against published worked examples.
import { describe, expect, it } from "vitest";
import { bandArea, discArea, profileArea, zoneArea } from "../../src/ceramics/shapes";
import { valueIn } from "../ceramics/read-reference";

/** Axial height of a frustum of radii R and r with slant l. */
const upright = (R: number, r: number, slant: number) => Math.sqrt(slant ** 2 - (R - r) ** 2);

/** A profile of `bands` equal steps along an arc of radius `radius` about (centre, height), between two angles. */
function arc(centre: number, height: number, radius: number, from: number, to: number, bands: number): number {
  const angles = Array.from({ length: bands + 1 }, (_, at) => from + ((to - from) * at) / bands);
  return valueIn(
    profileArea(
      angles.map((angle) => height + radius * Math.sin(angle)),
      angles.map((angle) => 2 * Math.max(0, centre + radius * Math.cos(angle))),
    ),
  );
}

describe("a band", () => {
  it("of radii 16 and 10 and slant 10: 260π = 816.814 (esaral.com)", () => {
    const area = valueIn(bandArea(32, 20, upright(16, 10, 10)));
    expect(area).toBeCloseTo(260 * Math.PI, 9);
    expect(area).toBeCloseTo(816.814, 3);
  });

  it("of radii 8 and 5 and slant 5: 204.204 (esaral.com; its printed height √13 is an error, it is 4)", () => {
    expect(upright(8, 5, 5)).toBe(4);
    expect(valueIn(bandArea(16, 10, 4))).toBeCloseTo(204.204, 3);
  });

  it("of perimeters 24 and 12 and slant 6: 108 (esaral.com)", () => {
    const [R, r] = [12 / Math.PI, 6 / Math.PI];
    expect(valueIn(bandArea(2 * R, 2 * r, upright(R, r, 6)))).toBeCloseTo(108, 9);
  });

  it("of radii 18 and 12 and height 8: 768π → the side is 300π, with its two ends 768π (philoid.com)", () => {
    const side = valueIn(bandArea(36, 24, 8));
    expect(side + valueIn(discArea(36)) + valueIn(discArea(24))).toBeCloseTo(768 * Math.PI, 9);
    expect(768 * Math.PI).toBeCloseTo(2412.74, 2);
    expect(side).toBeCloseTo(300 * Math.PI, 9);
  });
});

describe("a zone", () => {
  it("of radius a and height a/2: πa² (math.techqa.club; formula: Wolfram MathWorld, Zone)", () => {
    for (const a of [1, 10, 13.7]) expect(valueIn(zoneArea(2 * a, a / 2))).toBeCloseTo(Math.PI * a * a, 9);
    expect(valueIn(zoneArea(20, 5))).toBeCloseTo(314.159, 3);
  });

  it("is what its profile sweeps: arc πa/6 × 2π × 0.95493a (Pappus; a mean radius of a would be 4.7 % too much)", () => {
    const a = 10;
    const pappus = ((Math.PI * a) / 6) * 2 * Math.PI * 0.95493 * a;
    expect(pappus).toBeCloseTo(Math.PI * a * a, 2);
    expect(arc(0, 0, a, 0, Math.PI / 6, 4000)).toBeCloseTo(Math.PI * a * a, 4);
  });
});

describe("a profile", () => {
  it("a semicircle of radius 5 about its diameter: 4π·25 = 314.159 (mathworld, edurev: x̄ = 2r/π)", () => {
    expect(arc(0, 5, 5, -Math.PI / 2, Math.PI / 2, 4000)).toBeCloseTo(314.159, 3);
    expect(5 * Math.PI * 2 * Math.PI * (10 / Math.PI)).toBeCloseTo(314.159, 3);
  });

  it("a torus of radii 10 and 3: 4π²Rr = 1184.353", () => {
    expect((4 * Math.PI ** 2 * 30).toFixed(3)).toBe("1184.353");
    expect(arc(10, 3, 3, 0, 2 * Math.PI, 4000)).toBeCloseTo(4 * Math.PI ** 2 * 30, 3);
  });

  it("errs with the square of the step", () => {
    const error = (bands: number) => 100 * Math.PI - arc(0, 5, 5, -Math.PI / 2, Math.PI / 2, bands);
    expect(error(40) / error(80)).toBeCloseTo(4, 1);
    expect(error(400) / error(800)).toBeCloseTo(4, 2);
  });
});
