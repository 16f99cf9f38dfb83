// A run drawn step by step: how many pieces come to each step, and how many of each tier are good at the end.

import type { TierRun } from "./good-count";
import type { Draw } from "./random";
import { drawCount } from "./random";

/** A step of the route, in the order of the route. */
export interface RouteStep {
  readonly id: string;
  readonly loss: number;
  /** Whom it is for; steps as needed lose nothing that is planned. */
  readonly who: "all" | "special" | "as needed";
}

export interface DrawnRun {
  /** Pieces that come to each step. */
  readonly entries: Float64Array;
  readonly good: Readonly<Record<TierRun["tier"], number>>;
}

/** One course that a run may take. */
export function drawRun(draw: Draw, steps: readonly RouteStep[], standard: number, special: number): DrawnRun {
  const entries = new Float64Array(steps.length);
  const left = { standard, special };
  steps.forEach(({ loss, who }, at) => {
    if (who === "as needed") return;
    const isForAll = who === "all";
    entries[at] = left.special + (isForAll ? left.standard : 0);
    left.special -= drawCount(draw, left.special, loss);
    if (isForAll) left.standard -= drawCount(draw, left.standard, loss);
  });
  return { entries, good: left };
}

/** How many of the starts are for special pieces, when the plan has that share of them special. */
export function splitStarts(
  starts: number,
  specialShare: number,
): { readonly standard: number; readonly special: number } {
  const special = Math.min(starts, Math.round(starts * specialShare));
  return { standard: starts - special, special };
}

/** The loss rates that a piece of a tier meets. */
export function lossesOfTier(steps: readonly RouteStep[], tier: TierRun["tier"]): readonly number[] {
  return steps.filter(({ who }) => who === "all" || (who === "special" && tier === "special")).map(({ loss }) => loss);
}
