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

/** Stands in the place of an edition's id where a record is of all of them. */
export const WHOLE_STUDIO = "";

/** The edits of all editions that no file has, as one record; undefined where every file has them. */
export function ofStudio(copies: readonly FileCopy[]): FileCopy | undefined {
  const behind = copies.filter(({ edits }) => edits > 0);
  const [first] = behind;
  if (!first) return undefined;
  const quietUntil = behind
    .flatMap((one) => one.quietUntil ?? [])
    .sort()
    .at(-1);
  return {
    edition: WHOLE_STUDIO,
    since: behind.map(({ since }) => since).sort()[0] ?? first.since,
    hasFile: behind.every(({ hasFile }) => hasFile),
    edits: behind.reduce((sum, { edits }) => sum + edits, 0),
    ...(quietUntil === undefined ? {} : { quietUntil }),
  };
}

/** Whether it is time to remind; `isWeekly` where the browser may clear what it keeps: any edit is then worth a word. */
export function isReminderDue(copy: FileCopy | undefined, now: Date, isWeekly = false): boolean {
  if (!copy || (copy.quietUntil !== undefined && now.toISOString() < copy.quietUntil)) return false;
  const days = (now.getTime() - Date.parse(copy.since)) / DAY_MS;
  return copy.edits >= REMIND_AFTER_EDITS || (copy.edits >= (isWeekly ? 1 : FEWEST_EDITS) && days >= REMIND_AFTER_DAYS);
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
