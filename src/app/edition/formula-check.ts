// The check of units with every function of the sheet. It brings the functions with it, so the page loads it when a formula
// is typed, a dialog needs it, or a template is read.
import { unitCheck } from "../../core/formula/dimensions/check";
import { functionNamed } from "../../engine/functions";

/** Looks at the units of a formula. */
export const checkFormula = unitCheck(functionNamed);
