// The Firings sheet: a row a firing, what it took and what a piece in it bears.
import type { Column } from "../document/workbook";
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
import { UNFITTED_SPREAD } from "./stock-sheets";

/** How a firing is shared over the pieces in it. */
const SHARE_BASES = ["count", "weight", "shelf area"] as const;
/** Raw ware still holds the water bound in its clay. */
const WARE_STATES = ["raw", "fired"] as const;

const ofKiln = (column: string) => `=IF({kiln}="","",PICK({kiln},{kilns:id},{kilns:${column}}))`;
/** Arguments of the functions that calculate a firing by its programme. */
const model = `{kiln},{programme},{ware_kg},{water_kg},IF({ware}="raw",0.5,0)`;
const isKnown = `OR({programme}="",{kiln}="",{ware_kg}="")`;

const HAS_NO_START = `OR({start}="",{date}="")`;
/** The model counts only where it says how much is used; else hours typed with the firing, for nothing else is its own. */
const IS_BY_MODEL = `AND({meter}="",ISNUMBER({model}))`;
const TARIFF = `=IF(${HAS_NO_START},tariff,IF(${IS_BY_MODEL},BANDED_PRICE(${model},{date},{start},tariff),IF({hours}="",tariff,BANDED_HOURS({hours},{date},{start},tariff))))`;
const PRICED = `=IF(COUNT({tariffs:price})=0,"flat price",IF(${HAS_NO_START},"flat price: no date and start",IF(${IS_BY_MODEL},"bands, hour by hour of the model",IF({hours}="","flat price: its hours are not typed","bands, even over its hours"))))`;

/** Energy of the same firing with a full load: what is used here, in the proportion in which the model gives more. */
const FULL_MODEL = `PROGRAMME_KWH({kiln},{programme},{ware_kg}*{full}/{pieces},{water_kg}*{full}/{pieces},IF({ware}="raw",0.5,0))`;

/** What stands at any of the firing steps of a piece, by the firing named there. */
const totalIn = (column: string) => `=SUM(EACH_FIRING(TOTAL_BY({id},{pieces:*.load},{pieces:${column}})))`;

/** Columns of the Firings sheet. */
export const FIRING_COLUMNS: readonly Column[] = [
  textInput("id", "Firing", { required: true, unique: true, width: 80 }),
  choiceFrom("kiln", "kiln", "kilns:id", { required: true }),
  choiceFrom("programme", "programme", "programmes:programme", { width: 150 }),
  dateInput("date", "date", { width: 100 }),
  timeInput("start", "start", {}),
  choiceInput("basis", "shared by", SHARE_BASES, { required: true }),
  computed("pieces", "pieces", "", "=SUM(EACH_FIRING(COUNT_BY({id},{pieces:*.load})))", {
    format: "whole",
    words: "pieces really in this load",
  }),
  computed("load_kg", "load", "kg", totalIn("kg"), { decimals: 2, words: "their weight together" }),
  computed("load_cm2", "shelf", "cm²", totalIn("foot"), { decimals: 0, words: "their shelf area together" }),
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
    "sizes",
    "sizes",
    `=CONCATENATE("",EACH_FIRING(SIZES_BY({id},{pieces:*.load},{pieces:foot},{pieces:height}),";"))`,
    {
      hidden: true,
      words: "sizes of the pieces in this load, and how many of each",
    },
  ),
  computed(
    "full",
    "full load",
    "pieces",
    `=IF({kiln}="","",IF({pieces}=0,IFERROR(KILN_ROOM({kiln},piece_foot,piece_height),""),LOAD_ROOM({kiln},{sizes})))`,
    {
      format: "whole",
      words: "pieces like these that the kiln takes: by count, shelf area, height and levels",
    },
  ),
  computedText("load_mind", "mind the load", `=IF(OR({kiln}="",{pieces}=0),"",LOAD_WARNING({kiln},{sizes}))`, {
    hidden: true,
    words: "whether the load fits the kiln: by count, shelf area, height and levels",
  }),
  computedText("heat_mind", "mind the kiln", `=IF(ISNUMBER({model}),FIRING_WARNING(${model}),"")`, {
    hidden: true,
    words: "whether a layer of the kiln gets hotter than it is made for",
  }),
  computedText(
    "warning",
    "mind",
    `=IF(COUNT_BY({id},{pieces:twice})>0,"a piece is in it at two steps",{load_mind}&IF(OR({load_mind}="",{heat_mind}=""),"","; ")&{heat_mind})`,
    {
      width: 190,
      words: "whether a piece is in it twice, the load fits the kiln, and the kiln stands the heat",
    },
  ),
  numberFrom(
    "meter_before",
    "meter before",
    "kWh",
    `=IF(OR({kiln}="",{date}=""),"",METER_BEFORE({kiln},{date},{start}))`,
    {
      words: "where the meter stood after the kiln's firing before, unless typed",
    },
  ),
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
  numberInput("hours", "hours", "h", {
    max: 200,
    words: "hours it ran or is to run; the rule takes the kiln's usual hours where this is blank",
  }),
  numberFrom("duty", "duty", "%", ofKiln("duty"), {
    format: "percent",
    max: 1,
    words: "the kiln's duty, unless this firing had its own",
  }),
  computed(
    "rule",
    "by the rule",
    "kWh",
    `=DUTY_KWH(PICK({kiln},{kilns:id},{kilns:kw}),IF({hours}="",PICK({kiln},{kilns:id},{kilns:hours}),{hours}),{duty})`,
    {
      decimals: 1,
      words: "rated power × hours × duty",
    },
  ),
  computed("kwh", "used", "kWh", `=IF({fired}="not yet","",IF({meter}<>"",{meter},IF({model}="",{rule},{model})))`, {
    decimals: 1,
    words:
      "blank until it has been fired; the meter reading where there is one, otherwise the model, otherwise the rule",
  }),
  computedText(
    "kwh_by",
    "used by",
    `=IF({meter}<>"","the meter",IFERROR(IF({model}="","its plate","the model"),"the model"))`,
    {
      words: "whether the energy used is read, reckoned by the model or by rated power × hours × duty",
    },
  ),
  computed(
    "give",
    "give or take",
    "kWh",
    `=IF(OR({kiln}="",{kwh}="",{meter}<>""),"",{kwh}*IF(ISNUMBER({model}),PICK({kiln},{kilns:id},{kilns:spread}),${UNFITTED_SPREAD}))`,
    { decimals: 1, words: "how far energy that is not metered may be off, either way: used × the kiln's give or take" },
  ),
  numberFrom("tariff", "tariff", "¤/kWh", TARIFF, {
    decimals: 4,
    words: "the flat price, or what the hours it ran at cost on average; a metered firing never asks the model",
  }),
  computedText("priced", "priced by", PRICED, {
    width: 200,
    words: "how the tariff is found, unless it is typed",
  }),
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
  computed(
    "full_kwh",
    "used if full",
    "kWh",
    `=IF({full}="","",IF({full}<={pieces},{kwh},IFERROR({kwh}*${FULL_MODEL}/{model},{kwh})))`,
    { hidden: true, words: "energy used, and as much more as the model gives for a full load" },
  ),
  computedMoney(
    "each_full",
    "a piece if full",
    `=IF(OR({full}="",{cost}=""),"",({cost}+({full_kwh}-{kwh})*{tariff})/{full})`,
    {
      words: "cost with the energy of a full load ÷ pieces in a full load",
    },
  ),
  computedMoney("charged", "borne by pieces", "=IF({pieces}=0,0,{cost})", {
    words: "the cost, unless nothing was in it",
  }),
  textInput("note", "note", { width: 220 }),
];
