// Lines of the Results sheet on what was sold, and on what the stock may still bring. A finished piece is not a sold one.
import type { Row } from "../document/workbook";
import { atLine as at, money, result, wholeNumber } from "./line";
import { STAGE_LINES } from "./stage-columns";

const sum = (state: string, column: string) => `TOTAL_BY("${state}",{pieces:stock},{pieces:${column}})`;
const count = (state: string) => `COUNT_BY("${state}",{pieces:stock})`;
const inStock = (column: string) => `${sum("in stock", column)}+${sum("consigned", column)}`;
const GONE = ["given away", "kept", "broken"] as const;
const goneAll = (of: (state: string) => string) => GONE.map(of).join("+");

const SOLD_LINES: readonly Row[] = [
  result("sold", "Sold", "pieces", `=${count("sold")}`, "recorded as sold", wholeNumber),
  result("sold_price", "… paid for them", "¤", `=${sum("sold", "price")}`, "tax included", money),
  result("sold_net", "… without tax", "¤", `=${sum("sold", "net")}`, "revenue of the pieces sold", money),
  result(
    "sold_fees",
    "… fees, commission and packing",
    "¤",
    `=${sum("sold", "sale_cost")}`,
    "what channels took, and packing",
    money,
  ),
  result("sold_cost", "… cost of sales", "¤", `=${sum("sold", "full")}`, "full cost of the pieces sold", money),
  result(
    "sold_leaves",
    "Sales leave",
    "¤",
    `=${at("sold_net")}-${at("sold_fees")}-${at("sold_cost")}`,
    "revenue less the two above",
    money,
  ),
];

const STOCK_LINES: readonly Row[] = [
  result(
    "in_stock",
    "Finished pieces in stock",
    "pieces",
    `=${count("in stock")}+${count("consigned")}`,
    "consigned ones too",
    wholeNumber,
  ),
  result("stock_cost", "… cost", "¤", `=${inStock("full")}`, "full cost of the pieces in stock", money),
  result(
    "stock_carried",
    "… carried at",
    "¤",
    `=${inStock("carried")}`,
    "cost, or what they will fetch if less",
    money,
  ),
  result(
    "stock_brings",
    "Stock may still bring",
    "¤",
    `=${inStock("net")}-(${inStock("sale_cost")})`,
    "at its prices, after tax, fees and packing",
    money,
  ),
  result(
    "stock_leaves",
    "… beyond what it is carried at",
    "¤",
    `=${at("stock_brings")}-${at("stock_carried")}`,
    "if all of it sold at its prices",
    money,
  ),
];

const GONE_LINES: readonly Row[] = [
  result("gone", "Given away, kept or broken", "pieces", `=${goneAll(count)}`, "not sold", wholeNumber),
  result("gone_cost", "… cost", "¤", `=${goneAll((state) => sum(state, "full"))}`, "full cost of these pieces", money),
];

/** What was sold, what is in stock, what went otherwise. */
export const SALES_LINES: readonly Row[] = [...SOLD_LINES, ...STOCK_LINES, ...STAGE_LINES, ...GONE_LINES];

/** What the edition has made so far, and what it will have made once the stock is sold at its prices. */
export const PAY_LINES: readonly Row[] = [
  result(
    "earned",
    "Made so far",
    "¤",
    `=${at("sold_leaves")}-${at("gone_cost")}-${at("write_down")}-${at("abnormal")}-${at("unshared")}-${at("empty_kiln")}-${at("overhead_idle")}-${at("mould_charged")}-fixed_costs`,
    "what sales leave, less pieces that went otherwise, stock carried below cost, all that the period bears, and fixed costs",
    money,
  ),
  result(
    "pays",
    "Edition pays, once the stock is sold",
    "¤",
    `=${at("earned")}+${at("stock_leaves")}`,
    "made so far, and what the stock would leave",
    money,
  ),
];
