// Reading the document by name: sheets, rows and columns are found by id, never by position.
import type { CellSpec, Column, Raw, Row, Sheet, SheetKey, Workbook } from "./workbook";

/** Names one cell by what never moves. */
export interface CellName {
  readonly sheet: SheetKey;
  readonly row: string;
  readonly column: string;
}

/** A text that tells one cell from every other. */
export function cellKeyOf({ sheet, row, column }: CellName): string {
  return `${sheet} ${row} ${column}`;
}

const indexOfRows = new WeakMap<readonly Row[], ReadonlyMap<string, number>>();
const indexOfColumns = new WeakMap<readonly Column[], ReadonlyMap<string, number>>();

/** Positions of row ids in a sheet; remembered as long as the list of rows lives. */
export function rowIndex(sheet: Sheet): ReadonlyMap<string, number> {
  let index = indexOfRows.get(sheet.rows);
  if (!index) {
    index = new Map(sheet.rows.map((row, at) => [row.id, at]));
    indexOfRows.set(sheet.rows, index);
  }
  return index;
}

/** Lets a copy of a row list with the same ids in the same order share the index of the old one. */
export function shareRowIndex(from: readonly Row[], to: readonly Row[]): void {
  const index = indexOfRows.get(from);
  if (index) indexOfRows.set(to, index);
}

/** Positions of column keys in a sheet. */
export function columnIndex(sheet: Sheet): ReadonlyMap<string, number> {
  let index = indexOfColumns.get(sheet.columns);
  if (!index) {
    index = new Map(sheet.columns.map((column, at) => [column.key, at]));
    indexOfColumns.set(sheet.columns, index);
  }
  return index;
}

/** The row of that id, if there is one. */
export function rowOf(book: Workbook, sheet: SheetKey, id: string): Row | undefined {
  const at = rowIndex(book.sheets[sheet]).get(id);
  return at === undefined ? undefined : book.sheets[sheet].rows[at];
}

/** The column of that key, if there is one. */
export function columnOf(book: Workbook, sheet: SheetKey, key: string): Column | undefined {
  const at = columnIndex(book.sheets[sheet]).get(key);
  return at === undefined ? undefined : book.sheets[sheet].columns[at];
}

/** What a cell may hold: the column's rules, or the line's own where the sheet reads line by line. */
export function specOf(column: Column, row: Row): CellSpec {
  return column.key === "value" && row.line ? row.line : column;
}

/** The unit a cell's numbers are kept in: the column's, or the line's own where the sheet reads line by line. */
export function unitTextOf(column: Column, row: Row): string {
  return column.key === "value" && row.line ? String(row.cells.unit ?? "") : column.unit;
}

/** A cell of the document with all that says what it may hold, what it holds and how it is written. */
export interface ResolvedCell {
  readonly column: Column;
  readonly row: Row;
  readonly spec: CellSpec;
  /** The unit its numbers are kept in. */
  readonly unit: string;
  /** The formula that gives it its value, if one does. */
  readonly formula: string | undefined;
}

/** The cell of that name, resolved once for whoever asks more than one thing of it; undefined where it is not there. */
export function resolveCell(book: Workbook, { sheet, row: rowId, column: key }: CellName): ResolvedCell | undefined {
  const column = columnOf(book, sheet, key);
  const row = rowOf(book, sheet, rowId);
  return column && row && resolvedCell(column, row);
}

/** The same for a column and a row at hand. */
export function resolvedCell(column: Column, row: Row): ResolvedCell {
  const unit = unitTextOf(column, row);
  return { column, row, spec: specOf(column, row), unit, formula: formulaOf(column, row) };
}

/** What was typed into a cell; undefined where nothing was. */
export function rawAt(book: Workbook, cell: CellName): Raw | undefined {
  return rowOf(book, cell.sheet, cell.row)?.cells[cell.column];
}

/** What was typed, as a value; null where nothing was, or a formula. */
export function typedValueOf(raw: Raw | undefined): Exclude<Raw, object> | null {
  return raw === undefined || typeof raw === "object" ? null : raw;
}

/** The formula that gives a cell its value, or undefined where its value was typed or is blank. */
export function formulaOf(column: Column, row: Row): string | undefined {
  const raw = row.cells[column.key];
  if (raw !== undefined) return typeof raw === "object" ? raw.f : undefined;
  return specOf(column, row).formula;
}

/** Whether a computed cell was given another value by hand. */
export function isOverride(column: Column, row: Row): boolean {
  return row.cells[column.key] !== undefined && specOf(column, row).kind === "computed";
}

/** All overrides of a sheet. */
export function overridesIn(book: Workbook, sheet: SheetKey): CellName[] {
  const { rows, columns } = book.sheets[sheet];
  let known = overriddenIn.get(columns);
  if (!known) {
    known = new WeakMap();
    overriddenIn.set(columns, known);
  }
  const found: CellName[] = [];
  for (const row of rows) {
    let keys = known.get(row);
    if (!keys) {
      keys = columns.filter((column) => isOverride(column, row)).map(({ key }) => key);
      known.set(row, keys);
    }
    for (const column of keys) found.push({ sheet, row: row.id, column });
  }
  return found;
}

/** Rows and columns never change, new ones take their place: what was found of a row holds as long as both are there. */
const overriddenIn = new WeakMap<readonly Column[], WeakMap<Row, readonly string[]>>();

/** The text a row is called by: its piece number, name or label. */
export function rowLabel(sheet: SheetKey, row: Row): string {
  const key = LABEL_COLUMNS[sheet];
  const raw = row.cells[key];
  return raw === undefined || typeof raw === "object" ? row.id : String(raw);
}

/** The column that names the rows of each sheet. */
export const LABEL_COLUMNS: Readonly<Record<SheetKey, string>> = {
  edition: "label",
  route: "title",
  materials: "id",
  purchases: "id",
  kilns: "id",
  programmes: "programme",
  tariffs: "id",
  firings: "id",
  pieces: "piece",
  channels: "id",
  results: "label",
};

/** A cell in the maker's words, such as “Pieces 017, Glaze: coats”. */
export function describeCell(book: Workbook, cell: CellName): string {
  const sheet = book.sheets[cell.sheet];
  const row = rowOf(book, cell.sheet, cell.row);
  const column = columnOf(book, cell.sheet, cell.column);
  const label = row ? rowLabel(cell.sheet, row) : cell.row;
  if (!column) return `${sheet.title} ${label}`;
  if (cell.column === "value" || column.title === label) return `${sheet.title}, ${label}`;
  const step = column.step ? rowOf(book, "route", column.step) : undefined;
  const group = step ? `${rowLabel("route", step)}: ` : "";
  return `${sheet.title} ${label}, ${group}${column.title}`;
}
