// Keeps the latest firings, so that a sheet asking for the same one a hundred times calculates it once.
import type { Result } from "../../core/problem";
import type { Firing } from "./firing";
import type { KilnSpec } from "./kiln-spec";
import type { Load } from "./load";
import type { FiringProgramme } from "./programme";
import { type SimulationOptions, simulateFiring } from "./simulate";

/** A way to simulate firings. */
export type Simulate = (
  kiln: KilnSpec,
  programme: FiringProgramme,
  load: Load,
  options?: SimulationOptions,
) => Result<Firing>;

/** Gives a simulator that keeps so many of the latest firings it could calculate; what it gives is shared, so don't write to it. */
export function rememberFirings(limit: number, simulate: Simulate = simulateFiring): Simulate {
  const kept = new Map<string, Result<Firing>>();
  return (kiln, programme, load, options = {}) => {
    const key = JSON.stringify([kiln, programme, load, options]);
    const known = kept.get(key);
    const firing = known ?? simulate(kiln, programme, load, options);
    kept.delete(key);
    // JSON writes NaN and infinity alike, but no firing with either in it comes out well.
    if (firing.ok) kept.set(key, firing);
    const oldest = kept.keys().next();
    if (kept.size > limit && !oldest.done) kept.delete(oldest.value);
    return firing;
  };
}
