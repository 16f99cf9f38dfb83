// What a studio file holds, for whoever makes or reads one.
import type { Problem } from "../core/problem";

/** What the list says of an edition; `mark` and `edit` are as the store has them, unchecked when they are read. */
export interface StudioEntry {
  readonly id: string;
  readonly title: string;
  /** ISO 8601. */
  readonly updatedAt: string;
  readonly pieces: number;
  readonly mark?: unknown;
  readonly edit?: unknown;
}

/** An edition to be packed. */
export interface StudioPart extends StudioEntry {
  readonly text: string;
}

/** An edition that a file holds, in the order of the file. */
export interface PackedEdition extends StudioEntry {
  /** Checksum of its text. */
  readonly sum: number;
  /** Why it can't be opened; none where it can. */
  readonly problems: readonly Problem[];
}

/** What a file holds. */
export interface StudioContents {
  /** When it was saved, ISO 8601. */
  readonly at: string;
  readonly editions: readonly PackedEdition[];
}
