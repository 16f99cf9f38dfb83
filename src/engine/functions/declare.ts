// Spreadsheet functions are declared in tables. Validation, help, the README's list and the tests all come from them.

import type { ColumnReference } from "../../core/formula/reference";
import { fail, ok, problem, type Result } from "../../core/problem";

/** One parameter of a function. Ranges are whole columns; the rest are single values. */
export interface Parameter {
  readonly name: string;
  readonly what: string;
  readonly type: "number" | "text" | "any" | "range";
  /** The unit it is taken in; none is a plain number, or whatever it is for a range; “any” takes every unit. */
  readonly unit?: string;
  readonly min?: number;
  readonly max?: number;
  /** Exclusive limits. */
  readonly above?: number;
  readonly below?: number;
  readonly whole?: boolean;
  /** Taken when the argument is left out or blank. */
  readonly default?: number | string;
}

/** What a function is given: numbers and texts as they are, ranges as flat lists. */
export type Argument = number | string | boolean | null | readonly (number | string | boolean | null)[];

interface Example {
  /** Formula text that needs no sheet; constants in braces stand for ranges. */
  readonly formula: string;
  readonly gives: number | string;
  /** Relative tolerance; exact where it is left out. */
  readonly within?: number;
}

export interface FunctionDeclaration {
  readonly name: string;
  readonly family: "Cones and kilns" | "Metal" | "Coats and slip" | "Shapes" | "Loss" | "Money" | "Tables";
  readonly summary: string;
  readonly parameters: readonly Parameter[];
  /** The unit of the result, or “as the …” where it is that of a parameter. */
  readonly unit: string;
  readonly examples: readonly Example[];
  readonly source: string;
  /** Whole columns the function reads besides what is typed, appended when a formula is linked. */
  readonly reads?: readonly ColumnReference[];
  /** Computes the result; undefined for functions that look into hashed tables. */
  readonly run?: (...given: readonly Argument[]) => Result<number | string>;
}

/** A function of numbers as a function of checked arguments. */
export function numbers(
  run: (...values: number[]) => Result<number>,
): (...given: readonly Argument[]) => Result<number> {
  return (...given) => run(...given.map(Number));
}

/** The numbers of a whole column; blanks are passed over, text is refused. */
export function numberList(name: string, given: Argument | undefined): Result<readonly number[]> {
  const list = typeof given === "object" && given !== null ? given : [given ?? null];
  const filled = list.filter((value) => value !== null && value !== "");
  const wrong = filled.find((value) => typeof value !== "number");
  if (wrong !== undefined)
    return fail(problem({ code: "function.list", where: name, found: wrong, allowed: "numbers only" }));
  return ok(filled.map(Number));
}
