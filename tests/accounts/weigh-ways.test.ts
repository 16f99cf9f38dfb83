import { describe, expect, test } from "vitest";
import { type LeavingWay, type RescuingWay, weighWays } from "../../src/accounts/decide";
import { netFetch } from "../../src/accounts/net-fetch";
import { must } from "./results";

const leaving: readonly LeavingWay[] = [
  { id: "as is", title: "As it is", brings: 12 },
  { id: "second", title: "Second", brings: 20 },
  { id: "scrap", title: "Scrap", brings: 0 },
];
const rescue = (id: string, chance: number, cost: number): RescuingWay => ({
  id,
  title: id,
  input: { material: cost, labour: 0, firings: [], room: 0, chance, success: 80, failure: -2 },
});

describe("ways forward side by side", () => {
  test("each rescue is held against the best way of leaving it", () => {
    const weighed = must(weighWays(leaving, [rescue("glaze", 0.5, 10), rescue("lustre", 0.75, 14)]));
    expect(weighed.bestLeaving.id).toBe("second");
    // 0.75 × 80 − 0.25 × 2 − 14 = 45.5; 25.5 more than the second. At best 66, at worst −16.
    expect(weighed.choice).toMatchObject({ id: "lustre", expected: 45.5, gain: 25.5, best: 66, worst: -16 });
    expect(weighed.ways.map(({ id, gain }) => [id, gain])).toEqual([
      ["as is", -8],
      ["second", 0],
      ["scrap", -20],
      ["glaze", 9],
      ["lustre", 25.5],
    ]);
  });

  test("where no rescue gains anything, it is left, and the best rescue is still named", () => {
    const weighed = must(weighWays(leaving, [rescue("glaze", 0.2, 10), rescue("lustre", 0.3, 14)]));
    expect(weighed.choice.id).toBe("second");
    // 0.3 × 80 − 0.7 × 2 − 14 = 8.6, 11.4 less than the second; the other one is expected to bring 4.4.
    expect(weighed.bestRescue?.id).toBe("lustre");
    expect(weighed.bestRescue?.gain).toBeCloseTo(-11.4, 12);
  });

  test("a rescue that can't be weighed is named, and the others are weighed", () => {
    const odd = { ...rescue("odd", 0.5, 1), input: { ...rescue("odd", 0.5, 1).input, failure: 90 } };
    const weighed = must(weighWays(leaving, [odd, rescue("lustre", 0.75, 14)]));
    expect(weighed.choice.id).toBe("lustre");
    expect(weighed.refused.map(({ message }) => message)).toEqual([expect.stringMatching(/^odd: .*failure fetches/)]);
  });

  test("there is always a way of leaving it", () => {
    expect(weighWays([], []).ok).toBe(false);
  });
});

test("what a sale brings: 120 with 20 % tax, 3 % fee, 0.30 fixed and 6 of packing leave 90.10; no sale leaves nothing", () => {
  const terms = { taxRate: 0.2, feeRate: 0.03, feeFixed: 0.3 };
  expect(netFetch(120, terms, 6)).toBeCloseTo(100 - 3.6 - 0.3 - 6, 12);
  expect(netFetch(0, terms, 6)).toBe(0);
});
