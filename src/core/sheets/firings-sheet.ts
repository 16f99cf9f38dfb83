// The Firings sheet: a row a firing, what it took and what a piece in it bears.
import type { Column } from "../workbook";
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
  timeInput,
} from "./column";
import { LOADING_CARRIES } from "./overhead-lines";

/** How a firing is shared over the pieces in it. */
const SHARE_BASES = ["count", "weight", "shelf area"] as const;
/** Raw ware still holds the water bound in its clay. */
const WARE_STATES = ["raw", "fired"] as const;

const ofKiln = (column: string) => `=IF({kiln}="","",PICK({kiln},{kilns:id},{kilns:${column}}))`;
/** Arguments of the functions that reckon a firing by its programme. */
const model = `{kiln},{programme},{ware_kg},{water_kg},IF({ware}="raw",0.5,0)`;
const isKnown = `OR({programme}="",{kiln}="",{ware_kg}="")`;

/** Columns of the Firings sheet; `pieces`, `load_kg` and `load_cm2` are wired to the firing steps of the route. */
export const FIRING_COLUMNS: readonly Column[] = [
  textInput("id", "Firing", { required: true, unique: true, width: 80 }),
  choiceFrom("kiln", "kiln", "kilns:id", { required: true }),
  choiceFrom("programme", "programme", "programmes:programme", { width: 150 }),
  dateInput("date", "date", { width: 100 }),
  timeInput("start", "start", {}),
  choiceInput("basis", "shared by", SHARE_BASES, { required: true }),
  computed("pieces", "pieces", "", "=0", { format: "whole", words: "pieces really in this load" }),
  computed("load_kg", "load", "kg", "=0", { decimals: 2, words: "their weight together" }),
  computed("load_cm2", "shelf", "cm²", "=0", { decimals: 0, words: "their shelf area together" }),
  computed(
    "weight",
    "shared over",
    "as shared",
    `=SWITCH({basis},"weight",{load_kg},"shelf area",{load_cm2},{pieces})`,
    {
      decimals: 2,
      words: "pieces, kilograms or cm², as the firing is shared",
    },
  ),
  computedText(
    "warning",
    "mind",
    `=IF(COUNT_BY({id},{pieces:twice})>0,"a piece is in it at two steps",IF({kiln}="","",IF({pieces}>PICK({kiln},{kilns:id},{kilns:capacity}),"more pieces than there is room for",IF(AND(PICK({kiln},{kilns:id},{kilns:shelf})>0,{load_cm2}>PICK({kiln},{kilns:id},{kilns:shelf})),"more shelf than there is",IF(AND({pieces}>0,PICK({kiln},{kilns:id},{kilns:height})>0,piece_height>PICK({kiln},{kilns:id},{kilns:height})),"a piece is taller than the chamber","")))))`,
    { width: 190, words: "whether the load fits the kiln: by count, by shelf area, by height" },
  ),
  numberInput("meter_before", "meter before", "kWh", {}),
  numberInput("meter_after", "meter after", "kWh", {}),
  numberFrom("meter", "metered", "kWh", `=IF(OR({meter_before}="",{meter_after}=""),"",{meter_after}-{meter_before})`, {
    decimals: 1,
    words: "after − before, or typed; it takes the place of every estimate",
  }),
  computedText("fired", "fired", `=IF({pieces}>0,"yes",IF({meter}="","not yet","empty"))`, {
    words: "a firing has been fired once a piece is in it or its meter was read; until then it costs nothing",
  }),
  computedText("ran_in", "ran in", `=IF(OR({fired}="not yet",{kiln}=""),"",{kiln})`, { hidden: true }),
  choiceInput("ware", "ware", WARE_STATES, { words: "raw ware gives up the water bound in its clay; blank is fired" }),
  numberFrom("ware_kg", "ware", "kg", "={load_kg}", { decimals: 1, words: "weight of the pieces in it, unless typed" }),
  numberFrom("water_kg", "damp", "kg", "=0", { decimals: 1, words: "water still in the ware and the glaze" }),
  computed(
    "model",
    "by the model",
    "kWh",
    `=IF(${isKnown},"",IF(PICK({kiln},{kilns:id},{kilns:brick})="","",PROGRAMME_KWH(${model})))`,
    { decimals: 1, words: "reckoned from the kiln's build, the programme and the load" },
  ),
  numberFrom("hours", "hours", "h", ofKiln("hours"), {
    max: 200,
    words: "the kiln's usual hours, unless this firing had its own",
  }),
  numberFrom("duty", "duty", "%", ofKiln("duty"), {
    format: "percent",
    max: 1,
    words: "the kiln's duty, unless this firing had its own",
  }),
  computed("rule", "by the rule", "kWh", "=DUTY_KWH(PICK({kiln},{kilns:id},{kilns:kw}),{hours},{duty})", {
    decimals: 1,
    words: "rated power × hours × duty",
  }),
  computed("kwh", "used", "kWh", `=IF({fired}="not yet","",IF({meter}<>"",{meter},IF({model}="",{rule},{model})))`, {
    decimals: 1,
    words:
      "blank until it has been fired; the meter reading where there is one, otherwise the model, otherwise the rule",
  }),
  numberFrom(
    "tariff",
    "tariff",
    "¤/kWh",
    `=IF(OR({start}="",{date}="",{model}=""),tariff,BANDED_PRICE(${model},{date},{start},tariff))`,
    { decimals: 4, words: "the flat price, or what the hours it really ran at cost on average" },
  ),
  computedMoney("energy", "energy", `=IF({kwh}="","",{kwh}*{tariff})`, { words: "energy used × tariff" }),
  numberFrom("wear", "wear", "¤", ofKiln("wear"), { format: "money", words: "the kiln's wear a firing" }),
  numberFrom("loading", "loading", "min", "=loading_minutes", { words: "minutes to load and unload" }),
  computedMoney("labour", "labour", "={loading}/60*wage", { words: "loading minutes ÷ 60 × wage" }),
  computedMoney("overhead", "overhead", `=IF(${LOADING_CARRIES},{loading}/60*overhead_hour,0)`, {
    words: "loading minutes ÷ 60 × overhead, where loading carries any",
  }),
  computedMoney("cost", "cost", `=IF({kwh}="","",{energy}+{wear}+{labour}+{overhead})`, {
    words: "energy + wear + labour + overhead of loading; nothing until it has been fired",
  }),
  computedMoney("each", "a piece", `=IF({pieces}=0,"",{cost}/{pieces})`, { words: "cost ÷ pieces" }),
  computedMoney(
    "each_full",
    "a piece if full",
    `=IF(OR({kiln}="",{cost}=""),"",{cost}/MAX({pieces},PICK({kiln},{kilns:id},{kilns:capacity})))`,
    {
      words: "cost ÷ pieces there is room for",
    },
  ),
  computedMoney("charged", "borne by pieces", "=IF({pieces}=0,0,{cost})", {
    words: "the cost, unless nothing was in it",
  }),
  textInput("note", "note", { width: 220 }),
];
