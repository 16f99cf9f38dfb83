import * as jstat from "jstat";
import { describe, expect, it } from "vitest";
import { clopperPearson, wilson } from "../../src/ceramics/intervals";
import { messagesOf, problemsOf, valueIn } from "./read-reference";

describe("Wilson's interval", () => {
  // Computed with mpmath at 40 digits from the formula in Newcombe 1998.
  it.each([
    [0, 20, 0.95, 0, 0.161125158052819],
    [1, 29, 0.95, 0.00611321429276266, 0.171755218793203],
    [15, 148, 0.95, 0.0623863995307363, 0.160487241723308],
    [81, 263, 0.95, 0.255288519878274, 0.3662095769828],
    [3, 3, 0.8, 0.646221035125877, 1],
    [17, 120, 0.99, 0.0784445980095395, 0.242437699774826],
    [1, 1000, 0.95, 0.000176546370626078, 0.00564255859795794],
  ])("of %i lost of %i at %d", (lost, entered, confidence, low, high) => {
    const interval = valueIn(wilson(lost, entered, confidence));
    expect(interval.low).toBeCloseTo(low, 13);
    expect(interval.high).toBeCloseTo(high, 13);
  });

  it("ends exactly at 0 and 1, and its ends solve |rate − counted| = z × deviation", () => {
    expect(valueIn(wilson(0, 33, 0.9)).low).toBe(0);
    expect(valueIn(wilson(33, 33, 0.9)).high).toBe(1);
    expect(valueIn(wilson(0, 1, 1e-30))).toEqual({ low: 0, high: 0 });
    const { low, high } = valueIn(wilson(4, 50, 0.95));
    for (const end of [low, high])
      expect(Math.abs(end - 0.08) / Math.sqrt((end * (1 - end)) / 50)).toBeCloseTo(1.959963984540054, 10);
  });
});

describe("the exact interval", () => {
  // Computed with mpmath at 40 digits by bisection of the regularised incomplete beta function.
  it.each([
    [0, 20, 0.95, 0, 0.168433470983085],
    [1, 29, 0.95, 0.000872646883579922, 0.177644295488723],
    [4, 20, 0.9, 0.0713538843086182, 0.401028117331975],
    [4, 20, 0.95, 0.0573339970500328, 0.436614002996668],
    [15, 148, 0.95, 0.0578440100834486, 0.161650490349479],
    [81, 263, 0.95, 0.252736745585271, 0.367621922601351],
    [3, 3, 0.8, 0.464158883361278, 1],
    [17, 120, 0.99, 0.0711141754290974, 0.241896868960771],
    [1, 1000, 0.95, 2.5317487491294e-5, 0.00555892427982667],
    [400, 5000, 0.9, 0.0737719337357001, 0.0865941758194761],
  ])("of %i lost of %i at %d", (lost, entered, confidence, low, high) => {
    const interval = valueIn(clopperPearson(lost, entered, confidence));
    expect(interval.low).toBeCloseTo(low, 13);
    expect(interval.high).toBeCloseTo(high, 13);
  });

  it("agrees with the beta quantiles of jstat", () => {
    for (const entered of [1, 2, 9, 40, 333])
      for (const confidence of [0.5, 0.8, 0.95, 0.99])
        for (let at = 0; at <= 6; at += 1) {
          const lost = Math.round((entered * at) / 6);
          const tail = (1 - confidence) / 2;
          const { low, high } = valueIn(clopperPearson(lost, entered, confidence));
          if (lost > 0) expect(low).toBeCloseTo(jstat.beta.inv(tail, lost, entered - lost + 1), 7);
          if (lost < entered) expect(high).toBeCloseTo(jstat.beta.inv(1 - tail, lost + 1, entered - lost), 7);
        }
  });

  it("has plain ends where nothing or everything was lost", () => {
    // None of n: high = 1 − tail^(1/n); all of n: low = tail^(1/n).
    for (const entered of [1, 5, 80, 100_000]) {
      const none = valueIn(clopperPearson(0, entered, 0.95));
      expect(none.low).toBe(0);
      expect(none.high / -Math.expm1(Math.log(0.025) / entered)).toBeCloseTo(1, 10);
      const all = valueIn(clopperPearson(entered, entered, 0.95));
      expect(all.high).toBe(1);
      expect(all.low).toBeCloseTo(0.025 ** (1 / entered), 12);
    }
  });
});

describe("both", () => {
  it.each([wilson, clopperPearson])("refuse what can't be: %s", (interval) => {
    expect(messagesOf(interval(4, 3, 95))).toEqual([
      "lost: found 4, but it takes a whole number from 0 to 3.",
      "confidence: found 95, but it takes a fraction above 0 and below 1. Write a percentage as a fraction: 65 % is 0.65.",
    ]);
    expect(messagesOf(interval(0, 0, 0.95))).toEqual([
      "entered: found 0, but it takes a whole number from 1 to 10\u202f000\u202f000.",
    ]);
    expect(problemsOf(interval(-1, Number.NaN, 0)).map((one) => one.where)).toEqual(["entered", "lost", "confidence"]);
    expect(problemsOf(interval(1.5, 20, 1)).map((one) => one.where)).toEqual(["lost", "confidence"]);
  });
});
