// An invented kiln and load for the tests of the kiln model.

import type { KilnSpec } from "../../../src/ceramics/kiln/kiln-spec";
import type { Load } from "../../../src/ceramics/kiln/load";
import type { FiringProgramme } from "../../../src/ceramics/kiln/programme";
import type { Problem, Result } from "../../../src/core/problem";

/** A round top-loader of 74 litres with a three-inch wall. */
export const heron: KilnSpec = {
  name: "Heron",
  chamber: { kind: "round", diameterMm: 445, heightMm: 475 },
  wall: [{ material: "brick-1260", thicknessMm: 76 }],
  ratedKw: 6.5,
};

export const bisqueLoad: Load = { wareKg: 18, furnitureKg: 10, freeWaterKg: 0.4, kaoliniteKg: 9 };

export const glazeLoad: Load = { wareKg: 15, furnitureKg: 14, freeWaterKg: 0.3, kaoliniteKg: 0 };

export const bisque: FiringProgramme = {
  name: "bisque",
  segments: [
    { rateCPerHour: 80, targetC: 600, soakMinutes: 0 },
    { rateCPerHour: 120, targetC: 1000, soakMinutes: 15 },
  ],
};

/** Takes the value out of a result that must be one. */
export function valueIn<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems.map((one) => one.message).join("\n"));
  return result.value;
}

/** Takes the problems out of a result that must have some. */
export function problemsIn<T>(result: Result<T>): readonly Problem[] {
  if (result.ok) throw new Error("it came out well, but should not have");
  return result.problems;
}

/** An empty kiln. */
export const EMPTY_LOAD: Load = { wareKg: 0, furnitureKg: 0, freeWaterKg: 0, kaoliniteKg: 0 };
