// All that is booked of an edition as one journal, under the usual names of the accounts.
import {
  type AccountKey,
  bookEntries,
  checkJournal,
  type JournalLine,
  USUAL_ACCOUNT_NAMES,
} from "../../src/accounts/journal";
import type { Settled } from "../../src/app/settle/settle";

const HEAD = { date: "2026-11-25", reference: "M" };

/** The lines of the journal; an error where it does not balance. Entries of nothing keep their numbers. */
export function wholeJournal(
  { ledger, ...more }: Parameters<typeof bookEntries>[0],
  accounts: Readonly<Record<AccountKey, string>> = USUAL_ACCOUNT_NAMES,
): readonly JournalLine[] {
  const lines = bookEntries({ ledger, ...more }).flatMap(({ memo, postings }, index) =>
    postings
      .filter(({ minor }) => minor !== 0)
      .map(({ account, minor }) => ({
        ...{ date: HEAD.date, reference: `${HEAD.reference}-${index + 1}`, account: accounts[account], memo },
        ...{ debitMinor: Math.max(0, minor), creditMinor: Math.max(0, -minor) },
      })),
  );
  const [problem] = checkJournal(lines, ledger.digits);
  if (problem) throw new Error(problem.message);
  return lines;
}

/** The journal of a settled edition. */
export const journalOf = ({ ledger, inventory, sales }: Settled) =>
  wholeJournal({ ledger, writeDowns: inventory.writeDowns, sales });
