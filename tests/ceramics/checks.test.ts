import { describe, expect, it } from "vitest";
import {
  aboveZero,
  between,
  checked,
  finite,
  fromZero,
  part,
  partAboveZero,
  partBelowOne,
  partInside,
  present,
  whole,
} from "../../src/ceramics/checks";
import { messagesOf } from "./read-reference";

const never = [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];

describe("checks of arguments", () => {
  it.each([
    ["finite", (value: number) => finite("it", value), [-1, 0, 5], []],
    ["fromZero", (value: number) => fromZero("it", value), [0, 0.1, 1e9], [-1e-9]],
    ["aboveZero", (value: number) => aboveZero("it", value), [1e-9, 7], [0, -3]],
    ["between", (value: number) => between("it", value, 30, 300), [30, 77, 300], [29.999, 300.001]],
    ["partBelowOne", (value: number) => partBelowOne("it", value), [0, 0.5, 0.999999], [-0.1, 1]],
    ["partAboveZero", (value: number) => partAboveZero("it", value), [1e-9, 1], [0, 1.0001]],
    ["part", (value: number) => part("it", value), [0, 0.3, 1], [-1e-9, 1.0001]],
    ["partInside", (value: number) => partInside("it", value), [1e-9, 0.999], [0, 1]],
    ["whole", (value: number) => whole("it", value, 1, 9), [1, 9], [0, 1.5, 10]],
  ] as const)("%s takes and refuses", (_name, check, taken, refused) => {
    for (const value of taken) expect(check(value)).toBeUndefined();
    for (const value of refused) expect(check(value)?.code).toBe("number.range");
    for (const value of never) expect(check(value)?.code).toBe("number.missing");
  });

  it("names the parameter, what was found, and what is allowed", () => {
    expect(fromZero("area", -2, "cm²")?.message).toBe("area: found -2, but it takes a number from 0 up, in cm².");
    expect(aboveZero("density", Number.NaN, "g/cm³")?.message).toBe(
      "density: found NaN, but it takes a number above 0, in g/cm³.",
    );
    expect(whole("good", 2.5)?.message).toBe(
      "good: found 2.5, but it takes a whole number from 0 to 10\u202f000\u202f000.",
    );
    expect(partAboveZero("transfer", 65)?.message).toBe(
      "transfer: found 65, but it takes a fraction above 0 and up to 1. Write a percentage as a fraction: 65 % is 0.65.",
    );
    expect(partBelowOne("waste", -1)?.message).toBe("waste: found -1, but it takes a fraction from 0 to below 1.");
  });

  it("reports every problem at once, and runs the formula only when there is none", () => {
    const refuse = () => {
      throw new Error("the formula must not run");
    };
    const result = checked([fromZero("area", -2), undefined, fromZero("coats", -1)], refuse, "answer");
    expect(messagesOf(result)).toHaveLength(2);
    expect(checked([undefined], () => 3, "answer")).toEqual({ ok: true, value: 3 });
    expect(present([undefined, undefined])).toEqual([]);
  });

  it("refuses an answer that is no number", () => {
    expect(messagesOf(checked([], () => 1e200 * 1e200, "area"))).toEqual([
      "area: found Infinity, but it takes an answer that can be written as a number. One of the values given is far too large or too small.",
    ]);
  });
});
