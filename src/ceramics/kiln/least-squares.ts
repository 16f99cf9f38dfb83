// Least squares over one or two bounded unknowns, by Gauss-Newton steps held back where they don't help. A trial that has
// no answer counts as infinitely bad, so the search turns round at it.

/** Residuals at a point, or nothing where there is no answer. */
export type Residuals = (point: readonly number[]) => readonly number[] | undefined;

/** Bounds common to all unknowns. */
export interface Bounds {
  readonly min: number;
  readonly max: number;
}

const NUDGE = 0.02;
const ROUNDS = 30;

/** Gives the sum of squares at a point; infinite where there is no answer. */
export function sumOfSquares(residuals: readonly number[] | undefined): number {
  return residuals?.reduce((sum, value) => sum + value * value, 0) ?? Number.POSITIVE_INFINITY;
}

/** Finds the bounded point with the least squares, from a start that has an answer. */
export function leastSquares(start: readonly number[], residuals: Residuals, bounds: Bounds): readonly number[] {
  let point = start;
  let values = residuals(point);
  let damping = 1e-4;
  for (let round = 0; round < ROUNDS && values !== undefined; round++) {
    const step = dampedStep(values, slopes(point, values, residuals, bounds), point, damping, bounds);
    const next = point.map((x, i) => Math.min(bounds.max, Math.max(bounds.min, x + (step[i] ?? 0))));
    const moved = Math.max(...next.map((x, i) => Math.abs(x - (point[i] ?? x))));
    if (moved < 1e-7) break;
    const trial = residuals(next);
    if (sumOfSquares(trial) < sumOfSquares(values)) {
      point = next;
      values = trial;
      damping /= 10;
    } else {
      damping *= 10;
    }
  }
  return point;
}

/** Slope of every residual along each unknown, from a nudge toward the inside. */
function slopes(
  point: readonly number[],
  values: readonly number[],
  residuals: Residuals,
  bounds: Bounds,
): readonly (readonly number[])[] {
  return point.map((x, i) => {
    const inward = x + NUDGE > bounds.max ? -NUDGE : NUDGE;
    for (const nudge of [inward, -inward]) {
      const beside = residuals(point.with(i, x + nudge));
      if (beside !== undefined) return values.map((value, j) => ((beside[j] ?? value) - value) / nudge);
    }
    return values.map(() => 0);
  });
}

/** The damped Gauss-Newton step; an unknown that lies on a bound and would leave it stays. */
function dampedStep(
  values: readonly number[],
  slope: readonly (readonly number[])[],
  point: readonly number[],
  damping: number,
  bounds: Bounds,
): readonly number[] {
  const dot = (one: readonly number[], other: readonly number[]) =>
    one.reduce((sum, value, i) => sum + value * (other[i] ?? 0), 0);
  const downhill = slope.map((column) => -dot(column, values));
  const isHeld = point.map((x, i) => {
    const push = downhill[i] ?? 0;
    return (x <= bounds.min && push < 0) || (x >= bounds.max && push > 0);
  });
  const free = slope.map((column, i) => (isHeld[i] ? column.map(() => 0) : column));
  const [first = [], second = []] = free;
  const a = dot(first, first) + damping;
  const b = dot(first, second);
  const d = dot(second, second) + damping;
  const [g = 0, h = 0] = downhill.map((push, i) => (isHeld[i] ? 0 : push));
  const determinant = a * d - b * b;
  return [(d * g - b * h) / determinant, (a * h - b * g) / determinant].slice(0, point.length);
}
