// The run log: what was recorded goes in with the same change that records it, and an entry can be taken back later
// without breaking what followed: each cell gets back what it held only where it still holds what the entry wrote.
import { cellKeyOf, describeCell, LABEL_COLUMNS, resolveCell, rowIndex, rowLabel, rowOf } from "../document/access";
import { applyChange, type Change, type Operation, sameRaw, squash } from "../document/change";
import { referencesTo, removeRows } from "../document/edits";
import { isAllowed } from "../document/entry";
import { addEntry, changeEntry, freshEntryId } from "../document/list-edits";
import type { ListEntry, Raw, SheetKey, Workbook } from "../document/workbook";
import { fail, ok, problem, type Result } from "../problem";
import { removeStep } from "../steps/step-edits";
import { type DatedColumn, datedColumns } from "./days";

export type LogEntry = ListEntry<"log">;
type Write = LogEntry["writes"][number];

/** What is to be kept in the log of a recording. */
export interface Recorded {
  readonly act: string;
  readonly label: string;
  readonly pieces: readonly string[];
  readonly operations: readonly Operation[];
  /** When, ISO 8601. */
  readonly at: string;
  readonly note?: string;
}

/** One change that records and writes its line into the run log. */
export function logged(book: Workbook, recorded: Recorded): Change {
  const { operations } = squash([{ label: "", operations: recorded.operations }], "");
  const entry: LogEntry = {
    id: freshEntryId(book, "log"),
    at: recorded.at,
    act: recorded.act,
    label: recorded.label.slice(0, 300),
    ...(recorded.note ? { note: recorded.note.slice(0, 2000) } : {}),
    pieces: recorded.pieces,
    writes: operations.flatMap(writesOf),
  };
  return { label: recorded.label, operations: [...operations, addEntry(book, "log", entry)] };
}

/** The cells an operation fills; a row that is added is written down cell by cell. */
function writesOf(operation: Operation): readonly Write[] {
  if (operation.kind === "cell") {
    const { sheet, row, column, was, is } = operation;
    return [{ sheet, row, column, ...(was === undefined ? {} : { was }), ...(is === undefined ? {} : { is }) }];
  }
  if (operation.kind !== "add rows") return [];
  const { sheet, rows } = operation;
  return rows.flatMap((row) => Object.entries(row.cells).map(([column, is]) => ({ sheet, row: row.id, column, is })));
}

/** What taking an entry back comes to. */
export interface TakenBack {
  readonly change: Change;
  /** Cells that get back what they held. */
  readonly restored: number;
  /** What stays as it is, and why, in words. */
  readonly left: readonly string[];
}

/** Takes an entry of the log back as one change; what was altered since is left and named. */
export function takeBack(book: Workbook, id: string, at: string): Result<TakenBack> {
  const entry = book.lists.log.find((one) => one.id === id);
  if (!entry || entry.takenBack !== undefined) return fail(notThere(entry));
  const made = rowsMade(entry);
  const left: string[] = [];
  const dated = datedColumns(book);
  const isDay = ({ sheet, column }: Write) => sheet === "pieces" && dated.some(({ day }) => day === column);
  const cells = entry.writes
    .filter((write) => !made.has(`${write.sheet} ${write.row}`) && !isDay(write))
    .flatMap((write) => restore(book, entry, write, left));
  const days = cells.flatMap((cell) => dayWith(book, entry, dated, cell));
  const operations = [...cells, ...days];
  const changes: Change[] = [{ label: "", operations }];
  let after = operations.length === 0 ? book : applyChange(book, { label: "", operations });
  let removed = 0;
  for (const [sheet, row] of [...made.values()].reverse()) {
    const change = removeMade(after, entry, sheet, row, left);
    if (!change) continue;
    removed += 1;
    changes.push(change);
    after = applyChange(after, change);
  }
  const restored = cells.length;
  if (restored + removed === 0 && entry.writes.length > 0) return fail(nothingLeft(entry, left));
  const label = `Taken back: ${entry.label}`;
  const marked = changeEntry(book, "log", { ...entry, takenBack: at });
  return ok({ change: squash([...changes, { label, operations: marked }], label), restored, left });
}

/** A day goes with what it is the day of, and comes back with it: it is neither counted nor named. */
function dayWith(book: Workbook, entry: LogEntry, dated: readonly DatedColumn[], cell: Operation): Operation[] {
  if (cell.kind !== "cell" || cell.sheet !== "pieces") return [];
  const column = dated.find(({ entered }) => entered === cell.column)?.day;
  if (column === undefined) return [];
  const was = rowOf(book, "pieces", cell.row)?.cells[column];
  const write = entry.writes.find((one) => one.row === cell.row && one.column === column);
  const is = cell.is === undefined ? undefined : write ? write.was : was;
  return sameRaw(was, is) ? [] : [{ kind: "cell", sheet: "pieces", row: cell.row, column, was, is }];
}

function notThere(entry: LogEntry | undefined) {
  return problem({
    code: "log.taken",
    where: "Run log",
    found: entry ? `taken back already: ${entry.label}` : "no such entry",
    allowed: "an entry that stands",
  });
}

function nothingLeft(entry: LogEntry, left: readonly string[]) {
  return problem({
    code: "log.nothing",
    where: `Run log, ${entry.label}`,
    found: left.slice(0, 3).join("; "),
    allowed: "to be taken back only where something still is as it was recorded",
    fix: "Change those cells on the sheet.",
  });
}

/** Rows that an entry made: those whose name it wrote into nothing. */
function rowsMade(entry: LogEntry): ReadonlyMap<string, readonly [SheetKey, string]> {
  const key = (sheet: SheetKey) => (sheet === "route" ? "key" : LABEL_COLUMNS[sheet]);
  return new Map(
    entry.writes
      .filter((write) => write.was === undefined && write.sheet !== "pieces" && write.column === key(write.sheet))
      .map((write) => [`${write.sheet} ${write.row}`, [write.sheet, write.row]]),
  );
}

function restore(book: Workbook, entry: LogEntry, write: Write, left: string[]): Operation[] {
  const where = describeCell(book, write);
  const found = resolveCell(book, write);
  if (!found) {
    left.push(`${where}: no longer there`);
    return [];
  }
  const { row, column } = found;
  const now = row.cells[write.column];
  if (!sameRaw(now, write.is)) {
    left.push(`${where}: changed since, now ${show(now)}`);
    return [];
  }
  const back = heldBefore(book, entry, write);
  if (back === undefined ? column.required === true : !isAllowed(book, column, back)) {
    left.push(`${where}: what it held, ${show(back)}, is no longer there`);
    return [];
  }
  const { sheet, row: rowId, column: key } = write;
  return sameRaw(now, back) ? [] : [{ kind: "cell", sheet, row: rowId, column: key, was: now, is: back }];
}

const show = (raw: Raw | undefined) => (raw === undefined ? "blank" : typeof raw === "object" ? raw.f : String(raw));

/** What a cell held before an entry, seen past earlier entries that have been taken back meanwhile. */
function heldBefore(book: Workbook, entry: LogEntry, write: Write): Raw | undefined {
  const { log } = book.lists;
  let back = write.was;
  for (const earlier of log.slice(0, log.indexOf(entry)).reverse()) {
    const same = sameCellIn(earlier, write);
    if (!same) continue;
    if (earlier.takenBack === undefined || !sameRaw(same.is, back)) break;
    back = same.was;
  }
  return back;
}

const cellsOfEntry = new WeakMap<LogEntry, ReadonlyMap<string, Write>>();

function sameCellIn(entry: LogEntry, write: Write): Write | undefined {
  let cells = cellsOfEntry.get(entry);
  if (!cells) {
    cells = new Map(entry.writes.map((one) => [cellKeyOf(one), one]));
    cellsOfEntry.set(entry, cells);
  }
  return cells.get(cellKeyOf(write));
}

/** Removes a firing or step that the entry made, unless it was altered or is used by others. */
function removeMade(book: Workbook, entry: LogEntry, sheet: SheetKey, id: string, left: string[]): Change | undefined {
  const row = rowOf(book, sheet, id);
  if (!row) return undefined;
  const what = `${book.sheets[sheet].title} ${rowLabel(sheet, row)}`;
  const wrote = new Map(
    entry.writes.filter((one) => one.sheet === sheet && one.row === id).map((w) => [w.column, w.is]),
  );
  const isAltered =
    Object.keys(row.cells).length !== wrote.size ||
    Object.entries(row.cells).some(([column, raw]) => !sameRaw(raw, wrote.get(column)));
  if (isAltered) {
    left.push(`${what}: kept, it was changed since`);
    return undefined;
  }
  const removal = sheet === "route" ? removeUnusedStep(book, id) : removeRows(book, sheet, [id], "");
  if (removal.ok) return removal.value;
  left.push(`${what}: kept, it is used by others`);
  return undefined;
}

function removeUnusedStep(book: Workbook, id: string): Result<Change> {
  const keys = book.sheets.pieces.columns.filter((column) => column.step === id).map((column) => column.key);
  const isUsed = book.sheets.pieces.rows.some((row) => keys.some((key) => row.cells[key] !== undefined));
  if (isUsed || referencesTo(book, "route:key", id).length > 0 || !rowIndex(book.sheets.route).has(id)) return fail();
  return removeStep(book, id);
}
