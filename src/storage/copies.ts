// Earlier states of an edition, put by while it is written over, and copies that were asked for.
// A note and the text stand in separate records, so that a list never reads the texts.

import { checksumOf } from "../core/checksum";
import type { Workbook } from "../core/document/workbook";
import { writeDocument } from "../core/document/write-document";
import { fail, type Result } from "../core/problem";
import { type EditionSummary, unreadable } from "./edition-store";
import { storageProblem } from "./storage-problems";
import { type DatedCopy, newestFirst } from "./thinning";

/** A copy as it is listed. */
export interface CopyNote extends DatedCopy {
  readonly title: string;
  readonly pieces: number;
}

export interface CopyStore {
  /** The copies of an edition, the newest first. */
  list(edition: string): Promise<Result<readonly CopyNote[]>>;
  /** A copy, checked; fails with what is wrong where it is damaged. */
  read(edition: string, takenAt: string): Promise<Result<Workbook>>;
  /** Puts a copy by under a name. */
  keep(edition: string, copy: NamedCopy): Promise<Result<undefined>>;
  /** Removes copies; one that is not there is no problem. */
  remove(edition: string, takenAts: readonly string[]): Promise<Result<undefined>>;
}

/** A copy that was asked for. */
export interface NamedCopy {
  readonly book: Workbook;
  /** ISO 8601. */
  readonly takenAt: string;
  readonly name: string;
}

interface CopyRecord {
  readonly text: string;
  readonly sum: number;
}

/** Both records of a copy. */
export interface CopyRecords {
  readonly note: CopyNote;
  readonly copy: CopyRecord;
}

/** The key of a copy: those of one edition stand together, in the order of time. */
export function copyKey(edition: string, takenAt: string): string {
  return `${edition}|${takenAt}`;
}

/** The keys between which all copies of an edition lie. */
export function copyKeys(edition: string): readonly [first: string, last: string] {
  return [`${edition}|`, `${edition}|\uffff`];
}

/** The records of a copy that was asked for, while `revision` was stored. */
export function recordsOfNamed({ book, takenAt, name }: NamedCopy, revision: number): CopyRecords {
  const text = writeDocument(book);
  const { title } = book.meta;
  return {
    note: { takenAt, revision, name, title, pieces: book.sheets.pieces.rows.length, size: text.length },
    copy: { text, sum: checksumOf(text) },
  };
}

/** The records of a copy of what is stored, before it is written over. */
export function recordsOfStored(
  summary: Pick<EditionSummary, "title" | "updatedAt" | "revision" | "pieces">,
  text: string,
): CopyRecords {
  const { title, updatedAt, revision, pieces } = summary;
  const note = { takenAt: updatedAt, revision, title, pieces, size: text.length };
  return { note, copy: { text, sum: checksumOf(text) } };
}

/** The notes that can be made sense of, the newest first. */
export function notesOf(stored: readonly unknown[]): readonly CopyNote[] {
  return newestFirst(stored.filter(isNote));
}

/** The edition in a stored copy, checked; `where` names it. */
export async function copyOf(where: string, stored: unknown): Promise<Result<Workbook>> {
  if (stored === undefined) return fail(storageProblem("none", where));
  const { text, sum } = (stored ?? {}) as Partial<CopyRecord>;
  if (typeof text !== "string" || sum !== checksumOf(text)) return fail(storageProblem("corrupt", where));
  const { readDocument } = await import("../core/document/document-file");
  const book = readDocument(text, where);
  return book.ok ? book : unreadable(where, book.problems);
}

/** The newest copy of an edition that can be read, if there is one. */
export async function newestSound(copies: CopyStore, edition: string): Promise<CopyNote | undefined> {
  const listed = await copies.list(edition);
  if (!listed.ok) return undefined;
  for (const note of listed.value) if ((await copies.read(edition, note.takenAt)).ok) return note;
  return undefined;
}

function isNote(stored: unknown): stored is CopyNote {
  if (typeof stored !== "object" || stored === null) return false;
  const { takenAt, title, pieces, size, name, revision } = stored as Readonly<Record<string, unknown>>;
  return (
    typeof takenAt === "string" &&
    typeof title === "string" &&
    typeof pieces === "number" &&
    typeof size === "number" &&
    (revision === undefined || typeof revision === "number") &&
    (name === undefined || typeof name === "string")
  );
}
