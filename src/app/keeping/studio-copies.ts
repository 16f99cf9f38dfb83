// Earlier copies of editions: listed, looked at, put back as one step that can be undone, or opened as editions of their own.
// None of this ever writes over an edition without a way back.
import { counted } from "../../core/counted";
import { differenceBetween } from "../../core/document/difference";
import type { Workbook } from "../../core/document/workbook";
import type { CopyNote } from "../../storage/copies";
import type { Studio } from "./studio";

/** Names of copies are at most this long. */
export const LONGEST_NAME = 80;

/** The copies of an edition, the newest first; none, with a message, where they can't be listed. */
export async function listCopies(studio: Studio, edition: string): Promise<readonly CopyNote[]> {
  const listed = await studio.home.copies.list(edition);
  if (listed.ok) return listed.value;
  studio.report(listed.problems);
  return [];
}

/** Puts a copy of the open edition by, as it is now; false, with a message, where that fails. */
export async function keepCopy(studio: Studio, name: string): Promise<boolean> {
  const { open } = studio;
  if (!open) return false;
  const book = open.session.book.value;
  const takenAt = studio.platform.now().toISOString();
  const kept = await studio.home.copies.keep(open.id, { book, takenAt, name: name.trim().slice(0, LONGEST_NAME) });
  if (!kept.ok) studio.report(kept.problems);
  return kept.ok;
}

/** Shows a copy in the place of the open edition, to be looked at only; the edition stays open behind it. */
export async function previewCopy(studio: Studio, edition: string, note: CopyNote): Promise<void> {
  const book = await bookOf(studio, edition, note);
  if (!book) return;
  const session = studio.makeSession(book, () => undefined, undefined);
  session.readOnly.value = {
    why: "this is an earlier copy, and it stays as it was",
    fix: "Go back to the edition, put this copy in its place, or open it as an edition of its own.",
  };
  closePreview(studio);
  studio.preview.value = { edition, note };
  studio.session.value = session;
}

/** Goes back from a copy to the open edition. */
export function closePreview(studio: Studio): void {
  if (!studio.preview.value) return;
  studio.session.value?.close();
  studio.preview.value = undefined;
  studio.session.value = studio.open?.session;
}

/** Puts a copy in the place of the open edition, as one step that can be undone. */
export async function putBack(studio: Studio, note: CopyNote, when: string): Promise<boolean> {
  const { open } = studio;
  const book = open && (await bookOf(studio, open.id, note));
  if (!open || !book) return false;
  closePreview(studio);
  const change = differenceBetween(open.session.book.value, book, `Put back the copy of ${when}`);
  if (!change) {
    await openCopyAsEdition(studio, open.id, note, when);
    return true;
  }
  if (!open.session.commit(change)) return false;
  if (change.operations.length === 0) open.session.notify("done", "The copy is what is open.");
  else open.session.notifyDone(`${change.label}.`);
  return true;
}

/** Opens a copy as an edition of its own; the one it was taken of stays as it is. */
export async function openCopyAsEdition(studio: Studio, edition: string, note: CopyNote, when: string): Promise<void> {
  const book = await bookOf(studio, edition, note);
  if (!book) return;
  closePreview(studio);
  const title = `${book.meta.title} (copy of ${when})`.slice(0, 200);
  const isOpen = await studio.openNew({ ...book, meta: { ...book.meta, title } });
  if (isOpen && studio.damaged.value?.id === edition) studio.damaged.value = undefined;
}

/** Removes copies and says how much room that freed. */
export async function removeCopies(studio: Studio, edition: string, notes: readonly CopyNote[]): Promise<void> {
  const removed = await studio.home.copies.remove(
    edition,
    notes.map(({ takenAt }) => takenAt),
  );
  if (!removed.ok) return studio.report(removed.problems);
  const characters = notes.reduce((sum, { size }) => sum + size, 0);
  studio.session.value?.notify(
    "done",
    `Removed ${counted(notes.length, "copy", "copies")}, about ${sizeText(characters)}.`,
  );
}

/** Removes every copy without a name of the open edition, to make room, and writes again what could not be written. */
export async function makeRoom(studio: Studio): Promise<void> {
  const { open } = studio;
  if (!open) return;
  const unnamed = (await listCopies(studio, open.id)).filter(({ name }) => name === undefined);
  await removeCopies(studio, open.id, unnamed);
  await studio.flush();
}

/** The size of a text of so many characters, roughly as it is stored. */
export function sizeText(characters: number): string {
  return characters < 1_000_000
    ? `${Math.max(1, Math.round(characters / 1000))} kB`
    : `${Number((characters / 1_000_000).toPrecision(3))} MB`;
}

async function bookOf(studio: Studio, edition: string, note: CopyNote): Promise<Workbook | undefined> {
  const read = await studio.home.copies.read(edition, note.takenAt);
  if (read.ok) return read.value;
  studio.report(read.problems);
  return undefined;
}
