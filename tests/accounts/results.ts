// Opens results in tests: the value that must be there, or the codes of the problems that must.
import type { Problem, Result } from "../../src/core/problem";

export function must<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  throw new Error(result.problems.map(({ message }) => message).join("\n"));
}

export function problemsOf<T>(result: Result<T>): readonly Problem[] {
  if (result.ok) throw new Error(`no problem, but ${JSON.stringify(result.value)}`);
  return result.problems;
}

export function codesOf<T>(result: Result<T>): readonly string[] {
  return problemsOf(result).map(({ code }) => code);
}
