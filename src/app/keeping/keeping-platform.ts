// What the keeping of editions needs of the browser and of the page, given to it from outside.
import type { Change } from "../../core/document/change";
import type { HistoryEffect } from "../../core/document/history";
import type { Workbook } from "../../core/document/workbook";
import type { LockPlatform } from "../../storage/edition-lock";
import type { EditionStore } from "../../storage/edition-store";
import type { LastEdits } from "../../storage/last-edits";
import type { Session } from "../edition/session";

/** What keeping needs of the browser. */
export interface KeepingPlatform {
  readonly editions: EditionStore;
  readonly lastEdits: LastEdits;
  readonly lockPlatform: LockPlatform;
  now(): Date;
  freshId(): string;
  /** Gives the page a moment. */
  breathe(): Promise<void>;
  setTimer(run: () => void, ms: number): number;
  clearTimer(timer: number): void;
}

/** Makes the session of an edition; `keep` hears of every change made in it. */
export type MakeSession = (
  book: Workbook,
  keep: (book: Workbook, change: Change, effect: HistoryEffect) => void,
  values: unknown,
) => Session;
