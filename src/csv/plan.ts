// What an import would do: one change to apply (one undo step), everything it leaves out with the line and the reason,
// and the questions it will not answer by itself. Nothing is changed here.
import { LABEL_COLUMNS, rowOf } from "../core/document/access";
import { applyChange, type Change, type Operation, sameRaw } from "../core/document/change";
import { consignedDaysKept } from "../core/document/consigned-day";
import { addRows } from "../core/document/edits";
import type { Column, Raw, Row, SheetKey, Workbook } from "../core/document/workbook";
import { type DateOrder, type DateReading, readDateOrder } from "./date-text";
import { type FoundLine, findLines } from "./find-lines";
import { type HeaderMatch, matchHeaders } from "./headers";
import type { FileCell, IgnoredColumn, ImportOptions, ImportQuestion, Rejected } from "./import-options";
import { type DecimalMark, type DecimalReading, readDecimalMark } from "./number-text";
import { makeOwnColumns } from "./own-columns";
import { questionsOf } from "./questions";
import { isTooLong, type SheetTable } from "./read";
import { type CellParser, columnReader, type ImportedColumn } from "./read-cell";

/** Lines of the file by what becomes of them; each line is counted once, so that they sum to `read`. */
export interface LineCounts {
  readonly read: number;
  readonly added: number;
  readonly changed: number;
  readonly unchanged: number;
  /** Left alone because only rows that are new were asked for. */
  readonly skipped: number;
  /** Lines of which nothing is imported, with the reason given. */
  readonly refused: number;
}

/** Hears how many lines have been checked. */
export type OnLines = (done: number, of: number) => void;

export interface ImportPlan {
  /** Everything that would change, as one undo step; empty where nothing would. */
  readonly change: Change;
  /** Names of the rows that would be added, changed, or stay as they are, in the order of the file. */
  readonly added: readonly string[];
  readonly changed: readonly string[];
  readonly unchanged: readonly string[];
  readonly skipped: readonly string[];
  readonly counts: LineCounts;
  readonly rejected: readonly Rejected[];
  readonly questions: readonly ImportQuestion[];
  /** Columns of the file that are not imported. */
  readonly ignored: readonly IgnoredColumn[];
  /** The decimal mark the numbers were read with; undefined where no number has one, or it has to be asked. */
  readonly decimal: DecimalMark | undefined;
  /** What comes first in dates that do not begin with the year; undefined where there are none, or it has to be asked. */
  readonly dates: DateOrder | undefined;
  /** What each column of the file is for. */
  readonly matches: readonly HeaderMatch[];
}

const NO_LINES = { found: [], rejected: [] };
const LINES_BETWEEN_NEWS = 1000;

/** Plans the import of a table into a sheet. Lines are matched by the name of their row, such as the piece number. */
export function planImport(
  book: Workbook,
  sheet: SheetKey,
  table: SheetTable,
  options: ImportOptions = {},
  onLines: OnLines = () => undefined,
): ImportPlan {
  const own = makeOwnColumns(book, sheet, table.header, options.columns);
  const matches = matchHeaders(own.book, sheet, table.header, own.columns, table.repeated);
  const label = matches.find((match) => match.kind === "label");
  const columns = matches.flatMap((match): ImportedColumn[] => (match.kind === "input" ? [match] : []));
  const decimal = decimalOf(table, columns, options);
  const dates = datesOf(table, columns, options);
  const lines = label ? findLines(book, sheet, table, label, options) : NO_LINES;
  const provisional = withNewRows(own.book, sheet, lines.found);
  const reading = { book: provisional, sheet, decimal, dates, options };
  const readers = columns.map((imported) => ({ imported, read: columnReader(reading, imported) }));
  const outcomes = lines.found.map((line, at) => {
    if (at % LINES_BETWEEN_NEWS === 0) onLines(at, lines.found.length);
    return readLine(provisional, sheet, line, readers, options);
  });
  const kept = outcomes.filter((outcome) => outcome.isKept);
  const rejected = [...lines.rejected, ...outcomes.flatMap((outcome) => outcome.rejected)];
  const namesOf = (what: LineOutcome["what"]) =>
    kept.filter((outcome) => outcome.what === what).map((outcome) => outcome.line.name);
  const names = {
    added: namesOf("added"),
    changed: namesOf("changed"),
    unchanged: namesOf("unchanged"),
    skipped: namesOf("skipped"),
  };
  return {
    change: changeOf(book, sheet, own.operations, kept, options),
    ...names,
    counts: countsOf(table.rows.length, names),
    rejected: rejected.sort((a, b) => a.line - b.line),
    questions: questionsOf({ book, sheet, table, matches, decimal, dates, rejected, options }),
    ignored: matches.flatMap(ignoredColumn),
    decimal: decimal.decimal,
    dates: dates.order,
    matches,
  };
}

function countsOf(
  read: number,
  names: Readonly<Record<"added" | "changed" | "unchanged" | "skipped", readonly string[]>>,
): LineCounts {
  const [added, changed] = [names.added.length, names.changed.length];
  const [unchanged, skipped] = [names.unchanged.length, names.skipped.length];
  return { read, added, changed, unchanged, skipped, refused: read - added - changed - unchanged - skipped };
}

/** The decimal mark as chosen, or as the numbers of the imported columns show it. Text beside them has no say. */
function decimalOf(table: SheetTable, columns: readonly ImportedColumn[], options: ImportOptions): DecimalReading {
  if (options.decimal !== undefined) return { decimal: options.decimal, why: "shown", examples: [] };
  const numeric = columns.filter(({ column }) => column.type === "number");
  return readDecimalMark(cellsOf(table, numeric));
}

/** The order of day and month as chosen, or as the dates of the imported columns show it. */
function datesOf(table: SheetTable, columns: readonly ImportedColumn[], options: ImportOptions): DateReading {
  if (options.dates !== undefined) return { order: options.dates, why: "shown", examples: [] };
  const dated = columns.filter(({ column }) => column.type === "date");
  return readDateOrder(cellsOf(table, dated));
}

function* cellsOf(table: SheetTable, columns: readonly ImportedColumn[]): Generator<FileCell> {
  for (const row of table.rows) {
    if (row.brokenBy !== undefined || isTooLong(row, table.header.length)) continue;
    for (const { at, header } of columns) yield { line: row.line, column: header, found: row.cells[at] ?? "" };
  }
}

/** The workbook with the new rows in it, holding their names only, so that their cells can be read like any other. */
function withNewRows(book: Workbook, sheet: SheetKey, found: readonly FoundLine[]): Workbook {
  const rows = found.filter((line) => line.isNew).map((line) => newRow(sheet, line, {}));
  return rows.length === 0 ? book : applyChange(book, addRows(book, sheet, rows, ""));
}

function newRow(sheet: SheetKey, line: FoundLine, cells: Readonly<Record<string, Raw>>): Row {
  return { id: line.id, cells: { [LABEL_COLUMNS[sheet]]: line.name, ...cells } };
}

interface CellWrite {
  readonly column: string;
  readonly was: Raw | undefined;
  readonly is: Raw | undefined;
}

interface LineOutcome {
  readonly line: FoundLine;
  readonly what: "added" | "changed" | "unchanged" | "skipped";
  readonly writes: readonly CellWrite[];
  readonly rejected: readonly Rejected[];
  /** Whether anything of the line counts: not of a new row that lacks something, nor of a line with nothing but refusals. */
  readonly isKept: boolean;
}

interface ColumnReader {
  readonly imported: ImportedColumn;
  readonly read: CellParser;
}

function readLine(
  book: Workbook,
  sheet: SheetKey,
  line: FoundLine,
  readers: readonly ColumnReader[],
  options: ImportOptions,
): LineOutcome {
  const row = rowOf(book, sheet, line.id);
  if (!row) throw new Error(`the planned row ${line.id} is not there`);
  if (!line.isNew && options.existing === "skip")
    return { line, what: "skipped", writes: [], rejected: [], isKept: true };
  const writes: CellWrite[] = [];
  const rejected: Rejected[] = [];
  for (const { imported, read } of readers) {
    const found = line.row.cells[imported.at];
    const outcome = readField(sheet, row, imported.column, found, read, options);
    if (outcome === undefined) continue;
    if ("code" in outcome)
      rejected.push({ line: line.row.line, column: imported.header, found: found ?? "", ...outcome });
    else writes.push(outcome);
  }
  if (!line.isNew) {
    const isKept = writes.length > 0 || rejected.length === 0;
    return { line, what: writes.length > 0 ? "changed" : "unchanged", writes, rejected, isKept };
  }
  const lacking = lackingColumns(book, sheet, writes);
  for (const column of lacking)
    rejected.push({
      line: line.row.line,
      column: column.title,
      found: "",
      code: "csv.lacking",
      reason: "A new row needs it, so the line is left out.",
    });
  return { line, what: "added", writes, rejected, isKept: lacking.length === 0 };
}

/** What a field of the file does to its cell: a write, a refusal, or nothing. */
function readField(
  sheet: SheetKey,
  row: Row,
  column: Column,
  found: string | undefined,
  read: CellParser,
  options: ImportOptions,
): CellWrite | { readonly code: string; readonly reason: string } | undefined {
  // A computed line among inputs, as on the Edition sheet.
  if (column.key === "value" && row.line?.kind === "computed") return undefined;
  const was = row.cells[column.key];
  const isBlank = found === undefined || found.trim() === "";
  if (isBlank && (found === undefined || !options.blankClears || was === undefined)) return undefined;
  const result = read(row, found);
  if (!result.ok) {
    const [first] = result.problems;
    return { code: first?.code ?? "entry", reason: reasonOf(first?.allowed ?? "", first?.fix ?? "") };
  }
  const isAdded = options.losses === "add" && typeof was === "number" && typeof result.value === "number";
  const is = isAdded ? was + Number(result.value) : result.value;
  if (sameRaw(was, is)) return undefined;
  if (sheet === "route" && column.key === "kind")
    return { code: "route.kind", reason: `The kind of a step can't be changed; it is ${String(was)}.` };
  if (typeof was === "object" && typeof is !== "object" && is !== undefined && !options.replaceFormulas)
    return { code: "csv.formula", reason: `The cell holds a formula typed by hand, ${was.f}, and keeps it.` };
  return { column: column.key, was, is };
}

function reasonOf(allowed: string, fix: string): string {
  return [`It takes ${allowed}.`, fix].filter((part) => part !== "").join(" ");
}

function lackingColumns(book: Workbook, sheet: SheetKey, writes: readonly CellWrite[]): readonly Column[] {
  const written = new Set(writes.map((write) => write.column));
  return book.sheets[sheet].columns.filter(
    (column) =>
      column.required &&
      column.kind === "input" &&
      column.formula === undefined &&
      column.key !== LABEL_COLUMNS[sheet] &&
      !written.has(column.key),
  );
}

function changeOf(
  book: Workbook,
  sheet: SheetKey,
  ownColumns: readonly Operation[],
  kept: readonly LineOutcome[],
  options: ImportOptions,
): Change {
  const label = options.label ?? `Import into ${book.sheets[sheet].title}`;
  const rows = kept
    .filter((outcome) => outcome.line.isNew)
    .map(({ line, writes }) =>
      newRow(
        sheet,
        line,
        Object.fromEntries(writes.flatMap(({ column, is }) => (is === undefined ? [] : [[column, is]]))),
      ),
    );
  const cells = kept
    .filter((outcome) => !outcome.line.isNew)
    .flatMap(({ line, writes }) => writes.map((write): Operation => ({ kind: "cell", sheet, row: line.id, ...write })));
  const added = rows.length === 0 ? [] : addRows(book, sheet, rows, label).operations;
  const operations = [...cells, ...consignedDaysKept(book, cells), ...added];
  // A column that no line has anything for is not worth having.
  return { label, operations: operations.length === 0 ? [] : [...ownColumns, ...operations] };
}

const IGNORED_REASONS: Readonly<Record<IgnoredColumn["why"], string>> = {
  computed: "It is calculated, so nothing is taken from the file.",
  "left out": "It was left out on purpose.",
  twice: "Another column of the file goes there already.",
  unit: "Its unit is not the sheet's.",
  unknown: "The sheet has no such column.",
};

function ignoredColumn(match: HeaderMatch): IgnoredColumn[] {
  // Without a name and without values: a mark at the ends of the lines.
  if (match.kind === "label" || match.kind === "input" || match.header === "") return [];
  return [{ header: match.header, why: match.kind, reason: IGNORED_REASONS[match.kind] }];
}
