// Lines of the Edition sheet on what one good piece of each tier is planned to cost, part by part, and its price.
import type { Row } from "../document/workbook";
import { money, result } from "./line";
import { marginAt, priceToAsk } from "./price-terms";

/** Parts of the cost of a planned piece, in reading order. */
export const COST_PARTS = ["material", "labour", "overhead", "firing", "losses"] as const;
export type CostPart = (typeof COST_PARTS)[number];
/** Tiers that are planned for. */
export const PLANNED_TIERS = ["standard", "special"] as const;
export type PlannedTier = (typeof PLANNED_TIERS)[number];

/** The line that holds a part of a tier's planned cost. */
export const partLine = (tier: PlannedTier, part: CostPart) => `plan_${tier}_${part}`;

const ofSpecial = (column: string) => `TOTAL_BY("special",{route:who},{route:${column}})`;
const GOOD_SPECIALS = "(starts*special_share*YIELD_CHAIN({route:loss_all})*YIELD_CHAIN({route:loss_special}))";

const PARTS: Readonly<
  Record<CostPart, { readonly title: string; readonly words: string } & Readonly<Record<PlannedTier, string>>>
> = {
  material: {
    title: "material and moulds",
    standard: "SUM({route:material_all})",
    special: ofSpecial("material_each"),
    words: "grams of every step at their price, and the wear of a cast",
  },
  labour: {
    title: "labour",
    standard: "SUM({route:hours_all})*wage",
    special: `${ofSpecial("hours_each")}*wage`,
    words: "minutes of every step at the wage",
  },
  overhead: {
    title: "overhead",
    standard: "SUM({route:hours_all})*overhead_normal",
    special: `${ofSpecial("hours_each")}*overhead_normal`,
    words: "the same hours at the overhead an hour carries",
  },
  firing: {
    title: "firings",
    standard: "TOTAL_BY(1,{route:fires},{route:each_all})",
    special: "TOTAL_BY(1,{route:fires},{route:each_special})",
    words: "its share of whole loads: energy, wear and loading",
  },
  losses: {
    title: "losses",
    standard: `IF(plan_good=0,0,(plan_loss-${ofSpecial("plan_loss_cost")})/plan_good)`,
    special: `${ofSpecial("plan_loss_cost")}/${GOOD_SPECIALS}`,
    words: "what the pieces planned to be lost cost, over the good ones that had those steps",
  },
};

function linesOfTier(tier: PlannedTier): readonly Row[] {
  const isSpecial = tier === "special";
  // A special piece has all that a standard one has, and its own steps besides.
  const known = (formula: string) => (isSpecial ? `=IF(special_share=0,"",${formula})` : `=${formula}`);
  const ofPart = (part: CostPart) =>
    known(isSpecial ? `${partLine("standard", part)}+${PARTS[part].special}` : PARTS[part].standard);
  const cost = `plan_${tier}`;
  return [
    result(
      cost,
      `A ${tier} piece is planned to cost`,
      "¤",
      known(COST_PARTS.map((part) => partLine(tier, part)).join("+")),
      "one good piece with all it goes through and what it bears of the losses: the five lines below",
      money,
    ),
    ...COST_PARTS.map((part) =>
      result(partLine(tier, part), `… ${PARTS[part].title}, ${tier}`, "¤", ofPart(part), PARTS[part].words, money),
    ),
    result(
      `plan_${tier}_price`,
      `… price for the wanted margin, ${tier}`,
      "¤",
      known(priceToAsk(cost, tier)),
      "leaves the margin wanted on what it is planned to cost; as prices are typed, up to your price points",
      money,
    ),
    result(
      `plan_${tier}_margin`,
      `… margin at that price, ${tier}`,
      "of net price",
      `=${marginAt(`plan_${tier}_price`, cost, tier)}`,
      "what that price leaves ÷ that price without tax",
      { format: "percent" },
    ),
  ];
}

/** What a planned piece of each tier costs; lines for special pieces are blank where none are planned. */
export const PLAN_TIER_LINES: readonly Row[] = PLANNED_TIERS.flatMap(linesOfTier);
