// How far a loss rate counted on a few pieces can be from the true one.
import { fail, ok, type Problem, type Result } from "../core/problem";
import { mostPieces, partInside, present, whole } from "./checks";
import { binomialSplit } from "./counting";
import { normalQuantile } from "./normal";

/** The lowest and the highest loss rate that the count leaves likely. */
export interface LossInterval {
  readonly low: number;
  readonly high: number;
}

/** Wilson's interval for the loss rate behind `lost` of `entered` pieces (E. B. Wilson 1927): close to the stated confidence on average. */
export function wilson(lost: number, entered: number, confidence: number): Result<LossInterval> {
  const problems = countProblems(lost, entered, confidence);
  if (problems.length > 0) return fail(...problems);
  const z = -normalQuantile((1 - confidence) / 2);
  const widened = entered + z * z;
  const spread = z * Math.sqrt(z * z + (4 * lost * (entered - lost)) / entered);
  const high = lost === entered ? 1 : (2 * lost + z * z + spread) / (2 * widened);
  // The ends are the roots of one quadratic; their product gives the low one without cancellation.
  const low = lost === 0 ? 0 : ((lost / entered) * (lost / widened)) / high;
  return ok({ low, high });
}

/** The exact interval for the loss rate behind `lost` of `entered` pieces (Clopper and Pearson 1934): never less than the stated confidence. */
export function clopperPearson(lost: number, entered: number, confidence: number): Result<LossInterval> {
  const problems = countProblems(lost, entered, confidence);
  if (problems.length > 0) return fail(...problems);
  const tail = (1 - confidence) / 2;
  const low = lost === 0 ? 0 : crossing((rate) => binomialSplit(lost, entered, rate).atLeast >= tail);
  const high = lost === entered ? 1 : crossing((rate) => binomialSplit(lost + 1, entered, rate).below <= tail);
  return ok({ low, high });
}

function countProblems(lost: number, entered: number, confidence: number): readonly Problem[] {
  const enteredProblem = whole("entered", entered, 1);
  return present([
    enteredProblem,
    whole("lost", lost, 0, enteredProblem ? mostPieces : entered),
    partInside("confidence", confidence),
  ]);
}

/** The rate between 0 and 1 at which `isPast` turns true, to the last binary digit: the end of an exact interval is a beta quantile, and this finds it from its definition. */
function crossing(isPast: (rate: number) => boolean): number {
  let before = 0;
  let past = 1;
  for (let middle = 0.5; middle > before && middle < past; middle = (before + past) / 2) {
    if (isPast(middle)) past = middle;
    else before = middle;
  }
  return past;
}
