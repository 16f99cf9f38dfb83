// When numbers are as good as equal: the engine's precision (its default, which we keep), for all who calculate as it does.

/** Sums and comparisons take differences below this part of a value for nothing. */
export const EPSILON = 1e-13;
const NEARLY = 1 + EPSILON;

/** A sum; what is nearly nothing beside what it began with is nothing. */
export function plus(left: number, right: number): number {
  const sum = left + right;
  return Math.abs(sum) < EPSILON * Math.abs(left) ? 0 : sum;
}

/** A difference, in the same way. */
export function minus(left: number, right: number): number {
  const rest = left - right;
  return Math.abs(rest) < EPSILON * Math.abs(left) ? 0 : rest;
}

/** Which of two numbers is larger: 1, −1, or 0 where they are nearly equal. */
export function compareNumbers(left: number, right: number): number {
  if (right >= 0 && left * NEARLY >= right && left <= right * NEARLY) return 0;
  if (right <= 0 && left * NEARLY <= right && left >= right * NEARLY) return 0;
  return left > right ? 1 : -1;
}
