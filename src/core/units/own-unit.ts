// A unit as a maker gives it to a column or an input of their own.
import { fail, ok, problem, type Result } from "../problem";
import { nearUnit, parseUnit } from "./parse";
import { SIGNS } from "./quantity";

/** The unit as it is kept: a known one by its symbol, or a word for things that are counted. */
export function readOwnUnit(typed: string, currency: string, where: string): Result<string> {
  const signs = [currency, ...Object.keys(SIGNS).filter((sign) => SIGNS[sign]?.includes(currency))];
  const text = signs.reduce((all, sign) => all.replace(sign, "¤"), typed.trim());
  const unit = parseUnit(text);
  if (unit) return ok(unit.text);
  const allowed = "a unit such as g, cm², min, kWh or ¤/kg, a word for what is counted, or nothing for plain numbers";
  const near = text.length < 5 ? undefined : nearUnit(text);
  if (near) return fail(problem({ code: "unit.near", where, found: typed, allowed, fix: `Did you mean ${near}?` }));
  return /^\p{L}[\p{L} ]{0,38}$/u.test(text)
    ? ok(text)
    : fail(problem({ code: "unit.unknown", where, found: typed, allowed }));
}
