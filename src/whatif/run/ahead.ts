// What the engine will say of a change, a moment before it does: every cell that hangs on some inputs is compiled once, and
// answered at once when one of them is given another number.
import type { CellName } from "../../core/document/access";
import { Others } from "../../engine/cell-lists";
import type { EngineModel } from "../../engine/model";
import { cellsAt, checkToday, compileCells } from "../compile/between";
import { Emitter } from "../compile/emitter";
import { type ModelColumn, ModelGrid, Unsupported } from "../compile/grid";
import { Pool, type Register } from "../compile/registers";
import { givenOut } from "../compile/scalar";
import { toCellValue, valueAt } from "../compile/told";
import { makeRun } from "./execute";
import type { AheadColumn, ForetoldValues } from "./foretold";

/** Every cell that hangs on some inputs, ready to be answered. */
export interface Ahead {
  readonly columns: readonly AheadColumn[];
  /**
   * The values of those cells for a number an input, NaN for none; nothing where only the engine knows. From then on it is
   * of no use: cells that hang on nothing as long as the inputs are ordinary may have moved.
   */
  answer(inputs: Float64Array): ForetoldValues | undefined;
}

export type AheadOutcome =
  | { readonly ok: true; readonly ahead: Ahead }
  | { readonly ok: false; readonly notes: readonly string[] };

/** Done so often before the first answer is waited for, so that the browser has compiled what runs. */
const WARM_UP = 4;

/** Compiles all that hangs on some inputs, and holds today's values of all cells against the engine. */
export function prepareAhead(model: EngineModel, inputs: readonly CellName[]): AheadOutcome {
  try {
    const grid = new ModelGrid(model, new Pool());
    const emitter = new Emitter(grid, 1, true);
    const groups = compileCells(emitter, cellsAt(grid, inputs), undefined);
    const run = makeRun(grid.pool, emitter.instructions);
    const today = { cases: 1, inputs: undefined, inputCount: inputs.length, hasFailed: false };
    run(today);
    if (today.hasFailed) return { ok: false, notes: ["what was taken for granted does not hold"] };
    const notes = checkToday(grid, groups);
    if (notes.length > 0) return { ok: false, notes };
    const parts = partsOf(grid);
    for (let round = 0; round < WARM_UP; round += 1) {
      run(today);
      valuesOf(grid, parts);
    }
    const answer = (values: Float64Array): ForetoldValues | undefined => {
      const mark = grid.pool.mark();
      const block = { cases: 1, inputs: values, inputCount: inputs.length, hasFailed: false };
      run(block);
      const foretold = block.hasFailed ? undefined : valuesOf(grid, parts);
      grid.pool.backTo(mark);
      return foretold;
    };
    return { ok: true, ahead: { columns: parts.map(({ is }) => is), answer } };
  } catch (error) {
    if (error instanceof Unsupported) return { ok: false, notes: [error.message] };
    throw error;
  }
}

interface AheadPart {
  readonly is: AheadColumn;
  readonly column: ModelColumn;
  readonly register: Register;
}

function partsOf(grid: ModelGrid): readonly AheadPart[] {
  return grid.filled().flatMap((column) => {
    const sheet = grid.model.sheets[column.sheet]?.sheet;
    if (sheet === undefined) return [];
    return column.parts.map(({ rows: { places }, register }) => {
      return { is: { sheet, column: column.column, places }, column, register };
    });
  });
}

/** Written out: it is gone through for every cell that moves while somebody waits. */
function valuesOf(grid: ModelGrid, parts: readonly AheadPart[]): ForetoldValues {
  const size = parts.reduce((sum, { is }) => sum + is.places.length, 0);
  const numbers = new Float64Array(size).fill(Number.NaN);
  const codes = new Int32Array(size).fill(-1);
  const others = new Others();
  let to = 0;
  for (const { is, column, register } of parts) {
    const { places } = is;
    const { values } = register;
    for (let at = 0; at < places.length; at += 1, to += 1) {
      const number = values[at] as number;
      if (!Number.isNaN(number)) numbers[to] = givenOut(number);
      else {
        const place = places[at] as number;
        codes[to] = others.indexOf(toCellValue(grid, valueAt(grid, column, place, 0), column, place, 0));
      }
    }
  }
  return { numbers, codes, others: others.list };
}
