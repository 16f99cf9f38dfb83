// Editions and preferences in the browser's database.

import type { IDBPTransaction } from "idb";
import { fail, ok, type Problem, type Result } from "../core/problem";
import { type CopyStore, copyKey, copyKeys, copyOf, notesOf, recordsOfNamed, recordsOfStored } from "./copies";
import { type Connection, type Database, type DatabaseOptions, type DatabaseShape, openConnection } from "./database";
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
  stampOf,
  storedForCopy,
  summariesOf,
} from "./edition-store";
import { type PreferenceName, type PreferenceStore, type PreferenceValues, preferenceOf } from "./preferences";
import { errorName, problemOfError } from "./storage-problems";
import { copiesToGiveUp, isCopyDue } from "./thinning";
import { type KnownSteps, type UndoWrite, undoWrite, withoutUndo } from "./undo-records";

export interface IdbStore {
  readonly editions: EditionStore;
  readonly copies: CopyStore;
  readonly preferences: PreferenceStore;
  /** Closes the connection; afterwards everything fails with a problem. */
  close(): void;
}

/** Opens the browser's database; `onClosed` hears when a newer version of the page has taken it over. */
export async function openIdbStore(name: string, options: DatabaseOptions = {}): Promise<Result<IdbStore>> {
  const opened = await openConnection(name, options);
  if (!opened.ok) return opened;
  const connection = opened.value;
  return ok({
    editions: idbEditions(connection),
    copies: idbCopies(connection),
    preferences: idbPreferences(connection),
    close: () => connection.close(),
  });
}

function idbEditions(connection: Connection): EditionStore {
  let known: KnownSteps | undefined;
  return {
    list: () => connection.run(listEditions),
    async read(id) {
      const read = await connection.run((database) => readEdition(database, id));
      if (!read.ok) return read;
      known = read.value.known;
      return ok(read.value.edition);
    },
    stamp: (id) => connection.run(async (database) => stampOf(id, await database.get("summaries", id))),
    readText: (id) => connection.run(async (database) => documentText(id, await database.get("documents", id))),
    mark: (id, mark) => connection.run((database) => markEdition(database, id, mark)),
    async write(id, content, expected) {
      const written = await connection.run((database) => writeEdition(database, id, content, expected, known));
      if (!written.ok) return written;
      known = written.value.undo?.known;
      return ok(written.value.revision);
    },
    remove: (id) => connection.run((database) => removeEdition(database, id)),
  };
}

async function listEditions(database: Database) {
  const transaction = database.transaction(["summaries", "documents"]);
  const [ids, records, documents] = await Promise.all([
    transaction.objectStore("summaries").getAllKeys(),
    transaction.objectStore("summaries").getAll(),
    transaction.objectStore("documents").getAllKeys(),
    transaction.done,
  ]);
  return ok(summariesOf(new Map(ids.map((id, at) => [id, records[at]])), new Set(documents)));
}

async function readEdition(database: Database, id: string) {
  const transaction = database.transaction(["summaries", "documents", "steps"]);
  const [summary, document, keys, steps] = await Promise.all([
    transaction.objectStore("summaries").get(id),
    transaction.objectStore("documents").get(id),
    transaction.objectStore("steps").getAllKeys(rangeOf(id)),
    transaction.objectStore("steps").getAll(rangeOf(id)),
    transaction.done,
  ]);
  return editionOf(id, { summary, document, steps: new Map(keys.map((key, at) => [key, steps[at]])) });
}

const WRITTEN = ["summaries", "documents", "notes", "copies", "steps"] as const;
type Writing = IDBPTransaction<DatabaseShape, typeof WRITTEN, "readwrite">;

function startWriting(database: Database): Writing {
  // Strict: “saved” is shown only once it is on the disk.
  return database.transaction(WRITTEN, "readwrite", { durability: "strict" });
}

interface WrittenEdition {
  readonly revision: number;
  readonly undo: UndoWrite | undefined;
}

/**
 * Writes with a copy of what is written over where one is due; on a full disk once more without, and at last without what
 * can be undone, since work comes first.
 */
async function writeEdition(
  database: Database,
  id: string,
  content: EditionContent,
  expected: number,
  known: KnownSteps | undefined,
): Promise<Result<WrittenEdition>> {
  const isFull = (error: unknown) => problemOfError(error).code === "store.full";
  const undo = content.undo && undoWrite(id, content.undo, known, expected);
  try {
    return await writeOnce(database, id, content, expected, { withCopy: true, undo });
  } catch (error) {
    if (expected === NOT_YET_STORED || !isFull(error)) throw error;
  }
  try {
    return await writeOnce(database, id, content, expected, { withCopy: false, undo });
  } catch (error) {
    if (!undo || !isFull(error)) throw error;
    const none = withoutUndo(id, content.updatedAt, expected);
    return writeOnce(database, id, content, expected, { withCopy: false, undo: none });
  }
}

interface Beside {
  readonly withCopy: boolean;
  readonly undo: UndoWrite | undefined;
}

/** One transaction reads the stored revision and writes the next, so that two tabs can't both win. */
async function writeOnce(
  database: Database,
  id: string,
  content: EditionContent,
  expected: number,
  { withCopy, undo }: Beside,
): Promise<Result<WrittenEdition>> {
  const { summary, document } = editionRecords(content, expected + 1, undo?.index);
  const transaction = startWriting(database);
  const summaries = transaction.objectStore("summaries");
  const documents = transaction.objectStore("documents");
  const write = async (): Promise<Problem | undefined> => {
    const [stored, key] = await Promise.all([summaries.get(id), documents.getKey(id)]);
    const refusal = refusalOf(id, { summary: stored, hasDocument: key !== undefined }, expected);
    if (refusal) return refusal;
    if (withCopy && expected > NOT_YET_STORED) await putBy(transaction, id, stored, content.updatedAt);
    // Each in an async function: a value that can't be cloned throws at once and would leave the other promise unheard.
    await Promise.all([
      (async () => summaries.put({ ...summary, ...keptMark(stored) }, id))(),
      (async () => documents.put(document, id))(),
      ...stepsWritten(transaction, id, undo),
    ]);
    return undefined;
  };
  const refusal = await settled(write(), transaction);
  return refusal ? fail(refusal) : ok({ revision: summary.revision, undo });
}

/** Writes the steps that are new and removes those that are gone. */
function stepsWritten(transaction: Writing, id: string, undo: UndoWrite | undefined): Promise<unknown>[] {
  const steps = transaction.objectStore("steps");
  if (!undo) return [steps.delete(rangeOf(id))];
  return [
    ...(undo.isAnew ? [steps.delete(rangeOf(id))] : undo.gone.map((key) => steps.delete(key))),
    ...undo.put.map(async ([key, record]) => steps.put(record, key)),
  ];
}

/** Puts what is stored by, if it is worth a copy, and gives up what has grown old. */
async function putBy(transaction: Writing, id: string, summary: unknown, now: string): Promise<void> {
  const noteStore = transaction.objectStore("notes");
  const notes = notesOf(await noteStore.getAll(rangeOf(id)));
  if (!isCopyDue(notes, summary as EditionSummary, now)) return;
  const stored = storedForCopy(summary, await transaction.objectStore("documents").get(id));
  if (!stored) return;
  const { note, copy } = recordsOfStored(stored.summary, stored.text);
  const copies = transaction.objectStore("copies");
  const old = copiesToGiveUp([note, ...notes], now).map(({ takenAt }) => copyKey(id, takenAt));
  const key = copyKey(id, note.takenAt);
  await Promise.all([
    (async () => noteStore.put(note, key))(),
    (async () => copies.put(copy, key))(),
    ...old.flatMap((given) => [noteStore.delete(given), copies.delete(given)]),
  ]);
}

function rangeOf(edition: string): IDBKeyRange {
  const [first, last] = copyKeys(edition);
  return IDBKeyRange.bound(first, last);
}

async function markEdition(database: Database, id: string, mark: EditionMark | undefined): Promise<Result<undefined>> {
  const transaction = startWriting(database);
  const summaries = transaction.objectStore("summaries");
  const write = async (): Promise<Result<undefined>> => {
    const marked = markedSummary(id, await summaries.get(id), mark);
    if (!marked.ok) return marked;
    await summaries.put(marked.value, id);
    return ok(undefined);
  };
  return settled(write(), transaction);
}

async function removeEdition(database: Database, id: string): Promise<Result<undefined>> {
  const transaction = startWriting(database);
  const work = [
    transaction.objectStore("summaries").delete(id),
    transaction.objectStore("documents").delete(id),
    transaction.objectStore("notes").delete(rangeOf(id)),
    transaction.objectStore("copies").delete(rangeOf(id)),
    transaction.objectStore("steps").delete(rangeOf(id)),
  ];
  await settled(Promise.all(work), transaction);
  return ok(undefined);
}

function idbCopies(connection: Connection): CopyStore {
  return {
    list: (edition) =>
      connection.run(async (database) => ok(notesOf(await database.getAll("notes", rangeOf(edition))))),
    read: (edition, takenAt) =>
      connection.run(async (database) => copyOf(takenAt, await database.get("copies", copyKey(edition, takenAt)))),
    keep: (edition, named) =>
      connection.run(async (database) => {
        const key = copyKey(edition, named.takenAt);
        const transaction = startWriting(database);
        const keep = async () => {
          const stored = stampOf(edition, await transaction.objectStore("summaries").get(edition));
          const { note, copy } = recordsOfNamed(named, stored.ok ? stored.value.revision : NOT_YET_STORED);
          await Promise.all([
            transaction.objectStore("notes").put(note, key),
            transaction.objectStore("copies").put(copy, key),
          ]);
        };
        await settled(keep(), transaction);
        return ok(undefined);
      }),
    remove: (edition, takenAts) =>
      connection.run(async (database) => {
        const transaction = startWriting(database);
        const work = takenAts.flatMap((takenAt) => {
          const key = copyKey(edition, takenAt);
          return [transaction.objectStore("notes").delete(key), transaction.objectStore("copies").delete(key)];
        });
        await settled(Promise.all(work), transaction);
        return ok(undefined);
      }),
  };
}

/** Waits for both the work and the transaction. The reason is the work's, unless that only says that the transaction ended. */
async function settled<T>(work: Promise<T>, transaction: { readonly done: Promise<void>; abort(): void }): Promise<T> {
  const [worked, done] = await Promise.allSettled([
    work.catch((error: unknown) => {
      abortQuietly(transaction);
      throw error;
    }),
    transaction.done,
  ]);
  if (worked.status === "fulfilled" && done.status === "fulfilled") return worked.value;
  const reasons = [worked, done].flatMap((part) => (part.status === "rejected" ? [part.reason as unknown] : []));
  throw reasons.find((reason) => errorName(reason) !== "AbortError") ?? reasons[0];
}

/** Nothing half written stays; a transaction that has ended by itself can't be aborted again. */
function abortQuietly(transaction: { abort(): void }): void {
  try {
    transaction.abort();
  } catch {
    // It had ended already.
  }
}

function idbPreferences(connection: Connection): PreferenceStore {
  return {
    get<N extends PreferenceName>(name: N) {
      return connection.run(async (database) => ok(preferenceOf(name, await database.get("preferences", name))));
    },
    set<N extends PreferenceName>(name: N, value: PreferenceValues[N] | undefined) {
      return connection.run(async (database) => {
        if (value === undefined) await database.delete("preferences", name);
        else await database.put("preferences", value, name);
        return ok(undefined);
      });
    },
  };
}
