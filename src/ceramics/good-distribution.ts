// How many of the pieces started come good: the whole spread, exactly. A piece passes every step or it does not, so the count
// after a chain of losses is binomial in the product of the yields.
import { fail, ok, type Result } from "../core/problem";
import { present, whole } from "./checks";
import { yieldChain } from "./yields";

const mostInSpread = 1_000_000;

/** The chances of 0, 1, … `starts` good pieces after a chain of losses, as an array of `starts` + 1 numbers that add up to 1. */
export function goodDistribution(starts: number, losses: readonly number[]): Result<Float64Array> {
  const kept = yieldChain(losses);
  const problems = present([whole("starts", starts, 0, mostInSpread), ...(kept.ok ? [] : kept.problems)]);
  if (!kept.ok || problems.length > 0) return fail(...problems);
  return ok(binomialTerms(starts, kept.value));
}

function binomialTerms(starts: number, yieldFraction: number): Float64Array {
  const terms = new Float64Array(starts + 1);
  const peak = Math.min(starts, Math.floor((starts + 1) * yieldFraction));
  terms[peak] = 1;
  if (yieldFraction >= 1) return terms;
  const odds = yieldFraction / (1 - yieldFraction);
  let sum = 1;
  for (let k = peak + 1; k <= starts; k += 1) {
    const term = (terms[k - 1] ?? 0) * ((starts - k + 1) / k) * odds;
    terms[k] = term;
    sum += term;
  }
  for (let k = peak; k > 0; k -= 1) {
    const term = ((terms[k] ?? 0) * k) / ((starts - k + 1) * odds);
    terms[k - 1] = term;
    sum += term;
  }
  for (let k = 0; k <= starts; k += 1) terms[k] = (terms[k] ?? 0) / sum;
  return terms;
}
