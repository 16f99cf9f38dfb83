// What the cards of rows do besides their fields: a copy of a row, and a common kiln to start from.
import { rowLabel, rowOf } from "../../core/document/access";
import type { Operation } from "../../core/document/change";
import { addRows, freshRowId } from "../../core/document/edits";
import { withExamples } from "../../core/document/examples";
import { COMMON_KILNS, type CommonKiln, commonKilnNote } from "../../core/sheets/common-kilns";
import type { Session } from "../edition/session";
import type { CardSheet } from "../edition/sheet-ways";
import { cellsOfCopy } from "./row-cards";

/** Adds a copy of a row under a name of its own, after it; returns its id. */
export function copyRow(session: Session, sheet: CardSheet, id: string): string | undefined {
  const book = session.book.value;
  const row = rowOf(book, sheet, id);
  if (!row) return undefined;
  const copy = { id: freshRowId(book.sheets[sheet].rows, row.id.charAt(0)), cells: cellsOfCopy(book, sheet, row) };
  const change = addRows(book, sheet, [copy], `Copy ${rowLabel(sheet, row)}`, id);
  return session.commit(change) ? copy.id : undefined;
}

/** A note that a common kiln wrote, and no maker. */
const isOurNote = (note: unknown) => COMMON_KILNS.some((kiln) => commonKilnNote(kiln) === note);

/**
 * Writes a common kiln over a kiln in one step, all its amounts marked as not the maker's yet. The name, the wear, the room
 * and a note of the maker's own stay.
 */
export function startFromCommonKiln(session: Session, id: string, kiln: CommonKiln): boolean {
  const book = session.book.value;
  const row = rowOf(book, "kilns", id);
  if (!row) return false;
  const { note } = row.cells;
  const isNoted = note === undefined || isOurNote(note);
  const cells = { depth: undefined, ...kiln.cells, ...(isNoted ? { note: commonKilnNote(kiln) } : {}) };
  const operations = Object.entries(cells).flatMap(([column, is]): Operation[] => {
    const was = row.cells[column];
    return was === is ? [] : [{ kind: "cell", sheet: "kilns", row: id, column, was, is }];
  });
  const label = `${rowLabel("kilns", row)}: ${kiln.title.charAt(0).toLowerCase()}${kiln.title.slice(1)}`;
  const filled = {
    ...book,
    sheets: { ...book.sheets, kilns: { ...book.sheets.kilns, rows: [{ ...row, cells: kiln.cells }] } },
  };
  const marked = withExamples(
    filled,
    Object.keys(kiln.cells).map((column) => ({ sheet: "kilns", row: id, column })),
  );
  operations.push({ kind: "meta", was: book.meta, is: marked.meta });
  if (!session.commit({ label, operations })) return false;
  session.notifyDone(`${label}. Every figure is a typical one: put your own in its place.`);
  return true;
}
