// One place that turns a bad argument into a problem, so that every formula names the parameter, what was found and what it takes.
import { fail, ok, type Problem, problem, type Result, wholeText } from "../core/problem";

/** The largest count of pieces that any formula takes: far above any studio, small enough to answer at once. */
export const mostPieces = 10_000_000;

/** Runs a formula when no argument is at fault, and refuses an answer too large to be a number; `answerName` names it. */
export function checked(
  found: readonly (Problem | undefined)[],
  formula: () => number,
  answerName: string,
): Result<number> {
  const problems = present(found);
  if (problems.length > 0) return fail(...problems);
  const answer = formula();
  if (Number.isFinite(answer)) return ok(answer);
  return fail(
    problem({
      code: "number.overflow",
      where: answerName,
      found: answer,
      allowed: "an answer that can be written as a number",
      fix: "One of the values given is far too large or too small.",
    }),
  );
}

/** Keeps the problems that are really there. */
export function present(found: readonly (Problem | undefined)[]): readonly Problem[] {
  return found.filter((one) => one !== undefined);
}

/** Any finite number. */
export function finite(name: string, value: number, unit = ""): Problem | undefined {
  return breach(name, value, Number.isFinite(value), `a number${inUnit(unit)}`);
}

/** A finite number from 0 up, in `unit`. */
export function fromZero(name: string, value: number, unit = ""): Problem | undefined {
  return breach(name, value, value >= 0, `a number from 0 up${inUnit(unit)}`);
}

/** A finite number above 0, in `unit`. */
export function aboveZero(name: string, value: number, unit = ""): Problem | undefined {
  return breach(name, value, value > 0, `a number above 0${inUnit(unit)}`);
}

/** A finite number from `least` to `most`, both allowed, in `unit`. */
export function between(
  name: string,
  value: number,
  least: number,
  most: number,
  unit = "",
  fix = "",
): Problem | undefined {
  return breach(
    name,
    value,
    value >= least && value <= most,
    least === most ? `${least}${inUnit(unit)}` : `a number from ${least} to ${most}${inUnit(unit)}`,
    "",
    fix,
  );
}

/** A fraction from 0 up to but not including 1, such as a loss or a waste. */
export function partBelowOne(name: string, value: number): Problem | undefined {
  return breach(name, value, value >= 0 && value < 1, "a fraction from 0 to below 1", percentHint(value));
}

/** A fraction above 0 and up to 1, such as a yield or a transfer. */
export function partAboveZero(name: string, value: number): Problem | undefined {
  return breach(name, value, value > 0 && value <= 1, "a fraction above 0 and up to 1", percentHint(value));
}

/** A fraction from 0 to 1, both allowed. */
export function part(name: string, value: number): Problem | undefined {
  return breach(name, value, value >= 0 && value <= 1, "a fraction from 0 to 1", percentHint(value));
}

/** A fraction strictly between 0 and 1, such as a confidence. */
export function partInside(name: string, value: number): Problem | undefined {
  return breach(name, value, value > 0 && value < 1, "a fraction above 0 and below 1", percentHint(value));
}

/** A whole number from `least` (0 unless given) to `most` (the largest count unless given). */
export function whole(name: string, value: number, least = 0, most = mostPieces): Problem | undefined {
  const holds = Number.isInteger(value) && value >= least && value <= most;
  return breach(name, value, holds, `a whole number from ${least} to ${wholeText(most)}`);
}

function breach(
  name: string,
  value: number,
  holds: boolean,
  allowed: string,
  hint = "",
  fix = hint,
): Problem | undefined {
  if (Number.isFinite(value) && holds) return undefined;
  const code = Number.isFinite(value) ? "number.range" : "number.missing";
  return problem({ code, where: name, found: value, allowed, fix });
}

function inUnit(unit: string): string {
  return unit === "" ? "" : `, in ${unit}`;
}

function percentHint(value: number): string {
  return value >= 1 && value <= 100 ? "Write a percentage as a fraction: 65 % is 0.65." : "";
}
