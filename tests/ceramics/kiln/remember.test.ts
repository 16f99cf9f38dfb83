import { describe, expect, test, vi } from "vitest";
import { dutyKwh } from "../../../src/ceramics/kiln/duty";
import { rememberFirings } from "../../../src/ceramics/kiln/remember";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import { bisque, bisqueLoad, glazeLoad, heron, problemsIn } from "./example";

describe("remembered firings", () => {
  test("are calculated once for the same inputs, whoever made the objects", () => {
    const simulate = vi.fn(simulateFiring);
    const remembered = rememberFirings(4, simulate);
    const first = remembered(heron, bisque, bisqueLoad);
    expect(remembered(structuredClone(heron), structuredClone(bisque), { ...bisqueLoad })).toBe(first);
    expect(simulate).toHaveBeenCalledTimes(1);
    expect(first).toEqual(simulateFiring(heron, bisque, bisqueLoad));
  });

  test("are calculated anew for any other input", () => {
    const simulate = vi.fn(simulateFiring);
    const remembered = rememberFirings(9, simulate);
    remembered(heron, bisque, bisqueLoad);
    remembered({ ...heron, ratedKw: 7 }, bisque, bisqueLoad);
    remembered(heron, { ...bisque, name: "again" }, bisqueLoad);
    remembered(heron, bisque, glazeLoad);
    remembered(heron, bisque, bisqueLoad, { withCooling: false });
    expect(simulate).toHaveBeenCalledTimes(5);
  });

  test("forget the one not asked for longest", () => {
    const simulate = vi.fn(simulateFiring);
    const remembered = rememberFirings(2, simulate);
    const [one, two, three] = [1, 2, 3].map((kg) => ({ ...bisqueLoad, furnitureKg: kg }));
    remembered(heron, bisque, one!);
    remembered(heron, bisque, two!);
    remembered(heron, bisque, one!);
    remembered(heron, bisque, three!);
    expect(simulate).toHaveBeenCalledTimes(3);
    remembered(heron, bisque, one!);
    expect(simulate).toHaveBeenCalledTimes(3);
    remembered(heron, bisque, two!);
    expect(simulate).toHaveBeenCalledTimes(4);
  });

  test("don't mix up faults that look alike when written down", () => {
    const remembered = rememberFirings(4);
    const nan = problemsIn(remembered({ ...heron, ratedKw: Number.NaN }, bisque, bisqueLoad));
    const infinite = problemsIn(remembered({ ...heron, ratedKw: Number.POSITIVE_INFINITY }, bisque, bisqueLoad));
    expect(nan[0]?.found).toBe("NaN");
    expect(infinite[0]?.found).toBe("Infinity");
  });
});

describe("rated power × hours × duty", () => {
  test.each([
    [0, 8, 0.5, "rated power"],
    [5, -1, 0.5, "hours"],
    [5, 8, 50, "duty"],
  ])("%d kW, %d h, %d names %s", (kw, hours, duty, where) => {
    expect(problemsIn(dutyKwh(kw, hours, duty)).map((one) => one.where)).toEqual([where]);
  });
});
