// What a price comes to with tax and without, whose rate of tax it has, and the points that prices are rounded up to: the
// parts of which the formulas of Edition, Pieces and Results are made. By plain loops: src/accounts/price.ts.
import type { Row } from "../document/workbook";
import { choice, input, money, optional, percent, result } from "./line";

/** Tiers as they are sold. */
export const SOLD_TIERS = ["standard", "special", "second"] as const;
export type SoldTier = (typeof SOLD_TIERS)[number];

/** How the prices that are typed are meant. */
export const PRICES_ARE = ["with tax", "without tax"] as const;
export type PricesAre = (typeof PRICES_ARE)[number];

/** The prices a maker will have: multiples of a step, and what stands beyond a multiple of it. */
const POINTS = {
  none: undefined,
  "steps of 0.50": { step: 0.5, end: 0 },
  "steps of 1": { step: 1, end: 0 },
  "steps of 5": { step: 5, end: 0 },
  "steps of 10": { step: 10, end: 0 },
  "ends in .90": { step: 1, end: 0.9 },
  "ends in .95": { step: 1, end: 0.95 },
  "ends in .99": { step: 1, end: 0.99 },
  "steps of my own": "own",
} as const;
export type PricePoints = keyof typeof POINTS;
const NAMES = Object.keys(POINTS) as readonly PricePoints[];

/** The step and the end of some price points; nothing where a price is not rounded. */
export function pointsOf(name: string, own: number): { readonly step: number; readonly end: number } | undefined {
  const known = POINTS[name as PricePoints];
  return known === "own" ? { step: own, end: 0 } : known;
}

/** Whether a text names price points. */
export const arePricePoints = (name: string): name is PricePoints => NAMES.some((one) => one === name);
export const POINT_NAMES = NAMES;

const IS_NET = `prices_are="without tax"`;
/** A price as it is typed, as the buyer pays it and without tax. */
export const withTax = (price: string, rate: string) => `IF(${IS_NET},${price}*(1+${rate}),${price})`;
const withoutTax = (price: string, rate: string) => `IF(${IS_NET},${price},${price}/(1+${rate}))`;
/** What a price leaves once tax, fees and packing are off. */
const leftOfPrice = (net: string, gross: string) => `${net}-${gross}*fee_rate-fee_fixed-packing`;
export const leftOfTyped = (price: string, rate: string) => leftOfPrice(withoutTax(price, rate), withTax(price, rate));
/** The Edition line of the tier that a piece is made as. */
export const ofMade = (of: "price" | "tax") => `IF({tier}="special",${of}_special,${of}_standard)`;
/** What the price of a tier leaves. */
export const leftOfTier = (tier: SoldTier) => leftOfPrice(`net_${tier}`, `gross_${tier}`);

/** The tier's price for the wanted margin over a cost, as prices are typed, up to the next price point. */
export const priceToAsk = (cost: string, tier: SoldTier) => {
  const gross = `PRICE_FOR_MARGIN(${cost}+packing,wanted_margin,fee_rate,fee_fixed,tax_${tier})`;
  return `PRICE_POINT(IF(${IS_NET},${gross}/(1+tax_${tier}),${gross}),price_points,price_step)`;
};
/** The margin that a tier's price, as it is typed, leaves over a cost. */
export const marginAt = (price: string, cost: string, tier: SoldTier) =>
  `IF(OR(${price}="",${price}=0),"",(${leftOfTyped(price, `tax_${tier}`)}-${cost})/${withoutTax(price, `tax_${tier}`)})`;

const START = { standard: 80, special: 120, second: 30 } as const;

/** Inputs on prices, their tax and their points. */
export const PRICE_INPUTS: readonly Row[] = [
  choice(
    "prices_are",
    "Prices are typed",
    PRICES_ARE,
    "with tax",
    "with tax as the buyer pays them, or without; what is typed stays, and the other follows by the rate of tax. What was paid is always with tax",
  ),
  ...SOLD_TIERS.map((tier) =>
    input(`price_${tier}`, `Price, ${tier}`, "¤", START[tier], money, "as the line above says, with tax or without"),
  ),
  input(
    "wanted_margin",
    "Margin to be left",
    "of net price",
    0.3,
    percent,
    "share of the price without tax; Results says which price leaves it",
  ),
  choice(
    "price_points",
    "Proposed prices go up to",
    POINT_NAMES,
    "none",
    "the next price you would put on a piece, so that the margin holds; a price you type is never changed",
  ),
  input("price_step", "… step of my own", "¤", 1, { ...money, min: 0.01 }, "where the line above says so"),
  input(
    "tax_rate",
    "VAT or sales tax",
    "",
    0.2,
    percent,
    "of a price without it; a tier or a channel may have its own",
  ),
  ...SOLD_TIERS.map((tier) =>
    optional(
      `tax_${tier}`,
      `… of a ${tier}${tier === "second" ? "" : " piece"}`,
      "",
      { ...percent, formula: "=tax_rate" },
      "as the line above, unless this tier has a rate of its own; a channel’s own rate comes before both",
    ),
  ),
];

/** Each tier's price both ways. */
export const PRICE_BOTH_WAYS: readonly Row[] = SOLD_TIERS.flatMap((tier) => [
  result(
    `gross_${tier}`,
    `Price with tax, ${tier}`,
    "¤",
    `=${withTax(`price_${tier}`, `tax_${tier}`)}`,
    "as the buyer pays it, where the channel has no tax of its own",
    money,
  ),
  result(
    `net_${tier}`,
    `… without tax, ${tier}`,
    "¤",
    `=${withoutTax(`price_${tier}`, `tax_${tier}`)}`,
    "what is left of it for the studio, before fees",
    money,
  ),
]);
