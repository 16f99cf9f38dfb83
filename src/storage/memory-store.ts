// A store that lasts as long as the page: for browsers without storage, and for tests.
import { fail, ok, type Result } from "../core/problem";
import {
  type EditionContent,
  type EditionStore,
  type EditionSummary,
  editionOf,
  recordsOf,
  refusalOf,
  type StoredEdition,
  summariesOf,
  textOf,
} from "./edition-store";
import { type PreferenceName, type PreferenceStore, type PreferenceValues, preferenceOf } from "./preferences";
import { problemOfError } from "./storage-problems";

/** What a memory store holds: the same records as the database. */
export interface MemoryRecords {
  readonly summaries: Map<string, unknown>;
  readonly documents: Map<string, unknown>;
  readonly preferences: Map<string, unknown>;
}

/** Nothing stored yet. */
export function emptyRecords(): MemoryRecords {
  return { summaries: new Map(), documents: new Map(), preferences: new Map() };
}

/** An edition store and preferences over records in memory. */
export function createMemoryStore(records: MemoryRecords = emptyRecords()): {
  readonly editions: EditionStore;
  readonly preferences: PreferenceStore;
} {
  return { editions: memoryEditions(records), preferences: memoryPreferences(records) };
}

function memoryEditions({ summaries, documents }: MemoryRecords): EditionStore {
  return {
    async list(): Promise<Result<readonly EditionSummary[]>> {
      return ok(summariesOf(summaries, new Set(documents.keys())));
    },
    async read(id: string): Promise<Result<StoredEdition>> {
      return editionOf(id, summaries.get(id), documents.get(id));
    },
    async readText(id: string): Promise<Result<string>> {
      return textOf(id, documents.get(id));
    },
    async write(id: string, content: EditionContent, expectedRevision: number): Promise<Result<number>> {
      const refusal = refusalOf(id, { summary: summaries.get(id), hasDocument: documents.has(id) }, expectedRevision);
      if (refusal) return fail(refusal);
      try {
        // Cloned as a database would, so that a later change of `values` does not reach what is stored.
        const { summary, document } = structuredClone(recordsOf(content, expectedRevision + 1));
        summaries.set(id, summary);
        documents.set(id, document);
        return ok(summary.revision);
      } catch (error) {
        return fail(problemOfError(error));
      }
    },
    async remove(id: string): Promise<Result<undefined>> {
      summaries.delete(id);
      documents.delete(id);
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
