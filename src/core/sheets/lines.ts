// Edition and Results read line by line: a name, a value, its unit and a note.
import type { CellSpec, Column, Row } from "../workbook";
import { textInput } from "./column";

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

interface Line {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly note?: string;
  readonly value?: number | string;
  readonly line: CellSpec;
}

function toRow({ id, label, unit, note, value, line }: Line): Row {
  const cells: Record<string, string | number> = { label, unit };
  if (note) cells.note = note;
  if (value !== undefined) cells.value = value;
  return { id, cells, line };
}

type Limits = Partial<Omit<CellSpec, "kind" | "type">>;
const input = (id: string, label: string, unit: string, value: number, limits: Limits = {}, note?: string): Row =>
  toRow({
    id,
    label,
    unit,
    value,
    line: { kind: "input", type: "number", min: 0, ...limits },
    ...(note ? { note } : {}),
  });
const result = (id: string, label: string, unit: string, formula: string, note: string, more: Limits = {}): Row =>
  toRow({ id, label, unit, note, line: { kind: "computed", type: "number", formula, words: note, ...more } });

const money = { format: "money" } as const;
const percent = { format: "percent", below: 1 } as const;
const whole = { format: "whole" } as const;

/** Every input of an edition with the value it has until a template or the maker says otherwise. */
export const EDITION_LINES: readonly Row[] = [
  input("wanted", "Pieces to deliver", "pieces", 100, { whole: true, max: 20_000 }),
  input("confidence", "How sure to be of delivering them", "", 0.9, { format: "percent", min: 0.01, below: 1 }),
  result(
    "chain_yield",
    "Yield over the whole route",
    "",
    "=YIELD_CHAIN({route:loss})",
    "what is left of a hundred pieces after every planned loss",
    {
      format: "percent",
    },
  ),
  result(
    "starts",
    "Pieces to start",
    "pieces",
    "=STARTS_NEEDED(wanted,chain_yield,confidence)",
    "the fewest starts that deliver the wanted number with that certainty",
    whole,
  ),
  result(
    "naive",
    "Wanted ÷ yield, rounded up",
    "pieces",
    "=ROUNDUP(wanted/chain_yield,0)",
    "the usual rule, for comparison",
    whole,
  ),
  result(
    "naive_chance",
    "Chance that this rule delivers",
    "",
    "=CHANCE_OF(wanted,naive,chain_yield)",
    "how often starting wanted ÷ yield pieces really gives the wanted number",
    { format: "percent" },
  ),
  input("wage", "Wage", "¤/h", 20, { ...money }, "what an hour of work costs the studio, with its charges"),
  input("overhead_rate", "Overhead", "¤/labour h", 6, { ...money }, "rent, insurance and upkeep for each hour of work"),
  input("tariff", "Electricity", "¤/kWh", 0.3, { decimals: 4 }),
  input("loading_minutes", "Loading and unloading a firing", "min", 30, {}),
  input("mould_cost", "A mould", "¤", 40, { ...money }),
  input("mould_casts", "Casts a mould lasts", "casts", 60, { whole: true, min: 1 }),
  input("reclaim", "Clay used again from a piece lost before its first firing", "", 0.9, {
    format: "percent",
    max: 1,
  }),
  input("piece_kg", "A piece weighs", "kg", 1, { decimals: 3 }),
  input("piece_foot", "Shelf area of a piece", "cm²", 200, {}),
  input("piece_height", "Height of a piece", "cm", 20, {}),
  input("price_standard", "Price, standard", "¤", 80, money, "as the buyer pays it, tax included"),
  input("price_special", "Price, special", "¤", 120, money, "as the buyer pays it, tax included"),
  input("price_second", "Price, second", "¤", 30, money, "as the buyer pays it, tax included"),
  input("tax_rate", "VAT or sales tax in the price", "", 0.2, percent),
  input("fee_rate", "Marketplace and card fee", "of price", 0.03, percent),
  input("fee_fixed", "Fixed fee a sale", "¤", 0.3, money),
  input("packing", "Packing and postage the studio bears", "¤", 6, money),
  input("fixed_costs", "Design and model-making", "¤", 0, money, "spent once for the whole edition"),
];

const byOutcome = (outcome: string, column: string) => `TOTAL_BY("${outcome}",{pieces:outcome},{pieces:${column}})`;
const counted = (outcome: string) => `COUNT_BY("${outcome}",{pieces:outcome})`;
const at = (id: string) => `{results[${id}]:value}`;

/** Every result of an edition, in reading order. */
export const RESULT_LINES: readonly Row[] = [
  result("started", "Pieces started", "pieces", "=COUNT({pieces:own})", "pieces on the Pieces sheet", whole),
  result("good", "Good", "pieces", `=${counted("good")}`, "passed as good", whole),
  result("seconds", "Seconds", "pieces", `=${counted("second")}`, "passed as seconds", whole),
  result("lost", "Lost", "pieces", `=${counted("lost")}`, "lost at any step", whole),
  result("in_progress", "In progress", "pieces", `=${counted("in progress")}`, "neither lost nor passed yet", whole),
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
  result("in_overhead", "Overhead", "¤", "=SUM({route:overhead_cost})", "overhead for those hours", money),
  result(
    "in_kiln",
    "Firings",
    "¤",
    "=SUM({firings:charged})",
    "energy, wear and loading of every firing with a piece in it",
    money,
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
    `=SUM({firings:cost})-${at("in_kiln")}`,
    "firings no piece is in: borne by nobody yet",
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
    "abnormal",
    "Abnormal loss",
    "¤",
    "=SUM({route:abnormal})",
    "the part of the losses above plan: a cost of the period, not of the pieces",
    money,
  ),
  result(
    "normal",
    "Normal loss to share",
    "¤",
    "=SUM({route:normal})",
    "losses up to the planned rate, less clay won back",
    money,
  ),
  result(
    "share_each",
    "Shared over pieces not lost, each",
    "¤",
    `=IF(${at("started")}=${at("lost")},0,${at("normal")}/(${at("started")}-${at("lost")}))`,
    "normal loss ÷ pieces not lost",
    money,
  ),
  result(
    "second_worth",
    "What a second fetches",
    "¤",
    "=price_second/(1+tax_rate)-price_second*fee_rate-fee_fixed-packing",
    "price of a second without tax, fees and packing",
    money,
  ),
  result(
    "share_good",
    "Share of a good piece",
    "¤",
    `=IF(${at("started")}-${at("lost")}-${at("seconds")}=0,0,(${at("normal")}-SUM({pieces:second_share}))/(${at("started")}-${at("lost")}-${at("seconds")}))`,
    "what seconds cannot bear falls on the others",
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
  result("kwh", "Kiln energy", "kWh", "=SUM({firings:kwh})", "energy of all firings", { decimals: 0 }),
  result(
    "lustre",
    "Lustre used",
    "g",
    `=TOTAL_BY("lustre",{materials:sort},{materials:used})`,
    "grams of preparation",
    { decimals: 2 },
  ),
  result("fine", "Fine metal used", "g", "=SUM({materials:fine})", "grams of pure metal in it", { decimals: 3 }),
  result("hours", "Labour", "h", "=SUM({route:hours})", "hours of work on pieces", { decimals: 1 }),
  result(
    "first_pass",
    "First-pass yield",
    "",
    `=IF(${at("good")}+${at("seconds")}+${at("lost")}=0,"",${at("good")}/(${at("good")}+${at("seconds")}+${at("lost")}))`,
    "good ÷ pieces whose outcome is known",
    { format: "percent" },
  ),
  result(
    "revenue",
    "Finished pieces bring in",
    "¤",
    "=SUM({pieces:price})",
    "prices of good pieces and seconds, tax included",
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
  result(
    "pays",
    "Edition pays",
    "¤",
    `=${at("margin")}-${at("abnormal")}-${at("empty_kiln")}-fixed_costs`,
    "what finished pieces leave, less abnormal loss, empty firings and fixed costs",
    money,
  ),
];
