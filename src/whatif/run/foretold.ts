// How what is foretold travels: which cells, said once, and then their values in two lists.
import type { SheetKey } from "../../core/document/workbook";
import type { ColumnPatch, Patch, Value } from "../../engine/values";

/** Cells of one column that hang on an input. */
export interface AheadColumn {
  readonly sheet: SheetKey;
  readonly column: number;
  readonly places: Int32Array;
}

/** The values of all those cells, column after column; −1 where one is a number, otherwise its place among the others. */
export interface ForetoldValues {
  readonly numbers: Float64Array;
  readonly codes: Int32Array;
  readonly others: readonly Value[];
}

/** What was foretold, column by column. */
export function patchOf(columns: readonly AheadColumn[], { numbers, codes, others }: ForetoldValues): Patch {
  let from = 0;
  const patches = columns.map(({ sheet, column, places }): ColumnPatch => {
    const to = from + places.length;
    const values = { places, numbers: numbers.subarray(from, to), others: codes.subarray(from, to) };
    from = to;
    return { sheet, column, values };
  });
  return { columns: patches, others };
}
