// What is said of a value that is no number, in the words in which the sheets say it.
import type { CellName } from "../../core/document/access";
import { isUnmarked, toCellError } from "../../engine/cell-error";
import type { Value } from "../../engine/values";
import { Unread } from "./formula-node";
import { type ModelColumn, type ModelGrid, namesIn } from "./grid";
import { givenOut, isScalarError, NOWHERE, type Scalar, type ScalarError } from "./scalar";

/** A value as the engine gives it out: numbers to 15 digits, errors in words with the cell where they began. */
export function toCellValue(grid: ModelGrid, value: Scalar, column: ModelColumn, row: number, inCase: number): Value {
  if (typeof value === "number") return givenOut(value);
  if (!isScalarError(value)) return value;
  const here = grid.cellNumber(column.sheet, column.column, row);
  const error = { type: value.type as Parameters<typeof toCellError>[0]["type"], message: value.message };
  const root = value.root === NOWHERE ? here : isUnmarked(error) ? beginning(grid, value, inCase) : value.root;
  return toCellError(error, grid.cellNumbered(root));
}

/** Of some errors the engine names the first cell that used it: the cell itself is one further up. */
function beginning(grid: ModelGrid, { root }: ScalarError, inCase: number): number {
  const at = cellAt(grid, root);
  const group = at && grid.groups[at.column.groupOf[at.row] ?? -1];
  if (!group || group.node instanceof Unread) return root;
  const { own, cells } = namesIn(group.node);
  const named = [
    ...own.map((column) => ({ sheet: group.sheet, column, row: at.row })),
    ...cells.map(({ sheet, column, row }) => ({ sheet, column, row })),
  ];
  const above = named.find(({ sheet, column, row }) => {
    const value = grid.valueAt(grid.column(sheet, column), row, inCase);
    return isScalarError(value) && value.root === NOWHERE;
  });
  return above ? grid.cellNumber(above.sheet, above.column, above.row) : root;
}

function cellAt(grid: ModelGrid, number: number): { readonly column: ModelColumn; readonly row: number } | undefined {
  const cell: CellName | undefined = grid.cellNumbered(number);
  const at = cell && grid.indicesOf(cell);
  return at && { column: grid.column(at.sheet, at.column), row: at.row };
}

/** Why a result is no number. */
export function whyNotNumeric(value: Value): string {
  if (typeof value === "object" && value !== null) return value.message;
  if (value === null || value === "") return "It is blank.";
  return `It says “${value === true ? "TRUE" : value === false ? "FALSE" : value}”, which is no number.`;
}
