// Formulas that the groups of several kinds have in common.
import { plural } from "../../counted";
import type { Column } from "../../document/workbook";
import { choiceFrom, computedMoney, dateInput, numberFrom, numberInput } from "../column";
import type { AmountRules, LaidOn, StepKindRules } from "./kind";

/** True of a piece that had been lost before the step: it bears nothing of it. */
const lostBefore = (step: string) => `{lost_order}<{route[${step}]:order}`;

/** A formula that is blank where nothing was entered in a column of the group, and for pieces lost before. */
export const blankUnless = (step: string, column: string, value: string) =>
  `=IF(OR({${step}.${column}}="",${lostBefore(step)}),"",${value})`;

/** A formula that is blank where another column is. */
export const blankWith = (column: string, value: string) => `=IF({${column}}="","",${value})`;

/** Coats, as they are entered of a piece. */
const COATS: AmountRules = {
  column: "coats",
  usual: "coats",
  otherwise: 1,
  title: "Coats",
  question: "How many coats?",
  inWords: (shown) => `${shown} ${plural(Number(shown), "coat")}`,
  onPaper: "coats",
};

/** What a kind that is laid on in coats says of its entry, its minutes and its area. */
export const LAID_ON = {
  entered: COATS,
  shared: ["material", "minutes"],
  ownOfPiece: ["area"],
  time: { each: "coat" },
} as const satisfies Partial<StepKindRules>;

/** Dry grams that so many coats leave on a piece; the piece's own area comes before that of the Route. */
export const gramsLaidOn = (coats: number, step: LaidOn, own: Pick<LaidOn, "area">): number =>
  (own.area ?? step.area ?? 0) * coats * (step.laydown ?? 0);

/** Which purchase says what a gram cost on the day of the step; Record writes it, and blank goes by Materials. */
export const pricedColumn = (step: string): Column =>
  choiceFrom(`${step}.priced`, "price of", "purchases:id", {
    step,
    hidden: true,
    words: "the purchase whose price a gram had on the day this was recorded",
  });

/** The day on which the step was done; Record writes it. A firing has its own. */
export const dayColumn = (step: string): Column =>
  dateInput(`${step}.day`, "on", { step, hidden: true, words: "the day on which this was recorded" });

/** Price a gram of the material of a step, on its day. */
export const priceOf = (step: string): string =>
  `IF({${step}.priced}="",{route[${step}]:per_gram},PICK({${step}.priced},{purchases:id},{purchases:per_gram}))`;

/** Cost of the grams used; blank where `had` is, the first grams of the group. */
export const materialOf = (step: string, had: string, words: string): Column =>
  computedMoney(`${step}.material`, "material", blankWith(`${step}.${had}`, `{${step}.used}*${priceOf(step)}`), {
    step,
    words,
  });

/** Route columns of what is laid on in coats. */
export const LAID_ON_INPUTS: readonly Column[] = [
  numberInput("area", "area", "cm²", {}),
  numberInput("coats", "coats", "", { whole: true, max: 50 }),
  numberInput("laydown", "laydown", "g/cm²", {
    decimals: 5,
    words: "dry grams per cm² and coat that stay on the piece",
  }),
];

/** Area and coats of a piece. */
export const laidOnColumns = (step: string): readonly Column[] => [
  numberFrom(`${step}.area`, "area", "cm²", blankWith(`${step}.coats`, `{route[${step}]:area}`), {
    step,
    words: "the area on the Route sheet, unless this piece has its own",
  }),
  numberInput(`${step}.coats`, "coats", "", { step, whole: true, max: 50 }),
  pricedColumn(step),
];

/** Price of the material, labour and cost of a step whose minutes are those of each coat; `used` is blank where it was not had. */
export const costOfEach = (step: string, amount: string, used: string): readonly Column[] => [
  computedMoney(
    `${step}.labour`,
    "labour",
    blankUnless(step, amount, `{${step}.${amount}}*{route[${step}]:minutes}/60*wage`),
    { step, words: `${amount} × minutes a ${amount.replace(/s$/, "")} ÷ 60 × wage` },
  ),
  computedMoney(
    `${step}.cost`,
    "cost",
    blankWith(
      used,
      `{${step}.material}+{${step}.labour}+{${step}.${amount}}*{route[${step}]:minutes}/60*overhead_hour`,
    ),
    { step, staysFolded: true, words: "material + labour + overhead for its minutes" },
  ),
];
