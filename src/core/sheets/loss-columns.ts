// What of the losses at each step is normal, and which pieces bear it: columns of the Route sheet and lines of Results.
// Losses are judged over the edition (see `abnormal_pieces`); what is normal at a step is borne by the pieces that have
// passed it, at a step for special pieces by those alone.
import type { Column, Row } from "../document/workbook";
import { computed, computedMoney } from "./column";
import { atLine as at, byOutcome, money, result, wholeNumber } from "./line";
import { leftOfTier } from "./price-terms";

const hidden = { hidden: true } as const;
const isSpecial = `{who}="special"`;
const upTo = (column: string) => `SUM_UP_TO({order},{route:order},{route:${column}})`;
/** Pieces that stand at this step or beyond it, in a column that counts those whose last step is this one. */
const fromHere = (column: string) => `SUM({route:${column}})-${upTo(column)}+{${column}}`;
/** What seconds leave of a kind of loss, spread over what its other bearers bear already. */
const spread = (unborne: string, rest: string) =>
  `(1+IF(SUM({route:${rest}})=0,0,${at(unborne)}/SUM({route:${rest}})))`;
const secondsHere = `IF(${isSpecial},COUNT_BY("special",{pieces:second_kind}),${at("seconds")})`;

/** Columns of the Route sheet that judge and share the losses of a step. */
export const LOSS_COLUMNS: readonly Column[] = [
  computed("lost_planned", "of them planned", "pieces", "={loss}*{entered}", {
    decimals: 1,
    words: "planned loss × the pieces that entered",
  }),
  computed("lost_beyond", "beyond plan", "pieces", "=MAX(0,{lost}-{lost_planned})", {
    ...hidden,
    words: "pieces lost here beyond the planned ones",
  }),
  computedMoney(
    "abnormal",
    "abnormal loss",
    `=IF({lost}=0,0,({lost_cost}-{reclaimed}-{scrapped})*{lost_beyond}*${at("abnormal_part")}/{lost})`,
    {
      words: "what a piece lost here cost on average × the pieces beyond plan that are abnormal: a cost of the period",
    },
  ),
  computedMoney("normal", "normal loss", "={lost_cost}-{reclaimed}-{scrapped}-{abnormal}", {
    words: "cost of the other losses here, less clay won back and scrap: shared over the pieces that passed the step",
  }),
  computed("stand_all", "stand here", "pieces", "=COUNT_BY({order},{pieces:reached})", {
    ...hidden,
    words: "pieces not lost whose last step this is; finished ones stand at the last step of all",
  }),
  computed("stand_special", "special, stand here", "pieces", "=COUNT_BY({order},{pieces:reached_special})", hidden),
  computed("come", "come so far", "pieces", `=${fromHere("stand_all")}+${fromHere("lost")}`, {
    ...hidden,
    words: "pieces that have come to this step or beyond it, and those lost here or beyond",
  }),
  computed("kept_seen", "kept of those", "", `=IF({come}=0,"",1-{lost}/{come})`, hidden),
  computed("come_needed", "may have needed it", "pieces", `=IF({who}="as needed",{come},0)`, hidden),
  computed("needed_planned", "planned to need it", "pieces", "={come_needed}*{needed}", hidden),
  computed("bear", "bear it", "pieces", `=IF(${isSpecial},${fromHere("stand_special")},${fromHere("stand_all")})`, {
    format: "whole",
    words: "pieces not lost that have passed the step; of a step for special pieces, those alone",
  }),
  computedMoney("share_each", "loss, each", "=IF({bear}=0,0,{normal}/{bear})", {
    words: "normal loss here ÷ the pieces that bear it",
  }),
  computedMoney("share_all", "loss, each, for all", `=IF(${isSpecial},0,{share_each})`, hidden),
  computedMoney("share_special", "loss, each, special", `=IF(${isSpecial},{share_each},0)`, hidden),
  computedMoney(
    "rest_all",
    "borne by others than seconds",
    `=IF(${isSpecial},0,{share_each}*({bear}-${secondsHere}))`,
    hidden,
  ),
  computedMoney("rest_special", "… special", `=IF(${isSpecial},{share_each}*({bear}-${secondsHere}),0)`, hidden),
  computedMoney("normal_alone", "nobody passed", "=IF({bear}=0,{normal},0)", hidden),
  computedMoney("falls_all", "losses until here", `=${upTo("share_all")}*${spread("unborne", "rest_all")}`, {
    ...hidden,
    words: "what a piece that has come this far bears of the losses, with what seconds can't bear",
  }),
  computedMoney(
    "falls_special",
    "special, losses until here",
    `={falls_all}+${upTo("share_special")}*${spread("unborne_special", "rest_special")}`,
    { ...hidden, words: "the same of a special piece, which bears the losses of its own steps besides" },
  ),
];

const reworked = `TOTAL_BY("as needed",{route:who},{route:done})`;

/** Lines of Results that judge what was done over again as losses are judged. It stays in the cost of the pieces that had it. */
export const REWORK_LINES: readonly Row[] = [
  result(
    "reworked",
    "Steps done as needed",
    "pieces",
    `=${reworked}`,
    "refires, second coats: pieces × steps",
    wholeNumber,
  ),
  result(
    "rework_planned",
    "… of them planned",
    "pieces",
    "=SUM({route:needed_planned})",
    "the share expected to need each such step × the pieces that have come so far",
    { decimals: 1 },
  ),
  result(
    "rework_chance",
    "… chance of as many or more",
    "",
    `=LOSS_CHANCE(${at("reworked")},{route:come_needed},{route:needed})`,
    "how often a run would need as many by chance alone, at the shares expected",
    { format: "percent" },
  ),
  result(
    "rework_beyond",
    "… beyond plan and chance",
    "pieces",
    `=ABNORMAL_LOSSES(${at("reworked")},${at("rework_planned")},${at("rework_chance")},loss_runs)`,
    "judged over the edition, by the odds that losses are judged by",
    { decimals: 1 },
  ),
  result(
    "rework_cost",
    "Steps done as needed cost",
    "¤",
    `=TOTAL_BY("as needed",{route:who},{route:cost})`,
    "part of the own cost of the pieces that had them",
    money,
  ),
  result(
    "rework_beyond_cost",
    "… beyond plan and chance",
    "¤",
    `=IF(${at("reworked")}=0,0,${at("rework_cost")}*${at("rework_beyond")}/${at("reworked")})`,
    "at the average cost; it stays with the pieces, and an accountant may want it as an expense (IAS 2 §16(a))",
    money,
  ),
];

const bothShares = `(${at("share_each")}+${at("share_special")})`;
const ofSpecial = `TOTAL_BY("special",{pieces:second_kind},{pieces:second_short})`;

/** Lines of Results that judge the losses over the edition. */
export const LOSS_LINES: readonly Row[] = [
  result(
    "planned_lost",
    "Losses planned so far",
    "pieces",
    "=SUM({route:lost_planned})",
    "planned loss of each step × the pieces that entered it, all steps together",
    { decimals: 1 },
  ),
  result(
    "loss_chance",
    "Chance of as many losses or more",
    "",
    "=LOSS_CHANCE(SUM({route:lost}),{route:entered},{route:loss})",
    "how often a run would lose as many by chance alone, were every piece lost at the planned rates",
    { format: "percent" },
  ),
  result(
    "abnormal_pieces",
    "Pieces lost that are abnormal",
    "pieces",
    `=ABNORMAL_LOSSES(SUM({route:lost}),${at("planned_lost")},${at("loss_chance")},loss_runs)`,
    "lost − planned over the whole edition, steps below plan setting off steps above, once chance gives as many in fewer runs than the Edition sheet says (IAS 2 §16(a); ASC 330-10-30-7)",
    { decimals: 1 },
  ),
  result(
    "abnormal_part",
    "… of the losses beyond plan at single steps",
    "",
    `=IF(SUM({route:lost_beyond})=0,0,${at("abnormal_pieces")}/SUM({route:lost_beyond}))`,
    "what steps below plan and chance leave of them; the same part of each step's",
    { format: "percent" },
  ),
  result(
    "abnormal",
    "Abnormal loss",
    "¤",
    "=SUM({route:abnormal})",
    "what those pieces had cost, less clay and scrap: a cost of the period, not of the pieces",
    money,
  ),
  result(
    "normal",
    "Normal loss to share",
    "¤",
    "=SUM({route:normal})",
    "the other losses, less clay won back and scrap: borne by the pieces that passed the step where they were lost",
    money,
  ),
  result(
    "share_each",
    "Losses that a finished piece is to bear",
    "¤",
    "=SUM({route:share_all})",
    "normal loss of each step for all ÷ the pieces that passed it, added up",
    money,
  ),
  result(
    "share_special",
    "… and a special one besides",
    "¤",
    "=SUM({route:share_special})",
    "the same for the steps that are for special pieces only",
    money,
  ),
  result(
    "second_worth",
    "What a second fetches",
    "¤",
    `=${leftOfTier("second")}`,
    "price of a second without tax, fees and packing",
    money,
  ),
  result(
    "unborne",
    "Losses that seconds can't bear",
    "¤",
    `=SUM({pieces:second_short})-${at("unborne_special")}`,
    "a second takes no more than it fetches; the rest falls on the other pieces that passed the same steps",
    money,
  ),
  result(
    "unborne_special",
    "… at steps for special pieces",
    "¤",
    `=IF(${ofSpecial}=0,0,${ofSpecial}*${at("share_special")}/${bothShares})`,
    "falls on the other special pieces",
    money,
  ),
  result(
    "share_good",
    "Share of a good piece",
    "¤",
    `=IF(${at("good")}=0,"",${byOutcome("good", "loss_share")}/${at("good")})`,
    "what good pieces bear of the losses ÷ their number",
    money,
  ),
  result(
    "unshared",
    "Normal loss that no piece can bear",
    "¤",
    `=SUM({route:normal_alone})+IF(SUM({route:rest_all})=0,${at("unborne")},0)+IF(SUM({route:rest_special})=0,${at("unborne_special")},0)`,
    "lost at a step that no piece has passed, or left by seconds with nobody beside them: a cost of the period",
    money,
  ),
];
