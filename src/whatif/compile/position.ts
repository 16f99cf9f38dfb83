// Where a formula, or a part of one, stands while it is compiled.
import type { EmittedValue, Emitter } from "./emitter";
import type { Node } from "./formula-tree";
import { type FormulaGroup, namesIn, type Rows } from "./grid";
import { addNamed } from "./order";

export interface CompilePosition {
  readonly emitter: Emitter;
  readonly group: FormulaGroup;
  readonly rows: Rows;
  /** The value of a part of the formula for every row. */
  readonly compile: (position: CompilePosition, node: Node) => EmittedValue;
}

/** Notes that what a formula names in the rows of a position is needed for its group. */
export function noteNamed({ emitter: { needs, grid }, group, rows }: CompilePosition, node: Node): void {
  if (needs.areFollowed) addNamed(needs.of(needs.user), grid, { sheet: group.sheet, rows: rows.indices }, node);
}

/** Whether what a formula names outside its own row depends on an input. */
export function namesVarying({ emitter }: Pick<CompilePosition, "emitter">, node: Node): boolean {
  const { cells, ranges } = namesIn(node);
  return (
    cells.some(({ sheet, column, row }) => (emitter.grid.column(sheet, column).partOf[row] ?? -1) >= 0) ||
    ranges.some(({ sheet, column }) => emitter.grid.column(sheet, column).parts.length > 0)
  );
}

/** Whether a formula depends on an input in one row, as far as its own row goes. */
export function ownVaries(
  { emitter, group }: Pick<CompilePosition, "emitter" | "group">,
  node: Node,
  row: number,
): boolean {
  return namesIn(node).own.some((column) => (emitter.grid.column(group.sheet, column).partOf[row] ?? -1) >= 0);
}

/** Whether there is a row in which a formula may depend on an input by way of its own row. */
export function anyOwnVaries({ emitter, group }: Pick<CompilePosition, "emitter" | "group">, node: Node): boolean {
  return namesIn(node).own.some((column) => emitter.grid.column(group.sheet, column).parts.length > 0);
}

/** Whether a formula is a SUM of cells of its row: it is calculated column by column, whichever rows count in each. */
export function isSumOfCells(node: Node): boolean {
  return (
    node.kind === "call" && node.name === "SUM" && node.args.length > 2 && node.args.every(({ kind }) => kind === "own")
  );
}
