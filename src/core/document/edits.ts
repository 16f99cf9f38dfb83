// Edits of the document: each checks what is asked for and gives one change, or the problems that stand in the way.

import { counted } from "../counted";
import { contextOfCell, type FormulaCheck } from "../formula/formula-check";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { type CellName, cellKeyOf, columnOf, describeCell, resolveCell, rowIndex, rowLabel, rowOf } from "./access";
import { type Change, type Operation, sameRaw } from "./change";
import { consignedDaysKept } from "./consigned-day";
import { type NumberMarks, readTyped, type TypedEntry, takesEntry } from "./entry";
import type { Meta, Raw, Row, SheetKey, Workbook } from "./workbook";

/** One typed entry for one cell. */
export interface CellEntry {
  readonly cell: CellName;
  readonly typed: string;
}

/** What came of several entries: the change for those that could be read, and a problem for each other one. */
export interface EntryOutcome {
  readonly change: Change;
  readonly refused: readonly Problem[];
  /** What amounts typed in other units came to, and what is doubtful in typed formulas. */
  readonly messages: readonly string[];
}

interface EntryOptions {
  readonly label: string;
  readonly marks: NumberMarks;
  /** Whether computed cells may be given a value by hand. */
  readonly override: boolean;
  /** Looks at the units of typed formulas; without it they are not looked at. */
  readonly check?: FormulaCheck | undefined;
}

/** Writes typed entries. Good ones are kept, bad ones refused one by one: nothing is lost and nothing is guessed. */
export function writeEntries(book: Workbook, entries: readonly CellEntry[], options: EntryOptions): EntryOutcome {
  const operations: Operation[] = [];
  const refused: Problem[] = [];
  const messages: string[] = [];
  const given = new Map<string, string>();
  for (const { cell, typed } of entries) {
    const read = readForCell(book, cell, typed, options);
    const twice = read.ok ? givenTwice(book, cell, read.value.value, given) : [];
    if (!read.ok) refused.push(...read.problems);
    else if (twice.length > 0) refused.push(...twice);
    else {
      operations.push(...cellOperations(book, cell, read.value.value));
      if (read.value.message !== undefined) messages.push(read.value.message);
    }
  }
  operations.push(...consignedDaysKept(book, operations));
  return { change: { label: options.label, operations }, refused, messages };
}

/** Two rows given the same name at once, where a name may stand only once; `given` remembers who has which. */
function givenTwice(book: Workbook, cell: CellName, is: Raw | undefined, given: Map<string, string>): Problem[] {
  if (is === undefined || !columnOf(book, cell.sheet, cell.column)?.unique) return [];
  const name = `${cell.sheet} ${cell.column} ${String(is).toLowerCase()}`;
  const holder = given.get(name) ?? cell.row;
  given.set(name, holder);
  if (holder === cell.row) return [];
  const where = describeCell(book, cell);
  return [problem({ code: "entry.unique", where, found: is, allowed: "a name that no other row has" })];
}

function readForCell(book: Workbook, cell: CellName, typed: string, options: EntryOptions): Result<TypedEntry> {
  const found = resolveCell(book, cell);
  if (!found) throw new Error(`no such cell: ${cellKeyOf(cell)}`);
  const { column, row, spec } = found;
  if (column.hidden) return fail(computedProblem(book, cell, typed));
  if (spec.kind === "computed" && !options.override) return fail(computedProblem(book, cell, typed));
  if (
    spec.kind === "input" &&
    !takesEntry(cell.sheet, row, column) &&
    typed.trim() !== String(row.cells[cell.column] ?? "")
  )
    return fail(
      problem({
        code: "entry.none",
        where: describeCell(book, cell),
        found: typed,
        allowed:
          cell.column === "kind" ? `the kind it was made with, ${row.cells.kind}` : "nothing: it does not apply here",
        ...(cell.column === "kind" ? { fix: "Add a step of the other kind and remove this one." } : {}),
      }),
    );
  const read = readTyped(book, cell, typed, options.marks);
  const { check } = options;
  return read.ok && check ? checked(book, cell, read.value, check) : read;
}

/** A typed formula whose units fit its cell, or why they don't. */
function checked(book: Workbook, cell: CellName, entry: TypedEntry, check: FormulaCheck): Result<TypedEntry> {
  const { value } = entry;
  if (typeof value !== "object") return ok(entry);
  const { problems, doubts } = check(book, contextOfCell(book, cell), value.f);
  if (problems.length > 0) return fail(...problems);
  const message = doubts.map(({ message }) => message).join(" ");
  return ok(message === "" ? entry : { value, message });
}

function computedProblem(book: Workbook, cell: CellName, typed: string): Problem {
  return problem({
    code: "entry.computed",
    where: describeCell(book, cell),
    found: typed,
    allowed: "no entry, because it is computed",
    fix: "Give it another value on purpose in the card beside the sheet.",
  });
}

/** Operations that make a cell hold `is`, with the references that follow when a name is changed. */
function cellOperations(book: Workbook, cell: CellName, is: Raw | undefined): Operation[] {
  const was = rowOf(book, cell.sheet, cell.row)?.cells[cell.column];
  if (sameRaw(was, is)) return [];
  const own: Operation = { kind: "cell", ...cell, was, is };
  return [own, ...renames(book, `${cell.sheet}:${cell.column}`, was, is)];
}

function renames(book: Workbook, source: string, was: Raw | undefined, is: Raw | undefined): Operation[] {
  if (was === undefined || is === undefined) return [];
  return referencesTo(book, source, was).map((cell) => ({ kind: "cell", ...cell, was, is }));
}

/** Every cell that names `value` of a source column, such as the pieces in firing G5. */
export function referencesTo(book: Workbook, source: string, value: Raw): readonly CellName[] {
  return references(book, source).get(value) ?? [];
}

/** The cells that name a value of a source column, by that value. */
function references(book: Workbook, source: string): ReadonlyMap<Raw, readonly CellName[]> {
  const found = new Map<Raw, CellName[]>();
  for (const sheet of Object.keys(book.sheets) as SheetKey[])
    for (const { key, from } of book.sheets[sheet].columns) {
      if (from !== source) continue;
      for (const { id, cells } of book.sheets[sheet].rows) {
        const value = cells[key];
        if (value === undefined) continue;
        const cell = { sheet, row: id, column: key };
        const known = found.get(value);
        if (known) known.push(cell);
        else found.set(value, [cell]);
      }
    }
  return found;
}

/** Gives overridden cells back to their formulas, or clears inputs. Cells that must hold something are refused. */
export function clearCells(book: Workbook, cells: readonly CellName[], label: string): EntryOutcome {
  const operations: Operation[] = [];
  const refused: Problem[] = [];
  for (const cell of cells) {
    const found = resolveCell(book, cell);
    if (!found || found.row.cells[cell.column] === undefined) continue;
    const { row, spec } = found;
    if (spec.required && spec.formula === undefined)
      refused.push(
        problem({
          code: "entry.required",
          where: describeCell(book, cell),
          found: "",
          allowed: "something: it can't be blank",
        }),
      );
    else operations.push({ kind: "cell", ...cell, was: row.cells[cell.column], is: undefined });
  }
  return { change: { label, operations }, refused, messages: [] };
}

/** A row id that no row of the sheet has yet: a letter and the next free number. */
export function freshRowId(rows: readonly { readonly id: string }[], prefix: string): string {
  const pattern = new RegExp(`^${prefix}(\\d+)$`);
  const used = rows.map((row) => Number(pattern.exec(row.id)?.[1] ?? 0));
  return `${prefix}${used.reduce((a, b) => Math.max(a, b), 0) + 1}`;
}

/** Adds rows at the end of a sheet, or after a row. */
export function addRows(book: Workbook, sheet: SheetKey, rows: readonly Row[], label: string, after?: string): Change {
  const at = after === undefined ? undefined : rowIndex(book.sheets[sheet]).get(after);
  return {
    label,
    operations: [{ kind: "add rows", sheet, at: at === undefined ? book.sheets[sheet].rows.length : at + 1, rows }],
  };
}

/** Removes rows. A row that others name (a firing with pieces in it) is refused. */
export function removeRows(book: Workbook, sheet: SheetKey, ids: readonly string[], label: string): Result<Change> {
  const asked = [...new Set(ids)];
  const key = sheet === "route" ? "key" : "id";
  const named = references(book, `${sheet}:${key}`);
  const problems = asked.flatMap((id) => stillNamed(book, { sheet, row: id, column: key }, named));
  if (problems.length > 0) return fail(...problems);
  const index = rowIndex(book.sheets[sheet]);
  const sorted = asked.flatMap((id) => index.get(id) ?? []).sort((a, b) => a - b);
  const operations: Operation[] = [];
  // From the end, so that no place moves that is still to come; neighbours go together.
  for (let last = sorted.length - 1; last >= 0; ) {
    let first = last;
    while (first > 0 && sorted[first - 1] === (sorted[first] ?? 0) - 1) first -= 1;
    const at = sorted[first] ?? 0;
    const rows = book.sheets[sheet].rows.slice(at, at + last - first + 1);
    operations.push({ kind: "remove rows", sheet, at, rows });
    last = first - 1;
  }
  return ok({ label, operations });
}

/** The problem of a row whose name stands in other cells. */
function stillNamed(
  book: Workbook,
  { sheet, row: id, column }: CellName,
  named: ReadonlyMap<Raw, readonly CellName[]>,
): Problem[] {
  const row = rowOf(book, sheet, id);
  const value = row?.cells[column];
  if (!row || value === undefined) return [];
  const users = named.get(value) ?? [];
  const first = users[0];
  if (!first) return [];
  return [
    problem({
      code: "row.used",
      where: `${book.sheets[sheet].title} ${rowLabel(sheet, row)}`,
      found: `${counted(users.length, "cell that names", "cells that name")} it, first ${describeCell(book, first)}`,
      allowed: "to be removed only when nothing names it",
      fix: "Change those cells first.",
    }),
  ];
}

/** Gives a column another width on the screen, in px. */
export function widthChange(
  book: Workbook,
  { sheet, column, px }: { readonly sheet: SheetKey; readonly column: string; readonly px: number },
): Change {
  const was = columnOf(book, sheet, column);
  const operations: Operation[] = was ? [{ kind: "column", sheet, was, is: { ...was, width: px } }] : [];
  return { label: `Width of ${was?.title ?? column}`, operations };
}

/** Changes the edition's title, currency and the like. */
export function editMeta(book: Workbook, is: Partial<Meta>, label: string): Change {
  return { label, operations: [{ kind: "meta", was: book.meta, is: { ...book.meta, ...is } }] };
}
