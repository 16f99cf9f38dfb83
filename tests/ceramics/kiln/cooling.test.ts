import { describe, expect, test } from "vitest";
import { coolingHours } from "../../../src/ceramics/kiln/cooling";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import { bisque, bisqueLoad, heron, problemsIn, valueIn } from "./example";

const COOLED = { withCooling: true };
const firing = valueIn(simulateFiring(heron, bisque, bisqueLoad, COOLED));

describe("cooling", () => {
  test("begins where the programme ends and falls without a break to near the room", () => {
    expect(firing.coolingMinutes[0]).toBe(0);
    expect(firing.coolingC[0]).toBe(1000);
    expect(firing.coolingC.at(-1)).toBeLessThan(30);
    for (let i = 1; i < firing.coolingC.length; i++) {
      expect(firing.coolingC[i]).toBeLessThan(firing.coolingC[i - 1]!);
      expect(firing.coolingMinutes[i]).toBeGreaterThan(firing.coolingMinutes[i - 1]!);
    }
  });

  test("takes longer to a cooler opening, and is read straight between the points", () => {
    const hours = [900, 500, 200, 100, 50].map((openAtC) => valueIn(coolingHours(firing, openAtC)));
    expect(hours).toEqual([...hours].sort((one, other) => one - other));
    const i = 40;
    expect(valueIn(coolingHours(firing, firing.coolingC[i]!))).toBeCloseTo(firing.coolingMinutes[i]! / 60, 9);
    const between = (firing.coolingC[i]! * 3 + firing.coolingC[i + 1]!) / 4;
    const minutes = (firing.coolingMinutes[i]! * 3 + firing.coolingMinutes[i + 1]!) / 4;
    expect(valueIn(coolingHours(firing, between))).toBeCloseTo(minutes / 60, 9);
  });

  test("takes no time to a temperature it never reached", () => {
    expect(valueIn(coolingHours(firing, 1000))).toBe(0);
    expect(valueIn(coolingHours(firing, 1200))).toBe(0);
  });

  test("refuses an opening colder than the curve, and says how cold it goes", () => {
    const [problem] = problemsIn(coolingHours(firing, 21));
    expect(problem).toMatchObject({ code: "kiln.opening", where: "opening temperature", found: "21" });
    expect(problem?.allowed).toBe("30 °C or more");
    expect(coolingHours(firing, Number.NaN).ok).toBe(false);
  });

  test("is slower with more in the kiln, and quicker with a draught", () => {
    const to100 = (kiln: typeof heron, load: typeof bisqueLoad) =>
      valueIn(coolingHours(valueIn(simulateFiring(kiln, bisque, load, COOLED)), 100));
    const usual = to100(heron, bisqueLoad);
    expect(to100(heron, { ...bisqueLoad, furnitureKg: 20 })).toBeGreaterThan(usual);
    expect(to100({ ...heron, ventLitresPerSecond: 3 }, bisqueLoad)).toBeLessThan(usual);
  });

  test("goes by the kiln's own draught, whatever the last step's was", () => {
    const gust = { rateCPerHour: 100, targetC: 1000, soakMinutes: 0, ventLitresPerSecond: 3 };
    const vented = { name: "vented", segments: [...bisque.segments, gust] };
    expect(valueIn(simulateFiring(heron, vented, bisqueLoad, COOLED)).coolingMinutes).toEqual(firing.coolingMinutes);
  });

  test("is left out when not asked for, and then says so", () => {
    const cold = valueIn(simulateFiring(heron, bisque, bisqueLoad, { withCooling: false }));
    expect(cold.coolingC).toHaveLength(0);
    expect(cold.kwh).toBe(firing.kwh);
    expect(problemsIn(coolingHours(cold, 100))[0]?.allowed).toBe("a firing calculated with its cooling");
  });
});
