// A kind of step that the program does not have: decals, counted in sheets, each of so many grams of a material.
import type { Column } from "../../src/core/document/workbook";
import { computed, computedMoney, numberInput } from "../../src/core/sheets/column";
import type { StepKindRules } from "../../src/core/sheets/kinds/kind";
import { blankUnless, blankWith, costOfEach } from "../../src/core/sheets/kinds/parts";

function columns(step: string): readonly Column[] {
  return [
    numberInput(`${step}.sheets`, "sheets", "", { step, whole: true, max: 50 }),
    computed(
      `${step}.used`,
      "used",
      "g",
      blankUnless(step, "sheets", `{${step}.sheets}*{route[${step}]:sheet_grams}`),
      { step, decimals: 2, words: "sheets × grams of a sheet" },
    ),
    computedMoney(
      `${step}.material`,
      "material",
      blankWith(`${step}.used`, `{${step}.used}*{route[${step}]:per_gram}`),
      { step, words: "grams of sheets used × price per gram" },
    ),
    ...costOfEach(step, "sheets", `${step}.used`),
  ];
}

const gramsOfSheet = (step: object) => ("sheet_grams" in step ? Number(step.sheet_grams) : 0);

export const DECAL: StepKindRules = {
  title: "Decal",
  summary: "A printed sheet, soaked and slid on.",
  entered: {
    // The program's own amounts are a closed list; this one stands for a word more in it.
    column: "sheets" as "coats",
    usual: "sheets",
    otherwise: 1,
    title: "Sheets",
    question: "How many sheets?",
    inWords: (shown) => (shown === "1" ? "1 sheet" : `${shown} sheets`),
    onPaper: "sheets",
  },
  shared: ["material", "minutes"],
  inputs: [
    numberInput("sheets", "sheets", "", { whole: true, max: 50 }),
    numberInput("sheet_grams", "a sheet", "g", { decimals: 2 }),
  ],
  ownOfPiece: [],
  columns,
  time: { each: "sheet" },
  material: {
    usedColumn: "used",
    title: "Uses",
    decimals: 2,
    planned: "{sheets}*{sheet_grams}",
    grams: (sheets, step) => {
      const grams = sheets * gramsOfSheet(step);
      return { gramsOnPiece: grams, gramsUsed: grams };
    },
  },
  cautions: () => [],
  card: [{ column: "sheets", ofMaterial: true }],
};
