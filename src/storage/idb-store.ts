// Editions and preferences in the browser's database.
import { fail, ok, type Problem, type Result } from "../core/problem";
import { type Connection, type Database, type DatabaseOptions, openConnection } from "./database";
import {
  type EditionContent,
  type EditionStore,
  editionOf,
  recordsOf,
  refusalOf,
  type StoredEdition,
  summariesOf,
  textOf,
} from "./edition-store";
import { type PreferenceName, type PreferenceStore, type PreferenceValues, preferenceOf } from "./preferences";

export interface IdbStore {
  readonly editions: EditionStore;
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
    preferences: idbPreferences(connection),
    close: () => connection.close(),
  });
}

function idbEditions(connection: Connection): EditionStore {
  return {
    list: () => connection.run(listEditions),
    read: (id) => connection.run((database) => readEdition(database, id)),
    readText: (id) => connection.run(async (database) => textOf(id, await database.get("documents", id))),
    write: (id, content, expected) => connection.run((database) => writeEdition(database, id, content, expected)),
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

async function readEdition(database: Database, id: string): Promise<Result<StoredEdition>> {
  const transaction = database.transaction(["summaries", "documents"]);
  const [summary, document] = await Promise.all([
    transaction.objectStore("summaries").get(id),
    transaction.objectStore("documents").get(id),
    transaction.done,
  ]);
  return editionOf(id, summary, document);
}

/** One transaction reads the stored revision and writes the next, so that two tabs can't both win. */
async function writeEdition(
  database: Database,
  id: string,
  content: EditionContent,
  expected: number,
): Promise<Result<number>> {
  const { summary, document } = recordsOf(content, expected + 1);
  // Strict: “saved” is shown only once it is on the disk.
  const transaction = database.transaction(["summaries", "documents"], "readwrite", { durability: "strict" });
  const summaries = transaction.objectStore("summaries");
  const documents = transaction.objectStore("documents");
  const write = async (): Promise<Problem | undefined> => {
    const [stored, key] = await Promise.all([summaries.get(id), documents.getKey(id)]);
    const refusal = refusalOf(id, { summary: stored, hasDocument: key !== undefined }, expected);
    if (refusal) return refusal;
    // Each in an async function: a value that can't be cloned throws at once and would leave the other promise unheard.
    await Promise.all([(async () => summaries.put(summary, id))(), (async () => documents.put(document, id))()]);
    return undefined;
  };
  const refusal = await settled(write(), transaction);
  return refusal ? fail(refusal) : ok(summary.revision);
}

async function removeEdition(database: Database, id: string): Promise<Result<undefined>> {
  const transaction = database.transaction(["summaries", "documents"], "readwrite", { durability: "strict" });
  const work = [transaction.objectStore("summaries").delete(id), transaction.objectStore("documents").delete(id)];
  await settled(Promise.all(work), transaction);
  return ok(undefined);
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
  throw reasons.find((reason) => (reason as { readonly name?: string } | null)?.name !== "AbortError") ?? reasons[0];
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
