// The edits that the database does not have yet, written down at once and in one piece, so that a page that is closed or
// killed within the moment before a save loses nothing. What is written here is dropped as soon as it is saved.
import type { Change } from "../core/document/change";
import type { HistoryEffect } from "../core/document/history";
import { type EditStamp, isSameStamp, isStamp } from "./edition-store";

/** Above this the place is full in most browsers; such edits wait for the database alone. */
const MOST_CHARACTERS = 2_000_000;

/** One edit, with the stamp that the document has after it. */
export interface HeldEdit {
  readonly stamp: EditStamp;
  /** The stamp of the document it was made on; undefined for one that was stored without. */
  readonly after: EditStamp | undefined;
  readonly change: Change;
  /** What it was to the undo stack. */
  readonly place?: HistoryEffect;
}

/** Edits of a page that was closed, which did not fit the edition when it was opened again. */
export interface AsideEdits {
  readonly id: string;
  /** When they were set aside, ISO 8601; undefined for those of earlier versions. */
  readonly at: string | undefined;
  readonly edits: readonly HeldEdit[];
}

export interface LastEdits {
  /** Writes the edits down in place of those that stood there; false where there is no room or no place. */
  hold(edition: string, edits: readonly HeldEdit[]): boolean;
  /** The edits that are written down, oldest first; none where there are none or they make no sense. */
  read(edition: string): readonly HeldEdit[];
  drop(edition: string): void;
  /** Moves edits that could not be put back out of the way, at a time (ISO 8601): they wait there for a word. */
  setAside(edition: string, at: string): void;
  /** The edits set aside, oldest first. */
  aside(edition: string): readonly AsideEdits[];
  /** Writes down what is set aside from now on. */
  replaceAside(edition: string, aside: readonly AsideEdits[]): void;
  /** Whether edits that were written down are gone because another tab has put them back and saved them. */
  arePutBack(edition: string, edits: readonly HeldEdit[]): boolean;
}

/** Kept in the browser's small storage; `storage` throws or is absent where it is switched off. */
export function createLastEdits(storage: () => Storage | undefined): LastEdits {
  const nameOf = (edition: string) => `saggar last edits ${edition}`;
  const asideOf = (edition: string) => `saggar edits left out ${edition}`;
  /** What the work gives; undefined where there is no storage or it fails. */
  const withStorage = <T>(work: (storage: Storage) => T): T | undefined => {
    try {
      const kept = storage();
      return kept && work(kept);
    } catch {
      return undefined;
    }
  };
  const held = (edition: string) => withStorage((kept) => readHeld(kept.getItem(nameOf(edition)))) ?? [];
  const aside = (edition: string) => withStorage((kept) => readAside(kept.getItem(asideOf(edition)))) ?? [];
  const replaceAside = (edition: string, sets: readonly AsideEdits[]) =>
    withStorage((kept) => {
      if (sets.length === 0) kept.removeItem(asideOf(edition));
      else kept.setItem(asideOf(edition), JSON.stringify(sets));
      return true;
    }) ?? false;
  return {
    aside,
    replaceAside: (edition, sets) => void replaceAside(edition, sets),
    hold(edition, edits) {
      const text = JSON.stringify(edits);
      if (text.length > MOST_CHARACTERS) return false;
      const isWritten = withStorage((kept) => {
        kept.setItem(nameOf(edition), text);
        return true;
      });
      return isWritten ?? false;
    },
    read: held,
    drop: (edition) => withStorage((kept) => kept.removeItem(nameOf(edition))),
    setAside(edition, at) {
      const edits = held(edition);
      const sets = aside(edition);
      const id = `${at} ${sets.length}`;
      if (edits.length === 0) return;
      // First out of the way: there may be no room for both.
      this.drop(edition);
      if (!replaceAside(edition, [...sets, { id, at, edits }])) this.hold(edition, edits);
    },
    arePutBack(edition, edits) {
      const last = edits.at(-1)?.stamp;
      const isLast = ({ stamp }: HeldEdit) => isSameStamp(stamp, last);
      const areGone = withStorage(
        (kept) =>
          !readHeld(kept.getItem(nameOf(edition))).some(isLast) &&
          !readAside(kept.getItem(asideOf(edition))).some((one) => one.edits.some(isLast)),
      );
      return areGone ?? false;
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

function readHeld(text: string | null): readonly HeldEdit[] {
  const parsed: unknown = text ? JSON.parse(text) : [];
  return Array.isArray(parsed) && parsed.every(isHeld) ? parsed : [];
}

/** What is set aside; earlier versions wrote the edits alone. */
function readAside(text: string | null): readonly AsideEdits[] {
  const old = readHeld(text);
  if (old.length > 0) return [{ id: "earlier", at: undefined, edits: old }];
  const parsed: unknown = text ? JSON.parse(text) : [];
  return Array.isArray(parsed) ? parsed.filter(isAside) : [];
}

function isAside(one: unknown): one is AsideEdits {
  if (typeof one !== "object" || one === null) return false;
  const { id, at, edits } = one as Readonly<Record<string, unknown>>;
  const isDated = typeof id === "string" && (at === undefined || typeof at === "string");
  return isDated && Array.isArray(edits) && edits.length > 0 && edits.every(isHeld);
}

function isHeld(one: unknown): one is HeldEdit {
  if (typeof one !== "object" || one === null) return false;
  const { stamp, after, change, place } = one as Readonly<Record<string, unknown>>;
  if (!(place === undefined || place === "more" || Number.isInteger(place))) return false;
  if (!isStamp(stamp) || !(after === undefined || isStamp(after))) return false;
  return Array.isArray((change as { readonly operations?: unknown } | undefined)?.operations);
}
