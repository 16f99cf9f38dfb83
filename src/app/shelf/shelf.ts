// The studio's shelf from an open edition: read, opened, held against the edition, taken from and put on.

import { counted, listed } from "../../core/counted";
import { columnOf } from "../../core/document/access";
import { applyChange, type Change } from "../../core/document/change";
import { bringItems, emptyShelf, type ShelfField, type ShelfItem, type Wanted } from "../../core/document/shelf";
import { SHELF } from "../../core/document/shelf-kind";
import type { Workbook } from "../../core/document/workbook";
import { type Problem, problem } from "../../core/problem";
import { NOT_YET_STORED } from "../../storage/edition-store";
import { textInUnit, unitOf } from "../edition/display";
import type { Session } from "../edition/session";
import { textWithUnit } from "../edition/text-with-unit";
import type { Studio } from "../keeping/studio";
import { commitToKept } from "../keeping/studio-editions";

/** The shelf as it is stored; undefined where there is none yet, or, with a message, where it can't be read. */
export async function readShelf(studio: Studio): Promise<Workbook | undefined> {
  const read = await studio.home.editions.read(SHELF);
  if (read.ok) return read.value.book;
  if (read.problems.every(({ code }) => code !== "store.none")) studio.report(read.problems);
  return undefined;
}

/** Opens the shelf in the place of the edition, to be worked on as one; makes an empty one where there is none. */
export async function openShelf(studio: Studio, session: Session): Promise<void> {
  if (!(await readShelf(studio)) && !(await storeShelf(studio, emptyShelf(session.book.value, session.today()))))
    return;
  await studio.openStored(SHELF);
}

async function storeShelf(studio: Studio, book: Workbook): Promise<boolean> {
  const { editions } = studio.home;
  const updatedAt = studio.platform.now().toISOString();
  const written = await editions.write(SHELF, { book, updatedAt }, NOT_YET_STORED);
  const marked = written.ok ? await editions.mark(SHELF, { as: "shelf", since: updatedAt }) : written;
  if (!marked.ok) studio.report(marked.problems);
  return marked.ok;
}

/** Takes items from the shelf into the edition, as one step that can be undone. */
export function takeFromShelf(session: Session, wanted: readonly Wanted[]): void {
  const { change, refused } = bringItems(session.book.value, wanted, `From the shelf: ${namesOf(wanted)}`);
  if (change.operations.length > 0 && session.commit(change)) session.notifyDone(`${change.label}.`);
  session.refuse(refused);
}

/** Puts items of the edition on the shelf. */
export async function putOnShelf(studio: Studio, session: Session, wanted: readonly Wanted[]): Promise<void> {
  const label = `Onto the shelf: ${namesOf(wanted)}`;
  const brought = await changeShelf(studio, session, (shelf) => bringItems(shelf, wanted, label));
  if (!brought) return;
  if (brought.change.operations.length > 0) session.notify("done", `${label}.`);
  session.refuse(brought.refused);
}

/**
 * Makes a change on the shelf by the rules of two tabs, as one step that is undone there; the shelf is made where there is
 * none. Gives what the change was made from; undefined, with a message, where it can't be made.
 */
export async function changeShelf<Made extends { readonly change: Change }>(
  studio: Studio,
  session: Session,
  make: (shelf: Workbook) => Made,
): Promise<Made | undefined> {
  if (await readShelf(studio)) return commitToKept(studio, SHELF, make, () => SHELF_ELSEWHERE);
  const first = emptyShelf(session.book.value, session.today());
  const made = make(first);
  return (await storeShelf(studio, applyChange(first, made.change))) ? made : undefined;
}

const SHELF_ELSEWHERE: Problem = problem({
  code: "shelf.elsewhere",
  where: "The studio’s shelf",
  found: "open in another tab",
  allowed: "to be put on only while no other tab has it open",
  fix: "Close it there first.",
});

/** Names of some items, at most three. */
function namesOf(wanted: readonly Wanted[]): string {
  const titles = [...new Set(wanted.map(({ item }) => item.title))];
  return listed(titles, 3);
}

/** What a value is called: “pack price”; nothing of an item that has one value only. */
export function fieldTitle(book: Workbook, { kind }: ShelfItem, key: string): string {
  return kind === "line" || key === "whole" ? "" : (columnOf(book, sheetOf(kind), key)?.title ?? key);
}

const sheetOf = (kind: ShelfItem["kind"]) => (kind === "kilns" || kind === "tariffs" ? kind : "materials");

/** A value in words, as the edition shows it. */
export function sharedText(session: Session, field: ShelfField | undefined, like: ShelfField | undefined): string {
  if (field === undefined) return "nothing";
  const { value } = field;
  const cell = like?.cell ?? field.cell;
  if (!cell) return Array.isArray(value) ? counted(value.length, "ramp") : "otherwise";
  if (typeof value === "object") return "a formula";
  const column = columnOf(session.book.value, cell.sheet, cell.column);
  const line = session.book.value.sheets.edition.rows.find(({ id }) => id === cell.row);
  const spec = cell.sheet === "edition" ? line?.line : column;
  if (!spec) return String(value);
  const unit = cell.sheet === "edition" ? String(line?.cells.unit ?? "") : (column?.unit ?? "");
  const text = textInUnit(session, spec, unit, value as string | number);
  return textWithUnit(session, text, spec.format === "percent" ? "" : unitOf(session, cell));
}
