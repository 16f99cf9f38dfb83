// Problems from a schema check, with the exact path, what was found there and what is allowed.
import type * as z from "zod/mini";
import { type Problem, problem } from "../problem";

/** Turns the first `most` issues of a failed check into problems; `data` is what was checked, `where` its file. */
export function zodProblems(
  error: z.core.$ZodError,
  data: unknown,
  where: string,
  most = Number.POSITIVE_INFINITY,
): Problem[] {
  return error.issues.slice(0, most).map((issue) => {
    const extra = issue.code === "unrecognized_keys" ? issue.keys[0] : undefined;
    const path = extra === undefined ? issue.path : [...issue.path, extra];
    return problem({
      code: `file.${issue.code}`,
      where: path.length === 0 ? where : `${where}, ${pathText(path)}`,
      found: extra === undefined ? valueAt(data, path) : extra,
      allowed: extra === undefined ? allowedBy(issue) : "no such entry",
    });
  });
}

function pathText(path: readonly PropertyKey[]): string {
  return path
    .map((key, at) => (typeof key === "number" ? `[${key}]` : `${at === 0 ? "" : "."}${String(key)}`))
    .join("");
}

function valueAt(data: unknown, path: readonly PropertyKey[]): unknown {
  let value = data;
  for (const key of path)
    value = typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[key] : undefined;
  return value;
}

const EXPECTED: Readonly<Record<string, string>> = {
  string: "text",
  int: "a whole number",
  boolean: "yes or no (true or false)",
  array: "a list, [ ]",
  object: "named entries, { }",
  record: "named entries, { }",
};

function allowedBy(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case "invalid_type":
      return EXPECTED[issue.expected] ?? `a ${issue.expected}`;
    case "invalid_value":
      return `one of ${issue.values.map(String).join(", ")}`;
    case "too_small":
      return `${issue.minimum} or more${sizeNoun(issue.origin)}`;
    case "too_big":
      return `${issue.maximum} or less${sizeNoun(issue.origin)}`;
    case "invalid_key":
      return issue.issues[0]?.message ?? issue.message;
    case "invalid_format":
      return issue.message;
    case "invalid_union":
      return issue.message === "Invalid input" ? "text, a number, yes or no, or a formula" : issue.message;
    default:
      return issue.message;
  }
}

function sizeNoun(origin: string): string {
  return origin === "string" ? " characters" : origin === "array" ? " entries" : "";
}
