// Lustre: a preparation of precious metal.
import type { Column } from "../../document/workbook";
import { CAUTIONS } from "../caution-texts";
import { computed, numberInput } from "../column";
import type { StepKindRules } from "./kind";
import {
  blankUnless,
  blankWith,
  costOfEach,
  gramsLaidOn,
  LAID_ON,
  LAID_ON_INPUTS,
  laidOnColumns,
  materialOf,
} from "./parts";

function columns(step: string): readonly Column[] {
  return [
    ...laidOnColumns(step),
    computed(
      `${step}.used`,
      "used",
      "g",
      blankUnless(
        step,
        "coats",
        `LUSTRE_GRAMS({${step}.area},{${step}.coats},{route[${step}]:laydown},{route[${step}]:waste})`,
      ),
      { step, decimals: 3, words: "area × coats × laydown ÷ (1 − what stays in the brush, the dish and the bottle)" },
    ),
    computed(
      `${step}.fine`,
      "fine metal",
      "g",
      blankWith(`${step}.used`, `FINE_METAL({${step}.used},{route[${step}]:fraction},{route[${step}]:carat})`),
      { step, decimals: 4, words: "preparation used × its metal content × carat ÷ 24" },
    ),
    materialOf(step, "used", "grams of preparation used × price per gram"),
    ...costOfEach(step, "coats", `${step}.used`),
  ];
}

export const METAL: StepKindRules = {
  title: "Lustre",
  summary: "A precious-metal preparation, laid on by brush or spray.",
  ...LAID_ON,
  inputs: [
    ...LAID_ON_INPUTS,
    numberInput("waste", "waste", "%", {
      format: "percent",
      below: 1,
      words: "share of the preparation left in brush, dish and bottle",
    }),
  ],
  columns,
  material: {
    usedColumn: "used",
    title: "Uses",
    decimals: 3,
    planned: "LUSTRE_GRAMS({area}*1,{coats}*1,{laydown}*1,{waste})",
    grams: (coats, step, own) => {
      const gramsOnPiece = gramsLaidOn(coats, step, own);
      return { gramsOnPiece, gramsUsed: gramsOnPiece / (1 - (step.waste ?? 0)) };
    },
    isPrecious: true,
  },
  cautions: () => [CAUTIONS.lustre],
  burnsOff: [CAUTIONS.lustre],
  card: [
    { column: "coats", ofMaterial: true },
    { column: "area", unit: "cm²" },
    { column: "fine", unit: "g", decimals: 4, after: " of fine metal" },
  ],
};
