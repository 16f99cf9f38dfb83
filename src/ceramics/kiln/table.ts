// Curves against temperature, held as evenly spaced points so that the inner loop reads them without a search.
import { HOTTEST_C } from "./constants";

/** Spacing of the points of every curve, °C. Corners of the curves (100, 400, 700 °C …) fall on points. */
export const TABLE_STEP_C = 5;

/** Number of points of a curve from 0 °C to the hottest temperature. */
export const TABLE_POINTS = HOTTEST_C / TABLE_STEP_C + 1;

/** Samples a curve at 0, 5, 10 … °C. */
export function tabulate(curve: (celsius: number) => number): Float64Array {
  const points = new Float64Array(TABLE_POINTS);
  for (let i = 0; i < TABLE_POINTS; i++) points[i] = curve(i * TABLE_STEP_C);
  return points;
}

/** Gives the index of the interval that holds a temperature; outside the table, of the nearest interval. */
export function intervalOf(celsius: number): number {
  const index = Math.floor(celsius / TABLE_STEP_C);
  return Math.max(0, Math.min(index, TABLE_POINTS - 2));
}

/** Reads a curve at a temperature in °C, straight between the points. */
export function readTable(points: Float64Array, celsius: number): number {
  const index = intervalOf(celsius);
  const low = points[index] as number;
  const high = points[index + 1] as number;
  return low + (high - low) * (celsius / TABLE_STEP_C - index);
}

/** Gives the slope of a curve per °C in the interval that holds a temperature. */
export function tableSlope(points: Float64Array, celsius: number): number {
  const index = intervalOf(celsius);
  return ((points[index + 1] as number) - (points[index] as number)) / TABLE_STEP_C;
}
