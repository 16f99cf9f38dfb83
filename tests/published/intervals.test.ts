// Intervals of a loss rate against published examples.
import { describe, expect, it } from "vitest";
import { clopperPearson, type LossInterval, wilson } from "../../src/ceramics/intervals";
import { normalQuantile } from "../../src/ceramics/normal";
import { valueIn } from "../ceramics/read-reference";

const rounded = ({ low, high }: LossInterval, places: number) => [low.toFixed(places), high.toFixed(places)];

describe("intervals at 95 %", () => {
  it("Wilson, 81 of 263: .2553–.3662 (Newcombe 1998, Statistics in Medicine 17, 857)", () => {
    expect(rounded(valueIn(wilson(81, 263, 0.95)), 4)).toEqual(["0.2553", "0.3662"]);
  });

  it("exact, 4 of 20: .05733–.43661 (computed; example of the NIST/SEMATECH handbook)", () => {
    expect(rounded(valueIn(clopperPearson(4, 20, 0.95)), 5)).toEqual(["0.05733", "0.43661"]);
  });

  // The other rows of Newcombe's table of methods, from memory.
  it.each([
    [15, 148, ["0.0624", "0.1605"], ["0.0578", "0.1617"]],
    [0, 20, ["0.0000", "0.1611"], ["0.0000", "0.1684"]],
    [1, 29, ["0.0061", "0.1718"], ["0.0009", "0.1776"]],
    [81, 263, ["0.2553", "0.3662"], ["0.2527", "0.3676"]],
  ])("%i of %i, Wilson and exact (Newcombe 1998, from memory)", (lost, entered, score, exact) => {
    expect(rounded(valueIn(wilson(lost, entered, 0.95)), 4)).toEqual(score);
    expect(rounded(valueIn(clopperPearson(lost, entered, 0.95)), 4)).toEqual(exact);
  });

  it("rest on the normal quantile 1.959964 (any table of the normal distribution)", () => {
    expect(normalQuantile(0.975).toFixed(6)).toBe("1.959964");
    expect(normalQuantile(0.95).toFixed(6)).toBe("1.644854");
    expect(normalQuantile(0.995).toFixed(6)).toBe("2.575829");
  });
});
