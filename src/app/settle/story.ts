// The story of an edition in numbers: what a piece cost, what the losses cost, whether it paid. Every number says where it
// comes from, so that the page can lead there.
import { plural } from "../../core/counted";
import { type CellName, rowLabel, rowOf } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import { heldPlan } from "../../core/record/kept-plan";
import { isFiringStep, rulesOf } from "../../core/sheets/step-kinds";
import { isCellError } from "../../engine/values";
import { shownText } from "../edition/display";
import { plannedNumber } from "../edition/figures";
import { showNumber } from "../edition/format";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";
import { readerOf } from "./cell-reader";
import { netOfPrice } from "./price-terms";

/** A number of the story with the cell it comes from. */
export interface StoryNumber {
  readonly text: string;
  readonly cell: CellName;
}

/** A sentence: words, and numbers that lead somewhere. */
export interface Sentence {
  readonly question: string;
  readonly parts: readonly (string | StoryNumber)[];
}

const line = (sheet: SheetKey, row: string): CellName => ({ sheet, row, column: "value" });

/** The number of a cell; undefined where it is blank, an error or not calculated yet. */
export function numberAt(session: Session, cell: CellName): number | undefined {
  const value = session.value(cell);
  return typeof value === "number" ? value : undefined;
}

/** An amount and where it comes from; a dash, or the error, where there is no number. */
export function storyMoney(session: Session, cell: CellName, sign = 1): StoryNumber {
  const value = session.value(cell);
  if (typeof value === "number") return { text: moneyText(session, sign * value), cell };
  return { text: value === undefined ? "…" : isCellError(value) ? value.title : String(value || "–"), cell };
}

/** A number as its cell shows it, with its unit sign. */
export function storyNumber(session: Session, cell: CellName): StoryNumber {
  return { text: session.value(cell) === undefined ? "…" : shownText(session, cell) || "–", cell };
}

function storyCount(session: Session, cell: CellName): StoryNumber {
  const value = session.value(cell);
  const text = typeof value === "number" ? showNumber(value, 0, 1, session.formats.locale) : String(value || "–");
  return { text: isCellError(value) ? value.title : text, cell };
}

/** Three sentences that answer: what did a piece cost, what did the losses cost, did the edition pay. */
export function sentencesOf(session: Session): readonly Sentence[] {
  return [pieceSentence(session), lossSentence(session), paySentence(session)];
}

function pieceSentence(session: Session): Sentence {
  const question = "What did a piece cost?";
  const money = (sheet: SheetKey, row: string) => storyMoney(session, line(sheet, row));
  const planned = plannedNumber(session, "plan_per_good");
  const today = money("edition", "plan_per_good");
  const plan = typeof planned === "number" ? { ...today, text: moneyText(session, planned) } : today;
  if (numberAt(session, line("results", "good")) === 0)
    return { question, parts: ["No piece has been passed as good yet. The plan says ", plan, " for a good one."] };
  const own = money("results", "own_good");
  const share = money("results", "share_good");
  const parts = ["A good piece cost ", money("results", "per_good"), ": ", own, " by itself and ", share];
  return { question, parts: [...parts, " for its share of the lost ones. The plan said ", plan, "."] };
}

function lossSentence(session: Session): Sentence {
  const question = "What did the losses cost?";
  const money = (row: string) => storyMoney(session, line("results", row));
  const started = storyCount(session, line("results", "started"));
  if ((numberAt(session, line("results", "lost")) ?? 0) === 0)
    return { question, parts: ["Nothing has been lost so far of ", started, " pieces started."] };
  const back = (numberAt(session, line("results", "reclaimed")) ?? 0) > 0;
  const scrap = (numberAt(session, line("results", "scrap")) ?? 0) > 0;
  return {
    question,
    parts: [
      ...[storyCount(session, line("results", "lost")), " of ", started, " pieces were lost, with ", money("own_lost")],
      ...[" in them. ", money("normal"), " of it is normal and borne by the other pieces; "],
      ...[money("abnormal"), " is beyond plan and chance, and a cost of the period"],
      ...(back ? ["; ", money("reclaimed"), " came back as clay"] : []),
      ...(scrap ? ["; ", money("scrap"), " as scrap"] : []),
      ".",
    ],
  };
}

function paySentence(session: Session): Sentence {
  const question = "Did the edition pay?";
  const money = (row: string, sign = 1) => storyMoney(session, line("results", row), sign);
  const amount = (row: string) => numberAt(session, line("results", row)) ?? 0;
  const made = (row: string, tense: readonly [made: string, short: string]): Sentence["parts"] =>
    amount(row) < 0 ? [tense[1], money(row, -1), " short"] : [tense[0], money(row)];
  const count = (row: string) => storyCount(session, line("results", row));
  const stock: Sentence["parts"] =
    amount("in_stock") === 0
      ? []
      : [
          ...[count("in_stock"), plural(amount("in_stock"), " finished piece is", " finished pieces are")],
          ...[" in stock, carried at ", money("stock_carried"), ", and may bring "],
          ...[money("stock_brings"), " after tax, fees and packing: once all is sold at its price, the edition "],
          ...made("pays", ["has made ", "is still "]),
          ".",
        ];
  const fixed = [" Design and model-making took ", storyMoney(session, line("edition", "fixed_costs")), "."];
  const end = amount("good") === 0 ? [] : enoughPieces(session);
  if (amount("sold") === 0) {
    const lead = amount("gone") > 0 ? ["Nothing has been sold yet; ", count("gone"), " went otherwise. "] : [NOT_SOLD];
    return { question, parts: [...lead, ...stock, ...fixed, ...end] };
  }
  const gone: Sentence["parts"] =
    amount("gone") === 0 ? [] : ["; ", count("gone"), " given away, kept or broken had cost ", money("gone_cost")];
  return {
    question,
    parts: [
      amount("earned") < 0 ? "Not yet: on what was sold " : "Yes: on what was sold ",
      ...made("earned", ["it has made ", "it is "]),
      ...[". ", count("sold"), " sold for ", money("sold_price"), " leave ", money("sold_leaves")],
      ...[" after tax, fees, packing and cost", ...gone, ". ", ...stock, ...fixed, ...end],
    ],
  };
}

const NOT_SOLD = "Nothing has been sold yet. ";

/** How many good pieces pay for design and losses. */
function enoughPieces(session: Session): Sentence["parts"] {
  const enough = line("results", "break_even");
  return session.value(enough) === "never"
    ? [" No number of pieces would pay: a piece ", { text: "brings in less than it costs", cell: enough }, "."]
    : [" It takes ", storyCount(session, enough), " good pieces to pay for design and losses."];
}

/** Prices that bring in nothing, and pieces carried below cost: what a maker should hear without asking. */
export function cautionsOf(session: Session): readonly Sentence[] {
  const worth = numberAt(session, line("results", "second_worth"));
  const down = numberAt(session, line("results", "write_down"));
  const below: Sentence[] = (["standard", "special", "second"] as const).flatMap((tier) => {
    const cell = line("edition", `price_${tier}`);
    const price = numberAt(session, cell);
    const net = price === undefined ? undefined : netOfPrice(readerOf(session), tier, price);
    return net === undefined || net >= 0
      ? []
      : [
          {
            question: "",
            parts: [
              `The ${tier} price of `,
              storyMoney(session, cell),
              ` is below its own tax, fees and packing: each sale would cost ${moneyText(session, -net)}.`,
            ],
          },
        ];
  });
  const written: Sentence[] =
    down !== undefined && down > 0.5 * 10 ** -session.digits
      ? [
          {
            question: "",
            parts: [
              "Stock is carried ",
              storyMoney(session, line("results", "write_down")),
              " below cost, at what it will fetch or as it was written down",
              ...(worth === undefined
                ? []
                : [" (a second: ", storyMoney(session, line("results", "second_worth")), ")"]),
              ".",
            ],
          },
        ]
      : [];
  return [...below, ...written];
}

/** What was lost at a step, in pieces and money, beside what the plan allowed for as many pieces. */
export interface LossOfStep {
  readonly step: string;
  readonly title: string;
  readonly entered: number;
  readonly lost: number;
  readonly plannedLost: number;
  /** Cost of the lost pieces, less clay and scrap. */
  readonly money: number;
  readonly plannedMoney: number;
}

/** Losses of every step that a piece has entered or that the plan expects to lose some at. */
export function lossesOf(session: Session): readonly LossOfStep[] {
  const plan = heldPlan(session.book.value);
  return session.book.value.sheets.route.rows.flatMap((row) => {
    const kept = plan?.steps.find(({ step }) => step === row.id)?.numbers;
    const number = (column: string) => numberAt(session, { sheet: "route", row: row.id, column }) ?? 0;
    const entered = number("entered");
    // A step that the kept plan did not have was planned to lose nothing.
    const planned = (column: string) => (plan ? (kept?.[column] ?? 0) : number(column));
    const plannedLost = entered * planned("loss");
    if (entered === 0) return [];
    return [
      {
        ...{ step: row.id, title: rowLabel("route", row), entered, lost: number("lost"), plannedLost },
        money: number("normal") + number("abnormal"),
        plannedMoney: plannedLost * planned("loss_costs"),
      },
    ];
  });
}

export const COST_KINDS = ["Material", "Labour", "Firing", "Overhead", "Moulds", "Losses"] as const;
/** The colour of each kind in the picture; neighbours differ in lightness, to be told apart without colour too. */
export const KIND_FILLS: Readonly<Record<(typeof COST_KINDS)[number], string>> = {
  Material: "var(--cobalt)",
  Labour: "var(--iron)",
  Firing: "var(--warn)",
  Overhead: "var(--line-input)",
  Moulds: "var(--good)",
  Losses: "var(--ink)",
};
export type CostKind = (typeof COST_KINDS)[number];

/** What a finished piece of one tier cost on average, by kind. */
export interface TierBuild {
  readonly tier: string;
  readonly count: number;
  readonly parts: Readonly<Record<CostKind, number>>;
  readonly cost: number;
  readonly leaves: number;
}

const TIER_NAMES = ["standard", "special", "second"] as const;

/** Cost build-up and contribution of every tier of which a piece is finished. */
export function tiersOf(session: Session): readonly TierBuild[] {
  const book = session.book.value;
  const sums = new Map<string, { count: number; parts: Record<CostKind, number> }>();
  for (const row of book.sheets.pieces.rows) {
    const tier = session.value({ sheet: "pieces", row: row.id, column: "sold_as" });
    if (typeof tier !== "string" || tier === "") continue;
    const held = sums.get(tier) ?? { count: 0, parts: noParts() };
    held.count += 1;
    addPiece(session, row.id, held.parts);
    sums.set(tier, held);
  }
  return TIER_NAMES.flatMap((tier): TierBuild[] => {
    const held = sums.get(tier);
    if (!held) return [];
    const each = Object.fromEntries(COST_KINDS.map((kind) => [kind, held.parts[kind] / held.count]));
    const parts = each as Record<CostKind, number>;
    const cost = COST_KINDS.reduce((sum, kind) => sum + parts[kind], 0);
    return [
      { tier, count: held.count, parts, cost, leaves: numberAt(session, line("results", `leaves_${tier}`)) ?? 0 },
    ];
  });
}

function noParts(): Record<CostKind, number> {
  return { Material: 0, Labour: 0, Firing: 0, Overhead: 0, Moulds: 0, Losses: 0 };
}

function addPiece(session: Session, row: string, parts: Record<CostKind, number>): void {
  const number = (column: string) => numberAt(session, { sheet: "pieces", row, column }) ?? 0;
  for (const step of session.book.value.sheets.route.rows) {
    const cost = number(`${step.id}.cost`);
    if (cost === 0) continue;
    if (isFiringStep(step)) {
      parts.Firing += cost;
      continue;
    }
    const rules = rulesOf(step);
    const material = rules?.material ? number(`${step.id}.material`) : 0;
    const moulds = rules?.usesMould ? number(`${step.id}.wear`) : 0;
    const labour = number(`${step.id}.labour`);
    parts.Material += material;
    parts.Moulds += moulds;
    parts.Labour += labour;
    parts.Overhead += cost - material - moulds - labour;
  }
  parts.Losses += number("loss_share");
}

/** The Results line that a kind of cost is summed in for the whole edition. */
export function lineOfKind(session: Session, kind: CostKind): CellName {
  const rows = {
    Material: "in_material",
    Labour: "in_labour",
    Firing: "in_kiln",
    Overhead: "in_overhead",
    Moulds: "in_wear",
    Losses: "normal",
  } as const;
  const row = rows[kind];
  return rowOf(session.book.value, "results", row) ? line("results", row) : line("results", "put_in");
}
