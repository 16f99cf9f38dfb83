// Equivalent units: pieces part done, counted as the whole pieces that the same work would have made.
import { fail, ok, type Result } from "../core/problem";
import { need, needFromZero, needPart } from "./checks";

/** When a cost is added: spread evenly over the work, or all at once at a stage from 0 (the start) to 1 (the end). */
export type WhenAdded = "evenly" | number;

/** How much of a cost a unit at a stage (0 to 1) has received, as a fraction. */
export function shareDone(whenAdded: WhenAdded, stage: number): Result<number> {
  const problems = [
    ...needPart("Stage of the work", stage),
    ...(whenAdded === "evenly" ? [] : needPart("Stage at which the cost is added", whenAdded)),
  ];
  if (problems.length > 0) return fail(...problems);
  if (whenAdded === "evenly") return ok(stage);
  return ok(stage >= whenAdded ? 1 : 0);
}

/** Whole units in and out of a process in a period. */
export interface UnitFlow {
  readonly opening: number;
  readonly started: number;
  readonly completed: number;
  readonly closing: number;
  readonly spoiled: number;
}

/** How far units are with one cost, each a fraction from 0 to 1. */
export interface Doneness {
  readonly openingDone: number;
  readonly closingDone: number;
  readonly spoiledDone: number;
}

/** Whether the cost of opening units is averaged with the period's, or leaves first. */
export type CostFlow = "weighted average" | "first in, first out";

/** Problems of a flow of units: what comes in must go out. */
export function flowProblems(flow: UnitFlow, method: CostFlow) {
  const { opening, started, completed, closing, spoiled } = flow;
  const counts = Object.entries({ opening, started, completed, closing, spoiled });
  return [
    ...counts.flatMap(([name, count]) => needFromZero(`Units ${name}`, count)),
    ...need(
      // Units may be grams or litres, so sums are held to nine digits.
      Math.abs(opening + started - completed - closing - spoiled) <= 1e-9 * (opening + started),
      "Units out",
      completed + closing + spoiled,
      `the ${opening + started} units that came in, opening and started together`,
      { code: "units.flow" },
    ),
    ...need(
      method === "weighted average" || completed >= opening,
      "Units completed",
      completed,
      `at least the ${opening} opening units, which leave first`,
      { code: "units.first-out" },
    ),
  ];
}

/** Equivalent units of one cost in a period; first in, first out leaves out the work already in the opening units. */
export function equivalentUnits(flow: UnitFlow, done: Doneness, method: CostFlow): number {
  const before = method === "weighted average" ? 0 : flow.opening * done.openingDone;
  return flow.completed - before + flow.closing * done.closingDone + flow.spoiled * done.spoiledDone;
}
