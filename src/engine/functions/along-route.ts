import { keptBefore, type PositionedValue, sumUpTo, valueBefore } from "../../ceramics/along-route";
import { fail, ok, problem, type Result } from "../../core/problem";
import type { Argument, FunctionDeclaration } from "./declare";

const order = { name: "order", what: "place of the step to look back from", type: "number" } as const;
const orders = { name: "orders", what: "the column of places, {route:order}", type: "range", unit: "" } as const;
const values = { name: "values", what: "the column of values beside them", type: "range" } as const;

/** Orders and values of two whole columns, row by row; rows without an order are passed over. */
function pairsOf(name: string, given: Argument | undefined, beside: Argument | undefined): Result<PositionedValue[]> {
  const orders = listOf(given);
  const list = listOf(beside);
  const pairs: PositionedValue[] = [];
  for (const [at, order] of orders.entries()) {
    const value = list[at];
    if (typeof order !== "number") continue;
    if (typeof value === "string" && value !== "")
      return fail(problem({ code: "function.list", where: name, found: value, allowed: "numbers only" }));
    pairs.push({ order, value: typeof value === "number" ? value : undefined });
  }
  return ok(pairs);
}

function listOf(given: Argument | undefined): readonly (number | string | boolean | null)[] {
  return typeof given === "object" && given !== null ? given : [given ?? null];
}

/** A look-up along the route as a function of checked arguments. */
function declaredLookUp(
  name: string,
  run: (order: number, values: readonly PositionedValue[]) => Result<number>,
): (...given: readonly Argument[]) => Result<number> {
  return (from, orders, values) => {
    const pairs = pairsOf(name, orders, values);
    return pairs.ok ? run(Number(from), pairs.value) : pairs;
  };
}

export const ROUTE_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "KEPT_BEFORE",
    family: "Loss",
    summary:
      "What is left of a piece's chances when it comes to a step: the product of 1 − loss over the earlier steps.",
    parameters: [
      order,
      orders,
      { name: "losses", what: "loss of each step, as fractions; blanks count as none", type: "range", unit: "" },
    ],
    unit: "",
    examples: [{ formula: "KEPT_BEFORE(3,{1;2;3},{0.05;0.16;0.12})", gives: 0.798, within: 1e-12 }],
    source: "rolled throughput yield up to a step: .95 × .84 = .798",
    run: declaredLookUp("losses", keptBefore),
  },
  {
    name: "SUM_UP_TO",
    family: "Loss",
    summary: "The sum of the values of every step up to one, itself included.",
    parameters: [order, orders, values],
    unit: "as the values",
    examples: [{ formula: "SUM_UP_TO(2,{1;3;2},{4;100;5})", gives: 9 }],
    source: "own definition: what a piece carries when it leaves a step",
    run: declaredLookUp("values", sumUpTo),
  },
  {
    name: "VALUE_BEFORE",
    family: "Loss",
    summary: "The value of the nearest earlier step that has one.",
    parameters: [order, orders, values],
    unit: "as the values",
    examples: [{ formula: `VALUE_BEFORE(4,{1;2;3},{40;38;""})`, gives: 38 }],
    source: "own definition: what a rework step is measured against",
    run: declaredLookUp("values", valueBefore),
  },
];
