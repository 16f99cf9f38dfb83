// Where editions are kept between visits. One port, two homes: the browser's database, and memory where there is none.
// A summary and the document stand in separate records, so that listing never reads the documents.

import { checksumOf } from "../core/checksum";
import type { History } from "../core/document/history";
import { FORMAT_VERSION, type Workbook } from "../core/document/workbook";
import { writeDocument } from "../core/document/write-document";
import { fail, ok, type Problem, type Result } from "../core/problem";
import { storageProblem } from "./storage-problems";
import type { KnownSteps, UndoIndex } from "./undo-records";

/** The revision to expect of an edition that is written for the first time. */
export const NOT_YET_STORED = 0;

/** What a maker has said an edition is, beside one that is worked on. */
export type EditionStatus = "archived" | "template" | "deleted" | "shelf";

/** Where an edition was put, and when: ISO 8601. */
export interface EditionMark {
  readonly as: EditionStatus;
  readonly since: string;
}

/** An edition as it is listed. */
export interface EditionSummary {
  readonly id: string;
  readonly title: string;
  /** When it was last written, ISO 8601. */
  readonly updatedAt: string;
  /** 1 at the first write, one more at each later one. */
  readonly revision: number;
  readonly pieces: number;
  /** Absent for one that is worked on. */
  readonly mark?: EditionMark;
  /** What is wrong with a damaged record. It is kept, and `readText` gives its text. */
  readonly problem?: Problem;
}

/** How far a document has come: so many edits of one session. Two with the same stamp are the same document. */
export interface EditStamp {
  /** The id of the session, drawn anew whenever an edition is opened; it is stored and sent to other tabs under this name. */
  readonly sitting: string;
  readonly edits: number;
  /** The last states of the sessions before, newest first: what was written down in those is in this document. */
  readonly past?: readonly Point[];
}

/** So many edits of one session. */
type Point = Omit<EditStamp, "past">;

/** Sessions that are remembered; the browser's small storage is never that far behind. */
const MOST_SESSIONS = 12;

/** The stamp of a document after an edit of this session, made on one with the stamp `after`. */
export function stampAfter(after: EditStamp | undefined, sessionId: string, edits: number): EditStamp {
  const own = { sitting: sessionId, edits };
  if (!after) return own;
  const past =
    after.sitting === sessionId ? after.past : [{ sitting: after.sitting, edits: after.edits }, ...(after.past ?? [])];
  return past ? { ...own, past: past.slice(0, MOST_SESSIONS) } : own;
}

/** Whether a document that has come to `now` holds the edits up to `stamp`. */
export function isReached(stamp: EditStamp | undefined, now: EditStamp | undefined): boolean {
  if (stamp === undefined) return true;
  return [now, ...(now?.past ?? [])].some((point) => point?.sitting === stamp.sitting && stamp.edits <= point.edits);
}

/** What is known of a stored edition without reading it. */
export interface StoredStamp {
  readonly revision: number;
  readonly updatedAt: string;
  readonly edit?: EditStamp;
}

/** What is written. */
export interface EditionContent {
  readonly book: Workbook;
  /** The time of writing, ISO 8601, by the caller's clock. */
  readonly updatedAt: string;
  /** Computed values, to draw with before the engine has started. Whoever reads them checks them. */
  readonly values?: unknown;
  readonly edit?: EditStamp;
  /** What was done up to this document, to be undone. */
  readonly undo?: History;
}

/** What is read. */
export interface StoredEdition extends EditionContent {
  readonly id: string;
  readonly revision: number;
  /** What is different in an edition that an earlier program saved. */
  readonly news?: readonly string[];
}

export interface EditionStore {
  /** All editions, the newest first; damaged ones are listed with their problem. */
  list(): Promise<Result<readonly EditionSummary[]>>;
  /** An edition, checked; fails with what is wrong where it is damaged. */
  read(id: string): Promise<Result<StoredEdition>>;
  /** The revision and stamp of an edition, without its document. */
  stamp(id: string): Promise<Result<StoredStamp>>;
  /** The stored text of an edition as it is, damaged or not. */
  readText(id: string): Promise<Result<string>>;
  /**
   * Writes an edition and gives its new revision; refused where the stored revision is not the expected one. Where the
   * state that is written over is worth a copy, it is put by in the same transaction.
   */
  write(id: string, content: EditionContent, expectedRevision: number): Promise<Result<number>>;
  /** Says where an edition belongs; undefined takes it back among those that are worked on. Its document is not touched. */
  mark(id: string, mark: EditionMark | undefined): Promise<Result<undefined>>;
  /** Removes an edition with its copies; one that is not there is no problem. */
  remove(id: string): Promise<Result<undefined>>;
}

/** The summary record as it is stored, under the edition's id. */
interface SummaryRecord {
  readonly title: string;
  readonly updatedAt: string;
  readonly revision: number;
  readonly pieces: number;
  readonly edit?: EditStamp;
  readonly mark?: EditionMark;
  /** The format of the document, so that an older program knows that it must not write over it; absent up to format 2. */
  readonly format?: number;
}

/** The document record as it is stored, under the edition's id. */
interface DocumentRecord {
  readonly text: string;
  /** Checksum of the text; records of the first kind of storage have none. */
  readonly sum?: number;
  readonly revision: number;
  readonly values?: unknown;
  /** Which steps lead to it; absent in records of programs that kept none. */
  readonly undo?: UndoIndex;
}

/** Both records of an edition. */
export interface EditionRecords {
  readonly summary: SummaryRecord;
  readonly document: DocumentRecord;
}

/** What is stored under an id at the moment of a write. */
export interface StoredNow {
  readonly summary: unknown;
  readonly hasDocument: boolean;
}

/** The problem that stands in the way of writing over what is stored; undefined where nothing does. */
export function refusalOf(id: string, stored: StoredNow, expectedRevision: number): Problem | undefined {
  const { summary, hasDocument } = stored;
  const newer = newerProblem(id, summary);
  if (newer) return newer;
  const isNew = expectedRevision === NOT_YET_STORED;
  if (summary === undefined && !hasDocument) return isNew ? undefined : storageProblem("removed", id);
  if (isNew) return storageProblem("taken", id);
  if (!isSummary(summary)) return storageProblem("corrupt", id);
  return summary.revision === expectedRevision ? undefined : storageProblem("changed", summary.title);
}

/** The problem of a record that a newer program has written, whatever else is in it; undefined for any other. */
function newerProblem(id: string, summary: unknown): Problem | undefined {
  const { format, title } = (summary ?? {}) as { readonly format?: unknown; readonly title?: unknown };
  if (typeof format !== "number" || format <= FORMAT_VERSION) return undefined;
  return storageProblem("newer", typeof title === "string" ? title : id);
}

/** Whether what stands in the way is a program that is newer than this one. */
export function isNewer(problems: readonly Problem[]): boolean {
  return problems.some(({ code }) => code === "store.newer");
}

/** What is wrong with a text that could not be read: a newer program wrote it, or it is damaged. */
export function unreadable(where: string, problems: readonly Problem[]): Result<never> {
  const failure = problems.some(({ code }) => code === "file.newer") ? "newer" : "corrupt";
  return fail(storageProblem(failure, where), ...problems);
}

/** The summary to store in the place of one, with another mark. */
export function markedSummary(id: string, stored: unknown, mark: EditionMark | undefined): Result<unknown> {
  const known = stampOf(id, stored);
  if (!known.ok) return known;
  const { mark: _, ...summary } = stored as SummaryRecord;
  return ok(mark === undefined ? summary : { ...summary, mark });
}

/** The mark that a summary keeps when its edition is written: what is worked on is not deleted. */
export function keptMark(stored: unknown): Pick<SummaryRecord, "mark"> {
  const { mark } = (stored ?? {}) as Partial<SummaryRecord>;
  return isMark(mark) && mark.as !== "deleted" ? { mark } : {};
}

/** The records to store for an edition. */
export function editionRecords(content: EditionContent, revision: number, undo?: UndoIndex): EditionRecords {
  const { book, updatedAt, values, edit } = content;
  const text = writeDocument(book);
  const pieces = book.sheets.pieces.rows.length;
  const summary = { title: book.meta.title, updatedAt, revision, pieces, format: FORMAT_VERSION };
  return {
    summary: edit === undefined ? summary : { ...summary, edit },
    document: {
      ...{ text, sum: checksumOf(text), revision },
      ...(values === undefined ? {} : { values }),
      ...(undo === undefined ? {} : { undo }),
    },
  };
}

/** The list of editions from what is stored: summaries by id, and the ids that have a document. */
export function summariesOf(stored: ReadonlyMap<string, unknown>, documents: ReadonlySet<string>): EditionSummary[] {
  const ids = new Set([...stored.keys(), ...documents]);
  const summaries = [...ids].map((id): EditionSummary => {
    const record = stored.get(id);
    const newer = newerProblem(id, record);
    if (!newer && isSummary(record) && documents.has(id)) return { ...pick(record), id };
    const title = isSummary(record) ? record.title : id;
    const problem = newer ?? storageProblem("corrupt", id);
    return { id, title, updatedAt: "", revision: NOT_YET_STORED, pieces: 0, problem };
  });
  return summaries.sort((a, b) => compare(b.updatedAt, a.updatedAt) || compare(a.title, b.title));
}

function pick({ title, updatedAt, revision, pieces, mark }: SummaryRecord): Omit<EditionSummary, "id"> {
  return { title, updatedAt, revision, pieces, ...(isMark(mark) ? { mark } : {}) };
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What is stored of an edition. */
export interface StoredRecords {
  readonly summary: unknown;
  readonly document: unknown;
  /** What was done, by key. */
  readonly steps: ReadonlyMap<string, unknown>;
}

/** The edition in stored records, checked; and what is known of its steps, which nobody but the store needs. */
export async function editionOf(
  id: string,
  { summary, document, steps }: StoredRecords,
): Promise<Result<{ readonly edition: StoredEdition; readonly known: KnownSteps | undefined }>> {
  if (summary === undefined && document === undefined) return fail(storageProblem("none", id));
  const newer = newerProblem(id, summary);
  if (newer) return fail(newer);
  if (!isDocument(document) || !isSummary(summary)) return fail(storageProblem("corrupt", id));
  if (document.sum !== undefined && document.sum !== checksumOf(document.text))
    return fail(storageProblem("corrupt", summary.title));
  const [{ openDocument }, { readUndo, undoIndexOf }] = await Promise.all([
    import("../core/document/document-file"),
    import("./read-undo"),
  ]);
  const opened = openDocument(document.text, summary.title);
  if (!opened.ok) return unreadable(summary.title, opened.problems);
  const { book, news, isOfToday } = opened.value;
  // Values of another revision, or of other columns and lines, would draw numbers that the document does not have.
  const values = isOfToday && document.revision === summary.revision ? document.values : undefined;
  const { updatedAt, revision, edit } = summary;
  // Steps that were made on other columns and lines would bring those back.
  const index = undoIndexOf(document);
  const undo = index && readUndo({ id, revision, updatedAt, book }, index, isOfToday ? steps : new Map());
  const edition = {
    ...{ id, book, updatedAt, revision },
    ...(values === undefined ? {} : { values }),
    ...(edit === undefined ? {} : { edit }),
    ...(news.length === 0 ? {} : { news }),
    ...(undo === undefined ? {} : { undo: undo.history }),
  };
  return ok({ edition, known: undo?.known });
}

/** The stamp in a stored summary record. */
export function stampOf(id: string, summary: unknown): Result<StoredStamp> {
  if (summary === undefined) return fail(storageProblem("none", id));
  const newer = newerProblem(id, summary);
  if (newer) return fail(newer);
  if (!isSummary(summary)) return fail(storageProblem("corrupt", id));
  const { revision, updatedAt, edit } = summary;
  return ok({ revision, updatedAt, ...(edit === undefined ? {} : { edit }) });
}

/** What is stored, as a copy has it, where both records make sense. */
export function storedForCopy(
  summary: unknown,
  document: unknown,
): { readonly summary: SummaryRecord; readonly text: string } | undefined {
  return isSummary(summary) && isDocument(document) ? { summary, text: document.text } : undefined;
}

/** Whether two stamps are of the same document. */
export function isSameStamp(a: EditStamp | undefined, b: EditStamp | undefined): boolean {
  return a?.sitting === b?.sitting && a?.edits === b?.edits;
}

/** The text in a stored document record, whatever its state. */
export function documentText(id: string, document: unknown): Result<string> {
  if (document === undefined) return fail(storageProblem("none", id));
  if (isDocument(document)) return ok(document.text);
  return ok(typeof document === "string" ? document : (JSON.stringify(document) ?? String(document)));
}

function isSummary(record: unknown): record is SummaryRecord {
  if (typeof record !== "object" || record === null) return false;
  const { title, updatedAt, revision, pieces, edit } = record as Readonly<Record<string, unknown>>;
  return (
    (edit === undefined || isStamp(edit)) &&
    typeof title === "string" &&
    typeof updatedAt === "string" &&
    typeof pieces === "number" &&
    typeof revision === "number" &&
    Number.isInteger(revision) &&
    revision > NOT_YET_STORED
  );
}

const STATUSES: readonly unknown[] = ["archived", "template", "deleted", "shelf"] satisfies EditionStatus[];

/** Whether a stored mark is one that this version knows. */
export function isMark(mark: unknown): mark is EditionMark {
  if (typeof mark !== "object" || mark === null) return false;
  const { as, since } = mark as Readonly<Record<string, unknown>>;
  return STATUSES.includes(as) && typeof since === "string";
}

function isDocument(record: unknown): record is DocumentRecord {
  if (typeof record !== "object" || record === null) return false;
  return typeof (record as { readonly text?: unknown }).text === "string";
}

/** Whether a stored value is the stamp of an edit. */
export function isStamp(record: unknown): record is EditStamp {
  if (typeof record !== "object" || record === null) return false;
  const { sitting, edits, past } = record as Readonly<Record<string, unknown>>;
  const isPast = past === undefined || (Array.isArray(past) && past.every(isStamp));
  return isPast && typeof sitting === "string" && typeof edits === "number";
}
