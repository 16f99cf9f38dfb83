// Cases side by side: named sets of changed inputs, each with what it makes of the results.
import { type Asking, casesOf, type Gap, gapsOf, indexOfCell, type Setting } from "../run/case-matrix";

export interface SideBySide {
  /** One row a case, one number a result; NaN where it is no number. */
  readonly results: readonly (readonly number[])[];
  readonly today: readonly number[];
  readonly gaps: readonly Gap[];
}

/** Asks for every output with each set of settings over the base. */
export async function askCases(asking: Asking, sets: readonly (readonly Setting[])[]): Promise<SideBySide> {
  const { client, prepared, base, options } = asking;
  const today = [...prepared.todayOutputs];
  // Sets that change nothing are what today is.
  if (base.length === 0) return { today, results: sets.map(() => today), gaps: [] };
  const cases = casesOf(base, sets.length);
  sets.forEach((settings, at) => {
    for (const { cell, value } of settings) cases[at * base.length + indexOfCell(prepared.inputs, cell)] = value;
  });
  const answers = await client.run(prepared, cases, options);
  const width = prepared.outputs.length;
  const rowOf = (at: number) => Array.from(answers.outputs.subarray(at * width, (at + 1) * width));
  return { today, results: sets.map((_, at) => rowOf(at)), gaps: gapsOf(answers, prepared) };
}
