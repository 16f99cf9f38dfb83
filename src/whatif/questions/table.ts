// Two inputs at once: a table of one result, and the line on which it has a wanted value.
import type { CellName } from "../../core/document/access";
import { type Asking, casesOf, type Gap, gapsOf, indexOfCell, outputOf } from "../run/case-matrix";

export interface Axis {
  readonly input: CellName;
  /** Rising. */
  readonly values: Float64Array;
}

export interface TwoWay {
  readonly across: Axis;
  readonly down: Axis;
  /** Row by row: the value for down[r] and across[c] stands at r × across + c. */
  readonly cells: Float64Array;
  readonly gaps: readonly Gap[];
}

/** Asks for one output at every pair of values. */
export async function askTable(asking: Asking, across: Axis, down: Axis, output: number): Promise<TwoWay> {
  const { client, prepared, base, options } = asking;
  const [column, row] = [indexOfCell(prepared.inputs, across.input), indexOfCell(prepared.inputs, down.input)];
  const cases = casesOf(base, across.values.length * down.values.length);
  let at = 0;
  for (const y of down.values)
    for (const x of across.values) {
      cases[at + column] = x;
      cases[at + row] = y;
      at += base.length;
    }
  const answers = await client.run(prepared, cases, options);
  return { across, down, cells: outputOf(answers, prepared, output), gaps: gapsOf(answers, prepared) };
}

/** A piece of a line between two points, in the units of the two inputs. */
export interface Segment {
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
}

/**
 * The line on which the result has the value `level`: square by square, straight between the points where its sides are
 * crossed. Squares with a gap at a corner have none. Where a square is crossed twice, the value in its middle decides
 * which corners belong together.
 */
export function levelLine({ across, down, cells }: TwoWay, level: number): readonly Segment[] {
  const [xs, ys] = [across.values, down.values];
  const width = xs.length;
  const segments: Segment[] = [];
  for (let row = 0; row + 1 < ys.length; row += 1)
    for (let column = 0; column + 1 < width; column += 1) {
      const index = row * width + column;
      const corners = [index, index + 1, index + width + 1, index + width].map(
        (corner) => (cells[corner] ?? Number.NaN) - level,
      );
      if (corners.some(Number.isNaN)) continue;
      const [left = 0, right = 0, top = 0, foot = 0] = [xs[column], xs[column + 1], ys[row], ys[row + 1]];
      segments.push(...crossedSquare(corners, { left, right, top, foot }));
    }
  return segments;
}

interface Square {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly foot: number;
}

/** Corners run round the square from its first row and column. */
function crossedSquare(corners: readonly number[], { left, right, top, foot }: Square): Segment[] {
  const ends = [
    [left, top],
    [right, top],
    [right, foot],
    [left, foot],
  ] as const;
  const crossed = corners.flatMap((value, at) => {
    const next = corners[(at + 1) % 4] ?? 0;
    if (value > 0 === next > 0) return [];
    const [a = ends[0], b = ends[0]] = [ends[at], ends[(at + 1) % 4]];
    const share = value / (value - next);
    return [[a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share] as const];
  });
  const [first, second, third, fourth] = crossed;
  if (!first || !second) return [];
  if (!third || !fourth) return [{ from: first, to: second }];
  const middle = corners.reduce((sum, value) => sum + value, 0);
  const isJoined = middle > 0 === (corners[0] ?? 0) > 0;
  return isJoined
    ? [
        { from: first, to: second },
        { from: third, to: fourth },
      ]
    : [
        { from: fourth, to: first },
        { from: second, to: third },
      ];
}
