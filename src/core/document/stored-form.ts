// A workbook as it is kept: cells, rows, and what the maker added or made different. What every edition has follows from
// the code, and is put back by `complete` when the document is read.

import { standardSheets } from "../sheets/standard";
import { SHEETS_VERSION } from "./sheet-keys";
import {
  type ChangedColumn,
  type Column,
  type Row,
  SHEET_KEYS,
  type Sheet,
  type SheetKey,
  type StoredBook,
  type StoredSheet,
  type Workbook,
} from "./workbook";

/** What the maker may make different of a column that every edition has. */
const CHANGEABLE = ["title", "formula", "width"] as const;

/** What of a workbook is kept. */
export function storedForm(book: Workbook): StoredBook {
  const standard = standardSheets(book.sheets.route.rows);
  const sheets = SHEET_KEYS.map((key) => [key, storedSheet(book.sheets[key], standard[key])]);
  return {
    ...book,
    sheetsVersion: SHEETS_VERSION,
    sheets: Object.fromEntries(sheets) as Readonly<Record<SheetKey, StoredSheet>>,
  };
}

function storedSheet(sheet: Sheet, standard: Sheet): StoredSheet {
  const known = new Map(standard.columns.map((column) => [column.key, column]));
  const changed = sheet.columns.flatMap((column) => changesOf(column, known.get(column.key)));
  const lines = new Map(standard.rows.map((line) => [line.id, line]));
  return {
    columns: sheet.columns.filter(({ key }) => !known.has(key)),
    ...(changed.length > 0 ? { changed } : {}),
    rows: lines.size > 0 ? sheet.rows.flatMap((row) => storedLine(row, lines.get(row.id))) : sheet.rows,
  };
}

function changesOf(column: Column, standard: Column | undefined): ChangedColumn[] {
  if (standard === undefined || standard === column) return [];
  const changed = CHANGEABLE.filter((name) => column[name] !== undefined && column[name] !== standard[name]);
  return changed.length === 0
    ? []
    : [{ key: column.key, ...Object.fromEntries(changed.map((name) => [name, column[name]])) }];
}

/** A line with what was entered in it. A value is kept even where it is the usual one, since that may be another one day. */
function storedLine(row: Row, standard: Row | undefined): StoredSheet["rows"][number][] {
  if (standard === undefined) return [row];
  const cells = Object.fromEntries(
    Object.entries(row.cells).filter(([key, raw]) => key === "value" || raw !== standard.cells[key]),
  );
  const blanked = Object.keys(standard.cells).filter((key) => key !== "value" && row.cells[key] === undefined);
  if (standard.line?.kind === "computed" && Object.keys(cells).length + blanked.length === 0) return [];
  return [{ id: row.id, cells, ...(blanked.length > 0 ? { blanked } : {}) }];
}
