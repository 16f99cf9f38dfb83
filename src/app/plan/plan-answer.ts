// What the Plan page answers: what a piece of each tier costs and why, how many to start, the price, what the plan leaves.
import { plural } from "../../core/counted";
import type { CellName } from "../../core/document/access";
import { heldPlan } from "../../core/record/kept-plan";
import {
  COST_PARTS,
  type CostPart,
  PLANNED_TIERS,
  type PlannedTier,
  partLine,
} from "../../core/sheets/plan-tier-lines";
import { phaseOf, plannedNumber } from "../edition/figures";
import { showNumber } from "../edition/format";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";
import { numberAt, type Sentence, type StoryNumber, storyMoney, storyNumber } from "../settle/story";

/** The Edition line of an id. */
export const planLine = (row: string): CellName => ({ sheet: "edition", row, column: "value" });

const PART_TITLES: Readonly<Record<CostPart, string>> = {
  material: "Material",
  labour: "Labour",
  overhead: "Overhead",
  firing: "Firing",
  losses: "Losses",
};

/** A part of a piece's cost. */
interface AnswerPart {
  readonly part: CostPart;
  readonly title: string;
  readonly cost: StoryNumber;
  /** Share of the dearest tier's cost, 0 to 1. */
  readonly share: number;
}

/** What one piece of a tier is planned to cost, and the price for it. */
export interface TierAnswer {
  readonly tier: PlannedTier;
  readonly cost: StoryNumber;
  readonly parts: readonly AnswerPart[];
  readonly price: StoryNumber;
  /** The price that stands on the Edition sheet. */
  readonly asked: StoryNumber;
  /** The margin that the price leaves, where it went up to a price point. */
  readonly margin: StoryNumber | undefined;
  /** Whether that price is below the one for the wanted margin. */
  readonly isBelow: boolean;
}

/** Each tier that is planned for; none while the plan is not calculated. */
export function tierAnswers(session: Session): readonly TierAnswer[] {
  const costs = PLANNED_TIERS.map((tier) => numberAt(session, planLine(`plan_${tier}`)));
  const most = Math.max(0, ...costs.map((cost) => cost ?? 0));
  return PLANNED_TIERS.flatMap((tier, at): TierAnswer[] => {
    // Special pieces are shown where there are any; the standard ones always, if only to say what is wrong.
    if (costs[at] === undefined && tier === "special") return [];
    const parts = COST_PARTS.map((part): AnswerPart => {
      const cell = planLine(partLine(tier, part));
      const share = most > 0 ? Math.max(0, numberAt(session, cell) ?? 0) / most : 0;
      return { part, title: PART_TITLES[part], cost: storyMoney(session, cell), share };
    });
    const [price, asked] = [planLine(`plan_${tier}_price`), planLine(`price_${tier}`)];
    const half = 0.5 * 10 ** -session.digits;
    const isBelow = (numberAt(session, asked) ?? 0) < (numberAt(session, price) ?? 0) - half;
    return [
      {
        ...{ tier, parts, isBelow },
        cost: storyMoney(session, planLine(`plan_${tier}`)),
        price: storyMoney(session, price),
        margin: hasPoints(session) ? editionNumber(session, `plan_${tier}_margin`) : undefined,
        asked: storyMoney(session, asked),
      },
    ];
  });
}

const hasPoints = (session: Session) => session.value(planLine("price_points")) !== "none";

/** A number of the Edition sheet as it is shown there. */
export function editionNumber(session: Session, row: string): StoryNumber {
  return storyNumber(session, planLine(row));
}

/** What the plan's average is that the line of figures holds a good piece against, and how it differs from the piece above. */
export function averageWords(session: Session, hasTiers: boolean): Sentence["parts"] {
  const of = (row: string, say: (value: number) => string): StoryNumber => {
    const value = plannedNumber(session, row);
    return { text: typeof value === "number" ? say(value) : "–", cell: planLine(row) };
  };
  const kept = heldPlan(session.book.value) ? ", of the plan that was kept" : "";
  const over = hasTiers ? "pieces of both tiers and " : "";
  return [
    ...["“Plan” beside the cost of a good piece, ", of("plan_per_good", (value) => moneyText(session, value))],
    ...[`, is an average${kept}: planned cost ÷ `],
    of("plan_good", (value) => showNumber(value, 1, 1, session.formats.locale)),
    ` good pieces to expect, with ${over}every load that has to be fired.`,
  ];
}

/** How sure the starts make it, and what wanted ÷ yield would risk. */
export function startWords(session: Session): Sentence["parts"] {
  const [starts, naive] = [numberAt(session, planLine("starts")), numberAt(session, planLine("naive"))];
  const of = (row: string) => editionNumber(session, row);
  const sure = ["to be ", of("confidence"), " sure of ", of("wanted"), " good ones. "];
  if (starts === undefined || naive === undefined) return sure;
  if (naive >= starts) return [...sure, "Wanted ÷ yield gives no fewer."];
  return [
    ...[...sure, "Wanted ÷ yield would be ", of("naive"), " pieces, and those deliver only "],
    ...[of("naive_chance"), " of the time."],
  ];
}

/** Rows on the Pieces sheet that the plan has no piece for, or pieces it has no row for. */
export interface PieceGap {
  readonly rows: number;
  readonly starts: number;
  readonly words: string;
  /** How many to add; below 0, how many untouched rows at the end to take away. */
  readonly add: number;
}

/** The difference between the plan's starts and the rows on Pieces, before anything has been recorded; later only a shortfall. */
export function gapOf(session: Session): PieceGap | undefined {
  const starts = numberAt(session, planLine("starts"));
  const rows = session.book.value.sheets.pieces.rows.length;
  if (starts === undefined || starts === rows) return undefined;
  if (starts < rows && phaseOf(session) !== "before") return undefined;
  const count = (number: number) => showNumber(number, 0, 0, session.formats.locale);
  const words = `Pieces has ${count(rows)} ${plural(rows, "row")} for ${count(starts)} ${plural(starts, "start")}.`;
  return { rows, starts, words, add: starts - rows };
}
