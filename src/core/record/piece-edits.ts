// What is done to many pieces at once: into a firing, lost here, passed, more pieces.
import { counted } from "../counted";
import { columnOf, rowLabel, rowOf } from "../document/access";
import { type Change, type Operation, sameRaw } from "../document/change";
import { addRows, freshRowId, removeRows } from "../document/edits";
import { SHEET_MOST } from "../document/limits";
import type { Raw, Row, Workbook } from "../document/workbook";
import { fail, ok, problem, type Result } from "../problem";
import { isFiringStep } from "../sheets/step-kinds";
import { namePieces } from "./choose-pieces";
import { pieceLabels } from "./piece-labels";

/** Writes one value into a column for many pieces, leaving those that have it. */
function setForPieces(book: Workbook, ids: readonly string[], column: string, is: Raw | undefined): Operation[] {
  if (!columnOf(book, "pieces", column)) throw new Error(`no such column: ${column}`);
  return ids.flatMap((row): Operation[] => {
    const was = rowOf(book, "pieces", row)?.cells[column];
    return sameRaw(was, is) ? [] : [{ kind: "cell", sheet: "pieces", row, column, was, is }];
  });
}

/** Marks pieces as lost at a step, or as not lost after all. */
export function loseAt(book: Workbook, ids: readonly string[], step: string | undefined, reason: string): Change {
  const row = step === undefined ? undefined : rowOf(book, "route", step);
  const label = row
    ? `Lost at ${rowLabel("route", row)}: ${namePieces(book, ids)}`
    : `Not lost: ${namePieces(book, ids)}`;
  const why = step === undefined || reason.trim() === "" ? undefined : reason.trim();
  const operations = [...setForPieces(book, ids, "lost_at", step), ...setForPieces(book, ids, "reason", why)];
  return {
    label,
    operations: step === undefined ? operations : [...operations, ...setForPieces(book, ids, "grade", undefined)],
  };
}

/** More pieces after the last one, numbered on from it. */
export function addPieces(book: Workbook, count: number): Result<Change> {
  const rows = book.sheets.pieces.rows;
  if (!Number.isInteger(count) || count < 1 || rows.length + count > SHEET_MOST.rows)
    return fail(
      problem({
        code: "pieces.count",
        where: "Add pieces",
        found: count,
        allowed: `a whole number from 1 to ${SHEET_MOST.rows - rows.length}`,
      }),
    );
  const last = rows.at(-1);
  const taken = new Set(rows.map((row) => rowLabel("pieces", row).toLowerCase()));
  const labels = pieceLabels(last ? rowLabel("pieces", last) : "001", count + rows.length)
    .filter((label) => !taken.has(label.toLowerCase()))
    .slice(0, count);
  const firstId = Number(freshRowId(rows, "p").slice(1));
  const added = labels.map((piece, at): Row => ({ id: `p${firstId + at}`, cells: { piece, tier: "standard" } }));
  return ok(addRows(book, "pieces", added, `Add ${counted(count, "piece")}`));
}

/** Whether nothing has happened to a piece yet: no step, no loss, no grade, nothing promised. */
function isUntouched(book: Workbook, piece: Row): boolean {
  const marks = ["lost_at", "grade", "to_have", "own_price", "became"];
  return Object.keys(piece.cells).every(
    (key) => !marks.includes(key) && columnOf(book, "pieces", key)?.step === undefined,
  );
}

/** Pieces that nothing has happened to are removed; what the others have cost must stay, so they are left and named. */
export function removeUntouched(
  book: Workbook,
  ids: readonly string[],
): { readonly change: Change; readonly left: readonly string[] } {
  const rows = ids.flatMap((id) => rowOf(book, "pieces", id) ?? []);
  const going = rows.filter((row) => isUntouched(book, row)).map(({ id }) => id);
  const label = `Remove ${counted(going.length, "piece")}: ${namePieces(book, going)}`;
  const left = rows.map(({ id }) => id).filter((id) => !going.includes(id));
  const removed = going.length === 0 ? undefined : removeRows(book, "pieces", going, label);
  return { change: removed?.ok ? removed.value : { label, operations: [] }, left };
}

/** The next free firing name, such as G6 after G5; `skip` leaves out so many, for several at once. */
export const nextFiringName = (book: Workbook, skip = 0): string => nextName(book, "firings", "F", skip);

/** The next free name of a sheet whose rows are numbered: its last one, counted on. */
export function nextName(book: Workbook, sheet: "firings" | "purchases", letter: string, skip = 0): string {
  const names = book.sheets[sheet].rows.map((row) => rowLabel(sheet, row));
  const match = /^(.*?)(\d+)$/.exec(names.at(-1) ?? `${letter}0`);
  const prefix = match?.[1] ?? letter;
  const taken = new Set(names.map((name) => name.toLowerCase()));
  let number = Number(match?.[2] ?? 0) + 1 + skip;
  while (taken.has(`${prefix}${number}`.toLowerCase())) number += 1;
  return `${prefix}${number}`;
}

function isFirstFiring(book: Workbook, step: string): boolean {
  return book.sheets.route.rows.find(isFiringStep)?.id === step;
}

/** A firing as asked for. */
export interface NewFiring {
  readonly name: string;
  readonly kiln: string;
  readonly date?: string;
}

/** A row on the Firings sheet for a firing of a step. */
export function newFiringRow(book: Workbook, step: string, firing: NewFiring): Row {
  const cells: Record<string, Raw> = { id: firing.name, kiln: firing.kiln, basis: "count" };
  if (firing.date) cells.date = firing.date;
  const programme = rowOf(book, "route", step)?.cells.programme;
  if (typeof programme === "string") cells.programme = programme;
  if (isFirstFiring(book, step)) cells.ware = "raw";
  return { id: freshRowId(book.sheets.firings.rows, "f"), cells };
}
