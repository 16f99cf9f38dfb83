// How a unit that is being typed will be understood, in words.

import { dimensionName } from "../../core/units/dimension";
import { readOwnUnit } from "../../core/units/own-unit";
import { isOpenUnit, parseUnit } from "../../core/units/parse";
import type { Session } from "./session";

/** What a typed unit measures, or what is wrong with it. */
export function unitWords(session: Session, typed: string): string {
  if (typed.trim() === "") return "Blank is a plain number.";
  const read = readOwnUnit(typed, session.book.value.meta.currency, "The unit");
  if (!read.ok)
    return (
      read.problems[0]?.fix || "Not known. Use g, cm², min, kWh, ¤/kg and the like, or a word for what is counted."
    );
  const unit = parseUnit(read.value);
  if (!unit || isOpenUnit(read.value)) return "A word for what is counted: a plain number in formulas.";
  const name = dimensionName(unit.dimension);
  const written = read.value.replaceAll("¤", session.formats.currency);
  return unit.terms.length === 1 && unit.terms[0]?.unit.name !== name
    ? `${written}: ${unit.terms[0]?.unit.name}, ${name}.`
    : `${written}: ${name}.`;
}
