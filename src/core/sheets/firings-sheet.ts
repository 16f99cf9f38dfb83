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
const FULL_MODEL = `PROGRAMME_KWH({kiln},{programme},{ware_kg}*{full}/{all},{water_kg}*{full}/{all},IF({ware}="raw",0.5,0))`;

/**
 * What is in the kiln beside this edition's pieces, as so many pieces, kilograms and cm² and a height; weight and shelf of
 * ware that has no edition start from those of a usual piece, so that its count is enough.
 */
const OTHERS = ["other", "with"] as const;
const withOthers = (own: string, column: string) =>
  `SUM({${own}},${OTHERS.map((who) => `{${who}_${column}}`).join(",")})`;
const usual = (input: string) => `=IF({other_count}="","",${input})`;
/** Their sizes as SIZES_BY writes them: as many of their mean foot, each as high as the tallest. */
const sizesOf = (who: string) =>
  `IF(AND(SUM({${who}_count})=0,SUM({${who}_cm2})=0),"",";"&SUM({${who}_cm2})/MAX(1,{${who}_count})&" "&SUM({${who}_height})&" "&MAX(1,{${who}_count}))`;
/** True where something else is said to be in it, but not by what the firing is shared by: then nothing of it would be borne there. */
const isUnsaid = (who: string) =>
  `AND({${who}_part}=0,OR(SUM({${who}_count})>0,SUM({${who}_kg})>0,SUM({${who}_cm2})>0))`;
const partOf = (who: string) =>
  computed(
    `${who}_part`,
    "of that others",
    "as shared",
    `=SWITCH({basis},"weight",SUM({${who}_kg}),"shelf area",SUM({${who}_cm2}),SUM({${who}_count}))`,
    { hidden: true },
  );

/** Amounts of a firing that this edition bears a part of. */
const BORNE = ["kwh kWh", "energy ¤", "wear ¤", "labour ¤", "overhead ¤", "loading min"] as const;
const borneHere = (amount: string) => {
  const [key = "", unit = ""] = amount.split(" ");
  return computed(`${key}_here`, `${key}, borne here`, unit, `=IF({ours}=0,0,{ours}*{${key}})`, { hidden: true });
};

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
    words: "pieces of this edition really in this load",
  }),
  computed("load_kg", "load", "kg", totalIn("kg"), { decimals: 2, words: "their weight together" }),
  computed("load_cm2", "shelf", "cm²", totalIn("foot"), { decimals: 0, words: "their shelf area together" }),
  numberInput("other_count", "other ware", "pieces", { whole: true, words: "pieces in it that belong to no edition" }),
  numberFrom("other_kg", "its weight", "kg", usual("{other_count}*piece_kg"), {
    decimals: 2,
    words: "as much as so many of this edition's pieces, unless typed",
  }),
  numberFrom("other_cm2", "its shelf", "cm²", usual("{other_count}*piece_foot"), {
    decimals: 0,
    words: "as much as so many of this edition's pieces, unless typed",
  }),
  numberFrom("other_height", "its height", "cm", usual("piece_height"), { words: "of the tallest of it" }),
  textInput("with", "other editions", { width: 150, words: "editions that have pieces in it too" }),
  numberInput("with_count", "their pieces", "pieces", { whole: true }),
  numberInput("with_kg", "their weight", "kg", { decimals: 2 }),
  numberInput("with_cm2", "their shelf", "cm²", { decimals: 0 }),
  numberInput("with_height", "their height", "cm", { words: "of the tallest of them" }),
  textInput("shared", "shared load", { words: "the same in every edition with pieces in this load" }),
  ...OTHERS.map(partOf),
  computed("others", "others", "as shared", "={other_part}+{with_part}", { hidden: true }),
  computed("all", "all pieces", "pieces", `=${withOthers("pieces", "count")}`, { hidden: true, format: "whole" }),
  computed(
    "weight",
    "shared over",
    "as shared",
    `=SWITCH({basis},"weight",${withOthers("load_kg", "kg")},"shelf area",${withOthers("load_cm2", "cm2")},{all})`,
    {
      decimals: 2,
      words: "pieces, kilograms or cm² of all that is in it, as the firing is shared",
    },
  ),
  computed("ours", "borne here", "", `=IF({fired}="not yet",0,IF({others}=0,1,({weight}-{others})/{weight}))`, {
    format: "percent",
    words: "the part of the firing that the pieces of this edition bear",
  }),
  computedText(
    "sizes",
    "sizes",
    `=CONCATENATE("",EACH_FIRING(SIZES_BY({id},{pieces:*.load},{pieces:foot},{pieces:height}),";"))&${OTHERS.map(sizesOf).join("&")}`,
    {
      hidden: true,
      words: "sizes of all that is in this load, and how many of each",
    },
  ),
  computed(
    "full",
    "full load",
    "pieces",
    `=IF({kiln}="","",IF({all}=0,IFERROR(KILN_ROOM({kiln},piece_foot,piece_height),""),LOAD_ROOM({kiln},{sizes})))`,
    {
      format: "whole",
      words: "pieces like these that the kiln takes: by count, shelf area, height and levels",
    },
  ),
  computedText(
    "load_mind",
    "mind the load",
    `=IF(OR(${OTHERS.map(isUnsaid).join(",")}),"what else is in it has no "&{basis},IF(OR({kiln}="",{all}=0),"",LOAD_WARNING({kiln},{sizes})))`,
    {
      hidden: true,
      words: "whether the load fits the kiln: by count, shelf area, height and levels",
    },
  ),
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
  computedText("fired", "fired", `=IF({pieces}>0,"yes",IF({meter}="","not yet",IF({others}>0,"yes","empty")))`, {
    words: "a firing has been fired once a piece is in it or its meter was read; until then it costs nothing",
  }),
  computedText("ran_in", "ran in", `=IF(OR({fired}="not yet",{kiln}=""),"",{kiln})`, { hidden: true }),
  choiceInput("ware", "ware", WARE_STATES, { words: "raw ware gives up the water bound in its clay; blank is fired" }),
  numberFrom("ware_kg", "ware", "kg", `=${withOthers("load_kg", "kg")}`, {
    decimals: 1,
    words: "weight of all that is in it, unless typed",
  }),
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
  computedMoney("each", "a piece", `=IF({pieces}=0,"",{charged}/{pieces})`, { words: "borne by pieces ÷ pieces" }),
  computed(
    "full_kwh",
    "used if full",
    "kWh",
    `=IF({full}="","",IF({full}<={all},{kwh},IFERROR({kwh}*${FULL_MODEL}/{model},{kwh})))`,
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
  computedMoney("charged", "borne by pieces", "=IF({pieces}=0,0,{ours}*{cost})", {
    words: "cost × the part borne here; nothing where no piece of this edition is in it",
  }),
  ...BORNE.map(borneHere),
  textInput("note", "note", { width: 220 }),
];
