// When to remind of saving a file: the browser's storage is on one device and may be cleared. Quiet, and can be put off.
import type { FileCopy } from "../../storage/preferences";

const REMIND_AFTER_EDITS = 150;
const REMIND_AFTER_DAYS = 7;
/** Fewer edits than this are not worth a word, however old. */
const FEWEST_EDITS = 20;
const PUT_OFF_DAYS = 7;
const DAY_MS = 86_400_000;
/** Editions that are remembered; the oldest go first. */
const MOST_EDITIONS = 200;

/** Whether it is time to remind. */
export function isReminderDue(copy: FileCopy | undefined, now: Date): boolean {
  if (!copy || (copy.quietUntil !== undefined && now.toISOString() < copy.quietUntil)) return false;
  const days = (now.getTime() - Date.parse(copy.since)) / DAY_MS;
  return copy.edits >= REMIND_AFTER_EDITS || (copy.edits >= FEWEST_EDITS && days >= REMIND_AFTER_DAYS);
}

/** The record after so many more edits. */
export function afterEdits(copy: FileCopy | undefined, edition: string, edits: number, now: Date): FileCopy {
  const known = copy ?? { edition, since: now.toISOString(), hasFile: false, edits: 0 };
  return { ...known, edits: known.edits + edits };
}

/** The record after a file was saved. */
export function afterFile(edition: string, now: Date): FileCopy {
  return { edition, since: now.toISOString(), hasFile: true, edits: 0 };
}

/** The record with the reminder put off. */
export function putOff(copy: FileCopy, now: Date): FileCopy {
  return { ...copy, quietUntil: new Date(now.getTime() + PUT_OFF_DAYS * DAY_MS).toISOString() };
}

/** All records with one of them new. */
export function withFileCopy(copies: readonly FileCopy[], copy: FileCopy): readonly FileCopy[] {
  return [...copies.filter(({ edition }) => edition !== copy.edition), copy].slice(-MOST_EDITIONS);
}
