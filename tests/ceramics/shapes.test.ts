import { describe, expect, it } from "vitest";
import { bandArea, discArea, profileArea, zoneArea } from "../../src/ceramics/shapes";
import { messagesOf, problemsOf, valueIn } from "./read-reference";

const wrong = [-1, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];

describe("areas", () => {
  it("of a band: cylinder, cone, and flat ring", () => {
    expect(valueIn(bandArea(10, 10, 7))).toBeCloseTo(Math.PI * 70, 10);
    // A 3-4-5 cone: π r l = π × 3 × 5.
    expect(valueIn(bandArea(6, 0, 4))).toBeCloseTo(15 * Math.PI, 10);
    expect(valueIn(bandArea(0, 6, 4))).toBeCloseTo(15 * Math.PI, 10);
    // No height: the ring between the two circles, π(5² − 3²).
    expect(valueIn(bandArea(10, 6, 0))).toBeCloseTo(16 * Math.PI, 10);
    expect(valueIn(bandArea(0, 0, 0))).toBe(0);
  });

  it("of a disc and of a zone", () => {
    expect(valueIn(discArea(2))).toBeCloseTo(Math.PI, 12);
    expect(valueIn(zoneArea(10, 10))).toBeCloseTo(4 * Math.PI * 25, 10);
    expect(valueIn(zoneArea(10, 0))).toBe(0);
  });

  it("of a profile: its bands added up, also where it turns down inside", () => {
    const bands = valueIn(bandArea(8, 10, 3)) + valueIn(bandArea(10, 9, 5));
    expect(valueIn(profileArea([0, 3, 8], [8, 10, 9]))).toBeCloseTo(bands, 10);
    const cup = valueIn(profileArea([0, 8, 8, 0.5], [8, 8, 7, 7]));
    expect(cup).toBeCloseTo(Math.PI * (8 * 8 + 7 * 7.5) + (Math.PI / 4) * (64 - 49), 10);
  });

  it.each(wrong)("refuse %s", (value) => {
    expect(problemsOf(bandArea(value, 1, 1))[0]?.where).toBe("first diameter");
    expect(problemsOf(bandArea(1, value, 1))[0]?.where).toBe("second diameter");
    expect(problemsOf(bandArea(1, 1, value))[0]?.where).toBe("height");
    expect(problemsOf(discArea(value))[0]?.where).toBe("diameter");
    expect(problemsOf(zoneArea(value, 0))[0]?.where).toBe("diameter");
    expect(problemsOf(zoneArea(1, value)).map((one) => one.where)).toEqual(["height"]);
    expect(problemsOf(profileArea([0, 1], [1, value]))[0]?.where).toBe("diameter 2 of the list");
  });

  it("refuse a zone taller than its sphere, points that do not pair up, and answers too large", () => {
    expect(messagesOf(zoneArea(10, 10.5))).toEqual([
      "height: found 10.5, but it takes at most the diameter, 10 cm. A slice of a sphere can't be taller than the sphere.",
    ]);
    expect(messagesOf(profileArea([0, 1, 2], [5, 6]))).toEqual([
      "heights and diameters: found “3 heights and 2 diameters”, but it takes two or more points, each with a height and a diameter.",
    ]);
    expect(profileArea([0], [5]).ok).toBe(false);
    expect(profileArea([], []).ok).toBe(false);
    expect(problemsOf(profileArea([0, Number.NaN], [5, 5]))[0]?.where).toBe("height 2 of the list");
    expect(problemsOf(discArea(1e200))[0]?.code).toBe("number.overflow");
  });
});
