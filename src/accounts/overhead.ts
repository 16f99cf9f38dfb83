// Overhead and things that wear out: how much of a fixed cost a piece, an hour or a cast takes on.
import { fail, ok, type Result } from "../core/problem";
import { finiteAnswer, need, needAboveZero, needFromZero } from "./checks";

/** Overhead per unit of its base, such as per labour hour or per unit of labour cost, from a year's budget. */
export function overheadRate(budgetedOverhead: number, budgetedBase: number): Result<number> {
  const problems = [
    ...needFromZero("Overhead", budgetedOverhead),
    ...needAboveZero("Base of the overhead", budgetedBase),
  ];
  return problems.length > 0 ? fail(...problems) : finiteAnswer("Overhead rate", budgetedOverhead / budgetedBase);
}

export interface FixedOverhead {
  /** What an hour of work takes on. */
  readonly ratePerHour: number;
  readonly absorbed: number;
  /** What idle hours leave over: a cost of the period. */
  readonly idle: number;
}

/**
 * Fixed overhead absorbed by the hours really worked, at the rate of normal capacity (IAS 2 §13); in a period busier
 * than normal the rate falls, so that pieces are not carried above cost.
 */
export function absorbFixedOverhead(fixed: number, normalHours: number, actualHours: number): Result<FixedOverhead> {
  const problems = [
    ...needFromZero("Fixed overhead", fixed),
    ...needAboveZero("Hours at normal capacity", normalHours),
    ...needFromZero("Hours worked", actualHours),
  ];
  if (problems.length > 0) return fail(...problems);
  const ratePerHour = fixed / Math.max(normalHours, actualHours);
  const absorbed = actualHours >= normalHours ? fixed : ratePerHour * actualHours;
  return ok({ ratePerHour, absorbed, idle: fixed - absorbed });
}

/** Something that wears out with use: a mould by casts, a kiln's elements by firings. */
export interface WearingThing {
  readonly cost: number;
  /** What it still fetches when it is worn out. */
  readonly salvage: number;
  /** Uses it lasts. */
  readonly lifeUses: number;
}

export interface Wear {
  readonly perUse: number;
  /** Cost of the uses of this period. */
  readonly charge: number;
  /** What it is still carried at after them. */
  readonly carried: number;
  /** Uses beyond its life so far, which cost nothing more. */
  readonly usesBeyondLife: number;
}

/** Depreciation by units of production: each use takes its part, and never more than the thing had to lose. */
export function wearByUse(thing: WearingThing, usesBefore: number, usesNow: number): Result<Wear> {
  const { cost, salvage, lifeUses } = thing;
  const problems = [
    ...needFromZero("Cost", cost),
    ...need(salvage >= 0 && salvage <= cost, "Salvage value", salvage, `0 to its cost of ${cost}`),
    ...needAboveZero("Uses it lasts", lifeUses),
    ...needFromZero("Uses before", usesBefore),
    ...needFromZero("Uses now", usesNow),
  ];
  if (problems.length > 0) return fail(...problems);
  const perUse = (cost - salvage) / lifeUses;
  const before = Math.min(usesBefore, lifeUses);
  const after = Math.min(usesBefore + usesNow, lifeUses);
  return ok({
    perUse,
    charge: (after - before) * perUse,
    carried: after === lifeUses ? salvage : cost - after * perUse,
    usesBeyondLife: usesBefore + usesNow - after,
  });
}

/** Straight-line depreciation: the same for every year of its life. */
export function wearByYear(cost: number, salvage: number, lifeYears: number): Result<number> {
  const problems = [
    ...needFromZero("Cost", cost),
    ...need(salvage >= 0 && salvage <= cost, "Salvage value", salvage, `0 to its cost of ${cost}`),
    ...needAboveZero("Years it lasts", lifeYears),
  ];
  return problems.length > 0 ? fail(...problems) : finiteAnswer("Wear a year", (cost - salvage) / lifeYears);
}
