// A run drawn step by step: how many pieces come to each step, and how many of each tier are good at the end.

import type { TierRun } from "../questions/good-count";
import type { Draw } from "./random";
import { drawCount } from "./random";

/** A step of the route, in the order of the route. */
export interface RouteStep {
  readonly id: string;
  readonly loss: number;
  readonly who: "all" | "special";
  /** Share of the pieces coming to it that has it: 1, but at a step as needed those expected to need it. */
  readonly needed: number;
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
  steps.forEach(({ loss, who, needed }, at) => {
    const having = (count: number) => (needed === 1 ? count : drawCount(draw, count, needed));
    for (const tier of who === "all" ? (["special", "standard"] as const) : (["special"] as const)) {
      const entering = having(left[tier]);
      entries[at] = (entries[at] ?? 0) + entering;
      left[tier] -= drawCount(draw, entering, loss);
    }
  });
  return { entries, good: left };
}

/** The loss rates that a piece of a tier meets; a step that it may not need loses it that much more seldom. */
export function lossesOfTier(steps: readonly RouteStep[], tier: TierRun["tier"]): readonly number[] {
  return steps.filter(({ who }) => who === "all" || tier === "special").map(({ loss, needed }) => loss * needed);
}
