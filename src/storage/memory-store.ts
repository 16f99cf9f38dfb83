// A store that lasts as long as the page: for browsers without storage, and for tests.
import { fail, ok, type Result } from "../core/problem";
import { type CopyStore, copyKey, copyKeys, copyOf, notesOf, recordsOfNamed, recordsOfStored } from "./copies";
import {
  documentText,
  type EditionContent,
  type EditionMark,
  type EditionStore,
  type EditionSummary,
  editionOf,
  editionRecords,
  keptMark,
  markedSummary,
  NOT_YET_STORED,
  refusalOf,
  type StoredEdition,
  stampOf,
  storedForCopy,
  summariesOf,
} from "./edition-store";
import { type PreferenceName, type PreferenceStore, type PreferenceValues, preferenceOf } from "./preferences";
import { problemOfError } from "./storage-problems";
import { copiesToGiveUp, isCopyDue } from "./thinning";
import { type KnownSteps, undoWrite } from "./undo-records";

/** What a memory store holds: the same records as the database. */
export interface MemoryRecords {
  readonly summaries: Map<string, unknown>;
  readonly documents: Map<string, unknown>;
  readonly preferences: Map<string, unknown>;
  readonly notes: Map<string, unknown>;
  readonly copies: Map<string, unknown>;
  readonly steps: Map<string, unknown>;
}

/** Nothing stored yet. */
export function emptyRecords(): MemoryRecords {
  const [summaries, documents, preferences, notes, copies, steps] = Array.from({ length: 6 }, () => new Map());
  return { summaries, documents, preferences, notes, copies, steps } as MemoryRecords;
}

/** Editions, their copies and preferences over records in memory. */
export function createMemoryStore(records: MemoryRecords = emptyRecords()): {
  readonly editions: EditionStore;
  readonly copies: CopyStore;
  readonly preferences: PreferenceStore;
} {
  return {
    editions: memoryEditions(records),
    copies: memoryCopies(records),
    preferences: memoryPreferences(records),
  };
}

function memoryEditions(records: MemoryRecords): EditionStore {
  const { summaries, documents, steps } = records;
  let known: KnownSteps | undefined;
  return {
    async list(): Promise<Result<readonly EditionSummary[]>> {
      return ok(summariesOf(summaries, new Set(documents.keys())));
    },
    async read(id: string): Promise<Result<StoredEdition>> {
      const read = await editionOf(id, { summary: summaries.get(id), document: documents.get(id), steps });
      if (!read.ok) return read;
      known = read.value.known;
      return ok(read.value.edition);
    },
    async stamp(id: string) {
      return stampOf(id, summaries.get(id));
    },
    async readText(id: string): Promise<Result<string>> {
      return documentText(id, documents.get(id));
    },
    async write(id: string, content: EditionContent, expectedRevision: number): Promise<Result<number>> {
      const refusal = refusalOf(id, { summary: summaries.get(id), hasDocument: documents.has(id) }, expectedRevision);
      if (refusal) return fail(refusal);
      try {
        // Cloned as a database would, so that a later change of `values` does not reach what is stored.
        const undo = content.undo && undoWrite(id, content.undo, known, expectedRevision);
        const { summary, document } = structuredClone(editionRecords(content, expectedRevision + 1, undo?.index));
        putBy(records, id, content.updatedAt);
        for (const key of undo && !undo.isAnew ? undo.gone : keysIn(steps, id)) steps.delete(key);
        for (const [key, record] of undo?.put ?? []) steps.set(key, record);
        known = undo?.known;
        summaries.set(id, { ...summary, ...keptMark(summaries.get(id)) });
        documents.set(id, document);
        return ok(summary.revision);
      } catch (error) {
        return fail(problemOfError(error));
      }
    },
    async mark(id: string, mark: EditionMark | undefined): Promise<Result<undefined>> {
      const marked = markedSummary(id, summaries.get(id), mark);
      if (marked.ok) summaries.set(id, marked.value);
      return marked.ok ? ok(undefined) : marked;
    },
    async remove(id: string): Promise<Result<undefined>> {
      summaries.delete(id);
      documents.delete(id);
      for (const key of keysOf(records, id)) dropCopy(records, key);
      for (const key of keysIn(steps, id)) steps.delete(key);
      return ok(undefined);
    },
  };
}

function keysOf({ notes, copies }: MemoryRecords, edition: string): readonly string[] {
  return [...new Set([...keysIn(notes, edition), ...keysIn(copies, edition)])];
}

function keysIn(store: ReadonlyMap<string, unknown>, edition: string): readonly string[] {
  const [first, last] = copyKeys(edition);
  return [...store.keys()].filter((key) => key >= first && key <= last);
}

function dropCopy({ notes, copies }: MemoryRecords, key: string): void {
  notes.delete(key);
  copies.delete(key);
}

function listCopies(records: MemoryRecords, edition: string) {
  return notesOf(keysOf(records, edition).map((key) => records.notes.get(key)));
}

/** Puts what is stored by, if it is worth a copy, and gives up what has grown old. */
function putBy(records: MemoryRecords, id: string, now: string): void {
  const stored = storedForCopy(records.summaries.get(id), records.documents.get(id));
  const notes = listCopies(records, id);
  if (!stored || !isCopyDue(notes, stored.summary, now)) return;
  const { note, copy } = recordsOfStored(stored.summary, stored.text);
  records.notes.set(copyKey(id, note.takenAt), note);
  records.copies.set(copyKey(id, note.takenAt), copy);
  for (const old of copiesToGiveUp([note, ...notes], now)) dropCopy(records, copyKey(id, old.takenAt));
}

function memoryCopies(records: MemoryRecords): CopyStore {
  return {
    async list(edition) {
      return ok(listCopies(records, edition));
    },
    async read(edition, takenAt) {
      return copyOf(takenAt, records.copies.get(copyKey(edition, takenAt)));
    },
    async keep(edition, named) {
      const stored = stampOf(edition, records.summaries.get(edition));
      const { note, copy } = recordsOfNamed(named, stored.ok ? stored.value.revision : NOT_YET_STORED);
      records.notes.set(copyKey(edition, note.takenAt), note);
      records.copies.set(copyKey(edition, note.takenAt), copy);
      return ok(undefined);
    },
    async remove(edition, takenAts) {
      for (const takenAt of takenAts) dropCopy(records, copyKey(edition, takenAt));
      return ok(undefined);
    },
  };
}

function memoryPreferences({ preferences }: MemoryRecords): PreferenceStore {
  return {
    async get<N extends PreferenceName>(name: N) {
      return ok(preferenceOf(name, preferences.get(name)));
    },
    async set<N extends PreferenceName>(name: N, value: PreferenceValues[N] | undefined) {
      if (value === undefined) preferences.delete(name);
      else preferences.set(name, value);
      return ok(undefined);
    },
  };
}
