// Casting: slip poured into a mould.
import type { Column } from "../../document/workbook";
import { CAUTIONS } from "../caution-texts";
import { computedMoney, numberInput, textInput } from "../column";
import type { StepKindRules } from "./kind";
import { blankUnless, blankWith, pricedColumn, priceOf } from "./parts";

function columns(step: string): readonly Column[] {
  return [
    numberInput(`${step}.slip`, "slip kept", "g", { step }),
    pricedColumn(step),
    textInput(`${step}.mould`, "mould", { step }),
    computedMoney(`${step}.material`, "slip", blankUnless(step, "slip", `{${step}.slip}*${priceOf(step)}`), {
      step,
      words: "slip kept × price per gram of the slip",
    }),
    computedMoney(`${step}.wear`, "mould", blankWith(`${step}.material`, "mould_wear"), {
      step,
      words: "wear of a mould, a cast, as on the Edition sheet",
    }),
    computedMoney(`${step}.labour`, "labour", blankWith(`${step}.material`, `{route[${step}]:minutes}/60*wage`), {
      step,
      words: "minutes of the step on the Route sheet ÷ 60 × wage",
    }),
    computedMoney(
      `${step}.cost`,
      "cost",
      blankWith(
        `${step}.material`,
        `{${step}.material}+{${step}.wear}+{${step}.labour}+{route[${step}]:minutes}/60*overhead_hour`,
      ),
      { step, staysFolded: true, words: "slip + mould + labour + overhead for its minutes" },
    ),
  ];
}

export const CAST: StepKindRules = {
  title: "Cast",
  summary: "Slip poured into a mould, kept and drained.",
  entered: {
    column: "slip",
    usual: "grams",
    title: "Slip kept",
    inWords: (shown, unit) => `${shown} ${unit} of slip`,
    onPaper: "slip kept, g",
  },
  shared: ["material", "minutes"],
  inputs: [numberInput("grams", "slip", "g", { words: "slip usually kept in a cast, in grams" })],
  ownOfPiece: [],
  columns,
  time: "a piece",
  material: {
    usedColumn: "slip",
    title: "Slip kept",
    decimals: 0,
    planned: "{grams}*1",
    grams: (slip) => ({ gramsOnPiece: slip, gramsUsed: slip }),
  },
  isMaking: true,
  usesMould: true,
  cautions: () => [CAUTIONS.silica],
  card: [
    { column: "slip", unit: "g", decimals: 0, ofMaterial: true },
    { column: "mould", before: "mould " },
  ],
};
