// Saves every edit by itself, one write at a time, and says truthfully how things stand.
//   · nothing is written before the edition has been loaded;
//   · an edit that arrives during a write is written after it;
//   · a failed write is tried again, later and later, and meanwhile the state says that it failed;
//   · `flush` and `close` write at once what is still waiting.

import type { History } from "../core/document/history";
import type { Workbook } from "../core/document/workbook";
import { fail, type Problem, type Result } from "../core/problem";
import type { EditionStore, EditStamp } from "./edition-store";
import { canRetry, problemOfError } from "./storage-problems";

/** How long edits are collected before they are written. */
export const SAVE_DELAY_MS = 350;
/** How long to wait before the first, second, … new try; the last one goes on. */
export const RETRY_DELAYS_MS = [1000, 2000, 5000, 10_000, 30_000] as const;

export type SaveState =
  /** The edition is still being read; nothing has been edited. */
  | { readonly kind: "loading" }
  /** Everything is written; `at` is when, ISO 8601. */
  | { readonly kind: "saved"; readonly at: string }
  /** There are edits that are not written yet. */
  | { readonly kind: "waiting" }
  /** A write is under way. */
  | { readonly kind: "saving" }
  /**
   * The last write failed and there are edits that are not written; a new try may be under way. Without `retryInMs` only
   * the maker can help.
   */
  | { readonly kind: "failed"; readonly problems: readonly Problem[]; readonly retryInMs: number | undefined };

export interface AutosaveOptions<Timer> {
  readonly store: Pick<EditionStore, "write">;
  readonly id: string;
  readonly delayMs?: number;
  /** The time now, ISO 8601. */
  readonly now: () => string;
  readonly setTimer: (run: () => void, ms: number) => Timer;
  readonly clearTimer: (timer: Timer) => void;
  readonly onState: (state: SaveState) => void;
  /** Computed values to store beside the document, taken when it is written. */
  readonly valuesNow?: () => unknown;
  /** Called after every write, also while newer edits wait. */
  readonly onWritten?: (written: Written) => void;
}

/** A write that is on the disk. */
export interface Written {
  readonly revision: number;
  /** ISO 8601. */
  readonly updatedAt: string;
  readonly edit: EditStamp | undefined;
}

/** A document that waits to be written. */
interface Pending {
  readonly book: Workbook;
  readonly edit: EditStamp | undefined;
  readonly undo: History | undefined;
}

export interface Autosave {
  readonly state: SaveState;
  /** The revision that is stored, as far as is known; undefined before `loaded`. */
  readonly revision: number | undefined;
  /**
   * Says which stored revision the edits build on: 0 for a new edition. Called again after the maker has chosen between
   * two copies: `keep` then writes what is pending over that revision, `drop` forgets it.
   */
  loaded(stored: { readonly revision: number; readonly updatedAt: string }, pending?: "keep" | "drop"): void;
  /** Takes the edition as it is after an edit, with the stamp of that edit and what was done up to it. */
  edited(book: Workbook, edit?: EditStamp, undo?: History): void;
  /** Writes at once what is waiting, and resolves when nothing is or a write failed. */
  flush(): Promise<SaveState>;
  /** Forgets what waits to be written, and resolves when no write is under way: the edition is written elsewhere now. */
  drop(): Promise<void>;
  /** Flushes and stops; edits are not taken any more. */
  close(): Promise<SaveState>;
}

/** Starts saving one edition. */
export function createAutosave<Timer>(options: AutosaveOptions<Timer>): Autosave {
  return new SaveQueue(options);
}

class SaveQueue<Timer> implements Autosave {
  readonly #options: AutosaveOptions<Timer>;
  #state: SaveState = { kind: "loading" };
  #revision: number | undefined;
  #pending: Pending | undefined;
  #timer: Timer | undefined;
  #writing: Promise<void> | undefined;
  #failures = 0;
  #isClosed = false;

  constructor(options: AutosaveOptions<Timer>) {
    this.#options = options;
  }

  get state(): SaveState {
    return this.#state;
  }

  get revision(): number | undefined {
    return this.#revision;
  }

  loaded(stored: { readonly revision: number; readonly updatedAt: string }, pending: "keep" | "drop" = "keep"): void {
    if (this.#writing) throw new Error("autosave was told of a load during a write; flush it first");
    this.#revision = stored.revision;
    this.#failures = 0;
    this.#disarm();
    if (pending === "drop") this.#pending = undefined;
    if (this.#pending) this.#waitAndWrite();
    else this.#show({ kind: "saved", at: stored.updatedAt });
  }

  edited(book: Workbook, edit?: EditStamp, undo?: History): void {
    if (this.#isClosed) throw new Error("an edit came after autosave was closed");
    this.#pending = { book, edit, undo };
    if (this.#writing || this.#state.kind === "failed") return;
    this.#waitAndWrite();
  }

  async flush(): Promise<SaveState> {
    await this.#writing;
    while (this.#writing || (this.#pending && this.#revision !== undefined)) {
      await this.#write();
      if (this.#state.kind === "failed") break;
    }
    return this.#state;
  }

  async drop(): Promise<void> {
    this.#revision = undefined;
    this.#pending = undefined;
    this.#disarm();
    await this.#writing;
    this.#pending = undefined;
    this.#disarm();
  }

  async close(): Promise<SaveState> {
    this.#isClosed = true;
    await this.flush();
    this.#disarm();
    return this.#state;
  }

  #waitAndWrite(): void {
    this.#show({ kind: "waiting" });
    if (this.#revision !== undefined) this.#arm(this.#options.delayMs ?? SAVE_DELAY_MS);
  }

  /** Sets the timer if none runs: steady typing must not put a write off for ever. */
  #arm(ms: number): void {
    this.#timer ??= this.#options.setTimer(() => {
      this.#timer = undefined;
      void this.#write();
    }, ms);
  }

  #disarm(): void {
    if (this.#timer !== undefined) this.#options.clearTimer(this.#timer);
    this.#timer = undefined;
  }

  #write(): Promise<void> {
    if (this.#writing) return this.#writing;
    if (!this.#pending || this.#revision === undefined) return Promise.resolve();
    this.#writing = this.#writePending(this.#pending, this.#revision);
    return this.#writing;
  }

  async #writePending(pending: Pending, revision: number): Promise<void> {
    this.#disarm();
    // Forgotten before the write, so that an edit that comes meanwhile is not taken for written.
    this.#pending = undefined;
    // A new try leaves it said that the last one failed: what helps must not go and come while it is reached for.
    if (this.#state.kind !== "failed") this.#show({ kind: "saving" });
    const updatedAt = this.#options.now();
    const result = await this.#tryToWrite(pending, revision, updatedAt);
    // Cleared in the same turn as the state is settled: an edit never finds a write that is over.
    this.#writing = undefined;
    if (result.ok) this.#afterSuccess({ revision: result.value, updatedAt, edit: pending.edit });
    else this.#afterFailure(result.problems, pending);
  }

  async #tryToWrite({ book, edit, undo }: Pending, revision: number, updatedAt: string): Promise<Result<number>> {
    try {
      const values = this.#options.valuesNow?.();
      const content = {
        book,
        updatedAt,
        ...(values === undefined ? {} : { values }),
        ...(edit === undefined ? {} : { edit }),
        ...(undo === undefined ? {} : { undo }),
      };
      return await this.#options.store.write(this.#options.id, content, revision);
    } catch (error) {
      return fail(problemOfError(error));
    }
  }

  #afterSuccess(written: Written): void {
    this.#revision = written.revision;
    this.#failures = 0;
    this.#options.onWritten?.(written);
    if (this.#pending) this.#waitAndWrite();
    else this.#show({ kind: "saved", at: written.updatedAt });
  }

  #afterFailure(problems: readonly Problem[], pending: Pending): void {
    // What came meanwhile is newer than what could not be written.
    this.#pending ??= pending;
    const isFinal = problems.some((found) => !canRetry(found));
    const retryInMs =
      isFinal || this.#isClosed ? undefined : (RETRY_DELAYS_MS[this.#failures] ?? RETRY_DELAYS_MS.at(-1));
    this.#failures += 1;
    this.#show({ kind: "failed", problems, retryInMs });
    if (retryInMs !== undefined) this.#arm(retryInMs);
  }

  #show(state: SaveState): void {
    if (state.kind === this.#state.kind && (state.kind === "waiting" || state.kind === "saving")) return;
    this.#state = state;
    this.#options.onState(state);
  }
}
