// The edits that the database does not have yet, written down at once and in one piece, so that a page that is closed or
// killed within the moment before a save loses nothing. What is written here is dropped as soon as it is saved.
import { applyChange, type Change } from "../core/change";
import { checkCellsOf } from "../core/check-cells";
import type { Workbook } from "../core/workbook";
import { type EditStamp, isSameStamp, isStamp } from "./edition-store";

/** Above this the place is full in most browsers; such edits wait for the database alone. */
const MOST_CHARACTERS = 2_000_000;

/** One edit, with the stamp that the document has after it. */
export interface HeldEdit {
  readonly stamp: EditStamp;
  /** The stamp of the document it was made on; undefined for one that was stored without. */
  readonly after: EditStamp | undefined;
  readonly change: Change;
}

export interface LastEdits {
  /** Writes the edits down in place of those that stood there; false where there is no room or no place. */
  hold(edition: string, edits: readonly HeldEdit[]): boolean;
  /** The edits that are written down, oldest first; none where there are none or they make no sense. */
  read(edition: string): readonly HeldEdit[];
  drop(edition: string): void;
  /** Moves edits that could not be put back out of the way: they are not read again, but are not taken for put back. */
  setAside(edition: string): void;
  /** Whether edits that were written down are gone because another tab has put them back and saved them. */
  arePutBack(edition: string, edits: readonly HeldEdit[]): boolean;
}

/** A place in the browser's small storage; `storage` throws or is absent where it is switched off. */
export function createLastEdits(storage: () => Storage | undefined): LastEdits {
  const nameOf = (edition: string) => `saggar last edits ${edition}`;
  const asideOf = (edition: string) => `saggar edits left out ${edition}`;
  const withStorage = <T>(work: (storage: Storage) => T, otherwise: T): T => {
    try {
      const place = storage();
      return place ? work(place) : otherwise;
    } catch {
      return otherwise;
    }
  };
  return {
    hold(edition, edits) {
      const text = JSON.stringify(edits);
      if (text.length > MOST_CHARACTERS) return false;
      return withStorage((place) => {
        place.setItem(nameOf(edition), text);
        return true;
      }, false);
    },
    read: (edition) => withStorage((place) => readHeld(place.getItem(nameOf(edition))), []),
    drop: (edition) => withStorage((place) => place.removeItem(nameOf(edition)), undefined),
    setAside: (edition) =>
      withStorage((place) => {
        place.setItem(asideOf(edition), place.getItem(nameOf(edition)) ?? "");
        place.removeItem(nameOf(edition));
      }, undefined),
    arePutBack(edition, edits) {
      const last = edits.at(-1)?.stamp;
      const holds = (name: string) =>
        withStorage((place) => readHeld(place.getItem(name)).some(({ stamp }) => isSameStamp(stamp, last)), true);
      return !holds(nameOf(edition)) && !holds(asideOf(edition));
    },
  };
}

/** The held edits that were made after `stored`, in order; none where they do not follow from it. */
export function editsSince(held: readonly HeldEdit[], stored: EditStamp | undefined): readonly HeldEdit[] {
  const from = held.findIndex(({ after }) => isSameStamp(after, stored));
  if (from === -1) return [];
  const wanted = held.slice(from);
  const breaks = wanted.findIndex((edit, at) => at > 0 && !isSameStamp(edit.after, wanted[at - 1]?.stamp));
  return breaks === -1 ? wanted : wanted.slice(0, breaks);
}

/** Whether the edits belong to a document and leave it in keeping with its rules. */
export function isSound(book: Workbook, edits: readonly HeldEdit[]): boolean {
  try {
    const after = edits.reduce((document, { change }) => applyChange(document, change), book);
    return checkCellsOf(after).length === 0;
  } catch {
    // An edit names what is not there: it does not belong to this document.
    return false;
  }
}

function readHeld(text: string | null): readonly HeldEdit[] {
  const parsed: unknown = text ? JSON.parse(text) : [];
  return Array.isArray(parsed) && parsed.every(isHeld) ? parsed : [];
}

function isHeld(one: unknown): one is HeldEdit {
  if (typeof one !== "object" || one === null) return false;
  const { stamp, after, change } = one as Readonly<Record<string, unknown>>;
  if (!isStamp(stamp) || !(after === undefined || isStamp(after))) return false;
  return Array.isArray((change as { readonly operations?: unknown } | undefined)?.operations);
}
