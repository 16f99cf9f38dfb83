// Cooling by itself: elements off, lid shut, until the chamber is near room temperature.
import { fail, ok, problem, type Result } from "../../core/problem";
import type { Firing } from "./firing";
import { beginStep, endStep, type KilnState, setStep, temperatureUnder } from "./kiln-state";

/** Each step lets the chamber fall by about this part of what is left to room temperature, in a quick kiln and a slow. */
const FALL_PER_STEP = 1 / 125;
const FIRST_STEP_SECONDS = 15;
const LONGEST_STEP_SECONDS = 1800;
/** The cooling curve ends this near to room temperature. */
const NEAR_ROOM_C = 10;
const MOST_POINTS = 3000;

/** The chamber as a kiln cools: minutes since the elements went off, and °C. */
export interface CoolingCurve {
  readonly minutes: Float64Array;
  readonly celsius: Float64Array;
}

/** Lets a kiln cool by itself to near room temperature. */
export function coolDown(state: KilnState): CoolingCurve {
  const minutes = new Float64Array(MOST_POINTS);
  const celsius = new Float64Array(MOST_POINTS);
  celsius[0] = state.chamberC;
  let seconds = FIRST_STEP_SECONDS;
  let elapsed = 0;
  let points = 1;
  while (points < MOST_POINTS && state.chamberC > state.roomC + NEAR_ROOM_C) {
    const before = state.chamberC;
    beginStep(state);
    setStep(state, seconds);
    endStep(state, temperatureUnder(state, 0, seconds), seconds);
    elapsed += seconds;
    minutes[points] = elapsed / 60;
    celsius[points] = state.chamberC;
    points++;
    const fall = (before - state.chamberC) / (before - state.roomC);
    const change = Math.min(1.5, Math.max(0.5, FALL_PER_STEP / Math.max(fall, 1e-6)));
    seconds = Math.min(LONGEST_STEP_SECONDS, Math.max(FIRST_STEP_SECONDS, seconds * change));
  }
  return { minutes: minutes.slice(0, points), celsius: celsius.slice(0, points) };
}

/** Gives the hours from the end of a firing until the chamber has cooled to a temperature in °C. */
export function coolingHours(firing: Firing, openAtC: number): Result<number> {
  const { coolingMinutes, coolingC } = firing;
  if ((coolingC[0] ?? Number.NaN) <= openAtC) return ok(0);
  const after = coolingC.findIndex((celsius) => celsius <= openAtC);
  const [above, below] = [coolingC[after - 1], coolingC[after]];
  const [early, late] = [coolingMinutes[after - 1], coolingMinutes[after]];
  if (above === undefined || below === undefined || early === undefined || late === undefined) {
    const end = coolingC.at(-1);
    const allowed = end === undefined ? "a firing calculated with its cooling" : `${Math.ceil(end)} °C or more`;
    return fail(problem({ code: "kiln.opening", where: "opening temperature", found: openAtC, allowed }));
  }
  return ok((early + ((late - early) * (above - openAtC)) / (above - below)) / 60);
}
