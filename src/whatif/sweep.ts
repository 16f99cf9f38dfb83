// One input over a range: what each result does.
import type { CellName } from "../core/access";
import { type Asking, casesOf, type Gap, gapsOf, outputOf, placeOf } from "./case-matrix";

export interface Sweep {
  /** What the input was set to, rising. */
  readonly values: Float64Array;
  /** One array an output, in the order of the values; NaN where it is no number. */
  readonly outputs: readonly Float64Array[];
  readonly gaps: readonly Gap[];
}

/** Sets one input to each value in turn; every other input stands where the base has it. */
export async function askSweep(asking: Asking, input: CellName, values: Float64Array): Promise<Sweep> {
  const [sweep] = await askSweeps(asking, [{ input, values }]);
  if (!sweep) throw new Error("a sweep was asked for and none came");
  return sweep;
}

/** Several inputs, each over its own values while the others stand at the base; answered in one run. */
export async function askSweeps(
  asking: Asking,
  wanted: readonly { readonly input: CellName; readonly values: Float64Array }[],
): Promise<readonly Sweep[]> {
  const { client, prepared, base, options } = asking;
  const total = wanted.reduce((sum, { values }) => sum + values.length, 0);
  const cases = casesOf(base, total);
  let row = 0;
  for (const { input, values } of wanted) {
    const place = placeOf(prepared.inputs, input);
    for (const value of values) {
      cases[row * base.length + place] = value;
      row += 1;
    }
  }
  const answers = await client.run(prepared, cases, options);
  const columns = prepared.outputs.map((_, output) => outputOf(answers, prepared, output));
  const gaps = gapsOf(answers, prepared);
  let from = 0;
  return wanted.map(({ values }) => {
    const outputs = columns.map((column) => column.slice(from, from + values.length));
    from += values.length;
    return { values, outputs, gaps: gaps.filter(({ output }) => outputs[output]?.some(Number.isNaN)) };
  });
}

/**
 * Whether a result goes in steps rather than smoothly: it stays where it is over most of the range and then jumps, as
 * counts of loads do.
 */
export function goesInSteps(values: Float64Array): boolean {
  let flat = 0;
  let moves = 0;
  for (let at = 1; at < values.length; at += 1) {
    const rise = (values[at] ?? Number.NaN) - (values[at - 1] ?? Number.NaN);
    if (rise === 0) flat += 1;
    else if (!Number.isNaN(rise)) moves += 1;
  }
  return moves > 0 && flat >= moves;
}
