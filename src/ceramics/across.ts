// What several editions say together of one number. A loss or a time that differs from edition to edition is known less
// well than all pieces in one heap would say: the difference between editions is in the interval.
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { partInside, present, whole } from "./checks";
import { normalQuantile } from "./normal";

/** Pieces of one edition that entered a step, and those of them that were lost. */
export interface Counted {
  readonly entered: number;
  readonly lost: number;
}

/** So many measured in one edition, with their mean and standard deviation (of a sample). */
export interface Measured {
  readonly count: number;
  readonly mean: number;
  readonly sd: number;
}

/** A number with the range that the editions leave likely for it. */
export interface Known {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Of rates, the correlation of pieces of one edition; of means, the standard deviation between editions. 0 where they differ by no more than chance. */
  readonly between: number;
}

/**
 * The rate over editions, 0 to 1, with Wilson's interval for as many pieces as these are worth: n ÷ (1 + (n̄ − 1)ρ) with the
 * correlation ρ of pieces of one edition from the analysis of variance (E. B. Wilson 1927; J. N. K. Rao and A. J. Scott 1992;
 * M. S. Ridout, C. G. B. Demétrio and D. Firth 1999). One edition alone gives Wilson's own.
 */
export function rateAcross(editions: readonly Counted[], confidence: number): Result<Known> {
  const problems = present([
    partInside("confidence", confidence),
    ...editions.flatMap(({ entered, lost }) => [whole("entered", entered, 1), whole("lost", lost, 0, entered)]),
    someEditions(editions),
  ]);
  if (problems.length > 0) return fail(...problems);
  const [entered, lost] = [sum(editions.map((one) => one.entered)), sum(editions.map((one) => one.lost))];
  const between = correlation(editions, entered, lost);
  const widened = sum(editions.map((one) => one.entered * (1 + (one.entered - 1) * between))) / entered;
  const rate = lost / entered;
  const worth = entered / widened;
  const square = normalQuantile((1 - confidence) / 2) ** 2;
  const middle = (rate + square / (2 * worth)) / (1 + square / worth);
  const spread =
    Math.sqrt(square * ((rate * (1 - rate)) / worth + square / (4 * worth * worth))) / (1 + square / worth);
  const low = lost === 0 ? 0 : Math.max(0, middle - spread);
  return ok({ value: rate, low, high: lost === entered ? 1 : Math.min(1, middle + spread), between });
}

/** Correlation of lost and kept within editions, 0 where they differ no more than chance lets them: the analysis of variance of noughts and ones. */
function correlation(editions: readonly Counted[], entered: number, lost: number): number {
  const degrees = editions.length - 1;
  if (degrees < 1 || lost === 0 || lost === entered || entered === editions.length) return 0;
  const explained = sum(editions.map((one) => one.lost ** 2 / one.entered));
  const between = (explained - lost ** 2 / entered) / degrees;
  const within = (lost - explained) / (entered - editions.length);
  const size = (entered - sum(editions.map((one) => one.entered ** 2)) / entered) / degrees;
  return Math.min(1, Math.max(0, (between - within) / (between + (size - 1) * within)));
}

/**
 * The mean over editions with the interval of the random-effects model (R. DerSimonian and N. Laird 1986). The spread of
 * single pieces is taken as the same in all editions, as in the analysis of variance. One edition alone gives Student's
 * interval; one piece alone any number at all.
 */
export function meanAcross(editions: readonly Measured[], confidence: number): Result<Known> {
  const problems = present([
    partInside("confidence", confidence),
    ...editions.map(({ count }) => whole("count", count, 1)),
    someEditions(editions),
  ]);
  if (problems.length > 0) return fail(...problems);
  const degrees = sum(editions.map(({ count }) => count - 1));
  const square = degrees === 0 ? 0 : sum(editions.map(({ count, sd }) => (count - 1) * sd * sd)) / degrees;
  if (editions.length === 1) return ok(ofOne(editions[0] as Measured, confidence));
  const variances = editions.map(({ count }) => square / count);
  return ok(
    pooled(
      editions.map(({ mean }) => mean),
      variances,
      confidence,
    ),
  );
}

function ofOne({ count, mean, sd }: Measured, confidence: number): Known {
  const half =
    count === 1
      ? Number.POSITIVE_INFINITY
      : (-studentQuantile((1 - confidence) / 2, count - 1) * sd) / Math.sqrt(count);
  return { value: mean, low: mean - half, high: mean + half, between: 0 };
}

/** Estimates with their variances as one: DerSimonian and Laird's. Estimates without any variance count alike. */
export function pooled(means: readonly number[], variances: readonly number[], confidence: number): Known {
  const isExact = variances.some((variance) => variance === 0);
  const weights = variances.map((variance) => (isExact ? 1 : 1 / variance));
  const total = sum(weights);
  const fixed = weighted(means, weights);
  const apart = sum(means.map((mean, at) => (weights[at] ?? 0) * (mean - fixed) ** 2));
  const scale = total - sum(weights.map((weight) => weight * weight)) / total;
  const expected = isExact ? 0 : means.length - 1;
  const between = Math.max(0, (apart - expected) / scale);
  const random = variances.map((variance) => (isExact ? 1 : 1 / (variance + between)));
  const value = weighted(means, random);
  const error = Math.sqrt(isExact ? between / means.length : 1 / sum(random));
  const half = -normalQuantile((1 - confidence) / 2) * error;
  return { value, low: value - half, high: value + half, between: Math.sqrt(between) };
}

/**
 * Student's quantile: exact for one and two degrees of freedom, otherwise by the first four terms of its expansion about the
 * normal one (R. A. Fisher and E. A. Cornish 1960), within 0.2 % for chances from 2.5 % to 97.5 %.
 */
export function studentQuantile(chance: number, degrees: number): number {
  if (degrees === 1) return Math.tan(Math.PI * (chance - 0.5));
  if (degrees === 2) return (2 * chance - 1) / Math.sqrt(2 * chance * (1 - chance));
  const z = normalQuantile(chance);
  const powers = [z ** 3, z ** 5, z ** 7, z ** 9] as const;
  const [third, fifth, seventh, ninth] = powers;
  return (
    z +
    (third + z) / (4 * degrees) +
    (5 * fifth + 16 * third + 3 * z) / (96 * degrees ** 2) +
    (3 * seventh + 19 * fifth + 17 * third - 15 * z) / (384 * degrees ** 3) +
    (79 * ninth + 776 * seventh + 1482 * fifth - 1920 * third - 945 * z) / (92_160 * degrees ** 4)
  );
}

function someEditions(editions: readonly unknown[]): Problem | undefined {
  if (editions.length > 0) return undefined;
  return problem({ code: "across.none", where: "editions", found: "none", allowed: "at least one" });
}

const sum = (numbers: readonly number[]) => numbers.reduce((total, one) => total + one, 0);
const weighted = (values: readonly number[], weights: readonly number[]) =>
  sum(values.map((value, at) => value * (weights[at] ?? 0))) / sum(weights);
