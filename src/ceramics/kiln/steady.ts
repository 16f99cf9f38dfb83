// What a kiln needs to stay at a temperature for good, and where it levels off at full power.
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { problemsOf } from "./check";
import { HOTTEST_C } from "./constants";
import { type CheckedKiln, checkKiln, type KilnSpec } from "./kiln-spec";
import { createWalls } from "./kiln-state";
import type { FiringProgramme } from "./programme";
import { ventWattsPerDegree } from "./vent";
import { coolWall, type Wall } from "./wall";
import { settleWall } from "./wall-step";

/** Steady losses of a kiln kept at a temperature. */
export interface SteadyLoss {
  readonly wallKw: number;
  readonly ventKw: number;
  /** Hottest outside surface, °C. */
  readonly shellC: number;
}

/** Gives what a kiln loses when kept at a chamber temperature in °C until its walls are hot through. */
export function steadyLoss(spec: KilnSpec, chamberC: number): Result<SteadyLoss> {
  const checked = checkKiln(spec);
  if (!checked.ok) return checked;
  const kiln = checked.value;
  const where = `${kiln.name}, chamber temperature`;
  const problems = problemsOf([[chamberC, { where, unit: "°C", min: kiln.roomC, max: HOTTEST_C }]]);
  if (problems.length > 0) return fail(...problems);
  const walls = createWalls(kiln);
  const wallW = settledLossW(walls, chamberC);
  return ok({
    wallKw: wallW / 1000,
    ventKw: ventLossW(kiln, kiln.ventLitresPerSecond, chamberC) / 1000,
    shellC: Math.max(...walls.map((wall) => wall.shellC)),
  });
}

/** Gives the problem of a target that a checked kiln can't hold at full power, with the stall temperature, or nothing. */
export function unreachable(
  kiln: CheckedKiln,
  programme: FiringProgramme,
  walls: readonly Wall[],
): Problem | undefined {
  const ratedW = kiln.ratedKw * 1000;
  for (const [index, segment] of programme.segments.entries()) {
    const vent = segment.ventLitresPerSecond ?? kiln.ventLitresPerSecond;
    const neededW = settledLossW(walls, segment.targetC) + ventLossW(kiln, vent, segment.targetC);
    if (neededW >= ratedW) {
      const stallC = levelsOffAtC(kiln, walls, vent);
      for (const wall of walls) coolWall(wall);
      return stalls(kiln, `${programme.name}, ramp ${index + 1}, target`, segment.targetC, stallC);
    }
  }
  for (const wall of walls) coolWall(wall);
  return undefined;
}

function settledLossW(walls: readonly Wall[], chamberC: number): number {
  let sum = 0;
  for (const wall of walls) {
    settleWall(wall, chamberC);
    sum += wall.inflowW;
  }
  return sum;
}

function ventLossW(kiln: CheckedKiln, litresPerSecond: number, chamberC: number): number {
  return ventWattsPerDegree(litresPerSecond, chamberC) * (chamberC - kiln.roomC);
}

/** Finds the chamber temperature in °C at which losses eat up the rated power. */
function levelsOffAtC(kiln: CheckedKiln, walls: readonly Wall[], litresPerSecond: number): number {
  let low = kiln.roomC;
  let high = HOTTEST_C;
  while (high - low > 0.1) {
    const middle = (low + high) / 2;
    const lossW = settledLossW(walls, middle) + ventLossW(kiln, litresPerSecond, middle);
    if (lossW < kiln.ratedKw * 1000) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function stalls(kiln: CheckedKiln, where: string, targetC: number, stallC: number): Problem {
  return problem({
    code: "kiln.cannot-reach",
    where,
    found: targetC,
    allowed: `less than ${Math.round(stallC)} °C, for ${kiln.name} gets no hotter at its full ${kiln.ratedKw} kW`,
    fix: "Lower the target, close the vent, or check the kiln's rated power and its walls.",
  });
}
