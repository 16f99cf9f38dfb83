// What pieces on their way still take to finish, and what they will fetch then: hidden columns of the Route sheet by which a
// piece in progress is valued from the step it has reached. The costs are those of the plan (`plan_each`), so that there is one
// rule for what a step costs; the planned losses still to come are in both amounts.
//
//   still to finish   = Σ over later steps of: share of pieces still there × (cost of the step − what one lost there gives back)
//   share that comes through = Π over later steps of (1 − planned loss)
import type { Column, Row } from "../document/workbook";
import { computed, computedMoney, dateInput, numberInput, textInput } from "./column";
import { atLine as at, byOutcome, money, result } from "./line";
import { leftOfTyped, ofMade } from "./price-terms";

const hidden = { hidden: true } as const;
const upTo = (column: string) => `SUM_UP_TO({order},{route:order},{route:${column}})`;

/** What a piece lost at a step gives back: clay before its first firing, scrap from then on. */
export const GIVEN_BACK = `IF({fired}>0,scrap_value,IF(SUM({route:fires})=0,0,reclaim*${upTo("clay_each")}))`;

const restOf = (column: string, kept: string) => `=(SUM({route:${column}})-${upTo(column)})/(${kept})`;
const KEPT = "{kept_all}*(1-{loss_all})";
const KEPT_SPECIAL = "{kept_all}*{kept_special}*(1-{loss_all})*(1-{loss_special})";

/** Columns of the Route sheet: cost and chance of what comes after each step. */
export const STAGE_COLUMNS: readonly Column[] = [
  computedMoney("takes_all", "takes, a start", `={kept_all}*({each_all}-{loss_all}*${GIVEN_BACK})`, {
    ...hidden,
    words: "planned cost of the step × the share of standard pieces still there, less what those lost at it give back",
  }),
  computedMoney(
    "takes_special",
    "takes, a special start",
    `={kept_all}*{kept_special}*({each_all}+{each_special}-({loss_all}+{loss_special})*${GIVEN_BACK})`,
    { ...hidden, words: "the same of special pieces, at the steps that are theirs alone too" },
  ),
  computedMoney("finish_all", "to finish from here", restOf("takes_all", KEPT), {
    ...hidden,
    words:
      "what a standard piece that has had this step is planned to take until it is finished, losses to come included",
  }),
  computedMoney("finish_special", "to finish from here, special", restOf("takes_special", KEPT_SPECIAL), {
    ...hidden,
    words: "the same of a special piece",
  }),
  computed("comes_all", "comes through from here", "", `=YIELD_CHAIN({route:loss_all})/(${KEPT})`, {
    ...hidden,
    words: "share of standard pieces that have had this step that the planned losses still to come leave",
  }),
  computed(
    "comes_special",
    "comes through from here, special",
    "",
    `=YIELD_CHAIN({route:loss_all})*YIELD_CHAIN({route:loss_special})/(${KEPT_SPECIAL})`,
    { ...hidden, words: "the same of special pieces" },
  ),
];

/** A Route column at the last step that a piece has had, by its tier. */
const here = (what: "finish" | "comes") =>
  `IF({tier}="special",PICK({reached},{route:order},{route:${what}_special}),PICK({reached},{route:order},{route:${what}_all}))`;

const OFFERED = `IF({own_price}<>"",{own_price},${ofMade("price")})`;
const BY_HAND = "MAX(0,{full}-{down_by})";
const IS_GONE = `OR({stock}="sold",{stock}="given away",{stock}="kept",{stock}="broken")`;

/** Columns of the Pieces sheet: what the maker writes down. */
export const WRITE_DOWN_INPUTS: readonly Column[] = [
  numberInput("down_by", "written down by", "¤", {
    format: "money",
    words: "by hand, of a piece in stock or in progress: damaged, out of fashion, its price cut",
  }),
  dateInput("down_on", "written down on", {}),
  textInput("down_why", "written down because", {}),
];

/** Columns of the Pieces sheet: what a piece on its way takes and fetches, and at what a piece in stock is carried. */
export const STAGE_PIECE_COLUMNS: readonly Column[] = [
  computedMoney("to_finish", "still to finish", `=IF({outcome}<>"in progress","",${here("finish")})`, {
    words:
      "of a piece in progress: planned cost of the steps still to come, each × the share of pieces the planned losses leave until then, less clay and scrap of those lost",
  }),
  computedMoney(
    "may_bring",
    "may bring",
    `=IF(OR({outcome}<>"in progress",${OFFERED}=0),"",${here("comes")}*(${leftOfTyped(OFFERED, ofMade("tax"))}))`,
    {
      words:
        "of a piece in progress: price of its tier, or its own, less tax, fees and packing × the share that comes through; blank without a price",
    },
  ),
  computedMoney(
    "fetches",
    "will fetch",
    `=IF({may_bring}<>"",{may_bring}-{to_finish},IF(OR({stock}="in stock",{stock}="consigned"),{net}-{sale_cost},""))`,
    {
      words:
        "net realisable value: price without tax, less fees and packing, less what it still takes to finish (IAS 2 §6)",
    },
  ),
  computedMoney(
    "carried",
    "carried at",
    `=IF(OR({full}="",${IS_GONE}),"",IF({fetches}="",${BY_HAND},MIN(${BY_HAND},MAX(0,{fetches}))))`,
    {
      words:
        "of a piece in stock or in progress: full cost less what is written down by hand, or what it will fetch where that is less",
    },
  ),
];

/** The standard that the books follow where IAS 2 and ASC 330 differ. */
export const STOCK_RULES = ["IAS 2", "ASC 330"] as const;
export type StockRule = (typeof STOCK_RULES)[number];

/** Results lines on pieces in progress. */
export const STAGE_LINES: readonly Row[] = [
  result(
    "progress_finish",
    "Pieces in progress still take, to finish",
    "¤",
    "=SUM({pieces:to_finish})",
    "planned cost of the steps still to come, with the planned losses still to come",
    money,
  ),
  result(
    "progress_fetch",
    "… will fetch, less that",
    "¤",
    `=${byOutcome("in progress", "fetches")}`,
    "after tax, fees and packing, of the share that comes through; pieces without a price left out",
    money,
  ),
  result(
    "progress_carried",
    "… carried at",
    "¤",
    `=${byOutcome("in progress", "carried")}`,
    "cost, or what they will fetch if less",
    money,
  ),
  result(
    "progress_down",
    "… carried below cost by",
    "¤",
    `=${at("full_progress")}-${at("progress_carried")}`,
    "in the line on stock carried below cost",
    money,
  ),
];
