import { describe, expect, test } from "vitest";
import { type FiringProgramme, oneRamp, peakOf, resolveCones } from "../../../src/ceramics/kiln/programme";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import { STARTER_PROGRAMMES } from "../../../src/ceramics/kiln/starter-programmes";
import { fail, ok, problem } from "../../../src/core/problem";
import { bisque, bisqueLoad, glazeLoad, heron, problemsIn, valueIn } from "./example";

const step = { rateCPerHour: 100, targetC: 800, soakMinutes: 0 };
const withStep = (change: object): FiringProgramme => ({ name: "trial", segments: [{ ...step, ...change }] });

describe("faults of a programme name their field", () => {
  test.each([
    ["a negative rate", { rateCPerHour: -60 }, "trial, ramp 1, rate", "-60", /above 0 and up to 3000 °C an hour/],
    ["no rate", { rateCPerHour: 0 }, "trial, ramp 1, rate", "0", /above 0/],
    ["a target below the room", { targetC: 15 }, "trial, ramp 1, target", "15", /above 20 and up to 1800 °C/],
    ["a target beyond all brick", { targetC: 2500 }, "trial, ramp 1, target", "2500", /up to 1800 °C/],
    ["a soak back in time", { soakMinutes: -5 }, "trial, ramp 1, soak", "-5", /0 to 6000 minutes/],
    ["a storm", { ventLitresPerSecond: 99 }, "trial, ramp 1, vent", "99", /0 to 20 litres a second/],
  ])("%s", (_, change, where, found, allowed) => {
    const problems = problemsIn(simulateFiring(heron, withStep(change), bisqueLoad));
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ code: "kiln.number", where, found });
    expect(problems[0]?.allowed).toMatch(allowed);
  });

  test("a programme of no steps", () => {
    const [found] = problemsIn(simulateFiring(heron, { name: "trial", segments: [] }, bisqueLoad));
    expect(found).toMatchObject({ code: "kiln.no-segments", where: "trial, steps" });
  });
});

test("the peak of a programme is its highest target", () => {
  expect(peakOf({ name: "down again", segments: [{ ...step, targetC: 1200 }, step] })).toBe(1200);
  expect(oneRamp(900, 120, 5)).toEqual({
    name: "one ramp",
    segments: [{ rateCPerHour: 120, targetC: 900, soakMinutes: 5 }],
  });
});

describe("cones as targets", () => {
  test("are looked up at the rate of their own step, 150 °C an hour for the fastest", () => {
    const asked: unknown[] = [];
    const lookUp = (cone: string, rate: number) => {
      asked.push([cone, rate]);
      return ok(1000 + rate);
    };
    const programme = {
      name: "cones",
      segments: [
        { rateCPerHour: 100, target: { celsius: 600 }, soakMinutes: 1, ventLitresPerSecond: 2 },
        { rateCPerHour: 60, target: { cone: "06" }, soakMinutes: 2 },
        { rateCPerHour: "fastest" as const, target: { cone: "6" }, soakMinutes: 3 },
      ],
    };
    expect(valueIn(resolveCones(programme, lookUp))).toEqual({
      name: "cones",
      segments: [
        { rateCPerHour: 100, targetC: 600, soakMinutes: 1, ventLitresPerSecond: 2 },
        { rateCPerHour: 60, targetC: 1060, soakMinutes: 2 },
        { rateCPerHour: "fastest", targetC: 1150, soakMinutes: 3 },
      ],
    });
    expect(asked).toEqual([
      ["06", 60],
      ["6", 150],
    ]);
  });

  test("pass on what the look-up says is wrong, for every step", () => {
    const lookUp = (cone: string) => fail(problem({ code: "cone", where: "cone", found: cone, allowed: "a cone" }));
    const segments = ["x", "y"].map((cone) => ({ rateCPerHour: 60, target: { cone }, soakMinutes: 0 }));
    expect(problemsIn(resolveCones({ name: "cones", segments }, lookUp)).map(({ found }) => found)).toEqual([
      "“x”",
      "“y”",
    ]);
  });
});

describe("the programmes to begin with", () => {
  // Orton self-supporting at 60 °C/h (reference chart); close enough for a run-through.
  const cones: Record<string, number> = { "06": 998, "6": 1222, "10": 1285, "018": 715 };
  const lookUp = (cone: string, rate: number) => {
    expect(rate).toBeGreaterThanOrEqual(60);
    expect(rate).toBeLessThanOrEqual(150);
    return ok(cones[cone] ?? Number.NaN);
  };

  test("all run in a kiln of a higher class of brick, on time", () => {
    const hot = { ...heron, wall: [{ material: "brick-1400" as const, thicknessMm: 76 }], ratedKw: 9 };
    for (const starter of STARTER_PROGRAMMES) {
      const programme = valueIn(resolveCones(starter, lookUp));
      const firing = valueIn(simulateFiring(hot, programme, starter.name.includes("bisque") ? bisqueLoad : glazeLoad));
      expect(firing.lateMinutes.every((minutes) => minutes < 30)).toBe(true);
      expect(peakOf(programme)).toBe(programme.segments.at(-1)?.targetC);
    }
    expect(STARTER_PROGRAMMES.map(({ name }) => name)).toEqual([
      "slow bisque",
      "glaze, middle fire",
      "glaze, high fire",
      "low lustre",
    ]);
  });

  test("lustre and bisque begin vented and end shut; lustre is fired at cone 018 (common practice)", () => {
    for (const name of ["slow bisque", "low lustre"]) {
      const starter = STARTER_PROGRAMMES.find((one) => one.name === name);
      expect(starter?.segments[0]?.ventLitresPerSecond).toBeGreaterThan(1);
      expect(starter?.segments.at(-1)?.ventLitresPerSecond).toBeUndefined();
    }
    expect(STARTER_PROGRAMMES.at(-1)?.segments.at(-1)?.target).toEqual({ cone: "018" });
  });
});

test("a bisque names its own steps in late minutes", () => {
  expect(valueIn(simulateFiring(heron, bisque, bisqueLoad)).lateMinutes).toHaveLength(bisque.segments.length);
});
