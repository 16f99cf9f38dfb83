// Reads the reference tables, and unwraps results in tests.
import { readFileSync } from "node:fs";
import type { Problem, Result } from "../../src/core/problem";

/** The rows of tests/fixtures/reference/`name`.csv, each by column title. */
export function readReference(name: string): readonly Readonly<Record<string, string>>[] {
  const path = new URL(`../fixtures/reference/${name}.csv`, import.meta.url);
  const [head = "", ...lines] = readFileSync(path, "utf8").trim().split(/\r?\n/);
  const titles = head.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    return Object.fromEntries(titles.map((title, at) => [title, cells[at] ?? ""]));
  });
}

/** The value of a result that must be there. */
export function valueIn<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  throw new Error(result.problems.map((one) => one.message).join("\n"));
}

/** The problems of a result that must not be there. */
export function problemsOf(result: Result<unknown>): readonly Problem[] {
  if (result.ok) throw new Error(`expected a problem, found ${String(result.value)}`);
  return result.problems;
}

/** The messages of a result that must not be there. */
export function messagesOf(result: Result<unknown>): readonly string[] {
  return problemsOf(result).map((one) => one.message);
}
