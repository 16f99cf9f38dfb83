// Edits that another page made, or this one before it lost its lock, and what becomes of them: put back, set aside, or kept
// apart as an edition of their own.
import { counted } from "../../core/counted";
import { soundAfter } from "../../core/document/check-cells";
import type { Problem } from "../../core/problem";
import { type EditionStore, type EditStamp, isReached, NOT_YET_STORED } from "../../storage/edition-store";
import { editsSince, type HeldEdit } from "../../storage/last-edits";
import type { Session } from "../edition/session";
import type { UnsavedEdits } from "./unsaved-edits";

/**
 * Puts edits back that a closed page wrote down and did not save, where they follow from the document with the stamp `stamp`;
 * sets them aside with a message where they do not and are not in it. Gives the stamp of the document then.
 */
export function putBackEdits(
  session: Session,
  unsaved: UnsavedEdits,
  stamp: EditStamp | undefined,
  now: Date,
): EditStamp | undefined {
  const held = unsaved.read();
  const left = editsSince(held, stamp);
  const reached = putBack(session, unsaved, left) ?? stamp;
  if (reached === stamp && !isReached(held.at(-1)?.stamp, stamp)) {
    unsaved.setAside(now.toISOString());
    session.notify(
      "failed",
      "Edits were made in a page that was closed before they were saved. They do not fit the edition as it is now, and were left out:",
      held.map(({ change }) => change.label),
    );
  }
  unsaved.readAside();
  return reached;
}

/** Puts edits back; the stamp after them, or undefined where there are none or they break the rules of the document. */
function putBack(session: Session, unsaved: UnsavedEdits, left: readonly HeldEdit[]): EditStamp | undefined {
  const stamp = left.at(-1)?.stamp;
  const changes = left.map(({ change }) => change);
  if (!stamp || !soundAfter(session.book.value, changes)) return undefined;
  for (const edit of left) {
    session.follow(edit.change, edit.place);
    unsaved.follow(edit);
  }
  // Stays until it is put away: it is shown while the page is still opening.
  session.notify(
    "refused",
    left.length === 1
      ? `Put back what was done just before the page was closed: ${left[0]?.change.label}.`
      : `Put back ${counted(left.length, "edit")} made just before the page was closed.`,
  );
  return stamp;
}

interface ForkPlatform {
  readonly editions: EditionStore;
  now(): Date;
  freshId(): string;
}

/** Keeps what is shown, with its unsaved edits, as an edition of its own; gives what stands in the way. */
export async function forkEdition(
  session: Session,
  unsaved: UnsavedEdits,
  { editions, now, freshId }: ForkPlatform,
): Promise<readonly Problem[]> {
  const book = session.book.value;
  const title = `${book.meta.title} (edits kept apart)`.slice(0, 200);
  const content = { book: { ...book, meta: { ...book.meta, title } }, updatedAt: now().toISOString() };
  const written = await editions.write(freshId(), content, NOT_YET_STORED);
  if (!written.ok) return written.problems;
  const { labels } = unsaved;
  unsaved.clear();
  unsaved.drop();
  session.notify(
    "failed",
    `The edition went on in another tab. What was done here and not saved is kept as an edition of its own, “${title}”:`,
    labels,
  );
  return [];
}
