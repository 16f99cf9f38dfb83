// Looking back along a route: what the steps before one add up to. Rows are matched by their order, never by their position,
// so that sorting a sheet or adding a step cannot change what comes before what.
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { partBelowOne, present } from "./checks";

/** A step's order in the route, a number of any size, and a value of it; undefined where there is none. */
export interface PositionedValue {
  readonly order: number;
  readonly value: number | undefined;
}

/** What is left of a piece's chances before the step of that order: the product of 1 − loss over every earlier step. */
export function keptBefore(order: number, losses: readonly PositionedValue[]): Result<number> {
  const problems = present([
    placeProblem(order),
    ...losses.map(({ value }, at) =>
      value === undefined ? undefined : partBelowOne(`loss ${at + 1} of the list`, value),
    ),
  ]);
  if (problems.length > 0) return fail(...problems);
  return ok(losses.reduce((kept, loss) => (loss.order < order ? kept * (1 - (loss.value ?? 0)) : kept), 1));
}

/** The sum of the values of every step up to that order, itself included; steps without a value add nothing. */
export function sumUpTo(order: number, values: readonly PositionedValue[]): Result<number> {
  const problems = present([placeProblem(order)]);
  if (problems.length > 0) return fail(...problems);
  return ok(values.reduce((sum, one) => (one.order <= order ? sum + (one.value ?? 0) : sum), 0));
}

/** The value of the nearest earlier step that has one. */
export function valueBefore(order: number, values: readonly PositionedValue[]): Result<number> {
  let nearest: PositionedValue | undefined;
  for (const one of values)
    if (one.value !== undefined && one.order < order && (nearest === undefined || one.order > nearest.order))
      nearest = one;
  if (nearest?.value !== undefined) return ok(nearest.value);
  const where = "Looking back along the route";
  return fail(problem({ code: "route.nothing-before", where, found: "", allowed: "an earlier step with a value" }));
}

function placeProblem(order: number): Problem | undefined {
  if (Number.isFinite(order)) return undefined;
  return problem({ code: "number.missing", where: "order", found: order, allowed: "a number" });
}
