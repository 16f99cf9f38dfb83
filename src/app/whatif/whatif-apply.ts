// What becomes of a case: used in the edition as one step of the history, kept beside its sheets, or thrown away. Ranges
// and what the question of chance is asked with are kept in the edition too.
import { listed } from "../../core/counted";
import { resolveCell } from "../../core/document/access";
import type { Operation } from "../../core/document/change";
import { editMeta } from "../../core/document/edits";
import { isAllowed } from "../../core/document/entry";
import { addEntry, changeEntry, freshEntryId, removeEntry } from "../../core/document/list-edits";
import type { ListEntry, Meta } from "../../core/document/workbook";
import { problem } from "../../core/problem";
import { type Setting, sameCell } from "../../whatif/run/case-matrix";
import type { Session } from "../edition/session";
import { type AskCell, askCell, valueText } from "./whatif-cells";

/** A set of changes in words: “Glaze firing: planned loss 12 %, Wage 24.00 EUR/h”. */
export function caseText(session: Session, settings: readonly Setting[]): string {
  const parts = settings.map(({ cell, value }) => {
    const of = askCell(session.book.value, cell);
    return of ? `${of.title} ${valueText(session, of, value)}` : `${cell.row} ${value}`;
  });
  return listed(parts, 4);
}

/** Writes a case into the edition, as one step of the history; false, with a message, where a value may not stand in its cell. */
export function useCase(session: Session, settings: readonly Setting[]): boolean {
  const book = session.book.value;
  const operations: Operation[] = [];
  for (const { cell, value } of settings) {
    const found = resolveCell(book, cell);
    const of = askCell(book, cell);
    if (!found || !of) continue;
    if (!isAllowed(book, found.spec, value) || (of.isWhole && !Number.isInteger(value))) {
      session.refuse([
        problem({
          code: "whatif.use",
          where: of.title,
          found: valueText(session, of, value),
          allowed: "what its cell takes",
        }),
      ]);
      return false;
    }
    const was = found.row.cells[cell.column];
    if (was !== value) operations.push({ kind: "cell", ...cell, was, is: value });
  }
  if (operations.length === 0) {
    session.notify("refused", "This case is what the edition has already.");
    return false;
  }
  const text = caseText(session, settings);
  if (!session.commit({ label: `Use the case: ${text}`.slice(0, 300), operations })) return false;
  session.notifyDone(`Used in the edition: ${text}.`);
  return true;
}

/** Keeps a set of changes as a named case; false, with a message, where it has no name or changes nothing. */
export function keepCase(session: Session, title: string, settings: readonly Setting[]): boolean {
  const book = session.book.value;
  const name = title.trim().slice(0, 300);
  const isTaken = book.lists.cases.some((one) => one.title.toLowerCase() === name.toLowerCase());
  if (name === "" || isTaken || settings.length === 0) {
    const found = settings.length === 0 ? "no changed input" : name;
    const allowed = settings.length === 0 ? "at least one changed input" : "a name that no other case has";
    session.refuse([problem({ code: "whatif.case", where: "The case", found, allowed })]);
    return false;
  }
  const entry = {
    id: freshEntryId(book, "cases"),
    title: name,
    changes: settings.map(({ cell, value }) => ({ sheet: cell.sheet, row: cell.row, column: cell.column, value })),
  };
  if (!session.commit({ label: `Keep the case ${name}`, operations: [addEntry(book, "cases", entry)] })) return false;
  session.notifyDone(`Kept as the case “${name}”.`);
  return true;
}

/** Takes a kept case out. */
export function dropCase(session: Session, kept: ListEntry<"cases">): void {
  session.commit({
    label: `Remove the case ${kept.title}`,
    operations: removeEntry(session.book.value, "cases", kept.id),
  });
}

/** Keeps between what an input plausibly lies; without a range it goes by counts or a tenth again. */
export function setRange(
  session: Session,
  of: AskCell,
  range: { readonly low: number; readonly high: number } | undefined,
): boolean {
  const book = session.book.value;
  const held = book.lists.ranges.find((one) => sameCell(one, of.cell));
  if (!range) {
    if (held) session.commit({ label: `Range of ${of.title}`, operations: removeEntry(book, "ranges", held.id) });
    return true;
  }
  if (!(range.low < range.high)) {
    session.refuse([
      problem({
        code: "whatif.range",
        where: `Range of ${of.title}`,
        found: `${valueText(session, of, range.low)} to ${valueText(session, of, range.high)}`,
        allowed: "a low end below the high end",
      }),
    ]);
    return false;
  }
  const entry = { id: held?.id ?? freshEntryId(book, "ranges"), ...of.cell, low: range.low, high: range.high };
  const operations = held ? changeEntry(book, "ranges", entry) : [addEntry(book, "ranges", entry)];
  const text = `${valueText(session, of, range.low)} to ${valueText(session, of, range.high)}`;
  return session.commit({ label: `Range of ${of.title}: ${text}`.slice(0, 300), operations });
}

export type ChanceSettings = NonNullable<Meta["chance"]>;
const USUAL_CHANCE: ChanceSettings = { shortfall: 0, surplus: 0, draws: 4000, seed: 1 };

/** What the question of chance is asked with. */
export function chanceSettings(session: Session): ChanceSettings {
  return session.book.value.meta.chance ?? USUAL_CHANCE;
}

/** Changes what the question of chance is asked with. */
export function setChance(session: Session, is: Partial<ChanceSettings>): void {
  const was = chanceSettings(session);
  const chance = { ...was, ...is };
  if (Object.entries(is).every(([key, value]) => was[key as keyof ChanceSettings] === value)) return;
  session.commit(editMeta(session.book.value, { chance }, "What chance is asked with"));
}
