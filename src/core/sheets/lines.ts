// Edition and Results read line by line: a name, a value, its unit and a note.
import type { Column, Row } from "../document/workbook";
import { textInput } from "./column";
import {
  atLine as at,
  byOutcome,
  choice,
  countOf,
  input,
  money,
  percent,
  result,
  TIER_PLAN,
  wholeNumber,
  YIELD_OF_WANTED,
} from "./line";
import { LOSS_LINES, REWORK_LINES } from "./loss-columns";
import { HOURS_AT_KILNS, MOULD_LINES, OVERHEAD_LINES, OVERHEAD_RESULT_LINES } from "./overhead-lines";
import { PLAN_LINES } from "./plan-lines";
import { PRICE_LINES, YIELD_LINES } from "./price-lines";
import { PRICE_BOTH_WAYS, PRICE_INPUTS } from "./price-terms";
import { PAY_LINES, SALES_LINES } from "./sales-lines";
import { STOCK_RULES } from "./stage-columns";

const LINE_COLUMNS: readonly Column[] = [
  textInput("label", "What", { required: true, width: 300 }),
  { key: "value", title: "Value", unit: "", kind: "input", type: "number", width: 130 },
  textInput("unit", "unit", { width: 100 }),
];

/** Columns of the Edition sheet: the maker's inputs. */
export const EDITION_COLUMNS: readonly Column[] = [
  ...LINE_COLUMNS,
  textInput("note", "note", { width: 280 }),
  textInput("source", "source", { width: 200 }),
];

/** Columns of the Results sheet. */
export const RESULT_COLUMNS: readonly Column[] = [...LINE_COLUMNS, textInput("note", "in words", { width: 460 })];

/** Every input of an edition with the value it has until a template or the maker says otherwise. */
export const EDITION_LINES: readonly Row[] = [
  input("wanted", "Pieces to deliver", "pieces", 100, { whole: true, max: 20_000 }),
  input(
    "special_wanted",
    "… of them special",
    "pieces",
    0,
    { whole: true, max: 20_000 },
    "steps that are for special pieces only are planned for these",
  ),
  input("confidence", "How sure to be of delivering them", "", 0.9, { format: "percent", min: 0.01, below: 1 }),
  result(
    "chain_yield",
    "Yield over the whole route",
    "",
    `=${YIELD_OF_WANTED}`,
    "what is left of a hundred pieces after every planned loss; steps for special pieces lose of those alone, steps as needed of the share expected to need them",
    {
      format: "percent",
    },
  ),
  result(
    "starts",
    "Pieces to start",
    "pieces",
    `=STARTS_FOR_TIERS(${TIER_PLAN},confidence)`,
    "the fewest starts that deliver the wanted number, of both tiers together, with that certainty",
    wholeNumber,
  ),
  result(
    "special_starts",
    "… of them for special pieces",
    "pieces",
    `=SPECIAL_STARTS(starts,${TIER_PLAN})`,
    "as many as make it likeliest that both tiers are delivered",
    wholeNumber,
  ),
  result(
    "starts_chance",
    "Chance that these starts deliver",
    "",
    `=CHANCE_OF_TIERS(starts,special_starts,${TIER_PLAN})`,
    "of both tiers together; a little more than was asked for",
    { format: "percent", decimals: 1 },
  ),
  result(
    "naive",
    "Wanted ÷ yield, rounded up",
    "pieces",
    "=ROUNDUP(MAX(0,wanted/chain_yield-0.000000001),0)",
    "the usual rule, for comparison",
    wholeNumber,
  ),
  result(
    "naive_chance",
    "Chance that this rule delivers",
    "",
    `=CHANCE_OF_TIERS(naive,SPECIAL_STARTS(naive,${TIER_PLAN}),${TIER_PLAN})`,
    "how often it really gives the wanted number, of both tiers",
    { format: "percent" },
  ),
  ...PLAN_LINES,
  input("wage", "Wage", "¤/h", 20, { ...money }, "what an hour of work costs the studio, with its charges"),
  ...OVERHEAD_LINES,
  input("tariff", "Electricity", "¤/kWh", 0.3, { decimals: 4 }),
  input("loading_minutes", "Loading and unloading a firing", "min", 30, {}),
  ...MOULD_LINES,
  input("reclaim", "Clay used again from a piece lost before its first firing", "", 0.9, {
    format: "percent",
    max: 1,
  }),
  input("scrap_value", "A piece lost at its first firing or later fetches", "¤", 0, money, "as scrap, or for a test"),
  input(
    "loss_runs",
    "Losses beyond plan are abnormal once chance gives as many in fewer than 1 run of",
    "runs",
    20,
    { min: 1 },
    "judged over the whole edition at the planned losses; blank: every loss beyond plan is abnormal",
  ),
  input("piece_kg", "A piece weighs", "kg", 1, { decimals: 3 }),
  input("piece_foot", "Shelf area of a piece", "cm²", 200, {}),
  input("piece_height", "Height of a piece", "cm", 20, {}),
  ...PRICE_INPUTS,
  input("fee_rate", "Marketplace and card fee", "of price", 0.03, percent),
  input("fee_fixed", "Fixed fee a sale", "¤", 0.3, money),
  input("packing", "Packing and postage the studio bears", "¤", 6, money),
  choice(
    "stock_rule",
    "Written-down stock follows",
    STOCK_RULES,
    "IAS 2",
    "IAS 2: a write-down is taken back when what the stock will fetch rises (§33). ASC 330: what was written down at the close of a year is its cost from then on (330-10-35-14)",
  ),
  ...PRICE_BOTH_WAYS,
  input("fixed_costs", "Design and model-making", "¤", 0, money, "spent once for the whole edition"),
];

/** Every result of an edition, in reading order. */
export const RESULT_LINES: readonly Row[] = [
  result("started", "Pieces started", "pieces", "=COUNT({pieces:own})", "pieces on the Pieces sheet", wholeNumber),
  result("good", "Good", "pieces", `=${countOf("good")}`, "passed as good", wholeNumber),
  result("seconds", "Seconds", "pieces", `=${countOf("second")}`, "passed as seconds", wholeNumber),
  result("lost", "Lost", "pieces", `=${countOf("lost")}`, "lost at any step", wholeNumber),
  result(
    "in_progress",
    "In progress",
    "pieces",
    `=${countOf("in progress")}`,
    "neither lost nor passed yet",
    wholeNumber,
  ),
  result(
    "not_started",
    "… with no step entered yet",
    "pieces",
    `=${countOf("not started")}`,
    "not started: they cost nothing, bear nothing and are in no stock",
    wholeNumber,
  ),
  result(
    "in_material",
    "Materials",
    "¤",
    "=SUM({route:material_cost})",
    "slip, glaze and metal used by all steps",
    money,
  ),
  result("in_wear", "Moulds", "¤", "=SUM({route:wear_cost})", "wear of the moulds, a cast at a time", money),
  result("in_labour", "Labour", "¤", "=SUM({route:labour_cost})", "minutes of all steps at the wage", money),
  result(
    "in_overhead",
    "Overhead",
    "¤",
    "=SUM({route:overhead_cost})",
    "overhead of the hours of work on pieces",
    money,
  ),
  result(
    "in_kiln",
    "Firings",
    "¤",
    "=SUM({firings:charged})",
    "energy, wear and loading of every firing with a piece in it, and the overhead of loading if it carries any; less what others in it bear",
    money,
  ),
  ...(
    [
      ["kiln_energy", "… energy", "energy", "energy of those firings"],
      ["kiln_wear", "… wear", "wear", "wear of the kilns in them"],
      ["kiln_labour", "… loading", "labour", "loading them at the wage"],
      ["kiln_overhead", "… overhead of loading", "overhead", "where loading carries any"],
    ] as const
  ).map(([id, label, column, note]) =>
    result(id, label, "¤", `=TOTAL_BY("yes",{firings:fired},{firings:${column}_here})`, note, money),
  ),
  result(
    "put_in",
    "Everything put in",
    "¤",
    `=${["in_material", "in_wear", "in_labour", "in_overhead", "in_kiln"].map(at).join("+")}`,
    "materials, moulds, labour, overhead and firings",
    money,
  ),
  result(
    "own_finished",
    "… in finished pieces",
    "¤",
    `=${byOutcome("good", "own")}+${byOutcome("second", "own")}`,
    "own cost of good pieces and seconds",
    money,
  ),
  result(
    "own_progress",
    "… in pieces in progress",
    "¤",
    `=${byOutcome("in progress", "own")}`,
    "own cost of pieces on their way",
    money,
  ),
  result(
    "own_lost",
    "… in lost pieces",
    "¤",
    `=${byOutcome("lost", "own")}`,
    "what the lost pieces had cost when they were lost",
    money,
  ),
  result(
    "adds_up",
    "Left over when these are added",
    "¤",
    `=${at("put_in")}-(${at("own_finished")}+${at("own_progress")}+${at("own_lost")})`,
    "nothing, unless a computed cost was overridden by hand",
    money,
  ),
  result(
    "empty_kiln",
    "Firings with nothing in them",
    "¤",
    `=TOTAL_BY("empty",{firings:fired},{firings:cost})`,
    "fired, as their readings say, with no piece in them: a cost of the period",
    money,
  ),
  result(
    "reclaimed",
    "Clay won back",
    "¤",
    "=SUM({pieces:reclaim})",
    "slip of pieces lost before their first firing",
    money,
  ),
  result(
    "scrap",
    "Scrap of lost pieces",
    "¤",
    "=SUM({pieces:scrap})",
    "what pieces lost at their first firing or later fetched",
    money,
  ),
  ...LOSS_LINES,
  ...(
    [
      ["full_good", "Good pieces with their losses", "good"],
      ["full_second", "Seconds with theirs", "second"],
      ["full_progress", "Pieces in progress with theirs", "in progress"],
    ] as const
  ).map(([id, label, outcome]) =>
    result(id, label, "¤", `=${byOutcome(outcome, "full")}`, "own cost and what they bear of the losses", money),
  ),
  result(
    "full_finished",
    "Cost of finished pieces",
    "¤",
    `=${at("full_good")}+${at("full_second")}`,
    "good pieces and seconds, with what they bear of the losses",
    money,
  ),
  result(
    "normal_borne",
    "Normal loss within the pieces",
    "¤",
    `=${at("normal")}-${at("unshared")}`,
    "normal loss, less what no piece can bear",
    money,
  ),
  ...REWORK_LINES,
  result(
    "settled_up",
    "Left over when it is settled",
    "¤",
    `=${at("put_in")}-(SUM({pieces:full})+${at("abnormal")}+${at("unshared")}+${at("reclaimed")}+${at("scrap")})`,
    "nothing: everything put in is in a piece, lost beyond plan, or came back",
    money,
  ),
  result(
    "per_good",
    "Cost of a good piece",
    "¤",
    `=IF(${at("good")}=0,"",${byOutcome("good", "full")}/${at("good")})`,
    "full cost of the good pieces ÷ their number",
    money,
  ),
  result(
    "per_delivered",
    "Everything put in ÷ finished pieces",
    "¤",
    `=IF(${at("good")}+${at("seconds")}=0,"",${at("put_in")}/(${at("good")}+${at("seconds")}))`,
    "the plain average, with work in progress in it",
    money,
  ),
  result(
    "kwh",
    "Kiln energy",
    "kWh",
    "=SUM({firings:kwh_here})",
    "energy of every firing that was fired, of those shared with others the part borne here",
    { decimals: 0 },
  ),
  result(
    "lustre",
    "Lustre used",
    "g",
    `=TOTAL_BY("lustre",{materials:sort},{materials:used})`,
    "grams of preparation",
    { decimals: 2 },
  ),
  result("fine", "Fine metal used", "g", "=SUM({materials:fine})", "grams of pure metal in it", { decimals: 3 }),
  result("hours", "Labour", "h", `=SUM({route:hours})+${HOURS_AT_KILNS}`, "work on pieces, and loading of kilns", {
    decimals: 1,
  }),
  ...OVERHEAD_RESULT_LINES,
  ...YIELD_LINES,
  result(
    "revenue",
    "Finished pieces bring in",
    "¤",
    "=SUM({pieces:price})",
    "what was paid for those sold, prices of those in stock, tax included",
    money,
  ),
  result(
    "margin",
    "Finished pieces leave",
    "¤",
    "=SUM({pieces:contribution})",
    "after tax, fees, packing and full cost",
    money,
  ),
  ...SALES_LINES,
  ...PRICE_LINES,
  ...PAY_LINES,
];
