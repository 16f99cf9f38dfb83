import { describe, expect, test } from "vitest";
import { decideRescue, type RescueInput } from "../../src/accounts/decide";
import { codesOf, must } from "./results";

// A lantern with a crawled band: 20 as a second; another coat, another low firing; 80 when it comes out well.
const rescue: RescueInput = {
  asIs: 20,
  material: 3,
  labour: 6,
  firings: [{ ridesInPlannedLoad: true, marginalCost: 1, fullCost: 14 }],
  room: 0,
  chance: 0.75,
  success: 80,
  failure: 0,
};

describe("a rescue", () => {
  test("that rides in a planned load pays only the marginal cost", () => {
    // 0.75 × 80 − 10 = 50 against 20; break-even at (20 + 10) ÷ 80.
    expect(must(decideRescue(rescue))).toEqual({
      choice: "rescue",
      rescueWorth: 50,
      leaveWorth: 20,
      rescueAhead: 30,
      rescueCost: 10,
      breakEven: { kind: "from", chance: 0.375 },
    });
  });

  test("fired alone bears the whole firing", () => {
    const firings = [{ ridesInPlannedLoad: false, marginalCost: 1, fullCost: 41 }];
    expect(must(decideRescue({ ...rescue, firings }))).toMatchObject({
      choice: "leave",
      rescueCost: 50,
      rescueAhead: -10,
      breakEven: { kind: "from", chance: 0.875 },
    });
  });

  test("pays for kiln room that is short", () => {
    expect(must(decideRescue({ ...rescue, room: 30 }))).toMatchObject({ rescueAhead: 0, choice: "leave" });
    expect(must(decideRescue({ ...rescue, room: 29 }))).toMatchObject({ rescueAhead: 1, choice: "rescue" });
  });

  test("counts what failure fetches", () => {
    expect(must(decideRescue({ ...rescue, failure: 8 }))).toMatchObject({
      rescueAhead: 32,
      breakEven: { kind: "from", chance: 22 / 72 },
    });
  });

  test("can pay whatever the chance, or never", () => {
    expect(must(decideRescue({ ...rescue, asIs: -15, chance: 0 }))).toMatchObject({
      choice: "rescue",
      breakEven: { kind: "always" },
    });
    expect(must(decideRescue({ ...rescue, success: 30, chance: 1 }))).toMatchObject({
      choice: "leave",
      breakEven: { kind: "never" },
    });
  });

  test("that ties but for binary noise leaves the piece alone", () => {
    const tie = { ...rescue, asIs: 0.3, material: 0, labour: 0, firings: [], chance: 1, success: 0.1 + 0.2 };
    expect(must(decideRescue(tie))).toMatchObject({ choice: "leave", rescueAhead: 0 });
  });

  test.each<[string, Partial<RescueInput>, string]>([
    ["a chance in percent", { chance: 75 }, "number.range"],
    ["a negative cost", { labour: -1 }, "number.range"],
    [
      "a firing that costs less than nothing",
      { firings: [{ ridesInPlannedLoad: true, marginalCost: -1, fullCost: 1 }] },
      "number.range",
    ],
    ["success worth less than failure", { failure: 90 }, "rescue.backwards"],
    ["no number", { asIs: Number.NaN }, "number.missing"],
  ])("refuses %s", (_, changed, code) => {
    expect(codesOf(decideRescue({ ...rescue, ...changed }))).toEqual([code]);
  });
});
