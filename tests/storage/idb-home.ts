// A home in whatever IndexedDB the test runs with.
import { deleteDB, openDB } from "idb";
import { openIdbStore } from "../../src/storage/idb-store";
import { type Home, valueFrom } from "./contract";

let count = 0;

/** A database name that no other test uses. */
export function freshName(): string {
  count += 1;
  return `saggar-test-${count}`;
}

/** Opens an empty home under a fresh name; ending it closes every connection and deletes the database. */
export async function openIdbHome(): Promise<Home> {
  const name = freshName();
  await deleteDB(name);
  const store = valueFrom(await openIdbStore(name));
  const others = [store];
  return {
    editions: store.editions,
    copies: store.copies,
    preferences: store.preferences,
    inAnotherTab: async () => {
      const other = valueFrom(await openIdbStore(name));
      others.push(other);
      return other;
    },
    plant: async (store, id, record) => {
      const raw = await openDB(name);
      await raw.put(store, record, id);
      raw.close();
    },
    end: async () => {
      for (const other of others) other.close();
      await deleteDB(name);
    },
  };
}
