// One firing from cold to the end of its programme, and the cooling after it.
import { fail, ok, type Result } from "../../core/problem";
import { problemsOf } from "./check";
import { JOULES_PER_KWH } from "./constants";
import { type CoolingCurve, coolDown } from "./cooling";
import type { Firing, HeatSplit } from "./firing";
import { followProgramme } from "./follow";
import { checkKiln, type KilnSpec } from "./kiln-spec";
import { createKilnState, heldByWallsJ, type KilnState } from "./kiln-state";
import { hotLayers } from "./limits";
import { type Load, loadProblems } from "./load";
import { type FiringProgramme, programmeProblems } from "./programme";
import { createRecord, type FiringRecord } from "./record";
import { unreachable } from "./steady";
import { readTable } from "./table";

/** How finely a firing is calculated. */
export interface SimulationOptions {
  /** Whole steps to a minute; 1 when nothing is said. */
  readonly stepsPerMinute?: number;
  /** How many times finer than usual the walls are sliced. */
  readonly finerSlices?: number;
  /** Whether the cooling is calculated too, two fifths of the work; false when nothing is said. */
  readonly withCooling?: boolean;
}

const NO_COOLING: CoolingCurve = { minutes: new Float64Array(0), celsius: new Float64Array(0) };

/** Simulates a firing; the problems name the field of the kiln, load or programme that is wrong, or where it stalls. */
export function simulateFiring(
  spec: KilnSpec,
  programme: FiringProgramme,
  load: Load,
  options: SimulationOptions = {},
): Result<Firing> {
  const checked = checkKiln(spec);
  if (!checked.ok) return checked;
  const kiln = checked.value;
  const problems = [...programmeProblems(programme, kiln), ...loadProblems(load), ...optionProblems(options)];
  if (problems.length > 0) return fail(...problems);
  const state = createKilnState(kiln, load, options.finerSlices);
  const stall = unreachable(kiln, programme, state.walls);
  if (stall !== undefined) return fail(stall);
  const record = createRecord(60 / (options.stepsPerMinute ?? 1), kiln.roomC);
  const followed = followProgramme(state, programme, kiln.ratedKw * 1000, record);
  if ("code" in followed) return fail(followed);
  const summary = summarise(state, record, followed);
  const cooling = options.withCooling ? coolDown(state) : NO_COOLING;
  return ok({
    ...summary,
    hotLayers: hotLayers(kiln, state.walls),
    coolingMinutes: cooling.minutes,
    coolingC: cooling.celsius,
  });
}

function optionProblems({ stepsPerMinute = 1, finerSlices = 1 }: SimulationOptions) {
  const steps = Number.isInteger(stepsPerMinute) ? stepsPerMinute : Number.NaN;
  return problemsOf([
    [steps, { where: "steps a minute", unit: "whole steps", min: 1, max: 60 }],
    [finerSlices, { where: "finer slices", unit: "times", min: 0.5, max: 10 }],
  ]);
}

function summarise(
  state: KilnState,
  record: FiringRecord,
  lateMinutes: readonly number[],
): Omit<Firing, "coolingC" | "coolingMinutes" | "hotLayers"> {
  const minutes = Math.ceil(record.seconds / 60 - 1e-9);
  const temperatureC = record.temperatureC.slice(0, minutes + 1);
  const kwh = state.suppliedJ / JOULES_PER_KWH;
  const heat = splitHeat(state);
  const accounted = heat.ware + heat.furniture + heat.wallStored + heat.shell + heat.vent + heat.water;
  const hottest = temperatureC.reduce((most, celsius) => Math.max(most, celsius), 0);
  return {
    kwh,
    meanKw: (kwh * 3600) / record.seconds,
    peakKw: record.peakW / 1000,
    heatingHours: record.seconds / 3600,
    temperatureC,
    powerKw: record.powerKw.slice(0, minutes),
    lateMinutes,
    heat,
    usefulKwh: (readTable(state.curves.ware, hottest) + state.waterJ) / JOULES_PER_KWH,
    balanceError: (kwh - accounted) / kwh,
  };
}

function splitHeat(state: KilnState): HeatSplit {
  const { curves, chamberC } = state;
  return {
    ware: readTable(curves.ware, chamberC) / JOULES_PER_KWH,
    furniture: readTable(curves.furniture, chamberC) / JOULES_PER_KWH,
    wallStored: heldByWallsJ(state) / JOULES_PER_KWH,
    shell: state.shellJ / JOULES_PER_KWH,
    vent: state.ventJ / JOULES_PER_KWH,
    water: state.waterJ / JOULES_PER_KWH,
  };
}
