// Fits a kiln to its own meter: one factor on wall loss and, from two readings on, one on the heat the walls hold.
import { fail, ok, type Problem, type Result } from "../../core/problem";
import { problemsOf } from "./check";
import { FACTOR_BOUNDS, type KilnSpec } from "./kiln-spec";
import { leastSquares, sumOfSquares } from "./least-squares";
import type { Load } from "./load";
import type { FiringProgramme } from "./programme";
import { simulateFiring } from "./simulate";
import { type Trust, trustIn } from "./trust";

/** A firing whose energy was read from a meter. */
export interface MeterReading {
  readonly programme: FiringProgramme;
  readonly load: Load;
  readonly meteredKwh: number;
}

/** One line of the table of residuals. */
interface CalibrationLine {
  readonly programme: string;
  readonly meteredKwh: number;
  readonly uncalibratedKwh: number;
  readonly calibratedKwh: number;
  /** Calibrated less metered, % of metered. */
  readonly errorPercent: number;
}

/** What the readings say of a kiln. */
export interface Calibration {
  readonly wallLossFactor: number;
  readonly storedHeatFactor: number;
  /** A factor has come to the end of its range. */
  readonly isAtBound: boolean;
  readonly lines: readonly CalibrationLine[];
  readonly trust: Trust;
}

// Factors are searched as logarithms, so that a half and a double are equally far. Like readings can hardly tell the two
// apart, and would trade a wild one against the other for a last percent; the pull to 1 forbids that: a factor 2.7 times
// off weighs as much as a reading 5 % off.
const PULL_TO_ONE = 0.05;
const BOUNDS = { min: Math.log(FACTOR_BOUNDS.min), max: Math.log(FACTOR_BOUNDS.max) };
const STARTS = [1, 0.6, 0.35, 2].map(Math.log);

/** Fits the two factors of a kiln to readings by least squares of the relative errors; with one reading, wall loss alone. `onTry` hears of every pair of factors tried. */
export function calibrate(
  kiln: KilnSpec,
  readings: readonly MeterReading[],
  onTry: (tried: number) => void = () => undefined,
): Result<Calibration> {
  const problems = readingProblems(readings);
  if (problems.length > 0) return fail(...problems);
  const plain = kwhOfAll(kiln, readings, [0, 0]);
  let tried = 0;
  const residuals = (point: readonly number[]) => {
    tried += 1;
    onTry(tried);
    return relativeErrors(kiln, readings, point);
  };
  const start = bestStart(readings.length > 1 ? 2 : 1, residuals);
  if (start === undefined) return plain.ok ? ok(asCalibration([0, 0], [], [], [])) : plain;
  const point = readings.length === 0 ? [0, 0] : leastSquares(start, residuals, BOUNDS);
  const fitted = kwhOfAll(kiln, readings, point);
  if (!fitted.ok) return fitted;
  return ok(asCalibration(point, readings, plain.ok ? plain.value : [], fitted.value));
}

function readingProblems(readings: readonly MeterReading[]): readonly Problem[] {
  return readings.flatMap(({ meteredKwh }, i) =>
    problemsOf([
      [meteredKwh, { where: `reading ${i + 1}, metered energy`, unit: "kWh", min: 0, max: 1e6, aboveMin: true }],
    ]),
  );
}

function kwhOfAll(
  kiln: KilnSpec,
  readings: readonly MeterReading[],
  point: readonly number[],
): Result<readonly number[]> {
  const [loss = 0, stored = 0] = point;
  const trial = { ...kiln, wallLossFactor: factorOf(loss), storedHeatFactor: factorOf(stored) };
  const kwh: number[] = [];
  for (const { programme, load } of readings) {
    const firing = simulateFiring(trial, programme, load);
    if (!firing.ok) return firing;
    kwh.push(firing.value.kwh);
  }
  return ok(kwh);
}

function factorOf(logarithm: number): number {
  return Math.min(FACTOR_BOUNDS.max, Math.max(FACTOR_BOUNDS.min, Math.exp(logarithm)));
}

function relativeErrors(
  kiln: KilnSpec,
  readings: readonly MeterReading[],
  point: readonly number[],
): readonly number[] | undefined {
  const kwh = kwhOfAll(kiln, readings, point);
  if (!kwh.ok) return undefined;
  const errors = readings.map(({ meteredKwh }, i) => (kwh.value[i] ?? 0) / meteredKwh - 1);
  return readings.length > 1 ? [...errors, ...point.map((logarithm) => PULL_TO_ONE * logarithm)] : errors;
}

/** The best of a coarse grid, so that a kiln whose plain walls can't reach a peak it did reach still has a start. */
function bestStart(
  unknowns: number,
  residuals: (point: readonly number[]) => readonly number[] | undefined,
): readonly number[] | undefined {
  const grid = unknowns === 1 ? STARTS.map((x) => [x]) : STARTS.flatMap((x) => STARTS.map((y) => [x, y]));
  let best: readonly number[] | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const point of grid) {
    const squares = sumOfSquares(residuals(point));
    if (squares < least) {
      least = squares;
      best = point;
    }
  }
  return best;
}

function asCalibration(
  point: readonly number[],
  readings: readonly MeterReading[],
  plainKwh: readonly number[],
  fittedKwh: readonly number[],
): Calibration {
  const [loss = 0, stored = 0] = point;
  const isAtBound = point.some((x) => x <= BOUNDS.min + 1e-9 || x >= BOUNDS.max - 1e-9);
  const errors = readings.map(({ meteredKwh }, i) => (fittedKwh[i] ?? 0) / meteredKwh - 1);
  const lines = readings.map(({ programme, meteredKwh }, i) => ({
    programme: programme.name,
    meteredKwh,
    uncalibratedKwh: plainKwh[i] ?? Number.NaN,
    calibratedKwh: fittedKwh[i] ?? Number.NaN,
    errorPercent: 100 * (errors[i] ?? Number.NaN),
  }));
  return {
    wallLossFactor: factorOf(loss),
    storedHeatFactor: factorOf(stored),
    isAtBound,
    lines,
    trust: trustIn(errors, isAtBound),
  };
}
