// Overhead and moulds: how much an hour and a cast carry, and what is left that no piece carries.
import { fail, ok, type Problem, type Result } from "../core/problem";
import { need, needAboveZero, needFromZero } from "./checks";

export interface OverheadTerms {
  /** What an hour carries until it is known what was really paid. */
  readonly ratePerHour: number;
  /** Overhead really paid for the run. */
  readonly paid?: number;
  /** Hours that such a run takes at normal capacity; with `paid` they give the rate. */
  readonly normalHours?: number;
  /** Whether the hours of loading kilns carry overhead too. */
  readonly isOnLoading?: boolean;
}

export interface CarriedOverhead {
  readonly perHour: number;
  readonly carried: number;
  /** What was paid and no hour carries: a cost of the period. */
  readonly idle: number;
}

/** Everything that keeps terms of overhead from being used. */
export function overheadProblems(terms: OverheadTerms): readonly Problem[] {
  return [
    ...needFromZero("Overhead an hour", terms.ratePerHour),
    ...needFromZero("Overhead really paid", terms.paid ?? 0),
    ...(terms.normalHours === undefined ? [] : needAboveZero("Hours at normal capacity", terms.normalHours)),
  ];
}

/**
 * Overhead carried by the hours worked, at the rate of normal capacity; what idle hours leave over is a cost of the
 * period. In a busy run the rate falls, so that pieces are not carried above what was paid (IAS 2 §13).
 */
export function carryOverhead(terms: OverheadTerms, hours: number): Result<CarriedOverhead> {
  const problems = [...overheadProblems(terms), ...needFromZero("Hours that carry overhead", hours)];
  if (problems.length > 0) return fail(...problems);
  const { ratePerHour, paid, normalHours } = terms;
  if (paid === undefined) return ok({ perHour: ratePerHour, carried: ratePerHour * hours, idle: 0 });
  const normal = normalHours === undefined ? ratePerHour : paid / normalHours;
  if (normal * hours >= paid && hours > 0) return ok({ perHour: paid / hours, carried: paid, idle: 0 });
  return ok({ perHour: normal, carried: normal * hours, idle: paid - normal * hours });
}

export interface MouldTerms {
  readonly cost: number;
  /** What one still fetches when it is worn out; nothing if left out. */
  readonly salvage?: number;
  /** Casts one lasts. */
  readonly lifeCasts: number;
  /** How many were made; as few as the casts need if left out. */
  readonly made?: number;
  /** Whether what is left in them at the end is charged to the period; otherwise it is carried on. */
  readonly isRestCharged?: boolean;
}

export interface MouldWear {
  readonly perCast: number;
  readonly made: number;
  readonly worn: number;
  /** What the moulds cost less what the casts wore off. */
  readonly left: number;
  /** The part of it that is a cost of the period. */
  readonly charged: number;
}

/** Everything that keeps terms of moulds from being used. */
export function mouldProblems({ cost, salvage = 0, lifeCasts, made }: MouldTerms): readonly Problem[] {
  return [
    ...needFromZero("Cost of a mould", cost),
    ...need(salvage >= 0 && salvage <= cost, "What a worn-out mould fetches", salvage, `0 to its cost of ${cost}`),
    ...needAboveZero("Casts a mould lasts", lifeCasts),
    ...(made === undefined ? [] : needAboveZero("Moulds made", made)),
  ];
}

/** Depreciation by units of production: each cast takes its part, and all together no more than the moulds had to lose. */
export function wearOfMoulds(terms: MouldTerms, casts: number): Result<MouldWear> {
  const problems = [...mouldProblems(terms), ...needFromZero("Casts", casts)];
  if (problems.length > 0) return fail(...problems);
  const { cost, salvage = 0, lifeCasts, isRestCharged = false } = terms;
  const made = terms.made ?? Math.ceil(Math.max(0, casts / lifeCasts - 1e-9));
  const loses = made * (cost - salvage);
  const isWornOut = casts >= made * lifeCasts && casts > 0;
  const perCast = isWornOut ? loses / casts : (cost - salvage) / lifeCasts;
  const worn = isWornOut ? loses : casts * perCast;
  return ok({ perCast, made, worn, left: made * cost - worn, charged: isRestCharged ? loses - worn : 0 });
}
