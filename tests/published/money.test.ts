// Published and exactly computed values of rounding, currencies and splitting.
import { describe, expect, test } from "vitest";
import { roundOverPieces } from "../../src/accounts/allocate";
import { currencyDigits } from "../../src/core/currency";
import { fromMinorUnits, roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";

describe("exactly half goes up: Council Regulation (EC) 1103/97, article 5", () => {
  // The regulation speaks of amounts above zero; that half of a credit mirrors half of a debit is our own rule.
  test.each([
    [1.005, 2, 1.01],
    [0.285, 2, 0.29],
    [-1.005, 2, -1.01],
    [2.5, 0, 3],
    [-2.5, 0, -3],
  ])("%d at %i places is %d", (x, digits, rounded) => {
    expect(roundMoney(x, digits)).toBe(rounded);
  });

  test("4.35 × 100 is 435 (exact arithmetic)", () => {
    expect(roundMoney(4.35 * 100, 0)).toBe(435);
    expect(roundMoney(4.35 * 100, 9)).toBe(435);
  });

  test("every half cent from 0.005 to 1999.995 goes up (exact arithmetic)", () => {
    const wrong: number[] = [];
    for (let cents = 0; cents < 200_000; cents += 1) {
      const half = Number(`${Math.floor(cents / 100)}.${String(cents % 100).padStart(2, "0")}5`);
      if (roundMoney(half, 2) !== (cents + 1) / 100) wrong.push(half);
    }
    expect(wrong).toEqual([]);
  });
});

describe("digits of currencies: ISO 4217, list one", () => {
  test.each([
    ["EUR", 2],
    ["USD", 2],
    ["GBP", 2],
    ["JPY", 0],
    ["KRW", 0],
    ["ISK", 0],
    ["CLP", 0],
    ["KWD", 3],
    ["BHD", 3],
    ["TND", 3],
    ["CLF", 4],
    ["UYW", 4],
    // Where the browser's list says 0.
    ["HUF", 2],
    ["IQD", 3],
    ["MGA", 2],
  ])("%s has %i", (code, digits) => {
    expect(must(currencyDigits(code))).toBe(digits);
  });
});

describe("largest remainder (computed exactly; ties to the first)", () => {
  test.each([
    { total: 2000, weights: [1, 1, 1, 1, 1, 1, 1], parts: [286, 286, 286, 286, 286, 285, 285] },
    { total: 10_000, weights: [1, 1, 1], parts: [3334, 3333, 3333] },
    { total: 5, weights: [30, 70], parts: [2, 3] },
    { total: 7319, weights: [1.2, 0.8, 0.8, 2.5, 0.35], parts: [1555, 1036, 1036, 3239, 453] },
  ])("$total over $weights", ({ total, weights, parts }) => {
    const whole = weights.reduce((sum, weight) => sum + weight, 0);
    const shares = weights.map((weight, at) => ({ piece: `${at}`, amount: (total * weight) / whole }));
    expect(must(roundOverPieces(shares, 0, total)).map(({ minor }) => minor)).toEqual(parts);
    expect(parts.reduce((sum, part) => sum + part, 0)).toBe(total);
    expect(fromMinorUnits(total, 2)).toBe(total / 100);
  });
});
