// Materials and Kilns: what the studio buys and what it fires with.
import type { Column } from "../workbook";
import { choiceInput, computed, computedMoney, numberFrom, numberInput, textInput } from "./column";

export const MATERIAL_KINDS = ["slip", "glaze", "underglaze", "lustre", "other"] as const;

/** Columns of the Materials sheet. */
export const MATERIAL_COLUMNS: readonly Column[] = [
  textInput("id", "Material", { required: true, unique: true, width: 190 }),
  choiceInput("sort", "kind", MATERIAL_KINDS, { required: true }),
  numberInput("pack_price", "pack price", "¤", { format: "money", required: true }),
  numberInput("pack_grams", "pack holds", "g", { min: 0.001, required: true, words: "grams in a bag, bucket or vial" }),
  computed("per_gram", "price", "¤/g", "={pack_price}/{pack_grams}", {
    decimals: 5,
    words: "pack price ÷ grams in a pack",
  }),
  numberInput("fraction", "metal content", "%", {
    format: "percent",
    max: 1,
    words: "share of metal in a preparation, by weight",
  }),
  numberInput("carat", "carat", "", { max: 24, words: "24 is pure metal" }),
  computed("used", "used", "g", "=TOTAL_BY({id},{route:material},{route:grams_used})", {
    decimals: 2,
    words: "grams used by all steps with this material",
  }),
  computed("fine", "fine metal", "g", `=IF({fraction}="","",FINE_METAL({used},{fraction},IF({carat}="",24,{carat})))`, {
    decimals: 3,
    words: "grams used × metal content × carat ÷ 24",
  }),
  computed("packs", "packs opened", "", "=ROUNDUP({used}/{pack_grams},0)", {
    format: "whole",
    words: "grams used ÷ grams in a pack, rounded up",
  }),
  computedMoney("cost", "cost of use", "={used}*{per_gram}", { words: "grams used × price per gram" }),
  textInput("note", "note", { width: 220 }),
];

/** Columns of the Kilns sheet. */
export const KILN_COLUMNS: readonly Column[] = [
  textInput("id", "Kiln", { required: true, unique: true, width: 150 }),
  numberInput("kw", "rated", "kW", { min: 0.1, max: 500, required: true }),
  numberInput("hours", "usual firing", "h", {
    min: 0.1,
    max: 200,
    required: true,
    words: "hours from switching on to peak",
  }),
  numberInput("duty", "duty", "%", {
    format: "percent",
    min: 0.01,
    max: 1,
    required: true,
    words: "share of those hours in which the elements are on",
  }),
  numberInput("capacity", "room for", "pieces", { whole: true, min: 1, required: true }),
  numberInput("shelf", "shelf area", "cm²", { min: 0 }),
  numberInput("height", "chamber height", "cm", { min: 0 }),
  numberInput("wear", "wear a firing", "¤", {
    format: "money",
    required: true,
    words: "elements, shelves and thermocouple, a firing",
  }),
  computed("firings", "fired", "times", "=COUNT_BY({id},{firings:kiln})", {
    format: "whole",
    words: "firings on the Firings sheet",
  }),
  computed("kwh", "energy", "kWh", "=TOTAL_BY({id},{firings:kiln},{firings:kwh})", {
    decimals: 0,
    words: "energy of those firings",
  }),
  computedMoney("cost", "cost", "=TOTAL_BY({id},{firings:kiln},{firings:cost})", { words: "what those firings cost" }),
  textInput("note", "note", { width: 220 }),
];

const ofKiln = (column: string) => `=IF({kiln}="","",PICK({kiln},{kilns:id},{kilns:${column}}))`;

/** How a firing is shared over the pieces in it. */
export const SHARE_BASES = ["count", "weight", "shelf area"] as const;

/** Columns of the Firings sheet; `pieces`, `load_kg` and `load_cm2` are wired to the firing steps of the route. */
export const FIRING_COLUMNS: readonly Column[] = [
  textInput("id", "Firing", { required: true, unique: true, width: 80 }),
  { key: "kiln", title: "kiln", unit: "", kind: "input", type: "choice", from: "kilns:id", required: true },
  { key: "date", title: "date", unit: "", kind: "input", type: "date", width: 100 },
  textInput("programme", "programme", { width: 130 }),
  textInput("cone", "cone", {}),
  numberFrom("hours", "hours", "h", ofKiln("hours"), {
    max: 200,
    words: "the kiln's usual hours, unless this firing had its own",
  }),
  numberFrom("duty", "duty", "%", ofKiln("duty"), {
    format: "percent",
    max: 1,
    words: "the kiln's duty, unless this firing had its own",
  }),
  numberInput("meter", "meter", "kWh", {
    words: "kilowatt-hours read off the meter; it takes the place of the estimate",
  }),
  computed("model", "estimate", "kWh", "=DUTY_KWH(PICK({kiln},{kilns:id},{kilns:kw}),{hours},{duty})", {
    decimals: 1,
    words: "rated power × hours × duty",
  }),
  computed("kwh", "used", "kWh", `=IF({meter}="",{model},{meter})`, {
    decimals: 1,
    words: "the meter reading where there is one, otherwise the estimate",
  }),
  numberFrom("tariff", "tariff", "¤/kWh", "=tariff", {
    decimals: 4,
    words: "the studio's tariff, unless this firing had its own",
  }),
  computedMoney("energy", "energy", "={kwh}*{tariff}", { words: "energy used × tariff" }),
  numberFrom("wear", "wear", "¤", ofKiln("wear"), { format: "money", words: "the kiln's wear a firing" }),
  numberFrom("loading", "loading", "min", "=loading_minutes", { words: "minutes to load and unload" }),
  computedMoney("labour", "labour", "={loading}/60*wage", { words: "loading minutes ÷ 60 × wage" }),
  computedMoney("cost", "cost", "={energy}+{wear}+{labour}", { words: "energy + wear + labour" }),
  choiceInput("basis", "shared by", SHARE_BASES, { required: true }),
  computed("pieces", "pieces", "", "=0", { format: "whole", words: "pieces really in this load" }),
  computed("load_kg", "load", "kg", "=0", { decimals: 2, words: "their weight together" }),
  computed("load_cm2", "shelf", "cm²", "=0", { decimals: 0, words: "their shelf area together" }),
  computed("weight", "shared over", "", `=SWITCH({basis},"weight",{load_kg},"shelf area",{load_cm2},{pieces})`, {
    decimals: 2,
    words: "pieces, kilograms or cm², as the firing is shared",
  }),
  computedMoney("each", "a piece", `=IF({pieces}=0,"",{cost}/{pieces})`, { words: "cost ÷ pieces" }),
  computedMoney("charged", "borne by pieces", "=IF({pieces}=0,0,{cost})", {
    words: "the cost, unless nothing was in it",
  }),
  textInput("note", "note", { width: 220 }),
];
