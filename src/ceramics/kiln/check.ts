// Range checks that end in a problem naming the field.
import { type Problem, problem } from "../../core/problem";

/** What one number may be. */
export interface NumberRule {
  readonly where: string;
  readonly unit: string;
  readonly min: number;
  readonly max: number;
  /** The smallest value itself is refused; for thicknesses and powers that may not be nothing. */
  readonly aboveMin?: boolean;
  readonly fix?: string;
}

/** Says in words what a rule allows, such as “more than 0 and up to 500 mm”. */
function describeRange(rule: NumberRule): string {
  const unit = rule.unit ? ` ${rule.unit}` : "";
  if (rule.aboveMin) return `a number above ${rule.min} and up to ${rule.max}${unit}`;
  return `a number from ${rule.min} to ${rule.max}${unit}`;
}

/** Gives the problem of a number outside its rule, or nothing when it is inside. */
export function outOfRange(value: number, rule: NumberRule): Problem | undefined {
  const highEnough = rule.aboveMin ? value > rule.min : value >= rule.min;
  if (Number.isFinite(value) && highEnough && value <= rule.max) return undefined;
  return problem({
    code: "kiln.number",
    where: rule.where,
    found: value,
    allowed: describeRange(rule),
    ...(rule.fix === undefined ? {} : { fix: rule.fix }),
  });
}

/** Checks several numbers and gives the problems of those outside their rules. */
export function problemsOf(checks: readonly (readonly [number, NumberRule])[]): Problem[] {
  return checks.map(([value, rule]) => outOfRange(value, rule)).filter((found) => found !== undefined);
}
