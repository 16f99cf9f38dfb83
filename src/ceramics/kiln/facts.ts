// What a firing's heat went into, as shares.
import type { Firing, HeatSplit } from "./firing";

/** A part of a firing's heat. */
export interface HeatShare {
  readonly part: keyof HeatSplit;
  readonly kwh: number;
  /** Of all the energy used, 0–1. */
  readonly share: number;
}

/** Gives the share of a firing's energy that heated the ware and drove off its water, 0–1. */
export function wareShare(firing: Firing): number {
  return firing.usefulKwh / firing.kwh;
}

/** Gives the parts of a firing's heat, the largest first; shares add up to 1. */
export function heatShares(firing: Firing): readonly HeatShare[] {
  const parts = Object.keys(firing.heat) as (keyof HeatSplit)[];
  return parts
    .map((part) => ({ part, kwh: firing.heat[part], share: firing.heat[part] / firing.kwh }))
    .sort((one, other) => other.kwh - one.kwh);
}
