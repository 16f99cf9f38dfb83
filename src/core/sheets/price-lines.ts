// Lines of the Results sheet on yields, and on what each tier costs, fetches and leaves.
import type { Row } from "../document/workbook";
import { atLine as at, byOutcome, money, result, wholeNumber } from "./line";
import { marginAt, priceToAsk, SOLD_TIERS, type SoldTier } from "./price-terms";

const passed = `(${at("good")}+${at("seconds")})`;
/** A part of the pieces passed so far × what comes through every step; none is known before the first piece has. */
const share = (part: string) =>
  `=IF(${passed}=0,IF(OR(${at("lost")}=0,${at("in_progress")}>0),"",0),${part}*PRODUCT({route:kept_seen}))`;
const asPercent = { format: "percent" } as const;

/** First-pass, final and rolled yield answer different questions and are kept apart. */
export const YIELD_LINES: readonly Row[] = [
  result(
    "first_pass",
    "First-pass yield",
    "",
    share(`COUNT_BY("at once",{pieces:passed_how})/${passed}`),
    "good without a step done over; at each step only the pieces that have come so far are counted",
    asPercent,
  ),
  result(
    "final_yield",
    "Final yield",
    "",
    share(`${at("good")}/${passed}`),
    "good, reworked ones too; at each step only the pieces that have come so far are counted",
    asPercent,
  ),
  result(
    "saleable",
    "Saleable yield",
    "",
    share("1"),
    "what comes through every step, good or second; at each only the pieces that have come so far are counted",
    asPercent,
  ),
  result(
    "rolled",
    "Rolled yield",
    "",
    `=IF(COUNT({route:through_all})=0,"",PRODUCT({route:through_all}))`,
    "the chance of coming through every step for all neither lost nor reworked, from the counts so far",
    asPercent,
  ),
  result(
    "rolled_special",
    "… of a special piece",
    "",
    `=IF(COUNT({route:through_special})=0,"",PRODUCT({route:through_all})*PRODUCT({route:through_special}))`,
    "with the steps that are for special pieces only",
    asPercent,
  ),
];

const totalOf = (tier: string, column: string) => `TOTAL_BY("${tier}",{pieces:sold_as},{pieces:${column}})`;

/** A tier as it is sold: what a piece of it costs, leaves, and ought to be priced at. */
function linesOfTier(tier: SoldTier): readonly Row[] {
  const count = at(`sold_${tier}`);
  const cost = at(`cost_${tier}`);
  return [
    result(
      `sold_${tier}`,
      `Finished, ${tier}`,
      "pieces",
      `=COUNT_BY("${tier}",{pieces:sold_as})`,
      "finished pieces of this tier",
      wholeNumber,
    ),
    result(
      `cost_${tier}`,
      `… cost each, ${tier}`,
      "¤",
      `=IF(${count}=0,"",${totalOf(tier, "full")}/${count})`,
      "full cost of these pieces ÷ their number",
      money,
    ),
    result(
      `leaves_${tier}`,
      `… leave together, ${tier}`,
      "¤",
      `=${totalOf(tier, "contribution")}`,
      "after tax, fees, packing and full cost",
      money,
    ),
    result(
      `margin_${tier}`,
      `… margin, ${tier}`,
      "",
      `=IF(${totalOf(tier, "net")}=0,"",${at(`leaves_${tier}`)}/${totalOf(tier, "net")})`,
      "what they leave ÷ their prices without tax",
      asPercent,
    ),
    result(
      `price_for_${tier}`,
      `… price for the wanted margin, ${tier}`,
      "¤",
      `=IF(${count}=0,"",${priceToAsk(cost, tier)})`,
      "leaves the margin on the Edition sheet; as prices are typed there, up to your price points",
      money,
    ),
    result(
      `margin_at_${tier}`,
      `… margin at that price, ${tier}`,
      "",
      `=${marginAt(at(`price_for_${tier}`), cost, tier)}`,
      "what that price leaves of a piece ÷ that price without tax",
      asPercent,
    ),
  ];
}

const countTo = (fixed: string, cost: string) =>
  `=IF(${at("good")}=0,"",IF(${at("worth_good")}<=${cost},"never",BREAK_EVEN(${fixed},${at("worth_good")},${cost})))`;

/** What the tiers leave, what stock must be written down, and how many pieces pay for the edition. */
export const PRICE_LINES: readonly Row[] = [
  ...SOLD_TIERS.flatMap(linesOfTier),
  result(
    "write_down",
    "Stock carried below cost by",
    "¤",
    `=${at("stock_cost")}-${at("stock_carried")}+${at("progress_down")}`,
    "finished pieces and those in progress: written down by hand, or carried at what they will fetch",
    money,
  ),
  result(
    "worth_good",
    "A good piece brings in",
    "¤",
    `=IF(${at("good")}=0,"",(${byOutcome("good", "contribution")}+${byOutcome("good", "full")})/${at("good")})`,
    "price without tax, fees and packing, on average",
    money,
  ),
  result(
    "own_good",
    "A good piece costs by itself",
    "¤",
    `=IF(${at("good")}=0,"",${byOutcome("good", "own")}/${at("good")})`,
    "own cost of the good pieces ÷ their number, without their share of losses",
    money,
  ),
  result(
    "break_even_plain",
    "Good pieces that pay the fixed costs, were nothing lost",
    "pieces",
    countTo("fixed_costs", at("own_good")),
    "design and model-making ÷ what a piece brings in beyond its own cost; never, where it brings in less",
    wholeNumber,
  ),
  result(
    "break_even",
    "Good pieces that pay the fixed costs and the losses",
    "pieces",
    countTo(
      `fixed_costs+MAX(0,${at("abnormal")}+${at("unshared")})+${at("empty_kiln")}+${at("overhead_idle")}+${at("mould_charged")}`,
      at("per_good"),
    ),
    "with losses in the cost of a piece, and all that the period bears paid too; never, where a piece brings in less than it costs",
    wholeNumber,
  ),
];
