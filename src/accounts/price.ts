// Price, fees, tax and margin of one sale. The price is what the buyer pays, tax included; fees are charged on that price,
// as marketplaces and card companies do; margin is measured on the price without tax, because the tax is not the maker's.
//
//   net price = price ÷ (1 + tax)          left = net price − price × fee rate − fixed fee − cost
//   margin    = left ÷ net price
//
// Packing and postage that the maker bears belong in the cost.
import { roundMoney, toDecimal, unitsAtScale } from "../core/money";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { arePricePoints, POINT_NAMES, type PricesAre, pointsOf } from "../core/sheets/price-terms";
import { finiteAnswer, needAboveZero, needFromZero, needMargin, needPartBelowOne } from "./checks";

/** What every sale of an edition has to give up. */
export interface SaleTerms {
  /** Marketplace and card fee as a fraction of the price with tax. */
  readonly feeRate: number;
  /** Fee of each sale whatever its price. */
  readonly feeFixed: number;
  /** VAT or sales tax within the price, as a fraction of the price without it. */
  readonly taxRate: number;
}

/** Terms of a sale that gives up nothing. */
export const NO_TERMS: SaleTerms = { feeRate: 0, feeFixed: 0, taxRate: 0 };

/** The price with tax at which a piece of that cost leaves the margin (a fraction of the price without tax), unrounded. */
export function priceForMargin(cost: number, margin: number, feeRate = 0, feeFixed = 0, taxRate = 0): Result<number> {
  const problems = [
    ...needFromZero("Cost", cost),
    ...needMargin("Margin", margin),
    ...termProblems({ feeRate, feeFixed, taxRate }),
  ];
  if (problems.length > 0) return fail(...problems);
  // What is left of each unit of price once margin, tax and fee are off; it has to carry cost and fixed fee.
  const carrying = (1 - margin) / (1 + taxRate) - feeRate;
  if (carrying > 1e-12) return finiteAnswer("Price for a margin", (cost + feeFixed) / carrying);
  return fail(
    problem({
      code: "price.unreachable",
      where: "Price for a margin",
      found: `a margin of ${margin} with a fee of ${feeRate} and tax of ${taxRate}`,
      allowed: `a margin below ${roundMoney(1 - feeRate * (1 + taxRate), 6)}, because margin, fee and tax together leave nothing to carry the cost`,
      fix: "Lower the margin or the fee.",
    }),
  );
}

/** A price as the buyer pays it, and without its tax. */
export interface TaxedPrice {
  readonly gross: number;
  readonly net: number;
}

/** A price that is typed with tax or without, both ways; `gross` = `net` × (1 + tax), unrounded. */
export function bothWays(typed: number, are: PricesAre, taxRate: number): TaxedPrice {
  return are === "without tax"
    ? { gross: typed * (1 + taxRate), net: typed }
    : { gross: typed, net: netPrice(typed, taxRate) };
}

/**
 * The rate of tax of a sale. That of the channel comes first, since tax goes by where a thing is sold; then that of the tier,
 * since it goes by what is sold; the edition's where neither has one.
 */
export function taxOfSale(channel: number | undefined, tier: number | undefined, edition: number): number {
  return channel ?? tier ?? edition;
}

/**
 * The lowest price point at or above a price, so that a margin holds; the price itself where there are no points. Found on
 * the decimal digits, so that 20 stays 20 however it was calculated.
 */
export function pricePoint(price: number, points: string, ownStep = 1): Result<number> {
  const problems = [...needFromZero("Price", price), ...needAboveZero("Step of my own", ownStep)];
  if (problems.length > 0) return fail(...problems);
  if (!arePricePoints(points))
    return fail(
      problem({
        code: "price.points",
        where: "Price points",
        found: points,
        allowed: `one of ${POINT_NAMES.map((name) => `“${name}”`).join(", ")}`,
      }),
    );
  const at = pointsOf(points, ownStep);
  if (!at) return ok(price);
  const [asked, step, end] = [toDecimal(price), toDecimal(at.step), toDecimal(at.end)];
  const scale = Math.max(asked.scale, step.scale, end.scale);
  const [whole, rest, of] = [asked, end, step].map((one) => unitsAtScale(one, scale)) as [bigint, bigint, bigint];
  const steps = whole <= rest ? 0n : (whole - rest + of - 1n) / of;
  return finiteAnswer("Price point", Number(`${steps * of + rest}e-${scale}`));
}

/** The price without its tax. */
export function netPrice(price: number, taxRate: number): number {
  return price / (1 + taxRate);
}

/** What is left of a price after tax and fees, before cost; negative where the fees are larger. */
export function leftAfterFees(price: number, terms: SaleTerms): number {
  return netPrice(price, terms.taxRate) - price * terms.feeRate - terms.feeFixed;
}

/** Problems of the terms of a sale. */
export function termProblems({ feeRate, feeFixed, taxRate }: SaleTerms): readonly Problem[] {
  return [...needPartBelowOne("Fee", feeRate), ...needFromZero("Fixed fee", feeFixed), ...needFromZero("Tax", taxRate)];
}
