import { chanceOfAsMany, isBeyondChance, type PlannedLoss } from "../../accounts/loss-chance";
import { clopperPearson, wilson } from "../../ceramics/intervals";
import { chanceOfTiers, specialAmong, startsForTiers, type TierPlan } from "../../ceramics/tiers";
import { type SeenTiers, startsForTiersUnsure } from "../../ceramics/uncertain-tiers";
import { startsUnderUncertainYield } from "../../ceramics/uncertain-yield";
import { chanceOf, startsNeeded, yieldChain } from "../../ceramics/yields";
import { fail, ok, problem, type Result } from "../../core/problem";
import { type Argument, type FunctionDeclaration, numberList, numbers } from "./declare";

const good = { name: "good", what: "good pieces wanted", type: "number", whole: true, min: 0, max: 1_000_000 } as const;
const yieldFraction = {
  name: "yield",
  what: "share of pieces that come out good",
  type: "number",
  above: 0,
  max: 1,
} as const;
const interval = [
  { name: "lost", what: "pieces lost", type: "number", whole: true, min: 0 },
  { name: "entered", what: "pieces that entered the step", type: "number", whole: true, min: 1 },
  { name: "confidence", what: "how sure to be", type: "number", above: 0, below: 1, default: 0.95 },
] as const;

const wantedOfTiers = [
  { name: "standard", what: "standard pieces wanted", type: "number", whole: true, min: 0, max: 1_000_000 },
  { name: "special", what: "special pieces wanted", type: "number", whole: true, min: 0, max: 1_000_000 },
] as const;
const tiers = [
  ...wantedOfTiers,
  { name: "yield", what: "share that comes through the steps for all", type: "number", above: 0, max: 1 },
  {
    name: "special_yield",
    what: "share of those that comes through the steps for special pieces",
    type: "number",
    above: 0,
    max: 1,
  },
] as const;
const MOST_REMEMBERED = 100;
const remembered = new Map<string, Result<number>>();

/** The search takes milliseconds, and the same is asked for whenever everything is calculated or compiled anew. */
function tiersUnsure(seen: SeenTiers, confidence: number): Result<number> {
  const asked = `${Object.values(seen).join(" ")} ${confidence}`;
  const known = remembered.get(asked);
  if (known) return known;
  if (remembered.size >= MOST_REMEMBERED) remembered.clear();
  const starts = startsForTiersUnsure(seen, confidence);
  remembered.set(asked, starts);
  return starts;
}

const starts = {
  name: "starts",
  what: "pieces started",
  type: "number",
  whole: true,
  min: 0,
  max: 10_000_000,
} as const;
const tierPlan = (standard = 0, special = 0, yieldOfAll = 0, yieldOfSpecial = 0): TierPlan => ({
  ...{ standard, special, yieldOfAll, yieldOfSpecial },
});

interface Interval {
  readonly of: typeof wilson;
  /** What the summary says besides. */
  readonly more: string;
  readonly source: string;
  /** How far the published example, given to four decimals, may be off, as a part of it. */
  readonly within: number;
}

const WILSON: Interval = { of: wilson, more: "", source: "Wilson interval", within: 2e-4 };
const EXACT: Interval = {
  of: clopperPearson,
  more: ", never less sure than stated",
  source: "exact interval of Clopper and Pearson",
  within: 3e-4,
};

/** One end of an interval for a loss rate; `gives` is what it is where 81 of 263 were lost. */
function lossEnd(name: string, { of, more, source, within }: Interval, end: "low" | "high", gives: number) {
  return {
    name,
    family: "Loss",
    summary: `The ${end}est loss that is still likely after what was seen${more}.`,
    parameters: interval,
    unit: "",
    examples: [{ formula: `${name}(81,263,0.95)`, gives, within }],
    source: `${source}; 81/263: Newcombe, Statistics in Medicine 17 (1998)`,
    run: (lost, entered, confidence) => {
      const found = of(Number(lost), Number(entered), Number(confidence));
      return found.ok ? ok(found.value[end]) : found;
    },
  } satisfies FunctionDeclaration;
}

/** Pairs the columns row by row; rows in which nothing entered, or nothing is planned, add nothing. */
function lossChance(lost?: Argument, entered?: Argument, losses?: Argument): Result<number> {
  const [counts, rates] = [columnOf(entered), columnOf(losses)];
  const steps: PlannedLoss[] = [];
  for (const [at, count] of counts.entries()) {
    const rate = rates[at] ?? 0;
    if (!isCount(count))
      return fail(
        problem({ code: "function.list", where: "entered", found: count, allowed: "whole numbers from 0 up" }),
      );
    if (!isRate(rate))
      return fail(
        problem({ code: "function.list", where: "losses", found: rate, allowed: "fractions from 0 to below 1" }),
      );
    steps.push({ entered: Number(count || 0), plannedRate: Number(rate || 0) });
  }
  return ok(chanceOfAsMany(steps, Number(lost)));
}

type Cell = number | string | boolean | null;
const columnOf = (given: Argument | undefined): readonly Cell[] =>
  typeof given === "object" && given !== null ? given : [given ?? null];
const isBlank = (value: Cell) => value === null || value === "";
const isCount = (value: Cell) => isBlank(value) || (typeof value === "number" && Number.isInteger(value) && value >= 0);
const isRate = (value: Cell) => isBlank(value) || (typeof value === "number" && value >= 0 && value < 1);

export const LOSS_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "YIELD_CHAIN",
    family: "Loss",
    summary: "The share of pieces that comes through every step, from what each step loses.",
    parameters: [
      { name: "losses", what: "loss of each step, as fractions; blanks count as none", type: "range", unit: "" },
    ],
    unit: "",
    examples: [{ formula: "YIELD_CHAIN({0.05;0.16;0.12})", gives: 0.70224, within: 1e-12 }],
    source: "rolled throughput yield: .95 × .84 × .88 = .70224",
    run: (losses) => {
      const list = numberList("losses", losses);
      return list.ok ? yieldChain(list.value) : list;
    },
  },
  {
    name: "STARTS_NEEDED",
    family: "Loss",
    summary: "The fewest pieces to start so that enough come out good, with the wanted certainty.",
    parameters: [
      good,
      yieldFraction,
      { name: "confidence", what: "how sure to be", type: "number", above: 0, below: 1, default: 0.9 },
    ],
    unit: "pieces",
    examples: [{ formula: "STARTS_NEEDED(50,0.9,0.95)", gives: 60 }],
    source:
      "smallest n with P(Bin(n, yield) ≥ good) ≥ confidence, by exact integer arithmetic: tests/fixtures/reference/starts.csv",
    run: numbers(startsNeeded),
  },
  {
    name: "CHANCE_OF",
    family: "Loss",
    summary: "The chance that a number of starts gives enough good pieces.",
    parameters: [
      good,
      { name: "starts", what: "pieces started", type: "number", whole: true, min: 0, max: 10_000_000 },
      yieldFraction,
    ],
    unit: "",
    examples: [{ formula: "CHANCE_OF(1,2,0.7)", gives: 0.91, within: 1e-12 }],
    source: "P(Bin(starts, yield) ≥ good): tests/fixtures/reference/starts.csv",
    run: numbers(chanceOf),
  },
  {
    name: "LOSS_CHANCE",
    family: "Loss",
    summary: "The chance that a run loses so many pieces or more, were every piece lost at the planned rates.",
    parameters: [
      { name: "lost", what: "pieces lost at all steps together", type: "number", whole: true, min: 0 },
      { name: "entered", what: "the column of pieces that entered each step", type: "range", unit: "" },
      {
        name: "losses",
        what: "the column of planned losses beside it, as fractions; blanks are none",
        type: "range",
        unit: "",
      },
    ],
    unit: "",
    examples: [{ formula: "LOSS_CHANCE(2,{2;1},{0.5;0.25})", gives: 0.375, within: 1e-12 }],
    source: "sum of independent binomial counts, by exact convolution",
    run: lossChance,
  },
  {
    name: "ABNORMAL_LOSSES",
    family: "Loss",
    summary: "The pieces lost beyond plan, once chance no longer explains as many; 0 until then.",
    parameters: [
      { name: "lost", what: "pieces lost", type: "number", min: 0 },
      { name: "planned", what: "pieces planned to be lost", type: "number", min: 0 },
      { name: "chance", what: "chance of losing as many or more at the planned rates", type: "number", min: 0, max: 1 },
      {
        name: "runs",
        what: "losses are abnormal once chance gives as many in fewer than 1 run of this number; left out: whatever is beyond plan",
        type: "number",
        min: 0,
        default: 0,
      },
    ],
    unit: "pieces",
    examples: [
      { formula: "ABNORMAL_LOSSES(12,7,0.04,20)", gives: 5 },
      { formula: "ABNORMAL_LOSSES(12,7,0.06,20)", gives: 0 },
    ],
    source: "IAS 2 §16(a) and ASC 330-10-30-7: abnormal waste is an expense; the odds are the maker's to state",
    run: numbers((lost, planned, chance, runs) =>
      ok(isBeyondChance(chance ?? 0, runs ?? 0) ? Math.max(0, (lost ?? 0) - (planned ?? 0)) : 0),
    ),
  },
  {
    name: "STARTS_FOR_TIERS",
    family: "Loss",
    summary:
      "The fewest pieces to start so that standard and special pieces are both delivered, with the wanted certainty.",
    parameters: [
      ...tiers,
      { name: "confidence", what: "how sure to be", type: "number", above: 0, below: 1, default: 0.9 },
    ],
    unit: "pieces",
    examples: [{ formula: "STARTS_FOR_TIERS(1,1,0.5,0.5,0.5)", gives: 6 }],
    source:
      "smallest n with P(Bin(n − m, yield) ≥ standard) · P(Bin(m, yield · special yield) ≥ special) ≥ confidence, for the best m",
    run: numbers((standard, special, ofAll, ofSpecial, confidence) =>
      startsForTiers(tierPlan(standard, special, ofAll, ofSpecial), confidence ?? 0),
    ),
  },
  {
    name: "SPECIAL_STARTS",
    family: "Loss",
    summary: "How many of the starts are to be for special pieces, so that both tiers are likeliest to be delivered.",
    parameters: [starts, ...tiers],
    unit: "pieces",
    examples: [{ formula: "SPECIAL_STARTS(6,1,1,0.5,0.5)", gives: 4 }],
    source: "the number with the best chance of both tiers, as in STARTS_FOR_TIERS",
    run: numbers((count, standard, special, ofAll, ofSpecial) =>
      specialAmong(count ?? 0, tierPlan(standard, special, ofAll, ofSpecial)),
    ),
  },
  {
    name: "CHANCE_OF_TIERS",
    family: "Loss",
    summary: "The chance that a number of starts delivers both tiers, when so many of them are for special pieces.",
    parameters: [
      starts,
      { name: "special_starts", what: "how many of them are for special pieces", type: "number", whole: true, min: 0 },
      ...tiers,
    ],
    unit: "",
    examples: [{ formula: "CHANCE_OF_TIERS(6,4,1,1,0.5,0.5)", gives: 0.75 * (1 - 0.75 ** 4), within: 1e-12 }],
    source: "P(Bin(n − m, yield) ≥ standard) · P(Bin(m, yield · special yield) ≥ special)",
    run: numbers((count, ofThem, standard, special, ofAll, ofSpecial) =>
      chanceOfTiers(count ?? 0, ofThem ?? 0, tierPlan(standard, special, ofAll, ofSpecial)),
    ),
  },
  lossEnd("LOSS_LOW", WILSON, "low", 0.2553),
  lossEnd("LOSS_HIGH", WILSON, "high", 0.3662),
  lossEnd("LOSS_LOW_EXACT", EXACT, "low", 0.2527),
  lossEnd("LOSS_HIGH_EXACT", EXACT, "high", 0.3676),
  {
    name: "STARTS_UNSURE",
    family: "Loss",
    summary:
      "The fewest pieces to start when the yield is only known from pieces that were counted: few seen, more started.",
    parameters: [
      good,
      { name: "seen_good", what: "good ones among the pieces seen", type: "number", whole: true, min: 0 },
      { name: "seen", what: "pieces seen", type: "number", whole: true, min: 0 },
      { name: "confidence", what: "how sure to be", type: "number", above: 0, below: 1, default: 0.9 },
    ],
    unit: "pieces",
    examples: [{ formula: "STARTS_UNSURE(12,9,10,0.9)", gives: 17 }],
    source:
      "beta-binomial with Jeffreys' prior, by exact arithmetic: tests/fixtures/reference/starts_uncertain_yield.csv",
    run: (wanted, seenGood, seen, confidence) =>
      startsUnderUncertainYield(Number(wanted), Number(seenGood), Number(seen), Number(confidence)),
  },
  {
    name: "STARTS_FOR_TIERS_UNSURE",
    family: "Loss",
    summary:
      "The fewest pieces to start so that both tiers are delivered, when the yields are only known from counted pieces.",
    parameters: [
      ...wantedOfTiers,
      {
        name: "seen_good",
        what: "good ones among the pieces seen at the steps for all",
        type: "number",
        whole: true,
        min: 0,
      },
      { name: "seen", what: "pieces seen there", type: "number", whole: true, min: 0 },
      {
        name: "special_seen_good",
        what: "good ones among those seen at the steps for special pieces",
        type: "number",
        whole: true,
        min: 0,
        default: 0,
      },
      {
        name: "special_seen",
        what: "pieces seen there; none where special pieces have no steps of their own",
        type: "number",
        whole: true,
        min: 0,
        default: 0,
      },
      { name: "confidence", what: "how sure to be", type: "number", above: 0, below: 1, default: 0.9 },
    ],
    unit: "pieces",
    examples: [{ formula: "STARTS_FOR_TIERS_UNSURE(12,0,9,10,0,0,0.9)", gives: 17 }],
    source: "beta-binomial with Jeffreys' prior for each yield; the yield of the steps for all is one for both tiers",
    run: numbers(
      (standard = 0, special = 0, seenGood = 0, seen = 0, specialSeenGood = 0, specialSeen = 0, confidence = 0) =>
        tiersUnsure({ standard, special, seenGood, seen, specialSeenGood, specialSeen }, confidence),
    ),
  },
];
