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

/**
 * How safe what is stored is in this browser, in words, and what makes it safer. `clearsUnvisited`: whether its engine clears
 * what a page keeps after seven days of use without a visit, as WebKit does unless the page is installed
 * (https://webkit.org/blog/10218, 2020).
 */
export function safetyOf(keeping: Keeping, clearsUnvisited: boolean): string {
  if (keeping === "kept") return "This browser has promised to keep what is stored here.";
  const promise =
    keeping === "unknown"
      ? "This browser does not say whether it will keep what is stored here."
      : "This browser has not promised to keep what is stored here: it may clear it when space runs short.";
  const unvisited = clearsUnvisited
    ? " It clears it once you have used the browser for seven days without opening this page."
    : "";
  return `${promise}${unvisited} It is safer once the page is installed from the browser's own menu, on the home screen or among the programs. Save each edition as a file now and then.`;
}
