// Row and column indexes inside the engine. They are given out once and kept: rows and columns of the document may come,
// go and move, and no address in the engine changes. Page and worker keep equal layouts by applying the same changes.
import type { Change, SheetOperation } from "../core/document/change";
import { SHEET_KEYS, type SheetKey, type Workbook } from "../core/document/workbook";

/** Indexes of one sheet. */
interface SheetLayout {
  readonly rows: Map<string, number>;
  readonly columns: Map<string, number>;
  /** Rows every whole-column range covers; the ones not in use are blank. */
  height: number;
  readonly freeRows: number[];
  nextRow: number;
  readonly freeColumns: number[];
  nextColumn: number;
}

export type Layout = Readonly<Record<SheetKey, SheetLayout>>;

const SPARE_ROWS = 16;

/** The layout of a workbook as it is opened. */
export function layoutOf(book: Workbook): Layout {
  const entries = SHEET_KEYS.map((key): [SheetKey, SheetLayout] => {
    const { rows, columns } = book.sheets[key];
    return [
      key,
      {
        rows: new Map(rows.map((row, at) => [row.id, at])),
        columns: new Map(columns.map((column, at) => [column.key, at])),
        height: rows.length + SPARE_ROWS,
        freeRows: [],
        nextRow: rows.length,
        freeColumns: [],
        nextColumn: columns.length,
      },
    ];
  });
  return Object.fromEntries(entries) as Record<SheetKey, SheetLayout>;
}

/** Gives indexes to what a change adds and takes back those of what it removes. Returns sheets that had to grow. */
export function layOut(layout: Layout, change: Change): ReadonlyMap<SheetKey, number> {
  const grown = new Map<SheetKey, number>();
  for (const operation of change.operations) {
    if (!("at" in operation) || operation.kind === "list") continue;
    layOutOperation(layout[operation.sheet], operation);
    const sheet = layout[operation.sheet];
    if (sheet.nextRow > sheet.height - 1) {
      const extra = Math.max(SPARE_ROWS, Math.ceil(sheet.nextRow * 0.25)) + sheet.nextRow - sheet.height;
      grown.set(operation.sheet, (grown.get(operation.sheet) ?? 0) + extra);
      sheet.height += extra;
    }
  }
  return grown;
}

function layOutOperation(sheet: SheetLayout, operation: SheetOperation): void {
  switch (operation.kind) {
    case "add rows":
      for (const row of operation.rows) {
        const free = sheet.freeRows.pop();
        sheet.rows.set(row.id, free ?? sheet.nextRow);
        if (free === undefined) sheet.nextRow += 1;
      }
      break;
    case "remove rows":
      for (const row of operation.rows) {
        const at = sheet.rows.get(row.id);
        if (at !== undefined) sheet.freeRows.push(at);
        sheet.rows.delete(row.id);
      }
      break;
    case "add columns":
      for (const column of operation.columns) {
        const free = sheet.freeColumns.pop();
        sheet.columns.set(column.key, free ?? sheet.nextColumn);
        if (free === undefined) sheet.nextColumn += 1;
      }
      break;
    case "remove columns":
      for (const column of operation.columns) {
        const at = sheet.columns.get(column.key);
        if (at !== undefined) sheet.freeColumns.push(at);
        sheet.columns.delete(column.key);
      }
      break;
  }
}

/** The letters of a column index: 0 is A, 26 is AA. */
export function columnLetters(index: number): string {
  let letters = "";
  for (let rest = index; rest >= 0; rest = Math.floor(rest / 26) - 1)
    letters = String.fromCharCode(65 + (rest % 26)) + letters;
  return letters;
}
