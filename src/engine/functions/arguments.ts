// One place that checks what a function is given against its table.
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import type { Argument, FunctionDeclaration, Parameter } from "./declare";

/** Arguments checked and completed with defaults, or a problem that names the parameter. */
export function checkArguments(
  declaration: FunctionDeclaration,
  given: readonly Argument[],
): Result<readonly Argument[]> {
  const checked: Argument[] = [];
  for (const [at, parameter] of declaration.parameters.entries()) {
    const read = checkArgument(declaration.name, parameter, given[at]);
    if (!read.ok) return read;
    checked.push(read.value);
  }
  return ok(checked);
}

function checkArgument(name: string, parameter: Parameter, given: Argument | undefined): Result<Argument> {
  const where = `${name}, ${parameter.name}`;
  const refuse = (found: unknown) => fail(argumentProblem(where, parameter, found));
  const isBlank = given === undefined || given === null || given === "";
  if (parameter.type === "range") return typeof given === "object" && given !== null ? ok(given) : ok([given ?? null]);
  if (typeof given === "object" && given !== null) return refuse("a whole column");
  if (isBlank && parameter.default !== undefined) return ok(parameter.default);
  if (parameter.type === "any") return ok(given ?? null);
  if (isBlank) return refuse("");
  if (parameter.type === "text") return ok(String(given));
  const number = typeof given === "number" ? given : typeof given === "string" ? Number(given) : Number.NaN;
  return Number.isFinite(number) && inLimits(parameter, number) ? ok(number) : refuse(given);
}

function inLimits(parameter: Parameter, number: number): boolean {
  return (
    !(parameter.whole && !Number.isInteger(number)) &&
    !(parameter.min !== undefined && number < parameter.min) &&
    !(parameter.max !== undefined && number > parameter.max) &&
    !(parameter.above !== undefined && number <= parameter.above) &&
    !(parameter.below !== undefined && number >= parameter.below)
  );
}

function argumentProblem(where: string, parameter: Parameter, found: unknown): Problem {
  return problem({ code: "function.argument", where, found, allowed: allowedArgument(parameter) });
}

/** What a parameter takes, in words. */
export function allowedArgument(parameter: Parameter): string {
  if (parameter.type === "range") return "a whole column, such as {route:loss}";
  if (parameter.type === "text") return "text";
  if (parameter.type === "any") return "a value";
  const limits = [
    parameter.min === undefined ? "" : `${parameter.min} or more`,
    parameter.above === undefined ? "" : `above ${parameter.above}`,
    parameter.max === undefined ? "" : `${parameter.max} or less`,
    parameter.below === undefined ? "" : `below ${parameter.below}`,
  ].filter(Boolean);
  const unit = parameter.unit && parameter.unit !== "any" ? ` in ${parameter.unit}` : "";
  return [`${parameter.whole ? "a whole number" : "a number"}${unit}`, limits.join(" and ")].filter(Boolean).join(", ");
}
