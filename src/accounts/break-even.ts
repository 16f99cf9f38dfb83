// How many pieces pay for the edition. Counts are found on exact decimals: 0.3 ÷ (0.4 − 0.3) is 3 pieces, never 4.
import { type Decimal, roundMoney, sumDecimals, toDecimal, unitsAtScale } from "../core/money";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { needFromZero } from "./checks";
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
