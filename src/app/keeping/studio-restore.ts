// Bringing a studio back from its file: what each edition in it would change is said first, and the maker chooses one by one.
// Nothing is written over without a copy of it, and what is written can be undone in its edition.
import { checksumOf } from "../../core/checksum";
import { differenceBetween } from "../../core/document/difference";
import { META_MOST } from "../../core/document/limits";
import { SHELF } from "../../core/document/shelf-kind";
import type { Workbook } from "../../core/document/workbook";
import { type Problem, problem } from "../../core/problem";
import type { CsvClient } from "../../csv/client";
import type { PackedEdition, StudioContents } from "../../csv/studio-contents";
import {
  type EditionSummary,
  isMark,
  isReached,
  isSameStamp,
  isStamp,
  NOT_YET_STORED,
} from "../../storage/edition-store";
import { dayText } from "../edition/written-days";
import type { Studio } from "./studio";
import { bookOfEdition, commitToKept } from "./studio-editions";

/** How an edition in the file stands to what is kept here under its id. */
export type FoundState =
  | "new"
  | "same"
  | "newer"
  | "older"
  /** Both went on from what they had in common, or have nothing in common. */
  | "conflicting"
  /** Deleted here, and can still be had back. */
  | "deleted"
  | "damaged here"
  | "unreadable";

/** What is to be done with it: left, brought back, put in the place of what is here, or kept beside it. */
export type RestoreWish = "leave" | "bring" | "replace" | "beside";

/** An edition in the file, its index there, and what is here. */
export interface FoundEdition {
  readonly index: number;
  readonly packed: PackedEdition;
  readonly state: FoundState;
  readonly here: EditionSummary | undefined;
}

/** What may be done with an edition in each state; the first is what is proposed. */
export const WISHES: Readonly<Record<FoundState, readonly [RestoreWish, ...RestoreWish[]]>> = {
  new: ["bring", "leave"],
  same: ["leave"],
  newer: ["replace", "leave", "beside"],
  older: ["leave", "replace", "beside"],
  conflicting: ["leave", "beside", "replace"],
  deleted: ["leave", "replace", "beside"],
  "damaged here": ["beside", "leave"],
  unreadable: ["leave"],
};

/** Holds what a file has against what is kept here. */
export async function compareStudio(studio: Studio, { editions }: StudioContents): Promise<readonly FoundEdition[]> {
  await studio.flush();
  await studio.refreshList();
  const here = new Map(studio.editions.value.map((one) => [one.id, one]));
  const found: FoundEdition[] = [];
  for (const [index, packed] of editions.entries()) {
    const itsOwn = here.get(packed.id);
    found.push({ index, packed, here: itsOwn, state: await stateOf(studio, packed, itsOwn) });
    await studio.platform.breathe();
  }
  return found;
}

async function stateOf(studio: Studio, packed: PackedEdition, here: EditionSummary | undefined): Promise<FoundState> {
  if (packed.problems.length > 0) return "unreadable";
  if (!here) return "new";
  if (here.problem) return "damaged here";
  if (here.mark?.as === "deleted") return "deleted";
  const { editions } = studio.home;
  const [stamp, text] = await Promise.all([editions.stamp(packed.id), editions.readText(packed.id)]);
  if (text.ok && checksumOf(text.value) === packed.sum) return "same";
  const ours = stamp.ok ? stamp.value.edit : undefined;
  const theirs = isStamp(packed.edit) ? packed.edit : undefined;
  // One without a stamp was never edited since it was first stored: whatever has one went on from it. Every browser makes a
  // shelf of its own, though, and all of them under one id.
  const isOtherShelf = packed.id === SHELF && !(ours && theirs);
  if (isOtherShelf || isSameStamp(ours, theirs)) return "conflicting";
  if (isReached(ours, theirs)) return "newer";
  return isReached(theirs, ours) ? "older" : "conflicting";
}

/** What became of a restore: titles that were done, and what stood in the way of others. */
export interface Restored {
  readonly done: readonly string[];
  readonly problems: readonly Problem[];
}

/** Does what is wished of each edition; those that fail are named, and stay as they were. */
export async function restoreStudio(
  studio: Studio,
  client: CsvClient,
  at: string,
  wished: readonly (readonly [FoundEdition, RestoreWish])[],
  onProgress: (done: number, of: number) => void,
): Promise<Restored> {
  const done: string[] = [];
  const problems: Problem[] = [];
  const wanted = wished.filter(([, wish]) => wish !== "leave");
  for (const [index, [found, wish]] of wanted.entries()) {
    onProgress(index, wanted.length);
    const { title } = found.packed;
    const book = await client.ask({ kind: "studio edition", index: found.index });
    if (book.kind === "cancelled") break;
    if (
      book.kind === "answer" &&
      (await restoreOne(studio, found, wish, book.value, dayText(at, studio.platform.locale)))
    )
      done.push(title);
    else
      problems.push(
        problem({ code: "studio.restore", where: title, found: "not written", allowed: "its place in this browser" }),
      );
  }
  await studio.refreshList();
  return { done, problems };
}

async function restoreOne(
  studio: Studio,
  found: FoundEdition,
  wish: RestoreWish,
  book: Workbook,
  day: string,
): Promise<boolean> {
  if (wish === "bring") return keepBook(studio, found, book, found.packed.id);
  if (wish === "replace") {
    const isDone = await replaceKept(studio, found.packed.id, book, day);
    if (isDone !== "not sayable") return isDone;
  }
  const title = `${book.meta.title} (from the file of ${day})`.slice(0, META_MOST.title);
  return keepBook(studio, found, { ...book, meta: { ...book.meta, title } }, studio.platform.freshId());
}

/** Keeps an edition that is not here under an id. */
async function keepBook(studio: Studio, { packed }: FoundEdition, book: Workbook, id: string): Promise<boolean> {
  const { editions } = studio.home;
  const edit = id === packed.id && isStamp(packed.edit) ? { edit: packed.edit } : {};
  const written = await editions.write(id, { book, updatedAt: packed.updatedAt, ...edit }, NOT_YET_STORED);
  // A second shelf would not be found by anything.
  const mark = isMark(packed.mark) && (packed.mark.as !== "shelf" || id === packed.id) ? packed.mark : undefined;
  const marked = written.ok && mark ? await editions.mark(id, mark) : written;
  if (!marked.ok) studio.report(marked.problems);
  return marked.ok;
}

/** Puts what the file has in the place of what is here, as one step of its history, once a copy of that is kept. */
async function replaceKept(studio: Studio, id: string, book: Workbook, day: string): Promise<boolean | "not sayable"> {
  const now = await bookOfEdition(studio, id);
  if (!now) return false;
  const takenAt = studio.platform.now().toISOString();
  const name = `Before the studio file of ${day}`;
  const copied = await studio.home.copies.keep(id, { book: now, takenAt, name });
  if (!copied.ok) {
    studio.report(copied.problems);
    return false;
  }
  const label = `From the studio file of ${day}`;
  if (!differenceBetween(now, book, label)) return "not sayable";
  const make = (from: Workbook) => ({ change: differenceBetween(from, book, label) ?? { label, operations: [] } });
  let isDone = false;
  if (studio.open?.id === id) {
    isDone = studio.open.session.commit(make(studio.open.session.book.value).change);
    await studio.flush();
  } else isDone = (await commitToKept(studio, id, make, openElsewhere)) !== undefined;
  const isBack = isDone && studio.editions.value.some((one) => one.id === id && one.mark?.as === "deleted");
  if (isBack) await studio.home.editions.mark(id, undefined);
  return isDone;
}

const openElsewhere = (title: string): Problem =>
  problem({
    code: "edition.elsewhere",
    where: title,
    found: "open in another tab",
    allowed: "to be replaced only where it is open",
    fix: "Close it there, or keep the one in the file beside it.",
  });
