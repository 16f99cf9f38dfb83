// Sums, means and roundings as the engine makes them.
import type { Value } from "../../engine/values";
import { add, NO_VALUE } from "./scalars";

const AGGREGATES = ["SUM", "COUNT", "MIN", "MAX", "AVERAGE", "PRODUCT"] as const;
export type Aggregate = (typeof AGGREGATES)[number];

/** Whether a function puts many numbers into one. */
export function isAggregate(name: string): name is Aggregate {
  return (AGGREGATES as readonly string[]).includes(name);
}

/** Many numbers in one; a mean of none is no value. */
export function aggregate(name: Aggregate, numbers: readonly number[]): Value {
  switch (name) {
    case "SUM":
      return numbers.reduce(add, 0);
    case "COUNT":
      return numbers.length;
    case "MIN":
      return numbers.length === 0 ? 0 : numbers.reduce((least, one) => Math.min(least, one));
    case "MAX":
      return numbers.length === 0 ? 0 : numbers.reduce((most, one) => Math.max(most, one));
    case "PRODUCT":
      return numbers.length === 0 ? 0 : numbers.reduce((product, one) => product * one, 1);
    case "AVERAGE":
      return numbers.length === 0 ? NO_VALUE : numbers.reduce(add, 0) / numbers.length;
  }
}

/** A number rounded away from nothing, towards it, to the nearest, or without its sign. */
export function round(name: "ROUND" | "ROUNDUP" | "ROUNDDOWN" | "ABS", value: number, places: number): number {
  const size = Math.abs(value);
  if (name === "ABS") return size;
  const scale = 10 ** places;
  const how = { ROUND: Math.round, ROUNDUP: Math.ceil, ROUNDDOWN: Math.floor }[name];
  return (Math.sign(value) * how(size * scale)) / scale;
}
