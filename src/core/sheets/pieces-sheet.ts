// The Pieces sheet: a row a piece, a group of columns a step, and what each piece comes to.
import type { Column, Row } from "../document/workbook";
import {
  choiceFrom,
  choiceInput,
  computed,
  computedMoney,
  computedText,
  dateInput,
  numberFrom,
  numberInput,
  textInput,
} from "./column";
import { dayColumn } from "./kinds/parts";
import { leftOfTyped, ofMade, withTax } from "./price-terms";
import { STAGE_PIECE_COLUMNS, WRITE_DOWN_INPUTS } from "./stage-columns";
import { rulesOf } from "./step-kinds";

const TIERS = ["standard", "special"] as const;
const GRADES = ["good", "second"] as const;

/** What can become of a finished piece that does not just stay in stock; consigned ones are in stock somewhere else. */
export const BECAME = ["consigned", "sold", "given away", "kept", "broken"] as const;
export type Became = (typeof BECAME)[number];

/** What a channel takes; the Edition's where there is no channel. */
const term = (name: string) => `IF({channel}="",${name},PICK({channel},{channels:id},{channels:${name}}))`;
const COMMISSION = `IF({channel}="",0,PICK({channel},{channels:id},{channels:commission}))`;
const IN_STOCK = `OR({stock}="in stock",{stock}="consigned")`;

const dueOfSecond = `({results[share_each]:value}+IF({second_kind}="special",{results[share_special]:value},0))`;
const fallsUntilHere = (who: "all" | "special") => `PICK({reached},{route:order},{route:falls_${who}})`;

/** Columns before the steps. */
export const PIECE_LEADING_COLUMNS: readonly Column[] = [
  textInput("piece", "Piece", { required: true, unique: true, width: 78 }),
  choiceInput("tier", "tier", TIERS, {}),
];

/** What a second fetches after tax, fees and packing: at its own price where it has one. */
const WORTH_OF_SECOND = `IF({own_price}="",{results[second_worth]:value},${leftOfTyped("{own_price}", "tax_second")})`;
/** The tax of a piece: its channel's own rate, otherwise that of the tier it is sold as, which is the Edition's or its own. */
const TAX = `IF({channel}="","",PICK({channel},{channels:id},{channels:tax_rate}))`;
const ofTier = (of: "price" | "tax") => `IF({outcome}="second",${of}_second,${ofMade(of)})`;
/** What a piece is offered at, as prices are typed. */
const OFFERED = `IF({own_price}<>"",{own_price},${ofTier("price")})`;

/** The place of the last step that a piece has had: the first one, from the end of the route, with an entry. */
const LAST_HAD = `SWITCH(FALSE,EACH_STEP_BACK({*.entry}="",{route[*]:order}),"")`;
/** Whether a piece was lost before its first firing; where there is none, there is no before. */
const IS_LOST_UNFIRED = "{lost_order}<SUM(EACH_FIRST_FIRING({route[*]:order}))";

/** Columns after the steps. */
export const PIECE_CLOSING_COLUMNS: readonly Column[] = [
  choiceFrom("lost_at", "lost at", "route:key", { width: 120 }),
  textInput("reason", "why", {}),
  choiceInput("grade", "passed as", GRADES, {}),
  numberInput("own_price", "own price", "¤", {
    format: "money",
    words: "agreed for this piece alone, with tax or without as the Edition sheet says; blank is the price of its tier",
  }),
  choiceInput("became", "what became of it", BECAME, {
    width: 110,
    words: "of a finished piece; blank is in stock",
  }),
  dateInput("became_on", "on the day", {}),
  choiceFrom("channel", "channel", "channels:id", {
    width: 120,
    words: "where it was sold or is consigned; blank is as on the Edition sheet",
  }),
  numberInput("paid", "price paid", "¤", {
    format: "money",
    words: "tax included; blank is the price it was offered at",
  }),
  textInput("document", "document", { words: "number of the invoice or receipt" }),
  dateInput("consigned_on", "was consigned on", {
    words: "of a piece that was on consignment before; filled in when it is sold or comes to something else",
  }),
  ...WRITE_DOWN_INPUTS,
  dateInput("lost_on", "lost on", { hidden: true, words: "the day on which its loss was recorded" }),
  dateInput("passed_on", "passed on", { hidden: true, words: "the day on which it was passed" }),
  textInput("to_have", "is to have", {
    hidden: true,
    words: "steps as needed that this piece waits for, by their keys",
  }),
  computed("lost_order", "lost at step", "", `=IF({lost_at}="",1000000000,PICK({lost_at},{route:key},{route:order}))`, {
    hidden: true,
    words: "place in the route of the step at which the piece was lost",
  }),
  computed(
    "reached",
    "last step",
    "",
    `=IF({lost_at}<>"","",IF({grade}="",${LAST_HAD},IF(${LAST_HAD}="","",MAX({route:order}))))`,
    {
      hidden: true,
      words: "place in the route of the last step it has had; of a finished piece, the end of the route",
    },
  ),
  computed("reached_special", "last step, special", "", `=IF({tier}="special",{reached},"")`, { hidden: true }),
  computedText(
    "outcome",
    "outcome",
    `=IF({lost_at}<>"","lost",IF({reached}="","not started",IF({grade}="","in progress",{grade})))`,
    {
      width: 92,
      words:
        "lost where a step is named; not started before its first step is entered; otherwise as it was passed, or in progress",
    },
  ),
  computedText(
    "lost_bare",
    "lost before it was done",
    `=IF({lost_at}="","",IF(SWITCH({lost_at},EACH_STEP({route[*]:key},{*.cost}),"")="",{lost_at},""))`,
    {
      hidden: true,
      words: "the step at which the piece was lost, where nothing was entered for it there",
    },
  ),
  computedMoney("own", "own cost", "=SUM(EACH_STEP({*.cost}))", {
    words: "everything this piece itself has gone through",
  }),
  computedMoney("reclaim", "clay back", `=IF(${IS_LOST_UNFIRED},reclaim*SUM(EACH_MAKING({*.material})),0)`, {
    words: "slip of a piece lost before its first firing × the share that can be used again",
  }),
  computedMoney(
    "scrap",
    "scrap",
    `=IF(AND({lost_at}<>"",OR(EACH_FIRST_FIRING({lost_order}>={route[*]:order}))),scrap_value,0)`,
    { words: "what a piece lost at its first firing or later fetches" },
  ),
  computedText("second_kind", "second of", `=IF({outcome}="second",IF({tier}="special","special","standard"),"")`, {
    hidden: true,
  }),
  computedMoney(
    "second_share",
    "second's share",
    `=IF({second_kind}="","",MIN(${dueOfSecond},MAX(0,${WORTH_OF_SECOND}-{own})))`,
    { hidden: true, words: "the losses a second can bear without being carried above what it fetches" },
  ),
  computedMoney("second_short", "second can't bear", `=IF({second_kind}="","",${dueOfSecond}-{second_share})`, {
    hidden: true,
    words: "what it would bear of the losses beyond that",
  }),
  computedMoney(
    "loss_share",
    "of losses",
    `=IF(OR({outcome}="lost",{outcome}="not started"),"",IF({outcome}="second",{second_share},IF({tier}="special",${fallsUntilHere("special")},${fallsUntilHere("all")})))`,
    { words: "its part of the normal losses at the steps it has passed" },
  ),
  computedMoney("full", "full cost", `=IF({loss_share}="","",{own}+{loss_share})`, {
    words: "own cost + share of losses",
  }),
  computedText(
    "stock",
    "is",
    `=IF(AND({outcome}<>"good",{outcome}<>"second"),IF({became}="","","not finished"),IF({became}="","in stock",{became}))`,
    {
      width: 92,
      words: "not finished: recorded as sold too soon",
    },
  ),
  computed(
    "tax_rate",
    "tax",
    "",
    `=IF(OR({stock}="",{stock}="not finished"),"",IF(${TAX}="",${ofTier("tax")},${TAX}))`,
    {
      format: "percent",
      width: 64,
      words: "rate of its channel; where that has none of its own, the rate of its tier",
    },
  ),
  computedMoney(
    "price",
    "price",
    `=IF(OR({stock}="",{stock}="not finished"),"",IF(OR({stock}="given away",{stock}="kept",{stock}="broken"),0,IF(AND({stock}="sold",{paid}<>""),{paid},${withTax(OFFERED, "{tax_rate}")})))`,
    {
      words: "with tax: what was paid; until it is sold its own price, or that of its tier",
    },
  ),
  computedMoney("net", "without tax", `=IF({price}="","",{price}/(1+{tax_rate}))`, {
    words: "price without VAT or sales tax",
  }),
  computedMoney(
    "sale_cost",
    "fees and packing",
    `=IF({price}="","",IF(OR(${IN_STOCK},{stock}="sold"),{price}*${term("fee_rate")}+{net}*${COMMISSION}+${term("fee_fixed")}+${term("packing")},0))`,
    { words: "what its channel takes, packing and postage; nothing where it is not sold" },
  ),
  computedMoney("contribution", "leaves", `=IF({price}="","",{net}-{sale_cost}-{full})`, {
    words: "price without tax − fees − packing − full cost",
  }),
  ...STAGE_PIECE_COLUMNS,
  computedText(
    "sold_as",
    "sold as",
    `=IF({price}="","",IF({outcome}="second","second",IF({tier}="special","special","standard")))`,
    {
      hidden: true,
      words: "the tier whose price a finished piece has",
    },
  ),
  computedText("sold_through", "sold through", `=IF({stock}="sold",{channel},"")`, {
    hidden: true,
    words: "the channel of a piece that was sold",
  }),
  computedText(
    "passed_how",
    "passed how",
    `=IF({outcome}<>"good","",IF(COUNT(EACH_AS_NEEDED({*.cost}))=0,"at once","after rework"))`,
    {
      hidden: true,
      words: "at once, or only after a step that some pieces need once more",
    },
  ),
  computedText("twice", "twice in", `=REPEATED(CONCATENATE("|",EACH_FIRING({*.load},"|")))`, {
    width: 84,
    words:
      "a firing that is entered at two steps of this piece; one of them is a mistake, unless both were done in one firing",
  }),
  numberFrom("kg", "weight", "kg", "=piece_kg", {
    decimals: 2,
    words: "as on the Edition sheet, unless this piece has its own",
  }),
  numberFrom("foot", "shelf area", "cm²", "=piece_foot", {
    words: "as on the Edition sheet, unless this piece has its own",
  }),
  numberFrom("height", "height", "cm", "=piece_height", {
    words: "as on the Edition sheet, unless this piece has its own",
  }),
  textInput("note", "note", { width: 200 }),
];

/** The columns of one step's group, from its row on the Route sheet. */
export function columnsOfStep(step: Row): readonly Column[] {
  const rules = rulesOf(step);
  if (!rules) return [];
  return rules.entered === "firing" ? rules.columns(step.id) : [...rules.columns(step.id), dayColumn(step.id)];
}
