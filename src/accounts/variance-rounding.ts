// Variances rounded once, to the last minor unit: causes add up to real − planned, and the parts of each cause to it.
import { roundDecimal, toDecimal } from "../core/money";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { roundToTotal } from "./allocate";
import { CAUSE_NAMES, type Cause, type Variance } from "./plan-causes";
import type { PlanVariances } from "./plan-variances";

/** One cause in whole minor units, with what it is made of; `minor` is the sum of its parts. */
export interface RoundedCause {
  readonly cause: Cause;
  readonly minor: number;
  readonly parts: readonly (Variance & { readonly minor: number })[];
}

export interface RoundedVariances {
  readonly plannedMinor: number;
  readonly realMinor: number;
  /** Causes with anything in them, in their order; together `realMinor` − `plannedMinor`. */
  readonly causes: readonly RoundedCause[];
}

/** Two parts in 10⁹ of the larger end, and half a ten-thousandth of a minor unit: what sums of doubles may be apart. */
const isApart = (a: number, b: number, size: number) => Math.abs(a - b) > 2e-9 * Math.max(1, Math.abs(size));

/**
 * Rounds once: the causes to real − planned, then the parts of each to it. `real` is the margin as Results has it; refused
 * where the causes do not lead there.
 */
export function roundVariances(
  found: PlanVariances,
  real: number,
  size: number,
  digits: number,
): Result<RoundedVariances> {
  if (isApart(found.real, real, size)) return fail(apart(found.real, real));
  const minor = (amount: number) => Number(roundDecimal(toDecimal(amount, digits + 1), digits));
  const [plannedMinor, realMinor] = [minor(found.planned), minor(real)];
  const groups = CAUSE_NAMES.flatMap((cause) => {
    const parts = found.variances.filter((one) => one.cause === cause);
    const amount = parts.reduce((sum, one) => sum + one.amount, 0);
    return parts.some((one) => one.amount !== 0) ? [{ cause, parts, amount: nothingOf(amount, size) }] : [];
  });
  const totals = roundToTotal(
    groups.map(({ amount }) => amount),
    digits,
    realMinor - plannedMinor,
  );
  const causes = groups.map(({ cause, parts }, at): RoundedCause => {
    const total = totals[at] ?? 0;
    const amounts = parts.map(({ amount }) => nothingOf(amount, size));
    const rounded = roundToTotal(amounts, digits, total);
    return { cause, minor: total, parts: parts.map((part, one) => ({ ...part, minor: rounded[one] ?? 0 })) };
  });
  return ok({
    plannedMinor,
    realMinor,
    causes: causes.filter((one) => one.minor !== 0 || one.parts.some((p) => p.minor !== 0)),
  });
}

/** What is only the noise of adding doubles is nothing. */
const nothingOf = (amount: number, size: number) => (isApart(amount, 0, size) ? amount : 0);

function apart(calculated: number, real: number): Problem {
  return problem({
    code: "variance.apart",
    where: "Against the plan",
    found: `causes that lead to ${calculated.toFixed(4)}`,
    allowed: `${real.toFixed(4)}, as Results has it`,
    fix: "Look for a number of Results or Pieces that was written over by hand.",
  });
}
