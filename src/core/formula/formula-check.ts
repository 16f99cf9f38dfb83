// Where a formula stands, for whoever checks its units. The check itself knows every function and is not part of what
// loads first; whoever has it passes it on.
import { type CellName, describeCell, resolveCell } from "../document/access";
import type { Column, SheetKey, Workbook } from "../document/workbook";
import type { Problem } from "../problem";

/** What a formula is for. */
export interface FormulaContext {
  readonly sheet: SheetKey;
  /** In the maker's words. */
  readonly where: string;
  /** The unit its result is kept in; undefined where it need not be a number. */
  readonly unit: string | undefined;
  /** The row it stands in, where it is one cell's. */
  readonly row?: string;
}

/** What is wrong with a formula's units, and what is only doubtful: a factor of 60 or 1000 that seems to be missing. */
export interface FormulaFindings {
  readonly problems: readonly Problem[];
  readonly doubts: readonly Problem[];
}

export type FormulaCheck = (book: Workbook, context: FormulaContext, formula: string) => FormulaFindings;

/** The context of a cell's own formula. */
export function contextOfCell(book: Workbook, cell: CellName): FormulaContext {
  const found = resolveCell(book, cell);
  return {
    sheet: cell.sheet,
    where: describeCell(book, cell),
    unit: found?.spec.type === "number" ? found.unit : undefined,
    row: cell.row,
  };
}

/** The context of a column's formula. */
export function contextOfColumn(book: Workbook, sheet: SheetKey, column: Column): FormulaContext {
  return {
    sheet,
    where: `${book.sheets[sheet].title}, column ${column.title}`,
    unit: column.type === "number" ? column.unit : undefined,
  };
}
