import { describe, expect, test } from "vitest";
import { currencyDigits } from "../../src/core/currency";
import {
  fromMinorUnits,
  handOutLeftover,
  minorUnitsText,
  roundDecimal,
  roundMoney,
  sumDecimals,
  toDecimal,
  toMinorUnits,
} from "../../src/core/money";
import { codesOf, must, problemsOf } from "../accounts/results";

describe("decimals", () => {
  test.each([
    [1.005, 1005n, 3],
    [-2.5, -25n, 1],
    [0, 0n, 0],
    [12, 12n, 0],
    [1.5e-7, 15n, 8],
    [2e21, 2n * 10n ** 21n, 0],
  ])("%d is an exact decimal", (x, units, scale) => {
    const decimal = toDecimal(x);
    const bigger = Math.max(decimal.scale, scale);
    expect(decimal.units * 10n ** BigInt(bigger - decimal.scale)).toBe(units * 10n ** BigInt(bigger - scale));
  });

  test("noise of binary sums goes, digits that were typed stay", () => {
    expect(roundDecimal(toDecimal(0.1 + 0.2), 15)).toBe(300_000_000_000_000n);
    expect(roundDecimal(toDecimal(1.00499999999999), 14)).toBe(100_499_999_999_999n);
  });

  test("sums are exact in any order", () => {
    const parts = [0.1, 0.2, 1e12, 0.3, -1e12].map((x) => toDecimal(x));
    expect(roundDecimal(sumDecimals(parts), 3)).toBe(600n);
    expect(roundDecimal(sumDecimals([...parts].reverse()), 3)).toBe(600n);
    expect(sumDecimals([])).toEqual({ units: 0n, scale: 0 });
  });

  test("what is not a number is a mistake of ours", () => {
    expect(() => toDecimal(Number.NaN)).toThrow(RangeError);
  });
});

describe("rounding", () => {
  test.each([
    [2.345, 2, 2.35],
    [2.3449999, 2, 2.34],
    [-2.345, 2, -2.35],
    [0.5, 0, 1],
    [-0.5, 0, -1],
    [0.4999, 0, 0],
    [1234.5678, 3, 1234.568],
    [7, 2, 7],
    [0.1 + 0.2, 2, 0.3],
    [1e-9, 2, 0],
    [9_999_999_999.995, 2, 10_000_000_000],
    [123_456_789_012.345, 2, 123_456_789_012.35],
    [12_345_678_901_234.56, 2, 12_345_678_901_234.56],
    [1e300, 2, 1e300],
  ])("%d at %i places is %d", (x, digits, rounded) => {
    expect(roundMoney(x, digits)).toBe(rounded);
  });

  test("two places unless another number is given", () => {
    expect(roundMoney(2.71499)).toBe(2.71);
  });

  test("what is not finite comes back as it is", () => {
    expect(roundMoney(Number.NaN)).toBeNaN();
    expect(roundMoney(Number.NEGATIVE_INFINITY)).toBe(Number.NEGATIVE_INFINITY);
  });
});

describe("minor units", () => {
  test.each([
    [12.345, 2, 1235],
    [-12.345, 2, -1235],
    [12.5, 0, 13],
    [1.2345, 3, 1235],
    [0.00005, 4, 1],
    [12_345_678_901_234.56, 2, 1_234_567_890_123_456],
  ])("%d at %i digits is %i", (amount, digits, minor) => {
    expect(must(toMinorUnits(amount, digits))).toBe(minor);
  });

  test("what cannot be counted is a problem", () => {
    for (const amount of [Number.NaN, Number.POSITIVE_INFINITY, 1e15]) {
      expect(codesOf(toMinorUnits(amount, 2))).toEqual(["money.amount"]);
    }
    expect(problemsOf(toMinorUnits(Number.NaN, 2))[0]?.message).toBe(
      "An amount of money: found NaN, but it takes a number that can be counted in steps of 0.01 up to 9007199254740991 of them.",
    );
  });

  test("back to an amount, and written out", () => {
    expect(fromMinorUnits(1235, 2)).toBe(12.35);
    expect(fromMinorUnits(-5, 3)).toBe(-0.005);
    expect(minorUnitsText(1230, 2)).toBe("12.30");
    expect(minorUnitsText(-5, 2)).toBe("-0.05");
    expect(minorUnitsText(0, 3)).toBe("0.000");
    expect(minorUnitsText(-41, 0)).toBe("-41");
  });
});

describe("currencies", () => {
  test.each(["eur", "XAU", "XXX", "EURO", "", "constructor"])("%j has no digits", (code) => {
    expect(codesOf(currencyDigits(code))).toEqual(["money.currency"]);
  });

  test("an unknown code says what is taken", () => {
    expect(problemsOf(currencyDigits("EURO"))[0]?.message).toBe(
      "The currency: found “EURO”, but it takes an ISO 4217 code in capitals that has coins, such as EUR, USD, JPY or KWD.",
    );
  });
});

describe("largest remainder", () => {
  test("leftover units go by remainder, then by index", () => {
    const quotas = [
      { floor: 1n, remainder: 2n },
      { floor: 1n, remainder: 5n },
      { floor: 1n, remainder: 5n },
    ];
    expect(handOutLeftover(quotas, 1)).toEqual([1, 2, 1]);
    expect(handOutLeftover(quotas, 2)).toEqual([1, 2, 2]);
  });
});
