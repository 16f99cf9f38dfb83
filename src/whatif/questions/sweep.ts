// One input over a range: what each result does.
import type { CellName } from "../../core/document/access";
import { type Asking, casesOf, type Gap, gapsOf, indexOfCell, outputOf } from "../run/case-matrix";

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
    const index = indexOfCell(prepared.inputs, input);
    for (const value of values) {
      cases[row * base.length + index] = value;
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

/** A point of a curve; points of one run are joined. */
interface CurvePoint {
  readonly x: number;
  readonly y: number;
  readonly run: number;
}

/** A curve as it is to be drawn. */
export interface Curve {
  readonly points: readonly CurvePoint[];
  /** Whether it keeps its value from one point to the next, as counts of loads and of starts do. */
  readonly isStepped: boolean;
}

/**
 * A result as a curve: broken where it is no number, and where it jumps, so that a step is drawn as a step and not as a
 * slope. A jump is a move several times those next to it. What is counted in whole pieces goes in steps throughout.
 */
export function curveOf(xs: Float64Array, ys: Float64Array, isWhole = false): Curve {
  const moves = Array.from(ys, (y, at) => Math.abs(y - (ys[at - 1] ?? Number.NaN)));
  const known = moves.filter((move) => !Number.isNaN(move));
  const still = known.filter((move) => move === 0).length;
  const isStepped = isWhole || (still * 2 >= known.length && still < known.length);
  const numbers = ys.filter((y) => !Number.isNaN(y));
  const spread = numbers.length > 0 ? Math.max(...numbers) - Math.min(...numbers) : 0;
  const points: CurvePoint[] = [];
  let run = 0;
  for (const [at, y] of ys.entries()) {
    const move = moves[at] ?? Number.NaN;
    const jumps = !isStepped && move > spread * 0.04 && move > 3 * nextMove(moves, at);
    if (at > 0 && (Number.isNaN(move) || jumps)) run += 1;
    if (!Number.isNaN(y)) points.push({ x: xs[at] ?? 0, y, run });
  }
  return { points, isStepped };
}

/** The larger of the moves before and after. */
function nextMove(moves: readonly number[], at: number): number {
  const near = [at - 1, at + 1].map((index) => moves[index] ?? Number.NaN).filter((move) => !Number.isNaN(move));
  return near.length > 0 ? Math.max(...near) : Number.POSITIVE_INFINITY;
}
