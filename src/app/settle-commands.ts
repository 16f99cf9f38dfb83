// Commands of settling: what was seen becomes the plan, accounts get the maker's names, the journal its day.
import type { AccountNames } from "../accounts/journal";
import { rowLabel } from "../core/access";
import { type Entry, editMeta, writeEntries } from "../core/edits";
import type { Session } from "./session";
import { accountNamesOf, type JournalHead, journalHeadOf } from "./settle";

/** Makes the loss seen at each step its planned loss, as one step of the history; steps never seen keep theirs. */
export function planWhatWasSeen(session: Session): void {
  const book = session.book.value;
  const everything: string[] = [];
  const entries = book.sheets.route.rows.flatMap((row): Entry[] => {
    const rate = session.value({ sheet: "route", row: row.id, column: "known_rate" });
    if (typeof rate !== "number") return [];
    if (rate >= 1) everything.push(rowLabel("route", row));
    // To a hundredth of a percent: finer than any count can tell.
    const typed = (Math.round(rate * 10_000) / 100).toFixed(2);
    return rate < 1 ? [{ cell: { sheet: "route", row: row.id, column: "loss" }, typed }] : [];
  });
  const label = "Use what was seen as the planned loss";
  const { change, refused } = writeEntries(book, entries, { label, marks: { decimal: "." }, override: false });
  session.commit(change);
  const kept = everything.map((step) => `${step}: every piece seen was lost there; a plan can't be made of that.`);
  session.tell(
    entries.length > 0 ? "done" : "refused",
    entries.length > 0
      ? `The planned loss of ${entries.length} steps is what was seen. Look at “at least” and “at most”: few pieces say little.`
      : "Nothing has been seen yet: no piece has entered a step.",
    [...kept, ...refused.map(({ message }) => message)],
  );
}

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
