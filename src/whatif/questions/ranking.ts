// Which input matters most: each goes to the low and the high end of its own plausible range while the others stay.
import type { CellName } from "../../core/document/access";
import { type Asking, casesOf, type Gap, gapsOf, indexOfCell, outputOf } from "../run/case-matrix";

/** Between what an input may plausibly lie. */
export interface InputRange {
  readonly input: CellName;
  readonly low: number;
  readonly high: number;
}

export interface Ranked extends InputRange {
  /** The result with the input at either end; NaN where it is no number. */
  readonly atLow: number;
  readonly atHigh: number;
  /** How far the result moves in all, today's value included; 0 where neither end gives a number. */
  readonly effect: number;
}

export interface Ranking {
  /** The result with every input where the base has it. */
  readonly now: number;
  /** Largest effect first; equal ones in the order asked. */
  readonly ranked: readonly Ranked[];
  readonly gaps: readonly Gap[];
}

/** Asks for one output with each input at the ends of its range. */
export async function askRanking(asking: Asking, ranges: readonly InputRange[], output: number): Promise<Ranking> {
  const { client, prepared, base, options } = asking;
  const cases = casesOf(base, 1 + 2 * ranges.length);
  ranges.forEach(({ input, low, high }, at) => {
    const index = indexOfCell(prepared.inputs, input);
    cases[(1 + 2 * at) * base.length + index] = low;
    cases[(2 + 2 * at) * base.length + index] = high;
  });
  const answers = await client.run(prepared, cases, options);
  const results = outputOf(answers, prepared, output);
  const now = results[0] ?? Number.NaN;
  const ranked = ranges.map((range, at): Ranked => {
    const atLow = results[1 + 2 * at] ?? Number.NaN;
    const atHigh = results[2 + 2 * at] ?? Number.NaN;
    const known = [now, atLow, atHigh].filter((value) => !Number.isNaN(value));
    return { ...range, atLow, atHigh, effect: known.length < 2 ? 0 : Math.max(...known) - Math.min(...known) };
  });
  return { now, ranked: ranked.sort((a, b) => b.effect - a.effect), gaps: gapsOf(answers, prepared) };
}
