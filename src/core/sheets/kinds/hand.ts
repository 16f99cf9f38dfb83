// Work by hand, by the minute.
import type { Column } from "../../document/workbook";
import { CAUTIONS } from "../caution-texts";
import { computedMoney, numberInput } from "../column";
import type { StepKindRules } from "./kind";
import { blankUnless, blankWith } from "./parts";

function columns(step: string): readonly Column[] {
  return [
    numberInput(`${step}.minutes`, "time", "min", { step, max: 1440 }),
    computedMoney(`${step}.labour`, "labour", blankUnless(step, "minutes", `{${step}.minutes}/60*wage`), {
      step,
      words: "minutes ÷ 60 × wage",
    }),
    computedMoney(
      `${step}.cost`,
      "cost",
      blankWith(`${step}.labour`, `{${step}.labour}+{${step}.minutes}/60*overhead_hour`),
      { step, staysFolded: true, words: "labour + overhead for its minutes" },
    ),
  ];
}

const DUSTY = /\b(fettl|sand|trim|turn|cut|scrape|grind|dry|wipe|spong|mask|clean|sweep|mix|weigh)/i;

export const HAND: StepKindRules = {
  title: "Work by hand",
  summary: "Throw, press, fettle, cut, dry, sand, mask, wipe, inspect or pack.",
  entered: {
    column: "minutes",
    usual: "minutes",
    otherwise: 0,
    title: "Minutes",
    question: "How many minutes?",
    inWords: (shown) => `${shown} min`,
    onPaper: "minutes",
  },
  shared: ["minutes"],
  inputs: [],
  ownOfPiece: [],
  columns,
  time: "entered",
  isKnownByTitle: true,
  cautions: (text) => (DUSTY.test(text) ? [CAUTIONS.silica] : []),
  card: [{ column: "minutes", unit: "min" }],
};
