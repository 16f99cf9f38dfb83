// Commands of settling: accounts get the maker's names, the journal its day.
import type { AccountNames } from "../../accounts/journal";
import { editMeta } from "../../core/document/edits";
import type { Session } from "../edition/session";
import { accountNamesOf, type JournalHead, journalHeadOf } from "./settle";

/** Gives an account of the journal the maker's own name; a blank gives the usual one back. */
export function nameAccount(session: Session, account: keyof AccountNames, typed: string): void {
  const book = session.book.value;
  if (accountNamesOf(book)[account] === typed.trim()) return;
  const { [account]: _, ...others } = book.meta.accounts ?? {};
  const name = typed.trim().slice(0, 120);
  const accounts = name === "" ? others : { ...others, [account]: name };
  session.commit(editMeta(book, { accounts }, `Account: ${name || "the usual name"}`));
}

/** Sets the day of the journal, or what its references begin with. */
export function setJournalHead(session: Session, is: Partial<JournalHead>): void {
  const book = session.book.value;
  const was = journalHeadOf(book, session.today());
  const journal = { ...was, ...is };
  if (journal.date === was.date && journal.reference === was.reference) return;
  session.commit(editMeta(book, { journal }, "Day and references of the journal"));
}
