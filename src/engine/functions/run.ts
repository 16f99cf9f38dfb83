// What a declared function gives, for all who call it: the engine's plug-in, what-ifs and explanations.
import type { Argument, FunctionDeclaration } from "./declare";

/** A result, or the words of the error that the cell gets. */
type Outcome =
  | { readonly ok: true; readonly value: number | string }
  | { readonly ok: false; readonly message: string };

/** The outcome of a function of ours for checked arguments and, after them, the whole columns it reads by itself. */
export function outcomeOf(
  { name, run }: FunctionDeclaration,
  checked: readonly Argument[],
  read: readonly Argument[],
): Outcome {
  const result = run?.(...checked, ...read);
  if (!result) return { ok: false, message: `${name}: no result.` };
  if (!result.ok) return { ok: false, message: `${name}: ${result.problems[0]?.message ?? "no result"}` };
  if (typeof result.value === "number" && !Number.isFinite(result.value))
    return { ok: false, message: `${name}: the result is not a number.` };
  return result;
}
