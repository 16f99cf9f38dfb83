// Firings: a row of the Firings sheet holds what each took, and its pieces share it.
import type { Column } from "../../document/workbook";
import { CAUTIONS } from "../caution-texts";
import { choiceFrom, computedMoney, computedText } from "../column";
import type { StepKindRules } from "./kind";
import { blankUnless, blankWith } from "./parts";

function columns(step: string): readonly Column[] {
  const load = `{${step}.load}`;
  const weight = `SWITCH(PICK(${load},{firings:id},{firings:basis}),"weight",{kg},"shelf area",{foot},1)`;
  return [
    choiceFrom(`${step}.firing`, "firing", "firings:id", { step }),
    computedText(`${step}.load`, "in load", blankUnless(step, "firing", `{${step}.firing}`), {
      step,
      hidden: true,
      words: "the firing, if the piece was still there when it was fired",
    }),
    computedMoney(`${step}.cost`, "share", blankWith(`${step}.load`, `FIRING_SHARE(${load},${weight})`), {
      step,
      staysFolded: true,
      words: "cost of the firing, shared over the pieces really in it as the firing says",
    }),
  ];
}

export const FIRING: StepKindRules = {
  title: "Firing",
  summary: "Bisque, glaze or low firing; a row on the Firings sheet holds what it took.",
  entered: "firing",
  shared: ["kiln", "programme"],
  inputs: [],
  ownOfPiece: ["kiln"],
  columns,
  cautions: (text) =>
    /lustre|\blow\b/i.test(text) ? [CAUTIONS.lustre, CAUTIONS.kiln, CAUTIONS.fumes] : [CAUTIONS.kiln, CAUTIONS.fumes],
  card: [],
};
