// A formula that a maker tries out in the help: checked like a typed one, calculated by the engine, kept nowhere.

import { checkTypedFormula } from "../../core/formula/typed-formula";
import { fail, ok, problem, type Result } from "../../core/problem";
import { isCellError } from "../../engine/values";
import { showNumber } from "./format";
import type { Session } from "./session";

/** What a formula comes to in this edition, as text. It may use inputs and whole columns, but no cell of its own row. */
export async function tryFormula(session: Session, typed: string): Promise<Result<string>> {
  const text = typed.trim().replace(/^=?/, "=");
  const checked = checkTypedFormula(session.book.value, "edition", text);
  if (!checked.ok) return checked;
  const value = await session.calculate(checked.value);
  if (isCellError(value))
    return fail(
      problem({
        code: "try.error",
        where: "The formula",
        found: typed.trim(),
        allowed: "a formula that gives a value",
        fix: value.message,
      }),
    );
  if (value === null || value === "") return ok("nothing: a blank");
  return ok(typeof value === "number" ? showNumber(value, 0, 9, session.formats.locale) : String(value));
}
