// Asks the browser not to clear what is stored when space runs short or after days without a visit.

/** Whether the browser has promised to keep what is stored; "unknown" where it can't be asked. */
export type Keeping = "kept" | "may be cleared" | "unknown";

/** Asks for what is stored to be kept; `storage` is `navigator.storage`, absent in some browsers and on insecure pages. */
export async function askToKeep(storage: Pick<StorageManager, "persist" | "persisted"> | undefined): Promise<Keeping> {
  if (storage?.persist === undefined) return "unknown";
  try {
    const isKept = (await storage.persisted()) || (await storage.persist());
    return isKept ? "kept" : "may be cleared";
  } catch {
    return "unknown";
  }
}
