// What can go wrong with the storage of a browser, in plain words and always with a way out.
import type { Problem } from "../core/problem";

const PLACE = "Storage of this browser";
const SAVE_A_FILE = "Save the edition as a file so that nothing is lost.";

/** The ways in which the storage of a browser can fail. */
export type StorageFailure =
  | "absent"
  | "blocked"
  | "changed"
  | "closed"
  | "corrupt"
  | "denied"
  | "failed"
  | "full"
  | "newer"
  | "none"
  | "removed"
  | "silent"
  | "taken"
  | "unavailable";

interface Words {
  readonly found: string;
  readonly allowed: string;
  readonly fix: string;
}

const WORDS: Readonly<Record<StorageFailure, Words>> = {
  absent: {
    found: "this browser keeps nothing between visits",
    allowed: "a browser with storage switched on",
    fix: `${SAVE_A_FILE} Allow this page to store data, or use another browser.`,
  },
  blocked: {
    found: "another tab holds an older version of the storage open",
    allowed: "no tab of an older version",
    fix: "Close the other tabs of this page, then reload it.",
  },
  changed: {
    found: "the edition was changed in another tab",
    allowed: "the copy that was loaded here, unchanged",
    fix: `${SAVE_A_FILE} Then load the other copy, or keep this one on purpose.`,
  },
  closed: {
    found: "a newer version of this page was opened in another tab",
    allowed: "one version at a time",
    fix: `${SAVE_A_FILE} Then reload this page.`,
  },
  corrupt: {
    found: "the stored record is damaged",
    allowed: "a whole record",
    fix: "It is kept as it is. Save its text as a file, or open an earlier copy.",
  },
  denied: {
    found: "the browser does not let this page store anything",
    allowed: "leave to store data",
    fix: `${SAVE_A_FILE} Allow this page to store data in the browser's settings.`,
  },
  failed: { found: "the browser could not do it", allowed: "storage that works", fix: SAVE_A_FILE },
  full: {
    found: "there is no room left",
    allowed: "some free space",
    fix: `${SAVE_A_FILE} Then free some space on this device, or remove editions that are no longer needed.`,
  },
  newer: {
    found: "what is stored was written by a newer version of Saggar",
    allowed: "what this version or an earlier one has written",
    fix: "It is whole, and stays as it is. Reload this page to get the newer version.",
  },
  none: {
    found: "there is no such edition",
    allowed: "an edition that is in the list",
    fix: "Choose another edition, or open it from a file.",
  },
  removed: {
    found: "the edition was removed in another tab",
    allowed: "an edition that is still there",
    fix: `${SAVE_A_FILE} It can be opened again from there.`,
  },
  silent: {
    found: "the browser does not answer",
    allowed: "an answer within a few seconds",
    fix: `${SAVE_A_FILE} Reload this page, or restart the browser.`,
  },
  taken: {
    found: "there is an edition under that id already",
    allowed: "an id that is not taken",
    fix: `${SAVE_A_FILE} Then open that file as a new edition.`,
  },
  unavailable: {
    found: "the browser has shut its storage, as in a private window",
    allowed: "an ordinary window",
    fix: `${SAVE_A_FILE} Then open it in an ordinary window.`,
  },
};

/** Names of browser errors, by the failure they stand for. `NS_ERROR_DOM_QUOTA_REACHED` is Firefox's older name for a full disk. */
const FAILURE_OF_ERROR: Readonly<Record<string, StorageFailure>> = {
  QuotaExceededError: "full",
  NS_ERROR_DOM_QUOTA_REACHED: "full",
  NS_ERROR_FILE_NO_DEVICE_SPACE: "full",
  InvalidStateError: "unavailable",
  SecurityError: "denied",
  NotAllowedError: "denied",
  VersionError: "newer",
  TimeoutError: "silent",
};

/** Failures that only the maker can end. */
const FINAL: ReadonlySet<string> = new Set([
  "store.changed",
  "store.closed",
  "store.corrupt",
  "store.newer",
  "store.removed",
  "store.taken",
]);

/** The problem for a kind of failure; `detail` names the edition or the browser's own word for it. */
export function storageProblem(failure: StorageFailure, detail = ""): Problem {
  const { found, allowed, fix } = WORDS[failure];
  const described = detail === "" ? found : `${found} (${detail})`;
  return {
    code: `store.${failure}`,
    where: PLACE,
    found: described,
    allowed,
    fix,
    message: `${PLACE}: ${described}. ${fix}`,
  };
}

/** The problem for an error that a browser's storage gave. */
export function problemOfError(error: unknown): Problem {
  const name = errorName(error);
  const failure = FAILURE_OF_ERROR[name];
  return failure ? storageProblem(failure) : storageProblem("failed", name);
}

/** The name of an error such as `QuotaExceededError`. */
export function errorName(error: unknown): string {
  const name = typeof error === "object" && error !== null ? (error as { readonly name?: unknown }).name : undefined;
  return typeof name === "string" && name !== "" ? name : "unknown error";
}

/** Whether trying the same write again later can help. */
export function canRetry(found: Problem): boolean {
  return !FINAL.has(found.code);
}
