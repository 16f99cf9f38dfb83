// Materials, Kilns, Programmes and Tariffs: what the studio buys, what it fires with, and how.
import type { Column } from "../document/workbook";
import {
  choiceFrom,
  choiceInput,
  computed,
  computedMoney,
  dateInput,
  numberFrom,
  numberInput,
  textInput,
  timeInput,
} from "./column";

const MATERIAL_KINDS = ["slip", "glaze", "underglaze", "lustre", "other"] as const;
/** Classes of brick and fibre, by the names of the table in src/ceramics/kiln/wall-materials.ts. */
const WALL_CLASSES = ["brick-1260", "brick-1400", "brick-1540", "fireclay", "mullite", "fibre", "board"] as const;
const TARIFF_DAYS = ["every day", "weekdays", "weekend"] as const;

/** Columns of the Materials sheet. */
export const MATERIAL_COLUMNS: readonly Column[] = [
  textInput("id", "Material", { required: true, unique: true, width: 190 }),
  choiceInput("sort", "kind", MATERIAL_KINDS, { required: true }),
  numberInput("pack_price", "pack price", "¤", { format: "money", required: true }),
  numberInput("pack_grams", "pack holds", "g", {
    min: 0.001,
    required: true,
    words: "grams in a bag, bucket or vial",
  }),
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
  computed("plan_grams", "planned", "g", "=TOTAL_BY({id},{route:material},{route:plan_grams})", {
    decimals: 1,
    words: "grams that the plan expects all steps with this material to use",
  }),
  computed("plan_packs", "packs to buy", "", "=ROUNDUP(MAX(0,{plan_grams}/{pack_grams}-0.000000001),0)", {
    format: "whole",
    words: "planned grams ÷ grams in a pack, rounded up",
  }),
  computed("plan_left", "left over", "g", "={plan_packs}*{pack_grams}-{plan_grams}", {
    decimals: 1,
    words: "what those packs hold beyond the plan",
  }),
  computedMoney("plan_price", "to spend", "={plan_packs}*{pack_price}", { words: "packs to buy × pack price" }),
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
  computedMoney("cost", "cost of use", "=TOTAL_BY({id},{route:material},{route:material_cost})", {
    words: "what its use has cost, at the price of each day",
  }),
  textInput("note", "note", { width: 220 }),
];

/** What a row of Purchases is: bought, or found at a stock-take. */
const PURCHASE_SORTS = ["bought", "counted"] as const;

/** Columns of the Purchases sheet: what a material cost from which day on, and on the studio's shelf what was counted. */
export const PURCHASE_COLUMNS: readonly Column[] = [
  textInput("id", "Purchase", { required: true, unique: true, width: 110 }),
  dateInput("date", "date", { required: true, width: 120 }),
  choiceInput("sort", "what", PURCHASE_SORTS, { required: true, words: "bought, or counted at a stock-take" }),
  choiceFrom("material", "material", "materials:id", { required: true, width: 190 }),
  numberInput("grams", "quantity", "g", { required: true }),
  numberInput("paid", "paid", "¤", { format: "money", words: "for all of it; blank at a stock-take" }),
  computed("per_gram", "price", "¤/g", `=IF(OR({sort}="counted",{paid}="",{grams}=0),"",{paid}/{grams})`, {
    decimals: 5,
    words: "paid ÷ quantity",
  }),
  textInput("reference", "reference", { width: 150, words: "of the bill or the delivery" }),
  textInput("note", "note", { width: 220 }),
];

/** How far a calculated energy may be off where no meter speaks for it (src/ceramics/kiln/trust.ts). */
export const UNFITTED_SPREAD = 0.4;

/** Columns of the Kilns sheet. */
export const KILN_COLUMNS: readonly Column[] = [
  textInput("id", "Kiln", { required: true, unique: true, width: 150 }),
  numberInput("kw", "rated", "kW", { min: 0.1, max: 2000, required: true }),
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
  numberInput("wear", "wear a firing", "¤", {
    format: "money",
    required: true,
    words: "elements, shelves and thermocouple, a firing",
  }),
  numberInput("capacity", "room for", "pieces", { whole: true, min: 1, required: true }),
  numberInput("shelf", "shelf area", "cm²", { min: 0, words: "of all its shelves together" }),
  numberInput("levels", "shelves", "", { whole: true, min: 1, max: 60, words: "levels of ware when it is full" }),
  numberInput("gap", "shelf and gap", "cm", {
    max: 50,
    words: "what a shelf and the room above the ware take up, for each level",
  }),
  numberInput("height", "chamber height", "cm", { min: 5, max: 500 }),
  choiceInput("shape", "shape", ["round", "rectangular"], {}),
  numberInput("width", "width or diameter", "cm", { min: 5, max: 500, words: "inside; the diameter of a round kiln" }),
  numberInput("depth", "depth", "cm", { min: 5, max: 500, words: "inside, front to back; blank for a round kiln" }),
  choiceInput("brick", "hot face", WALL_CLASSES, { width: 104 }),
  numberInput("brick_mm", "hot face", "mm", { min: 1, max: 500 }),
  choiceInput("backing", "backing", WALL_CLASSES, { width: 104 }),
  numberInput("backing_mm", "backing", "mm", { min: 1, max: 500 }),
  numberInput("furniture", "furniture", "kg", { max: 5000, words: "shelves, props and saggars in a usual load" }),
  numberInput("vent", "vent", "L/s", {
    max: 20,
    decimals: 1,
    words: "room air that leaks or is drawn through; blank goes by the chamber, 0.3 for 100 L; 2 with a fan",
  }),
  numberFrom("wall_factor", "wall loss", "×", "=1", {
    min: 0.3,
    max: 3,
    decimals: 3,
    words: "from calibration: how much more the wall loses than its brick says",
  }),
  numberFrom("heat_factor", "stored heat", "×", "=1", {
    min: 0.3,
    max: 3,
    decimals: 3,
    words: "from calibration: how much more the wall holds than its brick says",
  }),
  numberFrom("spread", "give or take", "%", `=${UNFITTED_SPREAD}`, {
    format: "percent",
    min: 0,
    max: 1,
    words: "how far energy by the model may be off, either way: 40 % until it is fitted to its meter",
  }),
  numberInput("taken", "taken", "h", {
    max: 1000,
    words: "from switching on until it can be unloaded; blank is reckoned from its build, or said to be guessed",
  }),
  numberInput("open_at", "opened at", "°C", {
    max: 400,
    words: "how cool it must be to be opened; 100 °C where nothing is said",
  }),
  computed("firings", "fired", "times", "=COUNT_BY({id},{firings:ran_in})", {
    format: "whole",
    words: "firings that were fired",
  }),
  computed("kwh", "energy", "kWh", "=TOTAL_BY({id},{firings:kiln},{firings:kwh})", {
    decimals: 0,
    words: "energy of those firings",
  }),
  computedMoney("cost", "cost", "=TOTAL_BY({id},{firings:kiln},{firings:cost})", { words: "what those firings cost" }),
  textInput("note", "note", { width: 220 }),
];

/** Columns of the Programmes sheet: a row a ramp, numbered within its programme. */
export const PROGRAMME_COLUMNS: readonly Column[] = [
  textInput("programme", "Programme", { required: true, width: 170 }),
  numberInput("ramp", "ramp", "", { whole: true, min: 1, max: 40, required: true }),
  numberInput("rate", "rate", "°C/h", { min: 1, max: 3000, words: "blank is as fast as the kiln can, up or down" }),
  textInput("cone", "to cone", { words: "as 06 or 6; a half cone, such as 5½, is taken midway between two" }),
  numberInput("celsius", "to", "°C", { min: 21, max: 1500 }),
  numberInput("soak", "soak", "min", { max: 6000 }),
  numberInput("vent", "vent", "L/s", {
    max: 20,
    decimals: 1,
    words: "room air through the kiln in this ramp; blank is the kiln's own",
  }),
  computed(
    "target",
    "target",
    "°C",
    `=IF({celsius}<>"",{celsius},IF({cone}="","",CONE_TEMP({cone},IF({rate}="",150,MIN(300,MAX(30,{rate}))))))`,
    { decimals: 0, words: "the °C given, or the cone's temperature at this rate" },
  ),
  textInput("note", "note", { width: 220 }),
];

/** Columns of the Tariffs sheet. */
export const TARIFF_COLUMNS: readonly Column[] = [
  textInput("id", "Band", { required: true, unique: true, width: 150 }),
  choiceInput("days", "days", TARIFF_DAYS, { required: true }),
  timeInput("from", "from", { required: true }),
  timeInput("to", "to", { required: true, words: "a band that ends before it begins runs past midnight" }),
  numberInput("price", "price", "¤/kWh", { decimals: 4, required: true }),
  textInput("note", "note", { width: 220 }),
];
