// A document as it is kept, with the columns and lines that every edition has. What the maker entered or added stays; a
// column or line that today's sheets do not know is then one of the maker's own.

import { standardSheets } from "../sheets/standard";
import { specOf } from "./access";
import { isAllowed } from "./entry";
import { KEY_MOST } from "./limits";
import { SHEETS_VERSION } from "./sheet-keys";
import {
  type ChangedColumn,
  type Column,
  type Raw,
  type Row,
  SHEET_KEYS,
  type Sheet,
  type SheetKey,
  type StoredBook,
  type StoredSheet,
  type Workbook,
} from "./workbook";

/** Which program wrote a document. */
export interface Age {
  /** Written in a format before 3, which kept every column and line whole. */
  readonly isWhole: boolean;
  /** The standard sheets it had; undefined where none is known. */
  readonly sheetsVersion: number | undefined;
}

/** What a document kept whole that today's sheets do not have, and what was kept as the maker's own. */
export interface Completed {
  readonly book: Workbook;
  /** In the maker's words: “Kilns, colour”. */
  readonly keptAsOwn: readonly string[];
}

/** The whole workbook of a stored one. */
export function complete(stored: StoredBook, age: Age): Completed {
  const standard = standardSheets(stored.sheets.route.rows);
  const keptAsOwn: string[] = [];
  const sheets = SHEET_KEYS.map((key): [SheetKey, Sheet] => {
    const { title, columns, rows: lines } = standard[key];
    const kept = stored.sheets[key];
    const rows = lines.length === 0 ? kept.rows : withLines(kept.rows, lines, age);
    const own = ownColumns(kept, columns, rows, age);
    keptAsOwn.push(...own.filter(({ isNew }) => isNew).map(({ column }) => `${title}, ${column.title}`));
    keptAsOwn.push(...newlyOwn(kept.rows, rows).map((row) => `${title}, ${row.cells.label ?? row.id}`));
    const changes = age.isWhole ? [] : (kept.changed ?? []);
    return [key, { title, columns: [...withChanges(columns, changes), ...own.map(({ column }) => column)], rows }];
  });
  const { sheetsVersion: _, ...book } = { ...stored, sheets: Object.fromEntries(sheets) as Workbook["sheets"] };
  return isOfToday(age) ? { book, keptAsOwn } : withMisfits(book, keptAsOwn);
}

/** Whether the program that wrote a document had the standard sheets of today. */
export function isOfToday({ isWhole, sheetsVersion }: Age): boolean {
  return !isWhole && sheetsVersion === SHEETS_VERSION;
}

/** Entries that a column of today no longer takes, in a column of the maker's own. */
function withMisfits(book: Workbook, messages: readonly string[]): Completed {
  const keptAsOwn = [...messages];
  const sheets = SHEET_KEYS.map((key) => {
    let sheet = book.sheets[key];
    for (const column of sheet.columns.filter(({ required }) => !required)) {
      const misfits = new Map(
        sheet.rows.flatMap((row) => {
          const raw = row.cells[column.key];
          return raw === undefined || isAllowed(book, specOf(column, row), raw) ? [] : [[row.id, raw] as const];
        }),
      );
      if (misfits.size === 0) continue;
      const own = columnForMisfits(column, [...misfits.values()]);
      keptAsOwn.push(`${sheet.title}, ${own.title}`);
      const rows = sheet.rows.map((row): Row => {
        const { [column.key]: raw, ...cells } = row.cells;
        return raw === undefined || !misfits.has(row.id)
          ? row
          : { ...row, cells: { ...cells, [own.key]: own.type === "text" ? textOf(raw) : raw } };
      });
      sheet = { ...sheet, columns: [...sheet.columns, own], rows };
    }
    return [key, sheet];
  });
  return { book: { ...book, sheets: Object.fromEntries(sheets) as Workbook["sheets"] }, keptAsOwn };
}

function columnForMisfits({ key, title, unit }: Column, raws: readonly Raw[]): Column {
  const type = raws.every((raw) => typeof raw === "number") ? "number" : "text";
  const ownKey = `was_${key.replace(".", "_")}`.slice(0, KEY_MOST);
  return {
    key: ownKey,
    title: `${title}, as it was`,
    unit: type === "number" ? unit : "",
    kind: "input",
    type,
    own: true,
  };
}

const textOf = (raw: Raw) => (typeof raw === "object" ? raw.f : String(raw));

function withChanges(columns: readonly Column[], changes: readonly ChangedColumn[]): readonly Column[] {
  if (changes.length === 0) return columns;
  const byKey = new Map(changes.map((change) => [change.key, change as Partial<Column>]));
  return columns.map((column) => ({ ...column, ...byKey.get(column.key) }));
}

interface OwnColumn {
  readonly column: Column;
  readonly isNew: boolean;
}

/** The maker's own columns, and those that are theirs now because today's sheets do not have them any more. */
function ownColumns(sheet: StoredSheet, standard: readonly Column[], rows: readonly Row[], age: Age): OwnColumn[] {
  const known = new Set(standard.map(({ key }) => key));
  const own = sheet.columns
    .filter(({ key }) => !known.has(key))
    .map((column): OwnColumn => ({ column: { ...column, own: true }, isNew: !column.own }));
  if (age.isWhole || isOfToday(age)) return own;
  for (const { column } of own) known.add(column.key);
  return [...own, ...columnsOfCells(rows, known)];
}

/** Columns for cells of which the program that knew their rules is gone. */
function columnsOfCells(rows: readonly Row[], known: ReadonlySet<string>): OwnColumn[] {
  const held = new Map<string, Raw>();
  for (const row of rows)
    for (const [key, raw] of Object.entries(row.cells))
      if (!known.has(key) && typeof held.get(key) !== "string") held.set(key, raw);
  return [...held].map(([key, raw]) => ({
    column: { key, title: key, unit: "", kind: "input", type: typeof raw === "string" ? "text" : "number", own: true },
    isNew: true,
  }));
}

/** Today's lines in their order with what was entered in them; lines of the maker's own after them. */
function withLines(rows: StoredSheet["rows"], lines: readonly Row[], age: Age): readonly Row[] {
  const held = new Map(rows.map((row) => [row.id, row]));
  const known = new Set(lines.map((line) => line.id));
  const completed = lines.map((line): Row => {
    const row = held.get(line.id);
    return row ? { ...line, cells: age.isWhole ? renewedCells(line, row) : completedCells(line, row) } : line;
  });
  return [...completed, ...rows.filter((row) => !known.has(row.id)).map(ownLine)];
}

function completedCells(line: Row, { cells, blanked = [] }: StoredSheet["rows"][number]): Row["cells"] {
  const words = Object.entries(line.cells).filter(([key]) => key !== "value" && !blanked.includes(key));
  return { ...Object.fromEntries(words), ...cells };
}

/** Name and unit are ours, and so is all that a computed line says of itself; what stands beside an input may be the maker's. */
function renewedCells(line: Row, { cells }: Row): Row["cells"] {
  const { value: _, ...words } = line.cells;
  const { label, unit } = words;
  return { ...words, ...cells, ...(line.line?.kind === "computed" ? words : { label, unit }) } as Row["cells"];
}

function ownLine({ blanked: _, ...row }: StoredSheet["rows"][number]): Row {
  if (row.own) return row;
  const { value = 0, label = row.id } = row.cells;
  const type = typeof value === "string" ? "text" : "number";
  return { ...row, cells: { ...row.cells, label }, line: row.line ?? { kind: "input", type }, own: true };
}

function newlyOwn(stored: StoredSheet["rows"], rows: readonly Row[]): Row[] {
  const were = new Set(stored.filter(({ own }) => own).map(({ id }) => id));
  return rows.filter((row) => row.own && !were.has(row.id));
}
