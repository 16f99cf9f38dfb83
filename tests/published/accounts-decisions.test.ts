// Rework or not, against published exercises. OSX = OpenStax, Principles of Accounting, Volume 2 (Managerial).
import { describe, expect, test } from "vitest";
import { decideRescue, type RescueInput } from "../../src/accounts/decide";
import { roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";

const certain: Omit<RescueInput, "asIs" | "material" | "success"> = {
  labour: 0,
  firings: [],
  room: 0,
  chance: 1,
  failure: 0,
};

test("R1: sells now for 22; rework 11, then 38: rework, ahead by 5; the sunk 30 is not asked for (OSX 10.5)", () => {
  expect(must(decideRescue({ ...certain, asIs: 22, material: 11, success: 38 }))).toMatchObject({
    choice: "rescue",
    rescueAhead: 5,
  });
});

describe("R4: 12,000 units, scrap 2.50, rework 3.50 then 9.50, and scrapping frees room (published exercise)", () => {
  // The room makes 12,000 new units at 5.30 that sell at 9.50.
  const room = 12_000 * (9.5 - 5.3);
  const batch = { ...certain, asIs: 12_000 * 2.5, material: 12_000 * 3.5, success: 12_000 * 9.5 };

  test("scrap at 30,000 beats rework at 21,600", () => {
    const decision = must(decideRescue({ ...batch, room }));
    expect(decision).toMatchObject({ choice: "leave", leaveWorth: 30_000 });
    expect(roundMoney(decision.rescueWorth, 6)).toBe(21_600);
  });

  test("with room to spare rework would win (exact arithmetic on the same data)", () => {
    expect(must(decideRescue(batch))).toMatchObject({ choice: "rescue", rescueWorth: 72_000 });
  });
});

test("R8: 374,000 − 198,000 − 156,000 = +20,000: rework (published data; the page that prints it subtracts sunk cost, wrongly)", () => {
  expect(must(decideRescue({ ...certain, asIs: 156_000, material: 198_000, success: 374_000 }))).toMatchObject({
    choice: "rescue",
    rescueAhead: 20_000,
  });
});

test("rule C on R1's figures: from a chance of 33 in 38 on (computed exactly)", () => {
  const atChance = (chance: number) => must(decideRescue({ ...certain, asIs: 22, material: 11, success: 38, chance }));
  expect(atChance(1).breakEven).toEqual({ kind: "from", chance: 33 / 38 });
  expect(atChance(33 / 38)).toMatchObject({ choice: "leave", rescueAhead: 0 });
  expect(atChance(34 / 38).choice).toBe("rescue");
  expect(atChance(32 / 38).choice).toBe("leave");
});
