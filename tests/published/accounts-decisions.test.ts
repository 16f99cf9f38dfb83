// Rework or not, against published exercises. OSX = OpenStax, Principles of Accounting, Volume 2 (Managerial).
import { describe, expect, test } from "vitest";
import { decideRescue, type RescueInput, weighWays } from "../../src/accounts/decide";
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

describe("the same exercises, as ways side by side", () => {
  const ways = (asIs: number, input: Partial<RescueInput>) =>
    must(
      weighWays(
        [{ id: "sell", title: "Sell now", brings: asIs }],
        [{ id: "rework", title: "Rework", input: { ...certain, material: 0, success: 0, ...input } }],
      ),
    );

  test("R1: rework is the choice, and gains 5 over selling at 22 (OSX 10.5)", () => {
    const { choice, bestLeaving } = ways(22, { material: 11, success: 38 });
    expect(choice).toMatchObject({ id: "rework", expected: 27, gain: 5 });
    expect(bestLeaving.expected).toBe(22);
  });

  test("R4: with the room it takes, rework is 8,400 short of scrap; with room to spare it gains 42,000", () => {
    const batch = { material: 12_000 * 3.5, success: 12_000 * 9.5 };
    const short = ways(30_000, { ...batch, room: 12_000 * (9.5 - 5.3) });
    expect(short.choice.id).toBe("sell");
    expect(roundMoney(short.bestRescue?.gain ?? 0, 6)).toBe(-8400);
    expect(ways(30_000, batch).choice).toMatchObject({ id: "rework", gain: 42_000 });
  });

  test("R8: rework gains 20,000, the sunk cost nowhere in it", () => {
    expect(ways(156_000, { material: 198_000, success: 374_000 }).choice).toMatchObject({ id: "rework", gain: 20_000 });
  });

  test("rule C on R1's figures: the spread is 27 at best and −11 at worst; at 33 in 38 it is left", () => {
    const at = (chance: number) => ways(22, { material: 11, success: 38, chance });
    expect(at(0.9).bestRescue).toMatchObject({ best: 27, worst: -11 });
    expect(at(33 / 38).choice.id).toBe("sell");
    expect(at(33.001 / 38).choice.id).toBe("rework");
  });
});
