// Lines of the Edition sheet that sum up the plan, and how many to start when the yield is known only from counts.
import type { Row } from "../document/workbook";
import { money, result, SPECIALS, wholeNumber } from "./line";
import { OVERHEAD_PLAN_LINES } from "./overhead-lines";
import { PLAN_TIER_LINES } from "./plan-tier-lines";
import { leftOfTier } from "./price-terms";

/** Whether special pieces have steps of their own. */
const HAS_OWN_STEPS = `COUNT_BY("special",{route:who})>0`;
/** The share of the pieces to deliver that the run is expected to give. */
const DELIVERED = "IF(wanted=0,0,MIN(1,plan_good/wanted))";
const NET = `((wanted-${SPECIALS})*net_standard+${SPECIALS}*net_special)`;

/** What a run of as many pieces as are started is expected to give and to take. */
export const PLAN_LINES: readonly Row[] = [
  result(
    "seen_pieces",
    "Pieces seen through every step for all",
    "pieces",
    "=MIN({route:seen_pieces})",
    "the fewest that any step for all pieces has seen, earlier editions too",
    wholeNumber,
  ),
  result(
    "seen_good",
    "… good ones among them",
    "pieces",
    `=IF(seen_pieces=0,"",ROUND(seen_pieces*PRODUCT({route:seen_kept}),0))`,
    "as many pieces, with the losses seen at each step",
    wholeNumber,
  ),
  result(
    "seen_special",
    "Special pieces seen through every step of theirs",
    "pieces",
    "=MIN({route:seen_special})",
    "the fewest that any step for special pieces has seen, earlier editions too",
    wholeNumber,
  ),
  result(
    "seen_special_good",
    "… good special ones among them",
    "pieces",
    `=IF(seen_special=0,"",ROUND(seen_special*PRODUCT({route:seen_special_kept}),0))`,
    "as many pieces, with the losses seen at each of those steps",
    wholeNumber,
  ),
  result(
    "starts_unsure",
    "Pieces to start, if that is all that is known",
    "pieces",
    `=IF(OR(seen_pieces=0,AND(${SPECIALS}>0,${HAS_OWN_STEPS},seen_special=0)),"",STARTS_FOR_TIERS_UNSURE(wanted-${SPECIALS},${SPECIALS},seen_good,seen_pieces,seen_special_good,seen_special,confidence))`,
    "nine good of ten is not yet a yield of 90 %: few pieces seen, more to start; of both tiers together; blank until every step has been seen",
    wholeNumber,
  ),
  result(
    "special_share",
    "Special pieces among the starts",
    "",
    "=IF(starts=0,0,special_starts/starts)",
    "starts for special pieces ÷ pieces to start",
    { format: "percent" },
  ),
  result(
    "plan_good",
    "Good pieces to expect",
    "pieces",
    "=starts*YIELD_CHAIN({route:loss_all})*(1-special_share+special_share*YIELD_CHAIN({route:loss_special}))",
    "pieces to start × the yield of what each goes through",
    { decimals: 1 },
  ),
  result(
    "plan_cost",
    "Planned cost",
    "¤",
    "=SUM({route:plan_cost})",
    "every step of the plan, with whole firings",
    money,
  ),
  result(
    "plan_per_good",
    "Planned cost of a good piece",
    "¤",
    `=IF(plan_good=0,"",plan_cost/plan_good)`,
    "planned cost ÷ good pieces to expect",
    money,
  ),
  result(
    "plan_per_delivered",
    "Planned cost of a piece delivered",
    "¤",
    `=IF(wanted=0,"",plan_cost/wanted)`,
    "planned cost ÷ pieces to deliver: the pieces beyond them are paid for too",
    money,
  ),
  result(
    "plan_brings",
    "Pieces to deliver bring in",
    "¤",
    `=${DELIVERED}*((wanted-${SPECIALS})*(${leftOfTier("standard")})+${SPECIALS}*(${leftOfTier("special")}))`,
    "their prices without tax, fees and packing; of so many of them as good pieces are expected",
    money,
  ),
  result(
    "plan_pays",
    "Plan leaves",
    "¤",
    "=plan_brings-plan_cost-plan_mould_charged-fixed_costs",
    "what the pieces to deliver bring in, less planned cost, what is charged of the moulds and fixed costs; good pieces beyond them fetch nothing here",
    money,
  ),
  result(
    "plan_margin",
    "Planned margin",
    "of net price",
    `=IF(${DELIVERED}*${NET}=0,"",plan_pays/(${DELIVERED}*${NET}))`,
    "what the plan leaves ÷ the prices of the pieces to deliver without tax",
    { format: "percent" },
  ),
  result(
    "plan_loss",
    "Planned cost of losses",
    "¤",
    "=SUM({route:plan_loss_cost})",
    "what the pieces the plan expects to lose will have cost",
    money,
  ),
  result("plan_hours", "Planned labour", "h", "=SUM({route:plan_hours})", "pieces and kiln loading", { decimals: 1 }),
  ...OVERHEAD_PLAN_LINES,
  result("plan_kwh", "Planned kiln energy", "kWh", "=SUM({route:plan_kwh})", "every load a full one", { decimals: 0 }),
  result(
    "plan_kwh_give",
    "Give or take",
    "kWh",
    "=SUM({route:plan_give})",
    "how far the planned energy may be off, either way, if every firing is off alike",
    { decimals: 0 },
  ),
  result(
    "plan_buy",
    "Materials to buy",
    "¤",
    "=SUM({materials:plan_price})",
    "whole packs of every material on the plan",
    money,
  ),
  ...PLAN_TIER_LINES,
];
