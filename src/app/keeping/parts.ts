// Parts of the program that are fetched when they are first wanted, and may be gone by then: the host was given a newer
// version meanwhile, or the network is down.

export const PART_MISSING =
  "This part of the program could not be fetched. Your edition is kept: reload the page, once the network is there again.";

/** Whether an error says that a part could not be fetched. Chromium, Firefox and WebKit each have words of their own. */
export function isPartMissing(error: unknown): boolean {
  return (
    error instanceof Error &&
    /dynamically imported module|importing a module script|unable to preload css/i.test(error.message)
  );
}
