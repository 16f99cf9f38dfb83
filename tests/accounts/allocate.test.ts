import { describe, expect, test } from "vitest";
import { comparePieceNumbers, roundOverPieces, roundTogether, roundToTotal } from "../../src/accounts/allocate";
import { toDecimal } from "../../src/core/money";
import { codesOf, must } from "./results";

describe("piece numbers", () => {
  test("are ordered as people order them", () => {
    const ordered = ["1", "2", "02", "10", "A", "A-2", "A-2b", "A-10", "B1", "B1-1"];
    expect([...ordered].reverse().sort(comparePieceNumbers)).toEqual(ordered);
  });

  test("longer than any number still compare", () => {
    expect(comparePieceNumbers("9".repeat(40), `1${"0".repeat(40)}`)).toBe(-1);
    expect(comparePieceNumbers("7", "7")).toBe(0);
  });
});

describe("rounding to a total", () => {
  test("hands what is over or short to those rounded furthest the other way", () => {
    // 2.24 → 2, 1.26 → 1, 3.1 → 3: 6; of 7 the one more goes to 1.26.
    expect(roundToTotal([2.24, 1.26, 3.1], 0, 7)).toEqual([2, 2, 3]);
    expect(roundToTotal([2.24, 1.26, 3.1], 0, 5)).toEqual([2, 1, 2]);
    expect(roundToTotal([1, 0, 1], 2, 203)).toEqual([102, 0, 101]);
    expect(roundToTotal([], 2, 0)).toEqual([]);
    expect(roundToTotal([0, 0], 2, 1)).toEqual([1, 0]);
  });
});

describe("rounding over pieces", () => {
  const amounts = (...list: readonly number[]) => list.map((amount, index) => ({ piece: `${index + 1}`, amount }));
  const minors = (list: readonly number[], digits = 2, total?: number) =>
    must(roundOverPieces(amounts(...list), digits, total)).map(({ minor }) => minor);

  test("takes each down or up so that they sum to the rounded total", () => {
    // 3 × 3.333 = 9.999 → 10.00: all three up, the third of a cent having been the same for all.
    expect(minors([3.333, 3.333, 3.333])).toEqual([334, 333, 333]);
    expect(minors([1.004, 1.004, 1.004, 1.004, 1.004])).toEqual([101, 101, 100, 100, 100]);
    expect(minors([0.5, 0.5], 0)).toEqual([1, 0]);
  });

  test("leaves whole cents alone", () => {
    expect(minors([3, 1.0075, 2.25])).toEqual([300, 101, 225]);
  });

  test("mirrors a total below zero", () => {
    expect(minors([-3.333, -3.333, -3.333])).toEqual([-334, -333, -333]);
    expect(minors([-0.5, 0.25], 0)).toEqual([0, 0]);
  });

  test("reaches a total that is given, if rounding can", () => {
    expect(minors([0.4, 0.4], 0, 0)).toEqual([0, 0]);
    expect(minors([0.4, 0.4], 0, 2)).toEqual([1, 1]);
    for (const total of [3, -1, 0.5])
      expect(codesOf(roundOverPieces(amounts(0.4, 0.4), 0, total))).toEqual(["split.total"]);
  });

  test("leaves whole amounts whole, even to reach a total", () => {
    expect(codesOf(roundOverPieces(amounts(1, 1), 0, 3))).toEqual(["split.total"]);
    expect(minors([1, 0.5, 1], 0, 3)).toEqual([1, 1, 1]);
  });

  test("does not care for the order of the list", () => {
    const list = amounts(0.335, 0.335, 0.33);
    const reversed = must(roundOverPieces([...list].reverse(), 2));
    expect([...reversed].reverse()).toEqual(must(roundOverPieces(list, 2)));
  });

  test("refuses what is no amount", () => {
    expect(codesOf(roundOverPieces(amounts(1, Number.NaN), 2))).toEqual(["number.missing"]);
    expect(codesOf(roundOverPieces([...amounts(1), ...amounts(2)], 2))).toEqual(["name.twice"]);
    expect(codesOf(roundOverPieces(amounts(1e20), 2))).toEqual(["split.total"]);
  });

  test("of nothing is nothing", () => {
    expect(must(roundTogether([], 2))).toEqual([]);
    expect(must(roundTogether([toDecimal(0)], 2))).toEqual([0]);
  });
});
