// A whole workbook compiled, with some cells as inputs: all its values at once, and those that hang on the inputs again
// whenever one of them is given another number.
import type { CellName } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import { Others } from "../../engine/cell-lists";
import type { WorkbookModel } from "../../engine/model";
import type { ColumnPatch, Patch } from "../../engine/values";
import { cellsAt, compileCells } from "../compile/between";
import { toCellValue } from "../compile/cell-value";
import { Emitter } from "../compile/emitter";
import { type ModelColumn, ModelGrid, Unsupported } from "../compile/grid";
import { Needs } from "../compile/needs";
import { ANY_INPUT, CONSTANT, Pool, type Register } from "../compile/registers";
import { givenOut } from "../compile/scalar";
import { makeRun } from "./execute";

/** A compiled workbook. */
export interface Compiled {
  /** The value of every formula, for what the inputs held when it was compiled. */
  values(): Patch;
  /** Makes the first answer as quick as the next ones. */
  warmUp(): void;
  /**
   * The values that moved because of the latest inputs: those, by their indices, that were given another number since the
   * last answer; cells that are calculated together come together. `inputs` has a number for each input, NaN for none.
   * Nothing where only the engine knows; from then on it is of no use: cells that hang on nothing as long as the inputs are
   * ordinary may have moved.
   */
  answer(inputs: Float64Array, latest: readonly number[]): Patch | undefined;
}

export type CompileOutcome =
  | { readonly ok: true; readonly compiled: Compiled }
  | { readonly ok: false; readonly notes: readonly string[] };

/** Done so often before the first answer is asked for, so that the browser has compiled what runs. */
const WARM_UP = 4;

/** Texts and errors that come up in answers are forgotten when there are so many. */
const MOST_KINDS = 1_000_000;

/** Compiles all formulas of a workbook; or says why not, by the cell that stands in the way. */
export function compileWorkbook(model: WorkbookModel, inputs: readonly CellName[]): CompileOutcome {
  try {
    const grid = new ModelGrid(model, new Pool());
    const emitter = new Emitter(grid, { blockSize: 1, assumes: true, needs: new Needs("everything") });
    const { steps } = compileCells(emitter, cellsAt(grid, inputs), undefined);
    const run = makeRun(grid.pool, steps);
    const varying = varyingCells(grid);
    const mark = grid.pool.mark();
    const compiled: Compiled = {
      values: () => patchOf(grid, [...constantCells(grid), ...varying]),
      warmUp: () => {
        for (let round = 0; round < WARM_UP; round += 1) {
          run({ cases: 1, inputs: undefined, inputCount: inputs.length });
          patchOf(grid, varying);
        }
      },
      answer: (values, latest) => {
        // What is not calculated anew keeps the texts it has, until there are too many.
        const isFull = grid.pool.kinds > MOST_KINDS;
        if (isFull) grid.pool.backTo(mark);
        const changed = isFull ? ANY_INPUT : latest.reduce((all, input) => all | (1n << BigInt(input)), CONSTANT);
        const reached = varying.filter(({ register }) => (register.inputMask & changed) !== CONSTANT);
        const before = reached.map(({ register }) => ({
          values: register.values.slice(),
          kinds: register.kinds.slice(),
        }));
        const block = { cases: 1, inputs: values, inputCount: inputs.length, changed, hasFailed: false };
        run(block);
        if (block.hasFailed) return undefined;
        return patchOf(grid, isFull ? reached : reached.filter(({ register }, at) => !isAlike(register, before[at])));
      },
    };
    return { ok: true, compiled };
  } catch (error) {
    if (error instanceof Unsupported) return { ok: false, notes: [error.message] };
    throw error;
  }
}

/** Whether a register holds the values it held. */
function isAlike({ values, kinds }: Values, before: Values | undefined): boolean {
  if (!before) return false;
  for (let at = 0; at < values.length; at += 1)
    if (!Object.is(values[at], before.values[at]) || (Number.isNaN(values[at]) && kinds[at] !== before.kinds[at]))
      return false;
  return true;
}

type Values = Pick<Register, "values" | "kinds">;

/** Cells of a column and where their values are: at their indices in a register, or in the order of the list. */
interface Cells {
  readonly sheet: SheetKey;
  readonly column: ModelColumn;
  readonly rows: Int32Array;
  readonly register: Register;
  readonly byRow: boolean;
}

function varyingCells(grid: ModelGrid): readonly Cells[] {
  return grid.filled().flatMap((column) => {
    const sheet = grid.model.sheets[column.sheet]?.sheet;
    if (sheet === undefined) return [];
    return column.parts.map(({ rows, register }) => ({
      sheet,
      column,
      rows: rows.indices,
      register,
      byRow: false,
    }));
  });
}

function constantCells(grid: ModelGrid): readonly Cells[] {
  return grid.filled().flatMap((column) => {
    const sheet = grid.model.sheets[column.sheet]?.sheet;
    const { groupOf, partOf, constants } = column;
    const rows = constantRowsOf(groupOf, partOf);
    return sheet === undefined || rows.length === 0 ? [] : [{ sheet, column, rows, register: constants, byRow: true }];
  });
}

/** Where formulas are constant. Written out: it is gone through for every cell. */
function constantRowsOf(groupOf: Int32Array, partOf: Int32Array): Int32Array {
  const rows = new Int32Array(groupOf.length);
  let count = 0;
  for (let row = 0; row < groupOf.length; row += 1)
    if (groupOf[row] !== -1 && partOf[row] === -1) {
      rows[count] = row;
      count += 1;
    }
  return rows.slice(0, count);
}

/** Written out: it is gone through for every cell that moves while somebody waits. */
function patchOf(grid: ModelGrid, cells: readonly Cells[]): Patch {
  const size = cells.reduce((sum, { rows }) => sum + rows.length, 0);
  const numbers = new Float64Array(size).fill(Number.NaN);
  const codes = new Int32Array(size).fill(-1);
  const others = new Others();
  const columns: ColumnPatch[] = [];
  let to = 0;
  for (const { sheet, column, rows, register, byRow } of cells) {
    const { values } = register;
    const from = to;
    for (let at = 0; at < rows.length; at += 1, to += 1) {
      const row = rows[at] as number;
      const number = values[byRow ? row : at] as number;
      if (!Number.isNaN(number)) numbers[to] = givenOut(number);
      else codes[to] = others.indexOf(toCellValue(grid, grid.valueAt(column, row), column, row, 0));
    }
    columns.push({
      sheet,
      column: column.column,
      values: { rows, numbers: numbers.subarray(from, to), others: codes.subarray(from, to) },
    });
  }
  return { columns, others: others.list };
}
