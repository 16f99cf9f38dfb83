// Coats of slip, underglaze or glaze.
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
      `${step}.grams`,
      "on piece",
      "g",
      blankUnless(step, "coats", `{${step}.area}*{${step}.coats}*{route[${step}]:laydown}`),
      { step, decimals: 1, words: "area × coats × dry grams laid down per cm² and coat" },
    ),
    computed(
      `${step}.used`,
      "used",
      "g",
      blankWith(
        `${step}.grams`,
        `COAT_GRAMS({${step}.area},{${step}.coats},{route[${step}]:laydown},{route[${step}]:transfer})`,
      ),
      { step, decimals: 1, words: "grams on the piece ÷ the share of the spray that lands on it" },
    ),
    materialOf(step, "grams", "grams used × price per gram"),
    ...costOfEach(step, "coats", `${step}.grams`),
  ];
}

const SPRAYED = /spray/i;

export const COAT: StepKindRules = {
  title: "Coat",
  summary: "Slip, underglaze or glaze, by spray, brush or dip.",
  ...LAID_ON,
  inputs: [
    ...LAID_ON_INPUTS,
    numberInput("transfer", "transfer", "%", {
      format: "percent",
      min: 0.01,
      max: 1,
      words: "share of what is sprayed that lands on the piece",
    }),
  ],
  columns,
  material: {
    usedColumn: "used",
    title: "Uses",
    decimals: 0,
    planned: "COAT_GRAMS({area}*1,{coats}*1,{laydown}*1,{transfer})",
    grams: (coats, step, own) => {
      const gramsOnPiece = gramsLaidOn(coats, step, own);
      return { gramsOnPiece, gramsUsed: gramsOnPiece / (step.transfer ?? 1) };
    },
  },
  cautions: (text) =>
    SPRAYED.test(text) ? [CAUTIONS.spray, CAUTIONS.silica, CAUTIONS.food] : [CAUTIONS.silica, CAUTIONS.food],
  card: [
    { column: "coats", ofMaterial: true },
    { column: "area", unit: "cm²" },
    { column: "grams", unit: "g", after: " on the piece" },
  ],
};
