// The change that makes one state of an edition into another: for going back to an earlier copy as one step that can be
// undone, and for taking over what another tab has written.
import { columnIndex, rowIndex } from "./access";
import { type Change, type ListOperation, type Operation, sameRaw } from "./change";
import {
  type Column,
  type ListEntry,
  type ListKey,
  type Row,
  SHEET_KEYS,
  type Sheet,
  type SheetKey,
  type Workbook,
} from "./workbook";

/** The change from one workbook to another of the same edition; undefined where a change can't say it all. */
export function differenceBetween(from: Workbook, to: Workbook, label: string): Change | undefined {
  const operations = SHEET_KEYS.flatMap((key) => sheetOperations(key, from.sheets[key], to.sheets[key]));
  for (const list of Object.keys(from.lists) as ListKey[])
    operations.push(...listOperations(list, from.lists[list], to.lists[list]));
  if (!isSame(from.meta, to.meta)) operations.unshift({ kind: "meta", was: from.meta, is: to.meta });
  const rest = (book: Workbook) => {
    const { sheets, meta: _meta, lists: _lists, ...others } = book;
    return { ...others, titles: SHEET_KEYS.map((key) => sheets[key].title) };
  };
  return isSame(rest(from), rest(to)) ? { label, operations } : undefined;
}

/** Cells that go are blanked while their column is there, and cells that come are written once it is. */
function sheetOperations(sheet: SheetKey, from: Sheet, to: Sheet): Operation[] {
  if (from === to) return [];
  const cells = cellOperations(sheet, from, to);
  return [
    ...cells.filter((cell) => !columnIndex(to).has(cell.column)),
    ...rowOperations(sheet, from, to),
    ...columnOperations(sheet, from, to),
    ...cells.filter((cell) => columnIndex(to).has(cell.column)),
  ];
}

type CellOperation = Extract<Operation, { kind: "cell" }>;

function cellOperations(sheet: SheetKey, from: Sheet, to: Sheet): CellOperation[] {
  if (from.rows === to.rows) return [];
  return commonRows(from, to).flatMap(([was, is]) => {
    if (was.cells === is.cells) return [];
    const columns = new Set([...Object.keys(was.cells), ...Object.keys(is.cells)]);
    return [...columns].flatMap((column): CellOperation[] => {
      const change = { was: was.cells[column], is: is.cells[column] };
      return sameRaw(change.was, change.is) ? [] : [{ kind: "cell", sheet, row: is.id, column, ...change }];
    });
  });
}

/** Rows of the same id and the same rules, in both sheets; those of other rules are removed and added anew. */
function commonRows(from: Sheet, to: Sheet): (readonly [was: Row, is: Row])[] {
  if (!isSameOrder(from.rows, to.rows, (row) => row.id)) return [];
  return to.rows.flatMap((is) => {
    const at = rowIndex(from).get(is.id);
    const was = at === undefined ? undefined : from.rows[at];
    return was && isSame({ ...was, cells: 0 }, { ...is, cells: 0 }) ? [[was, is] as const] : [];
  });
}

function rowOperations(sheet: SheetKey, from: Sheet, to: Sheet): Operation[] {
  if (from.rows === to.rows) return [];
  const common = new Set(commonRows(from, to).map(([, is]) => is.id));
  const removed = runsOf(from.rows, (row) => !common.has(row.id)).reverse();
  const added = runsOf(to.rows, (row) => !common.has(row.id));
  return [
    ...removed.map(({ at, items }): Operation => ({ kind: "remove rows", sheet, at, rows: items })),
    ...added.map(({ at, items }): Operation => ({ kind: "add rows", sheet, at, rows: items })),
  ];
}

function columnOperations(sheet: SheetKey, from: Sheet, to: Sheet): Operation[] {
  if (from.columns === to.columns) return [];
  const keep = isSameOrder(from.columns, to.columns, (column) => column.key);
  const stays = (other: Sheet) => (column: Column) => keep && columnIndex(other).has(column.key);
  const removed = runsOf(from.columns, (column) => !stays(to)(column)).reverse();
  const added = runsOf(to.columns, (column) => !stays(from)(column));
  const altered = to.columns.flatMap((is): Operation[] => {
    const at = columnIndex(from).get(is.key);
    const was = at === undefined ? undefined : from.columns[at];
    return keep && was && !isSame(was, is) ? [{ kind: "column", sheet, was, is }] : [];
  });
  return [
    ...removed.map(({ at, items }): Operation => ({ kind: "remove columns", sheet, at, columns: items })),
    ...added.map(({ at, items }): Operation => ({ kind: "add columns", sheet, at, columns: items })),
    ...altered,
  ];
}

function listOperations(list: ListKey, from: readonly ListEntry[], to: readonly ListEntry[]): ListOperation[] {
  if (from === to) return [];
  const keep = isSameOrder(from, to, ({ id }) => id);
  const [inFrom, inTo] = [new Map(from.map((entry) => [entry.id, entry])), new Set(to.map(({ id }) => id))];
  const removed = from.flatMap((was, at): ListOperation[] =>
    keep && inTo.has(was.id) ? [] : [{ kind: "list", list, at, was, is: undefined }],
  );
  const brought = to.flatMap((is, at): ListOperation[] => {
    const was = keep ? inFrom.get(is.id) : undefined;
    return was && isSame(was, is) ? [] : [{ kind: "list", list, at, was, is }];
  });
  return [...removed.reverse(), ...brought];
}

/** Whether what two lists have in common stands in the same order in both. */
function isSameOrder<T>(from: readonly T[], to: readonly T[], idOf: (item: T) => string): boolean {
  const [inFrom, inTo] = [new Set(from.map(idOf)), new Set(to.map(idOf))];
  const left = from.map(idOf).filter((id) => inTo.has(id));
  const right = to.map(idOf).filter((id) => inFrom.has(id));
  return left.every((id, at) => id === right[at]);
}

/** Stretches of neighbours that answer to a question, with the index of the first. */
function runsOf<T>(items: readonly T[], isWanted: (item: T) => boolean): { at: number; items: T[] }[] {
  const runs: { at: number; items: T[] }[] = [];
  items.forEach((item, at) => {
    if (!isWanted(item)) return;
    const last = runs.at(-1);
    if (last && last.at + last.items.length === at) last.items.push(item);
    else runs.push({ at, items: [item] });
  });
  return runs;
}

/** Whether two plain JSON values are the same, whatever the order of their keys. */
export function isSame(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [left, right] = [a as Readonly<Record<string, unknown>>, b as Readonly<Record<string, unknown>>];
  const keys = new Set([...Object.keys(left), ...Object.keys(right)]);
  return [...keys].every((key) => isSame(left[key], right[key]));
}
