// Small settings of this browser: not part of any edition, and never worth stopping work for.
import type { Result } from "../core/problem";
import type { BenchTimer } from "../core/record/bench-timer";

/** Every setting that is remembered. */
export interface PreferenceValues {
  /** Id of the edition that was open last. */
  readonly lastEdition: string;
  /** The decimal mark the maker types and reads. */
  readonly decimal: "." | ",";
  /** The scale temperatures are shown in. */
  readonly temperature: "C" | "F";
  /** Where the columns of CSV files went, by the shape of the file; the newest last. */
  readonly csvShapes: readonly CsvShape[];
  /** The paper that is printed on. */
  readonly paper: PaperSetup;
  /** What stands on labels, as the page of papers reads it. */
  readonly labels: Readonly<Record<string, unknown>>;
  /** What is known of the files of editions; the newest last. */
  readonly fileCopies: readonly FileCopy[];
  /** Files that are kept up to date; the newest last. */
  readonly backups: readonly BackupRecord[];
  /** The browser was asked to keep what is stored, and did not promise it. */
  readonly mayBeCleared: boolean;
  /** The invitation of the invented edition was put away. */
  readonly invitationSeen: boolean;
  /** The studio's shelf was offered. */
  readonly shelfOffered: boolean;
  /** The bench timer, while there is one. */
  readonly benchTimer: BenchTimer;
  /** Events that calendar files held. */
  readonly calendarSaved: readonly SavedEvent[];
}

/** An event as it was last written into a calendar file. */
export interface SavedEvent {
  readonly uid: string;
  readonly edition: string;
  readonly kind: "firing" | "work" | "due";
  readonly summary: string;
  /** Minutes of the clock since 1970. */
  readonly from: number;
  readonly to: number;
  readonly sequence: number;
  readonly isCancelled?: boolean;
}

/** What is remembered of an edition's files. */
export interface FileCopy {
  readonly edition: string;
  /** Day and time of the last file, or of the first edit where there was none; ISO 8601. */
  readonly since: string;
  /** Whether there is a file at all. */
  readonly hasFile: boolean;
  /** Edits that no file has. */
  readonly edits: number;
  /** Nothing is said before; ISO 8601. */
  readonly quietUntil?: string;
}

/** How a file looked after this page wrote it. */
export interface FileMark {
  /** Milliseconds since 1970. */
  readonly lastModified: number;
  /** Bytes. */
  readonly size: number;
  /** Checksum of its text. */
  readonly sum: number;
}

/** What is kept of a backup file: of which edition, where, and what it holds. */
export interface BackupRecord {
  readonly edition: string;
  readonly handle: FileSystemFileHandle;
  /** The revision of the store that the file holds; 0 where it holds one that could not be stored. */
  readonly revision: number;
  /** When it was written, ISO 8601. */
  readonly at: string;
  readonly mark: FileMark;
}

export const PAPER_SIZES = ["A4", "Letter"] as const;
export const MARGINS_MM = [10, 15, 25] as const;

/** Size of the paper and what is left blank at its edges. */
export interface PaperSetup {
  readonly size: (typeof PAPER_SIZES)[number];
  readonly marginMm: (typeof MARGINS_MM)[number];
}

/** Files of one shape: the same names in their first line, for the same sheet. */
export interface CsvShape {
  readonly shape: string;
  /** Column keys by header, as they were chosen. */
  readonly columns: Readonly<Record<string, string>>;
}

/** More would never be found again. */
const MOST_SHAPES = 40;

/** The shapes with one more, the oldest given up where there are too many. */
export function withShape(shapes: readonly CsvShape[], added: CsvShape): readonly CsvShape[] {
  return [...shapes.filter(({ shape }) => shape !== added.shape), added].slice(-MOST_SHAPES);
}

function isShape(stored: unknown): stored is CsvShape {
  if (typeof stored !== "object" || stored === null) return false;
  const { shape, columns } = stored as Record<string, unknown>;
  if (typeof shape !== "string" || typeof columns !== "object" || columns === null) return false;
  return Object.values(columns).every((key) => typeof key === "string");
}

function isPaper(stored: unknown): stored is PaperSetup {
  if (typeof stored !== "object" || stored === null) return false;
  const { size, marginMm } = stored as Record<string, unknown>;
  return (PAPER_SIZES as readonly unknown[]).includes(size) && (MARGINS_MM as readonly unknown[]).includes(marginMm);
}

function isFileCopy(stored: unknown): stored is FileCopy {
  if (typeof stored !== "object" || stored === null) return false;
  const { edition, since, hasFile, edits, quietUntil } = stored as Record<string, unknown>;
  return (
    typeof edition === "string" &&
    typeof since === "string" &&
    typeof hasFile === "boolean" &&
    typeof edits === "number" &&
    (quietUntil === undefined || typeof quietUntil === "string")
  );
}

function isBackup(stored: unknown): stored is BackupRecord {
  if (typeof stored !== "object" || stored === null) return false;
  const { edition, handle, revision, at, mark } = stored as Partial<Record<keyof BackupRecord, unknown>>;
  return (
    [typeof edition, typeof at].every((type) => type === "string") &&
    typeof revision === "number" &&
    [handle, mark].every((part) => typeof part === "object" && part !== null)
  );
}

function isTimer(stored: unknown): stored is BenchTimer {
  if (typeof stored !== "object" || stored === null) return false;
  const { edition, step, what, pieces, workedMs, since } = stored as Record<string, unknown>;
  return (
    [edition, step, what].every((text) => typeof text === "string") &&
    Array.isArray(pieces) &&
    Number(workedMs) >= 0 &&
    (since === undefined || !Number.isNaN(Date.parse(String(since))))
  );
}

function isSavedEvent(stored: unknown): stored is SavedEvent {
  if (typeof stored !== "object" || stored === null) return false;
  const { uid, edition, kind, summary, from, to, sequence } = stored as Record<string, unknown>;
  return (
    [uid, edition, summary].every((text) => typeof text === "string") &&
    (kind === "firing" || kind === "work" || kind === "due") &&
    [from, to, sequence].every(Number.isFinite)
  );
}

export type PreferenceName = keyof PreferenceValues;

export interface PreferenceStore {
  /** A setting; undefined where it was never set, or holds what this version does not know. */
  get<N extends PreferenceName>(name: N): Promise<Result<PreferenceValues[N] | undefined>>;
  /** Sets a setting; undefined forgets it. */
  set<N extends PreferenceName>(name: N, value: PreferenceValues[N] | undefined): Promise<Result<undefined>>;
}

const CHECKS: { readonly [N in PreferenceName]: (stored: unknown) => stored is PreferenceValues[N] } = {
  lastEdition: (stored): stored is string => typeof stored === "string" && stored !== "",
  decimal: (stored): stored is "." | "," => stored === "." || stored === ",",
  temperature: (stored): stored is "C" | "F" => stored === "C" || stored === "F",
  csvShapes: (stored): stored is readonly CsvShape[] => Array.isArray(stored) && stored.every(isShape),
  paper: isPaper,
  labels: (stored): stored is Readonly<Record<string, unknown>> => typeof stored === "object" && stored !== null,
  fileCopies: (stored): stored is readonly FileCopy[] => Array.isArray(stored) && stored.every(isFileCopy),
  backups: (stored): stored is readonly BackupRecord[] => Array.isArray(stored) && stored.every(isBackup),
  mayBeCleared: (stored): stored is boolean => typeof stored === "boolean",
  invitationSeen: (stored): stored is boolean => typeof stored === "boolean",
  shelfOffered: (stored): stored is boolean => typeof stored === "boolean",
  benchTimer: isTimer,
  calendarSaved: (stored): stored is readonly SavedEvent[] => Array.isArray(stored) && stored.every(isSavedEvent),
};

/** A stored setting if it is one that this version knows. */
export function preferenceOf<N extends PreferenceName>(name: N, stored: unknown): PreferenceValues[N] | undefined {
  return CHECKS[name](stored) ? stored : undefined;
}
