// The cautions of a step of the route: those of its kind, and what was laid on before a firing and burns off in it.
import type { Row } from "../document/workbook";
import type { Caution } from "./caution-texts";
import { isFiringStep, rulesOf } from "./step-kinds";

/** The cautions of a row of the route: a firing that follows lustre burns its fumes off, whatever it is called. */
export function cautionsOfStep(route: readonly Row[], step: Row): readonly Caution[] {
  const rules = rulesOf(step);
  if (!rules) return [];
  const { title, method } = step.cells;
  const usual = rules.cautions(`${textOf(title)} ${textOf(method)}`);
  return isFiringStep(step) ? [...new Set([...burntOff(route, step), ...usual])] : usual;
}

const textOf = (raw: unknown) => (typeof raw === "string" ? raw : "");

/** Cautions of what is laid on between the firing before and this one. */
function burntOff(route: readonly Row[], firing: Row): readonly Caution[] {
  const before = route.slice(0, route.indexOf(firing));
  const since = before.slice(before.findLastIndex(isFiringStep) + 1);
  return since.flatMap((row) => rulesOf(row)?.burnsOff ?? []);
}
