// The table of the kinds of step. To add one, see "A step kind" in DEVELOPERS.md.
import type { STEP_KINDS } from "../../document/sheet-keys";
import { CAST } from "./cast";
import { COAT } from "./coat";
import { FIRING } from "./firing";
import { HAND } from "./hand";
import type { StepKindRules } from "./kind";
import { METAL } from "./metal";

/** What the workbook knows of each kind of step. */
export const STEP_KIND_RULES: Readonly<Record<(typeof STEP_KINDS)[number], StepKindRules>> = {
  cast: CAST,
  hand: HAND,
  coat: COAT,
  metal: METAL,
  firing: FIRING,
};
