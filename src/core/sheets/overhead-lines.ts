// Lines of Edition and Results on overhead and moulds: what an hour and a cast carry, and what no piece carries.
// Plan and books ask the same two questions: which hours carry overhead, and how far the moulds' life goes.
import type { Row } from "../document/workbook";
import { FIRING_KINDS, totalOfKinds, USING_MOULDS } from "./kind-formulas";
import { choice, input, money, optional, result, wholeNumber } from "./line";

/** Whether the hours of loading kilns are among those that carry overhead, as a condition. */
export const LOADING_CARRIES = `overhead_loading="yes"`;
/** What a mould loses over its life. */
const MOULD_LOSES = "MAX(0,mould_cost-mould_salvage)";
/** What a cast wears off its mould: by its life, less where the moulds made for the edition are cast more often than that. */
const wearOfCast = (casts: string) => `${MOULD_LOSES}/MAX(mould_casts,IF(moulds="",0,${casts}/moulds))`;
const mouldsFor = (casts: string) => `IF(moulds="",ROUNDUP(MAX(0,${casts}/mould_casts-0.000000001),0),moulds)`;
const PLAN_CASTS = totalOfKinds(USING_MOULDS, "plan_entries");
const HOURS = "{results[overhead_hours]:value}";
const CASTS = "{results[casts]:value}";
const LOADING_HOURS = "SUM({firings:loading_here})/60";

/** Inputs on overhead, and the two rates that follow from them. */
export const OVERHEAD_LINES: readonly Row[] = [
  input(
    "overhead_rate",
    "Overhead",
    "¤/labour h",
    6,
    money,
    "rent, insurance and upkeep for each hour of work on pieces, and of loading kilns if the next line says so",
  ),
  choice("overhead_loading", "Hours of loading kilns carry overhead", ["no", "yes"], "no"),
  optional(
    "overhead_paid",
    "Overhead really paid",
    "¤",
    { ...money },
    "the part of the bills that falls on this edition; blank until it is known. What no hour carries is a cost of the period",
  ),
  optional(
    "normal_hours",
    "Hours at normal capacity",
    "h",
    { min: 0.1 },
    "hours that such a run usually takes; with what was really paid they give the rate, in place of the one above",
  ),
  result(
    "overhead_normal",
    "Overhead an hour carries, planned",
    "¤/labour h",
    `=IF(OR(overhead_paid="",normal_hours=""),overhead_rate,overhead_paid/normal_hours)`,
    "overhead really paid ÷ hours at normal capacity, where both are given; otherwise the rate above",
    money,
  ),
  result(
    "overhead_hour",
    "Overhead an hour carries",
    "¤/labour h",
    `=IF(overhead_paid="",overhead_normal,IF(${HOURS}=0,overhead_normal,MIN(overhead_normal,overhead_paid/${HOURS})))`,
    "the same, but never more than was paid ÷ the hours worked, so that no piece is carried above cost (IAS 2 §13)",
    money,
  ),
];

/** Inputs on moulds, and what a cast takes of one. */
export const MOULD_LINES: readonly Row[] = [
  input("mould_cost", "A mould", "¤", 40, money),
  input("mould_casts", "Casts a mould lasts", "casts", 60, { whole: true, min: 1 }),
  input("mould_salvage", "A worn-out mould fetches", "¤", 0, money),
  optional(
    "moulds",
    "Moulds made for this edition",
    "moulds",
    { whole: true, min: 1 },
    "blank: as few as its casts need",
  ),
  choice(
    "mould_rest",
    "What is left in the moulds at the end is",
    ["carried", "charged"],
    "carried",
    "carried into the next edition, or charged to the period of this one",
  ),
  result(
    "mould_wear",
    "Wear of a mould, a cast",
    "¤",
    `=${wearOfCast(CASTS)}`,
    "(cost − what it fetches worn out) ÷ the casts it lasts; a mould cast more often wears off no more than it had to lose",
    money,
  ),
];

/** Whether a firing's loading carries overhead, times the rate of the plan. */
export const LOADING_IN_PLAN = `IF(${LOADING_CARRIES},overhead_normal,0)`;
/** Wear of a planned cast. */
export const PLANNED_WEAR = wearOfCast(PLAN_CASTS);

/** What the plan says of both. */
export const OVERHEAD_PLAN_LINES: readonly Row[] = [
  result(
    "plan_overhead_hours",
    "… of which carry overhead",
    "h",
    `=plan_hours-IF(${LOADING_CARRIES},0,${totalOfKinds(FIRING_KINDS, "plan_hours")})`,
    "hours of work on pieces, and of loading kilns if the edition says so",
    { decimals: 1 },
  ),
  result(
    "plan_mould_charged",
    "Left in the moulds and charged, planned",
    "¤",
    `=IF(mould_rest="charged",${MOULD_LOSES}*${mouldsFor(PLAN_CASTS)}-${PLAN_CASTS}*${PLANNED_WEAR},0)`,
    "what the moulds of the plan will not have worn off, where that is charged and not carried",
    money,
  ),
];

/** What came of both. */
export const OVERHEAD_RESULT_LINES: readonly Row[] = [
  result(
    "overhead_hours",
    "… of which carry overhead",
    "h",
    `=SUM({route:hours})+IF(${LOADING_CARRIES},${LOADING_HOURS},0)`,
    "hours of work on pieces, and of loading kilns if the edition says so",
    { decimals: 1 },
  ),
  result(
    "overhead_idle",
    "Overhead that no hour carries",
    "¤",
    `=IF(overhead_paid="",0,MAX(0,overhead_paid-overhead_hour*${HOURS}))`,
    "overhead really paid, less what the hours carry: a cost of the period (IAS 2 §13)",
    money,
  ),
  result("casts", "Casts", "casts", "=SUM({route:casts})", "pieces that were cast, a cast each", wholeNumber),
  result(
    "mould_left",
    "Left in the moulds",
    "¤",
    `=mould_cost*${mouldsFor(CASTS)}-{results[in_wear]:value}`,
    "what the moulds cost, less what their casts wore off",
    money,
  ),
  result(
    "mould_charged",
    "… of which is charged",
    "¤",
    `=IF(mould_rest="charged",${MOULD_LOSES}*${mouldsFor(CASTS)}-{results[in_wear]:value},0)`,
    "what is left beyond what worn-out moulds fetch: a cost of the period where it is not carried on",
    money,
  ),
];

/** Hours of loading firings that were fired. */
export const HOURS_AT_KILNS = LOADING_HOURS;
