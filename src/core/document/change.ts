// A change says what was and what is, so that it can be undone, merged, sent to the engine and stored.
import { cellKeyOf, columnIndex, rowIndex, shareRowIndex } from "./access";
import type { Column, ListEntry, ListKey, Lists, Meta, Raw, Row, Sheet, SheetKey, Workbook } from "./workbook";

export type Operation =
  | {
      readonly kind: "cell";
      readonly sheet: SheetKey;
      readonly row: string;
      readonly column: string;
      readonly was: Raw | undefined;
      readonly is: Raw | undefined;
    }
  | { readonly kind: "add rows"; readonly sheet: SheetKey; readonly at: number; readonly rows: readonly Row[] }
  | { readonly kind: "remove rows"; readonly sheet: SheetKey; readonly at: number; readonly rows: readonly Row[] }
  | { readonly kind: "add columns"; readonly sheet: SheetKey; readonly at: number; readonly columns: readonly Column[] }
  | {
      readonly kind: "remove columns";
      readonly sheet: SheetKey;
      readonly at: number;
      readonly columns: readonly Column[];
    }
  | { readonly kind: "column"; readonly sheet: SheetKey; readonly was: Column; readonly is: Column }
  | { readonly kind: "meta"; readonly was: Meta; readonly is: Meta }
  | ListOperation;

/** Puts an entry into a list at an index (no `was`), takes it out (no `is`), or puts another in its stead. */
export interface ListOperation {
  readonly kind: "list";
  readonly list: ListKey;
  readonly at: number;
  readonly was: ListEntry | undefined;
  readonly is: ListEntry | undefined;
}

/** What alters a sheet as a whole: its rows or its columns. */
export type SheetOperation = Exclude<Operation, { kind: "cell" | "meta" | "list" }>;

type RowOperation = Extract<Operation, { kind: "add rows" | "remove rows" }>;

export interface Change {
  /** What was done, for the undo button and the log: “Lost here: 019, 020”. */
  readonly label: string;
  readonly operations: readonly Operation[];
  /** When it was done, ISO 8601. */
  readonly at?: string;
}

type Draft = { -readonly [K in SheetKey]: Sheet };

/** The workbook after a change. The old one is untouched; what did not change is shared. */
export function applyChange(book: Workbook, change: Change): Workbook {
  const sheets: Draft = { ...book.sheets };
  let meta = book.meta;
  let lists = book.lists;
  /** Rows whose cells are being written: the index of the sheet as it was finds them. */
  const cells = new Map<SheetKey, Row[]>();
  /** Rows that come and go, in place: a thousand that go one by one are not copied a thousand times. */
  const moved = new Map<SheetKey, Row[]>();
  const settle = (key: SheetKey) => {
    const rows = cells.get(key) ?? moved.get(key);
    if (rows) sheets[key] = { ...sheets[key], rows };
    cells.delete(key);
    moved.delete(key);
  };
  for (const operation of change.operations) {
    if (operation.kind === "meta") meta = operation.is;
    else if (operation.kind === "list") lists = relist(lists, operation);
    else if (operation.kind === "cell") {
      if (moved.has(operation.sheet)) settle(operation.sheet);
      writeCell(sheets, cells, operation);
    } else if (operation.kind === "add rows" || operation.kind === "remove rows") {
      if (cells.has(operation.sheet)) settle(operation.sheet);
      moveRows(sheets, moved, operation);
    } else {
      settle(operation.sheet);
      sheets[operation.sheet] = recolumn(sheets[operation.sheet], operation);
    }
  }
  for (const key of [...cells.keys(), ...moved.keys()]) settle(key);
  return { ...book, meta, sheets, lists };
}

function writeCell(sheets: Draft, cells: Map<SheetKey, Row[]>, operation: Extract<Operation, { kind: "cell" }>): void {
  const sheet = sheets[operation.sheet];
  const at = rowIndex(sheet).get(operation.row);
  let rows = cells.get(operation.sheet);
  if (!rows) {
    rows = [...sheet.rows];
    shareRowIndex(sheet.rows, rows);
    cells.set(operation.sheet, rows);
  }
  const row = at === undefined ? undefined : rows[at];
  if (at === undefined || !row) throw new Error(`change names a row that is not there: ${operation.row}`);
  const next = { ...row.cells };
  if (operation.is === undefined) delete next[operation.column];
  else next[operation.column] = operation.is;
  rows[at] = { ...row, cells: next };
}

function moveRows(sheets: Draft, moved: Map<SheetKey, Row[]>, { kind, sheet, at, rows }: RowOperation): void {
  const draft = moved.get(sheet) ?? [...sheets[sheet].rows];
  moved.set(sheet, draft);
  if (kind === "add rows") draft.splice(at, 0, ...rows);
  else draft.splice(at, rows.length);
}

function relist(lists: Lists, { list, at, was, is }: ListOperation): Lists {
  const entries: readonly ListEntry[] = lists[list];
  if (was !== undefined && entries[at]?.id !== was.id)
    throw new Error(`change names an entry that is not there: ${list} ${was.id}`);
  return { ...lists, [list]: entries.toSpliced(at, was === undefined ? 0 : 1, ...(is === undefined ? [] : [is])) };
}

function recolumn(sheet: Sheet, operation: Exclude<SheetOperation, RowOperation>): Sheet {
  switch (operation.kind) {
    case "add columns":
      return { ...sheet, columns: sheet.columns.toSpliced(operation.at, 0, ...operation.columns) };
    case "remove columns":
      return { ...sheet, columns: sheet.columns.toSpliced(operation.at, operation.columns.length) };
    case "column": {
      const at = columnIndex(sheet).get(operation.was.key);
      if (at === undefined) throw new Error(`change names a column that is not there: ${operation.was.key}`);
      return { ...sheet, columns: sheet.columns.with(at, operation.is) };
    }
  }
}

/** The change that takes a change back. */
export function invert(change: Change): Change {
  return { label: change.label, operations: change.operations.map(invertOperation).reverse() };
}

function invertOperation(operation: Operation): Operation {
  switch (operation.kind) {
    case "cell":
      return { ...operation, was: operation.is, is: operation.was };
    case "add rows":
      return { ...operation, kind: "remove rows" };
    case "remove rows":
      return { ...operation, kind: "add rows" };
    case "add columns":
      return { ...operation, kind: "remove columns" };
    case "remove columns":
      return { ...operation, kind: "add columns" };
    case "column":
      return { ...operation, was: operation.is, is: operation.was };
    case "meta":
      return { ...operation, was: operation.is, is: operation.was };
    case "list":
      return { ...operation, was: operation.is, is: operation.was };
  }
}

/** One change that does what several did in turn; writes to one cell with nothing structural between them become one. */
export function squash(changes: readonly Change[], label: string): Change {
  const operations: Operation[] = [];
  let open = new Map<string, number>();
  for (const operation of changes.flatMap((change) => change.operations)) {
    if (operation.kind !== "cell") {
      open = new Map();
      operations.push(operation);
      continue;
    }
    const name = cellKeyOf(operation);
    const at = open.get(name);
    const earlier = at === undefined ? undefined : operations[at];
    if (at !== undefined && earlier?.kind === "cell") operations[at] = { ...operation, was: earlier.was };
    else {
      open.set(name, operations.length);
      operations.push(operation);
    }
  }
  return {
    label,
    operations: operations.filter((operation) => operation.kind !== "cell" || !sameRaw(operation.was, operation.is)),
  };
}

/** Whether two cell contents are the same. */
export function sameRaw(a: Raw | undefined, b: Raw | undefined): boolean {
  if (typeof a === "object" && typeof b === "object") return a.f === b.f;
  return a === b;
}

/** Whether a change does nothing. */
export function isEmptyChange(change: Change): boolean {
  return change.operations.length === 0;
}
