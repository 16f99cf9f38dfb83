// Price, fees, tax and margin of one sale. The price is what the buyer pays, tax included; fees are charged on that price,
// as marketplaces and card companies do; margin is measured on the price without tax, because the tax is not the maker's.
//
//   net price = price ÷ (1 + tax)          left = net price − price × fee rate − fixed fee − cost
//   margin    = left ÷ net price           markup = (net price − cost) ÷ cost
//
// Packing and postage that the maker bears belong in the cost.
import { roundMoney, toDecimal, unitsAtScale } from "../core/money";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { arePricePoints, POINT_NAMES, type PricesAre, pointsOf } from "../core/sheets/price-terms";
import {
  finiteAnswer,
  needAboveZero,
  needFromZero,
  needMargin,
  needNumber,
  needPartBelowOne,
  needWhole,
} from "./checks";

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

/** The margin that a price with tax leaves over a cost, as a fraction of the price without tax; negative at a loss. */
export function marginFromPrice(price: number, cost: number, terms: SaleTerms = NO_TERMS): Result<number> {
  const problems = saleProblems(price, cost, terms);
  if (problems.length > 0) return fail(...problems);
  return finiteAnswer("Margin", (leftAfterFees(price, terms) - cost) / netPrice(price, terms.taxRate));
}

/** The most a piece may cost so that its price with tax leaves the margin. */
export function costForMargin(price: number, margin: number, terms: SaleTerms = NO_TERMS): Result<number> {
  const problems = [...saleProblems(price, 0, terms), ...needMargin("Margin", margin)];
  if (problems.length > 0) return fail(...problems);
  const cost = leftAfterFees(price, terms) - margin * netPrice(price, terms.taxRate);
  if (cost >= 0) return ok(cost);
  return fail(belowFees(price, "a price that leaves the margin once fees and tax are off"));
}

/** Markup: what a price without tax adds to the cost, as a fraction of the cost. */
export function markupFromPrice(priceWithoutTax: number, cost: number): Result<number> {
  const problems = [...needFromZero("Price without tax", priceWithoutTax), ...needAboveZero("Cost", cost)];
  return problems.length > 0 ? fail(...problems) : finiteAnswer("Markup", (priceWithoutTax - cost) / cost);
}

/** The price without tax that adds a markup, as a fraction of the cost. */
export function priceForMarkup(cost: number, markup: number): Result<number> {
  const problems = [...needFromZero("Cost", cost), ...needFromZero("Markup", markup)];
  return problems.length > 0 ? fail(...problems) : finiteAnswer("Price for a markup", cost * (1 + markup));
}

/** Pieces of one tier that are sold alike. */
export interface TierSales {
  readonly tier: string;
  readonly count: number;
  /** Price with tax. */
  readonly price: number;
  /** Cost of a piece, packing and postage included. */
  readonly costEach: number;
}

export interface TierContribution {
  readonly tier: string;
  readonly netPrice: number;
  readonly feesEach: number;
  /** What a piece leaves after tax, fees and cost; negative at a loss. */
  readonly contributionEach: number;
  readonly contribution: number;
}

/** What each tier leaves, and all together. */
export function tierContributions(
  tiers: readonly TierSales[],
  terms: SaleTerms,
): Result<{ readonly tiers: readonly TierContribution[]; readonly total: number }> {
  const problems = [
    ...termProblems(terms),
    ...tiers.flatMap(({ tier, count, price, costEach }) => [
      ...needWhole(`${tier}, pieces`, count),
      ...needFromZero(`${tier}, price`, price),
      ...needNumber(`${tier}, cost`, costEach),
    ]),
  ];
  if (problems.length > 0) return fail(...problems);
  const rows = tiers.map(({ tier, count, price, costEach }) => {
    const contributionEach = leftAfterFees(price, terms) - costEach;
    return {
      tier,
      netPrice: netPrice(price, terms.taxRate),
      feesEach: price * terms.feeRate + terms.feeFixed,
      contributionEach,
      contribution: count * contributionEach,
    };
  });
  return ok({ tiers: rows, total: rows.reduce((sum, row) => sum + row.contribution, 0) });
}

/** Problems of the terms of a sale. */
export function termProblems({ feeRate, feeFixed, taxRate }: SaleTerms): readonly Problem[] {
  return [...needPartBelowOne("Fee", feeRate), ...needFromZero("Fixed fee", feeFixed), ...needFromZero("Tax", taxRate)];
}

function saleProblems(price: number, cost: number, terms: SaleTerms): readonly Problem[] {
  const problems = [...needAboveZero("Price", price), ...needFromZero("Cost", cost), ...termProblems(terms)];
  if (problems.length > 0) return problems;
  return leftAfterFees(price, terms) >= 0 ? [] : [belowFees(price, "a price above its own fees")];
}

function belowFees(price: number, allowed: string): Problem {
  return problem({
    code: "price.below-fees",
    where: "Price",
    found: price,
    allowed,
    fix: "Raise the price, or sell where the fees are lower.",
  });
}
