// Rule 7, plainly: the yield of the route, the fewest starts that deliver often enough, and what wanted ÷ yield really gives.
import type { Workbook } from "../../src/core/workbook";
import { inputsOf, type Rows, typedNumber } from "./independent-cells";

/** P(at least `wanted` of `starts` come out good), piece by piece. */
function chanceOf(wanted: number, starts: number, share: number): number {
  // counts[k] is the chance of k good pieces so far; the last entry gathers "wanted or more".
  const counts = new Array<number>(wanted + 1).fill(0);
  counts[0] = 1;
  for (let piece = 0; piece < starts; piece += 1)
    for (let k = wanted; k >= 0; k -= 1) {
      const stays = k === wanted ? (counts[k] ?? 0) : (counts[k] ?? 0) * (1 - share);
      counts[k] = stays + (k > 0 ? (counts[k - 1] ?? 0) * share : 0);
    }
  return counts[wanted] ?? 0;
}

/** The computed lines of the Edition sheet. */
export function recomputePlan(book: Workbook): Rows {
  const { wanted = 1, confidence = 0.9 } = inputsOf(book);
  const share = book.sheets.route.rows.reduce((left, step) => left * (1 - typedNumber(step, "loss")), 1);
  let starts = wanted;
  while (chanceOf(wanted, starts, share) < confidence) starts += 1;
  const naive = Math.ceil(wanted / share - 1e-12);
  const lines = { chain_yield: share, starts, naive, naive_chance: chanceOf(wanted, naive, share) };
  return new Map(Object.entries(lines).map(([id, value]) => [id, { value }]));
}
