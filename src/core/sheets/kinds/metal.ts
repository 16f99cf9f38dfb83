// Lustre: a preparation of precious metal.
import type { Column } from "../../document/workbook";
import { CAUTIONS } from "../caution-texts";
import { computed, computedMoney, numberInput } from "../column";
import type { StepKindRules } from "./kind";
import { blankUnless, blankWith, COATS, costOfEach, LAID_ON_INPUTS, laidOnColumns } from "./parts";

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
    computedMoney(
      `${step}.material`,
      "material",
      blankWith(`${step}.used`, `{${step}.used}*{route[${step}]:per_gram}`),
      { step, words: "grams of preparation used × price per gram" },
    ),
    ...costOfEach(step, "coats", `${step}.used`),
  ];
}

export const METAL: StepKindRules = {
  title: "Lustre",
  summary: "A precious-metal preparation, laid on by brush or spray.",
  entered: COATS,
  shared: ["material", "minutes"],
  inputs: [
    ...LAID_ON_INPUTS,
    numberInput("waste", "waste", "%", {
      format: "percent",
      below: 1,
      words: "share of the preparation left in brush, dish and bottle",
    }),
  ],
  ownOfPiece: ["area"],
  columns,
  time: { each: "coat" },
  material: {
    usedColumn: "used",
    title: "Uses",
    decimals: 3,
    planned: "LUSTRE_GRAMS({area}*1,{coats}*1,{laydown}*1,{waste})",
    grams: (coats, step, own) => {
      const gramsOnPiece = (own.area ?? step.area ?? 0) * coats * (step.laydown ?? 0);
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
