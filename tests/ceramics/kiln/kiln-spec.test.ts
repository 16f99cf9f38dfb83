import { describe, expect, test } from "vitest";
import { checkKiln, type KilnSpec, type WallLayer } from "../../../src/ceramics/kiln/kiln-spec";
import { heron, problemsIn, valueIn } from "./example";

const brick = (thicknessMm: number): WallLayer => ({ material: "brick-1260", thicknessMm });
const box = { kind: "rectangular", widthMm: 400, depthMm: 450, heightMm: 600 } as const;

describe("a sound kiln", () => {
  test("gets what it leaves unsaid", () => {
    expect(valueIn(checkKiln(heron))).toEqual({
      ...heron,
      lid: heron.wall,
      floor: heron.wall,
      roomC: 20,
      // 74 litres: 0.3 × √0.74.
      ventLitresPerSecond: expect.closeTo(0.258, 3),
      shellEmissivity: 0.3,
      wallLossFactor: 1,
      storedHeatFactor: 1,
    });
  });

  test("keeps what it says", () => {
    const said = { ...heron, lid: [brick(100)], floor: [brick(114)], roomC: 5, ventLitresPerSecond: 0 };
    expect(valueIn(checkKiln(said))).toMatchObject(said);
  });
});

describe("each fault names its field, what was found and what is allowed", () => {
  const cases: readonly (readonly [string, Partial<KilnSpec>, string, string, RegExp])[] = [
    ["no power", { ratedKw: 0 }, "Heron, rated power", "0", /above 0 and up to 2000 kW/],
    ["negative power", { ratedKw: -3 }, "Heron, rated power", "-3", /above 0/],
    ["power that is no number", { ratedKw: Number.NaN }, "Heron, rated power", "NaN", /above 0/],
    ["a wall of nothing", { wall: [brick(0)] }, "Heron, wall, layer 1, thickness", "0", /above 0 and up to 500 mm/],
    ["a wall with no layers", { wall: [] }, "Heron, wall", "nothing", /one layer or more/],
    ["a thin second layer", { wall: [brick(76), brick(-1)] }, "Heron, wall, layer 2, thickness", "-1", /500 mm/],
    ["a lid of nothing", { lid: [brick(0)] }, "Heron, lid, layer 1, thickness", "0", /500 mm/],
    ["a floor with no layers", { floor: [] }, "Heron, floor", "nothing", /one layer/],
    ["a vent against the wind", { ventLitresPerSecond: -1 }, "Heron, vent", "-1", /0 to 20 litres a second/],
    ["a room in a furnace", { roomC: 300 }, "Heron, room temperature", "300", /0 to 45 °C/],
    ["emissivity above one", { shellEmissivity: 1.2 }, "Heron, shell emissivity", "1.2", /0 to 1/],
    ["a wild loss factor", { wallLossFactor: 5 }, "Heron, wall loss factor", "5", /0.3 to 3/],
    ["no stored heat", { storedHeatFactor: 0 }, "Heron, stored heat factor", "0", /0.3 to 3/],
    ["a tiny chamber", { chamber: { ...box, widthMm: 4 } }, "Heron, chamber width", "4", /50 to 5000 mm/],
    ["no depth", { chamber: { ...box, depthMm: 0 } }, "Heron, chamber depth", "0", /50 to 5000 mm/],
    ["no height", { chamber: { ...box, heightMm: 0 } }, "Heron, chamber height", "0", /50 to 5000 mm/],
    [
      "no diameter",
      { chamber: { kind: "round", diameterMm: 0, heightMm: 400 } },
      "Heron, chamber diameter",
      "0",
      /50 to 5000 mm/,
    ],
  ];
  test.each(cases)("%s", (_, change, where, found, allowed) => {
    const problems = problemsIn(checkKiln({ ...heron, ...change }));
    expect(problems).toHaveLength(1);
    expect(problems[0]?.where).toBe(where);
    expect(problems[0]?.found).toBe(found);
    expect(problems[0]?.allowed).toMatch(allowed);
    expect(problems[0]?.message).toContain(where);
  });

  test("a material and a shape that don't exist, as they may come out of a file", () => {
    const odd = JSON.parse(
      '{"wall":[{"material":"cheese","thicknessMm":76}],"chamber":{"kind":"heart","heightMm":500}}',
    );
    const problems = problemsIn(checkKiln({ ...heron, ...odd }));
    expect(problems.map(({ code }) => code)).toEqual(["kiln.shape", "kiln.material"]);
    expect(problems[0]?.allowed).toBe("round or rectangular");
    expect(problems[1]?.where).toBe("Heron, wall, layer 1, material");
    expect(problems[1]?.allowed).toContain("brick-1260");
  });

  test("all faults are told at once", () => {
    const problems = problemsIn(checkKiln({ ...heron, ratedKw: 0, wall: [brick(0)], roomC: -40 }));
    expect(problems).toHaveLength(3);
  });
});
