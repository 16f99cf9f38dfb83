// A firing programme: ramps to a target, each with a soak. Targets are °C here; cones are turned into °C by a look-up
// that the caller passes in.
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { type NumberRule, problemsOf } from "./check";
import { HOTTEST_C } from "./constants";
import { type CheckedKiln, ventProblem } from "./kiln-spec";

/** A speed in °C an hour, up or down; or as fast as the kiln can: full power up, elements off down. */
export type RampRate = number | "fastest";

/** One step of a programme. */
export interface FiringSegment {
  readonly rateCPerHour: RampRate;
  readonly targetC: number;
  readonly soakMinutes: number;
  /** Room air through the chamber while this step runs, where it differs from the kiln's own. */
  readonly ventLitresPerSecond?: number;
}

/** The steps of a firing, in order. */
export interface FiringProgramme {
  readonly name: string;
  readonly segments: readonly FiringSegment[];
}

/** A step whose target may be a cone. */
interface ConeSegment {
  readonly rateCPerHour: RampRate;
  readonly target: { readonly cone: string } | { readonly celsius: number };
  readonly soakMinutes: number;
  readonly ventLitresPerSecond?: number;
}

/** A firing with cones for targets. */
export interface ConeProgramme {
  readonly name: string;
  readonly segments: readonly ConeSegment[];
}

/** Temperature in °C at which a cone bends at a rate in °C an hour. */
export type ConeLookUp = (cone: string, rateCPerHour: number) => Result<number>;

/** The rate a cone is read at where a step runs as fast as the kiln can; the quicker column of the cone tables. */
const CONE_RATE_WHEN_FASTEST = 150;

/** Turns the cones of a programme into °C at each step's own rate. */
export function resolveCones(programme: ConeProgramme, coneTemperature: ConeLookUp): Result<FiringProgramme> {
  const problems: Problem[] = [];
  const segments: FiringSegment[] = [];
  for (const { target, ...rest } of programme.segments) {
    const rate = rest.rateCPerHour === "fastest" ? CONE_RATE_WHEN_FASTEST : rest.rateCPerHour;
    const found = "cone" in target ? coneTemperature(target.cone, rate) : ok(target.celsius);
    if (found.ok) segments.push({ ...rest, targetC: found.value });
    else problems.push(...found.problems);
  }
  return problems.length > 0 ? fail(...problems) : ok({ name: programme.name, segments });
}

/** Makes the plainest programme: one ramp at a rate to a peak in °C, and a soak in minutes. */
export function oneRamp(peakC: number, rateCPerHour: RampRate, soakMinutes: number): FiringProgramme {
  return { name: "one ramp", segments: [{ rateCPerHour, targetC: peakC, soakMinutes }] };
}

/** Gives the highest target of a programme, °C. */
export function peakOf(programme: FiringProgramme): number {
  return Math.max(...programme.segments.map((segment) => segment.targetC));
}

/** Gives the problems of a programme in a checked kiln, each naming its field; none when it is sound. */
export function programmeProblems(programme: FiringProgramme, kiln: CheckedKiln): readonly Problem[] {
  if (programme.segments.length === 0) {
    const where = `${programme.name}, steps`;
    return [problem({ code: "kiln.no-segments", where, found: "", allowed: "one ramp or more" })];
  }
  return programme.segments.flatMap((segment, i) => segmentProblems(segment, `${programme.name}, ramp ${i + 1}`, kiln));
}

function segmentProblems(segment: FiringSegment, where: string, kiln: CheckedKiln): readonly Problem[] {
  const rateRule: NumberRule = { where: `${where}, rate`, unit: "°C an hour", min: 0, max: 3000, aboveMin: true };
  const rate = segment.rateCPerHour === "fastest" ? 1 : segment.rateCPerHour;
  const targetRule = { where: `${where}, target`, unit: "°C", min: kiln.roomC, max: HOTTEST_C, aboveMin: true };
  const found = problemsOf([
    [rate, rateRule],
    [segment.targetC, targetRule],
    [segment.soakMinutes, { where: `${where}, soak`, unit: "minutes", min: 0, max: 6000 }],
  ]);
  const vent = ventProblem(segment.ventLitresPerSecond ?? kiln.ventLitresPerSecond, where);
  if (vent !== undefined) found.push(vent);
  return found;
}
