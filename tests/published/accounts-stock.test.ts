// Stock by the moving average and by first in, first out, held to the layers of textbooks. No text was at hand: the figures are
// from memory, and each can be checked by hand.
import { describe, expect, test } from "vitest";
import { type Movement, type StockMethod, stockOf } from "../../src/accounts/stock";
import { must } from "../accounts/results";

const bought = (day: string, grams: number, perGram: number): Movement => ({
  ...{ kind: "bought", day, grams, paid: grams * perGram, name: day },
});
const used = (day: string, grams: number): Movement => ({ kind: "used", day, grams, by: "sold" });

function outcome(movements: readonly Movement[], method: StockMethod) {
  const { lines, leftGrams, leftMinor } = must(stockOf(movements, method, { usual: 0, digits: 2 }));
  const out = lines.filter(({ movement }) => movement.kind === "used").reduce((sum, { minor }) => sum - minor, 0);
  return { costOfUse: out / 100, leftGrams, left: leftMinor / 100, lines };
}

// Weygandt, Kimmel and Kieso, Accounting Principles, the chapter on inventories and its appendix on perpetual records: 100 at
// 10, 200 at 11, 300 at 12, 400 at 13, and 550 sold before the last purchase. From memory.
describe("550 of 600, before the last purchase", () => {
  const movements = [
    ...[bought("2026-01-01", 100, 10), bought("2026-04-15", 200, 11), bought("2026-08-24", 300, 12)],
    ...[used("2026-09-10", 550), bought("2026-11-27", 400, 13)],
  ];
  test("first in, first out: cost 6,200, left 450 at 5,800", () => {
    expect(outcome(movements, "first in first out")).toMatchObject({ costOfUse: 6200, leftGrams: 450, left: 5800 });
  });
  test("moving average: 11.333 a unit, cost 6,233, left 5,767 at 12.816", () => {
    const { costOfUse, left, lines } = outcome(movements, "average");
    expect([Math.round(costOfUse), Math.round(left)]).toEqual([6233, 5767]);
    expect(lines[3]?.perGram).toBeCloseTo(11.333, 3);
    expect(Math.round(left) / 450).toBeCloseTo(12.816, 3);
  });
});

// Kieso, Weygandt and Warfield, Intermediate Accounting, the chapter on valuation of inventories: 2,000 at 4.00, 6,000 at 4.40,
// 4,000 sold, 2,000 at 4.75. From memory.
describe("4,000 of 8,000, and one more purchase", () => {
  const movements = [
    ...[bought("2026-03-02", 2000, 4), bought("2026-03-15", 6000, 4.4), used("2026-03-19", 4000)],
    bought("2026-03-30", 2000, 4.75),
  ];
  test("first in, first out: cost 16,800, left 27,100, from two purchases", () => {
    const found = outcome(movements, "first in first out");
    expect(found).toMatchObject({ costOfUse: 16_800, leftGrams: 6000, left: 27_100 });
    expect(found.lines[2]?.from).toEqual(["2026-03-02", "2026-03-15"]);
  });
  test("moving average: 4.30, then 4.45: cost 17,200, left 26,700", () => {
    const found = outcome(movements, "average");
    expect(found).toMatchObject({ costOfUse: 17_200, leftGrams: 6000, left: 26_700 });
    expect(found.lines[2]?.perGram).toBeCloseTo(4.3, 12);
    expect(found.left / 6000).toBeCloseTo(4.45, 12);
  });
});
