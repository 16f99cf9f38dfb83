// How many pieces pay for the edition. Counts are found on exact decimals: 0.3 ÷ (0.4 − 0.3) is 3 pieces, never 4.
import { type Decimal, roundMoney, sumDecimals, toDecimal, unitsAtScale } from "../core/money";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { finiteAnswer, need, needFromZero, needPart } from "./checks";
import { leftAfterFees, NO_TERMS, type SaleTerms, termProblems } from "./price";

/** The fewest pieces whose contributions (price − variable cost, both without tax and fees) pay the fixed costs. */
export function breakEvenCount(fixed: number, price: number, variable: number): Result<number> {
  return breakEvenSold(fixed, price, variable, NO_TERMS);
}

/** Break-even of pieces sold with tax and fees: `price` as the buyer pays it, `variable` with packing and postage. */
export function breakEvenSold(fixed: number, price: number, variable: number, terms: SaleTerms): Result<number> {
  const problems = [
    ...needFromZero("Fixed costs", fixed),
    ...needFromZero("Price", price),
    ...needFromZero("Variable cost", variable),
    ...termProblems(terms),
  ];
  if (problems.length > 0) return fail(...problems);
  // All times 1 + tax, so that no division spoils the digits.
  const withTax = sumDecimals([toDecimal(1), toDecimal(terms.taxRate)]);
  const kept = sumDecimals([toDecimal(1), negative(times(toDecimal(terms.feeRate), withTax))]);
  const spent = sumDecimals([toDecimal(terms.feeFixed), toDecimal(variable)]);
  const each = sumDecimals([times(toDecimal(price), kept), negative(times(spent, withTax))]);
  if (each.units <= 0n) return fail(neverPays(leftAfterFees(price, terms), variable));
  return countUp(times(toDecimal(fixed), withTax), each);
}

/** An edition in which some of the pieces started are lost. */
export interface BreakEvenWithLosses {
  readonly fixed: number;
  /** What a good piece brings in, without tax and fees. */
  readonly priceEach: number;
  /** Average cost of a piece started, whether it comes through or not. */
  readonly costPerStart: number;
  /** Costs that only good pieces cause, such as packing. */
  readonly costPerGood: number;
  /** Part of the pieces started that come through, 0 to 1. */
  readonly yieldFraction: number;
}

/** The fewest pieces to start that pay the fixed costs on average, and the good pieces they give on average. */
export function breakEvenStarts(
  input: BreakEvenWithLosses,
): Result<{ readonly starts: number; readonly expectedGood: number }> {
  const { fixed, priceEach, costPerStart, costPerGood, yieldFraction } = input;
  const problems = [
    ...needFromZero("Fixed costs", fixed),
    ...needFromZero("Price", priceEach),
    ...needFromZero("Cost of a piece started", costPerStart),
    ...needFromZero("Cost of a good piece", costPerGood),
    ...needPart("Yield", yieldFraction),
  ];
  if (problems.length > 0) return fail(...problems);
  const perGood = sumDecimals([toDecimal(priceEach), negative(toDecimal(costPerGood))]);
  const each = sumDecimals([times(perGood, toDecimal(yieldFraction)), negative(toDecimal(costPerStart))]);
  if (each.units <= 0n) return fail(neverPays(yieldFraction * (priceEach - costPerGood), costPerStart));
  const starts = countUp(toDecimal(fixed), each);
  return starts.ok ? ok({ starts: starts.value, expectedGood: starts.value * yieldFraction }) : starts;
}

/** What a number of pieces leaves after variable and fixed costs; negative at a loss. */
export function profitAt(count: number, price: number, variable: number, fixed: number): number {
  return count * (price - variable) - fixed;
}

/** Fixed costs of an edition a piece, over the pieces to be delivered. */
export function fixedCostEach(fixed: number, delivered: number): Result<number> {
  const problems = [
    ...needFromZero("Fixed costs", fixed),
    ...need(delivered > 0 && Number.isFinite(delivered), "Pieces to deliver", delivered, "a number above 0", {
      code: "count.none",
      fix: "With nothing delivered there is nobody to bear the fixed costs.",
    }),
  ];
  return problems.length > 0 ? fail(...problems) : finiteAnswer("Fixed costs a piece", fixed / delivered);
}

function negative({ units, scale }: Decimal): Decimal {
  return { units: -units, scale };
}

function times(a: Decimal, b: Decimal): Decimal {
  return { units: a.units * b.units, scale: a.scale + b.scale };
}

function countUp(total: Decimal, each: Decimal): Result<number> {
  const scale = Math.max(total.scale, each.scale);
  const step = unitsAtScale(each, scale);
  const count = Number((unitsAtScale(total, scale) + step - 1n) / step);
  if (Number.isSafeInteger(count)) return ok(count);
  return fail(
    problem({
      code: "count.too-many",
      where: "Break-even",
      found: count,
      allowed: `a count up to ${Number.MAX_SAFE_INTEGER}`,
      fix: "A piece leaves almost nothing: check price and cost.",
    }),
  );
}

function neverPays(brings: number, costs: number): Problem {
  return problem({
    code: "price.never-pays",
    where: "Break-even",
    found: `${roundMoney(brings, 4)} brought in and ${roundMoney(costs, 4)} spent for each piece`,
    allowed: "a piece that brings in more than it costs",
    fix: "No number of pieces pays the fixed costs. Raise the price or lower the cost of a piece.",
  });
}
