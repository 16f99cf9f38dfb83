import { describe, expect, test } from "vitest";
import { oneRamp } from "../../../src/ceramics/kiln/programme";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import { steadyLoss } from "../../../src/ceramics/kiln/steady";
import { EMPTY_LOAD, heron, problemsIn, valueIn } from "./example";

describe("steady loss", () => {
  test("is what a very long soak draws in the end", () => {
    const loss = valueIn(steadyLoss(heron, 900));
    const firing = valueIn(simulateFiring(heron, oneRamp(900, 200, 3000), EMPTY_LOAD, { withCooling: false }));
    const lastKw = firing.powerKw.at(-2) ?? 0;
    expect(Math.abs(lastKw / (loss.wallKw + loss.ventKw) - 1)).toBeLessThan(1e-6);
  });

  test("is nothing in a kiln as cold as the room", () => {
    const loss = valueIn(steadyLoss(heron, 20));
    expect(loss.wallKw).toBeCloseTo(0, 9);
    expect(loss.ventKw).toBeCloseTo(0, 9);
    expect(loss.shellC).toBeCloseTo(20, 6);
  });

  test("is the wall's, by hand: k at its mean temperature × log-mean area × ΔT / thickness, and the shell", () => {
    const { wallKw, shellC } = valueIn(steadyLoss(heron, 1000));
    const height = 0.475;
    const diameter = 0.445;
    const rims = 2 * Math.PI * diameter;
    const inside = Math.PI * diameter * height + (Math.PI / 2) * diameter ** 2;
    const outside = inside + 0.076 * (2 * Math.PI * height + 2 * 0.54 * rims);
    const area = (outside - inside) / Math.log(outside / inside);
    const meanC = (1000 + shellC) / 2;
    const conductivity = 0.14 + (0.02 * (meanC - 400)) / 200;
    expect(Math.abs((wallKw * 1000) / ((conductivity * area * (1000 - shellC)) / 0.076) - 1)).toBeLessThan(0.01);
  });

  test("refuses a chamber hotter than any table and a kiln with a fault", () => {
    expect(problemsIn(steadyLoss(heron, 1801))[0]).toMatchObject({
      where: "Heron, chamber temperature",
      found: "1801",
    });
    expect(problemsIn(steadyLoss({ ...heron, ratedKw: 0 }, 900))[0]?.where).toBe("Heron, rated power");
  });
});
