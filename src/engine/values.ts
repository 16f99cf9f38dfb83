// What the engine sends the page: values by index, and errors with what to do about them.
import type { CellName } from "../core/document/access";
import type { SheetKey } from "../core/document/workbook";

/** An error in a cell: what is wrong, what to do, and the cell where it began. */
export interface CellError {
  readonly title: string;
  readonly message: string;
  readonly from?: CellName;
}

export type Value = number | string | boolean | CellError | null;

/** Whether a value is an error. */
export function isCellError(value: Value | undefined): value is CellError {
  return typeof value === "object" && value !== null;
}

/** Values of some cells of a column: numbers as they are, anything else by its index in a list of others. */
export interface CellList {
  readonly rows: Int32Array;
  readonly numbers: Float64Array;
  /** −1 where the value is a number, otherwise its index among the others. */
  readonly others: Int32Array;
}

/** Values that moved in one column. */
export interface ColumnPatch {
  readonly sheet: SheetKey;
  readonly column: number;
  readonly values: CellList;
}

/** Values that moved, column by column, and those of them that are no numbers. */
export interface Patch {
  readonly columns: readonly ColumnPatch[];
  readonly others: readonly Value[];
}
