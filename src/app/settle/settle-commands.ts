// Commands of settling: what references begin with, and days for what has none.
import { editMeta } from "../../core/document/edits";
import { giveDays, type Undated } from "../../core/record/undated";
import type { Session } from "../edition/session";
import { journalReferenceOf } from "./settle";

/** Sets what the references of the journal begin with. */
export function setJournalReference(session: Session, typed: string): void {
  const book = session.book.value;
  const reference = typed.trim().slice(0, 60);
  if (reference === "" || reference === journalReferenceOf(book)) return;
  const date = book.meta.journal?.date ?? session.today();
  session.commit(editMeta(book, { journal: { date, reference } }, `References begin with ${reference}`));
}

/** Gives entries the days proposed for them, or all of them one day, in one step. */
export function takeDays(session: Session, undated: readonly Undated[], day?: string): void {
  const change = giveDays(session.book.value, undated, day);
  if (change.operations.length > 0) session.commit(change);
}
