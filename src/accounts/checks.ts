// Turns what cannot be calculated with into problems. Each check gives a list of none or one, so that lists can be joined.
import { fail, ok, type Problem, problem, type Result } from "../core/problem";

/** A list with one problem unless the condition holds; numbers that are not finite are told apart from those out of range. */
export function need(
  holds: boolean,
  where: string,
  found: unknown,
  allowed: string,
  more: { readonly code?: string; readonly fix?: string } = {},
): readonly Problem[] {
  if (holds) return [];
  const isMissing = typeof found === "number" && !Number.isFinite(found);
  const code = more.code ?? (isMissing ? "number.missing" : "number.range");
  return [problem({ code, where, found, allowed, ...(more.fix ? { fix: more.fix } : {}) })];
}

/** Any finite number. */
export function needNumber(where: string, found: number): readonly Problem[] {
  return need(Number.isFinite(found), where, found, "a number");
}

/** A finite number from 0 up. */
export function needFromZero(where: string, found: number): readonly Problem[] {
  return need(Number.isFinite(found) && found >= 0, where, found, "a number from 0 up");
}

/** A finite number above 0. */
export function needAboveZero(where: string, found: number): readonly Problem[] {
  return need(Number.isFinite(found) && found > 0, where, found, "a number above 0");
}

/** A fraction from 0 to 1, both allowed. */
export function needPart(where: string, found: number): readonly Problem[] {
  return need(found >= 0 && found <= 1, where, found, "a fraction from 0 to 1", { fix: percentHint(found) });
}

/** A fraction from 0 to below 1, such as a loss rate, a margin or a fee. */
export function needPartBelowOne(where: string, found: number): readonly Problem[] {
  return need(found >= 0 && found < 1, where, found, "a fraction from 0 to below 1", { fix: percentHint(found) });
}

/** A margin: a fraction below 1, and below 0 where a loss is meant. */
export function needMargin(where: string, found: number): readonly Problem[] {
  return need(Number.isFinite(found) && found < 1, where, found, "a fraction below 1", { fix: percentHint(found) });
}

/** A whole number from `least` up. */
export function needWhole(where: string, found: number, least = 0): readonly Problem[] {
  return need(Number.isSafeInteger(found) && found >= least, where, found, `a whole number from ${least} up`);
}

/** Texts that all differ. */
export function needDifferent(where: string, texts: readonly string[]): readonly Problem[] {
  const seen = new Set<string>();
  for (const text of texts) {
    if (seen.has(text))
      return [problem({ code: "name.twice", where, found: `${text} twice`, allowed: "names that all differ" })];
    seen.add(text);
  }
  return [];
}

/** An answer, unless it grew too large to be a number. */
export function finiteAnswer(where: string, answer: number): Result<number> {
  if (Number.isFinite(answer)) return ok(answer);
  return fail(
    problem({
      code: "number.overflow",
      where,
      found: answer,
      allowed: "an answer that can be written as a number",
      fix: "One of the values given is far too large or too small.",
    }),
  );
}

function percentHint(found: number): string {
  return found > 1 && found <= 100 ? "Write a percentage as a fraction: 65 % is 0.65." : "";
}
