// One open edition and its keeping: edits are written by themselves, written down at once for the moment before that, and
// sent to other tabs that have the same edition open. Only the tab that holds the lock writes.
import { batch, type Signal, signal } from "@preact/signals";
import type { Change } from "../../core/document/change";
import { EMPTY_HISTORY, type HistoryEffect } from "../../core/document/history";
import type { Workbook } from "../../core/document/workbook";
import { ok, type Problem, type Result } from "../../core/problem";
import { type Autosave, createAutosave, type SaveState, type Written } from "../../storage/autosave";
import type { EditionLock, LockState, News } from "../../storage/edition-lock";
import {
  type EditStamp,
  isNewer,
  isReached,
  isSameStamp,
  NOT_YET_STORED,
  type StoredEdition,
  type StoredStamp,
  stampAfter,
} from "../../storage/edition-store";
import type { Session } from "../edition/session";
import { type LockListener, listenForLock } from "./hearing";
import type { KeepingPlatform, MakeSession } from "./keeping-platform";
import { CHANGING_HANDS, CLEARED, FOLLOWING, OUTRUN } from "./keeping-words";
import { forkEdition, putBackEdits } from "./left-edits";
import { UnsavedEdits } from "./unsaved-edits";

/** How long an edition that was promised to another tab waits for it, and for its word of what it has. */
const PROMISE_MS = 4000;

export class KeptEdition {
  readonly id: string;
  readonly session: Session;
  readonly saveState: Signal<SaveState> = signal({ kind: "loading" });
  readonly lock: Signal<LockState>;
  /** Set when a newer program has written the edition: nothing is written here any more. */
  readonly outrun: Signal<Problem | undefined> = signal(undefined);
  /** Edits made here since the edition was opened. */
  readonly edits: Signal<number> = signal(0);
  readonly unsaved: UnsavedEdits;
  /** Why edits of this tab are in it alone: the edition went on in another one, and they could not be kept as an edition of their own. */
  readonly stranded: Signal<readonly Problem[]> = signal([]);

  readonly #platform: KeepingPlatform;
  readonly #autosave: Autosave;
  readonly #lock: EditionLock;
  readonly #sessionId: string;
  /** The stamp of the document as it is shown. */
  #stamp: EditStamp | undefined;
  /** What has to be done one after the other. */
  #work: Promise<void> = Promise.resolve();
  /** Up to where the tab that took the lock has the edits, and who waits to hear it. */
  #took: EditStamp | undefined;
  #onTook: (() => void) | undefined;

  private constructor(
    id: string,
    platform: KeepingPlatform,
    listener: LockListener,
    stored: Pick<StoredEdition, "book" | "values" | "edit" | "undo">,
    makeSession: MakeSession,
  ) {
    this.id = id;
    this.#platform = platform;
    this.#lock = listener.lock;
    this.#sessionId = platform.freshId();
    this.#stamp = stored.edit;
    this.unsaved = new UnsavedEdits(id, platform.lastEdits);
    this.lock = signal(listener.lock.state);
    this.session = makeSession(stored.book, (_book, change, effect) => this.#edited(change, effect), stored.values);
    if (stored.undo) this.session.history.value = stored.undo;
    this.#autosave = createAutosave<number>({
      store: platform.editions,
      id,
      now: () => platform.now().toISOString(),
      setTimer: (run, ms) => platform.setTimer(run, ms),
      clearTimer: (timer) => platform.clearTimer(timer),
      onState: (state) => this.#show(state),
      onWritten: (written) => this.#written(written),
      valuesNow: () => (this.session.engineState.value === "ready" ? this.session.snapshot() : undefined),
    });
    listener.events = {
      onLock: (lock) => this.#enqueue(() => this.#lockChanged(lock)),
      beforeHandOver: () => this.#handOver(),
      onNews: (news) => this.#receive(news),
    };
    if (this.lock.value === "following") this.session.readOnly.value = FOLLOWING;
    for (const news of listener.early) this.#receive(news);
  }

  /** Whether closing it now would lose something: whatever its size, and also the edition itself where it is not stored. */
  get isAtRisk(): boolean {
    if (this.lock.value === "following") return this.stranded.value.length > 0;
    return this.unsaved.edits.length > 0 || this.saveState.value.kind === "failed";
  }

  /** Opens a stored edition; edits that a closed page left behind are put back. */
  static async open(id: string, platform: KeepingPlatform, makeSession: MakeSession): Promise<Result<KeptEdition>> {
    const listener = listenForLock(id, platform.lockPlatform);
    const lock = await listener.lock.begin();
    const stored = await platform.editions.read(id);
    if (!stored.ok) {
      listener.lock.close();
      return stored;
    }
    // A large edition takes a tenth of a second to read, and nearly as long to make a session of.
    await platform.breathe();
    // A program that keeps no steps wrote it last: what was done before can't be undone any more.
    const { updatedAt, undo = { ...EMPTY_HISTORY, cut: updatedAt } } = stored.value;
    const kept = new KeptEdition(id, platform, listener, { ...stored.value, undo }, makeSession);
    if (lock === "writing") kept.#begin(stored.value);
    else kept.saveState.value = { kind: "saved", at: updatedAt };
    kept.session.notifyNews(stored.value.news);
    return ok(kept);
  }

  /** Starts keeping an edition that was not kept before; resolves when it is stored or could not be. */
  static async start(
    id: string,
    book: Workbook,
    platform: KeepingPlatform,
    makeSession: MakeSession,
  ): Promise<KeptEdition> {
    const listener = listenForLock(id, platform.lockPlatform);
    await listener.lock.begin();
    const kept = new KeptEdition(id, platform, listener, { book }, makeSession);
    kept.#autosave.loaded({ revision: NOT_YET_STORED, updatedAt: "" });
    kept.#autosave.edited(book, undefined, kept.session.history.value);
    await kept.#autosave.flush();
    return kept;
  }

  /** Goes on in this tab; the other one follows from then on. */
  async takeOver(): Promise<void> {
    if (this.lock.value === "writing" || this.outrun.value) return;
    this.session.readOnly.value = CHANGING_HANDS;
    await this.#lock.takeOver();
    await this.#work;
  }

  /** Writes at once what waits, as when the page is left; what the database may no longer get to is written down first. */
  flush(): Promise<SaveState> {
    if (this.lock.value === "writing") this.unsaved.hold();
    return this.#autosave.flush();
  }

  /** Looks whether the edition went on elsewhere while this tab was asleep, or what is stored has gone. */
  async wake(): Promise<void> {
    const stored = await this.#platform.editions.stamp(this.id);
    const isHere = stored.ok ? isReached(stored.value.edit, this.#stamp) : !isNewer(stored.problems);
    if (!isHere && !this.outrun.value) await this.#enqueue(() => this.#wentOn());
    const isGone = !stored.ok && stored.problems.some(({ code }) => code === "store.none");
    if (!isGone || this.lock.value === "following" || this.saveState.value.kind !== "saved") return;
    // The write finds that it has nothing to write over, and says so.
    this.#save();
    await this.#autosave.flush();
    await this.#work;
  }

  /** Stores an edition again that was removed elsewhere while it was open here. */
  async storeAgain(): Promise<void> {
    await this.#autosave.drop();
    this.#save();
    this.#autosave.loaded({ revision: NOT_YET_STORED, updatedAt: "" });
    await this.#autosave.flush();
  }

  /** Tries once more to keep stranded edits as an edition of their own. */
  async keepStranded(): Promise<void> {
    if (this.stranded.value.length > 0) await this.#enqueue(() => this.#giveWay());
  }

  /** Gives stranded edits up and shows what the other tab wrote. */
  async giveUpStranded(): Promise<void> {
    this.unsaved.clear();
    await this.keepStranded();
  }

  /** Closes it; what can't be saved then is given by `unsaved`. */
  async close(): Promise<void> {
    if (this.lock.value === "writing") await this.#autosave.close();
    await this.#work;
    this.#lock.close();
    this.session.close();
  }

  #enqueue(work: () => Promise<void>): Promise<void> {
    this.#work = this.#work.then(work);
    return this.#work;
  }

  /** Has what is shown written. */
  #save(): void {
    this.#autosave.edited(this.session.book.value, this.#stamp, this.session.history.value);
  }

  #edited(change: Change, effect: HistoryEffect): void {
    const after = this.#stamp;
    this.edits.value += 1;
    const stamp = stampAfter(after, this.#sessionId, this.edits.value);
    this.#stamp = stamp;
    const edit = { stamp, after, change, ...(effect === undefined ? {} : { place: effect }) };
    this.unsaved.add(edit);
    this.#save();
    this.#lock.send({ say: "edit", ...edit });
  }

  #written({ edit, updatedAt }: Written): void {
    this.unsaved.stored(edit);
    if (this.unsaved.edits.length === 0) this.unsaved.drop();
    this.#lock.send({ say: "kept", at: updatedAt, stamp: edit });
  }

  #show(state: SaveState): void {
    this.saveState.value = state;
    if (state.kind !== "failed") return;
    const isFor = (code: string) => state.problems.some((problem) => problem.code === code);
    if (isFor("store.changed") || isFor("store.newer")) void this.#enqueue(() => this.#wentOn());
    if (isFor("store.removed")) void this.#enqueue(() => this.#removed());
  }

  /** What is stored has gone: written again where everything has, since then nobody removed this edition on purpose. */
  async #removed(): Promise<void> {
    const all = await this.#platform.editions.list();
    if (!all.ok || all.value.length > 0) return;
    await this.storeAgain();
    if (this.saveState.value.kind === "saved") this.session.notify("failed", CLEARED);
  }

  /** Takes up writing on what is stored, with the edits that a closed page left behind. */
  #begin(stored: StoredStamp): void {
    this.unsaved.stored(stored.edit);
    this.#stamp = putBackEdits(this.session, this.unsaved, this.#stamp, this.#platform.now());
    const isAhead = !isSameStamp(this.#stamp, stored.edit);
    this.#autosave.loaded(stored, "drop");
    if (isAhead) this.#save();
    else {
      this.unsaved.clear();
      this.unsaved.drop();
    }
  }

  #receive(news: News): void {
    switch (news.say) {
      case "hello":
        if (this.lock.value === "writing") void this.#autosave.flush().then(() => this.#sendUnsaved());
        break;
      case "took":
        this.#took = news.stamp;
        this.#onTook?.();
        break;
      case "edit":
        if (this.lock.value === "following") void this.#enqueue(() => this.#followEdit(news));
        break;
      case "kept":
        if (this.lock.value === "following") void this.#enqueue(() => this.#followKept(news.at, news.stamp));
        break;
      case "anew":
        void this.#enqueue(async () => void (await this.#catchUp()));
    }
  }

  async #followEdit({ say: _say, ...edit }: Extract<News, { say: "edit" }>): Promise<void> {
    // What does not follow is read from the store as soon as it is kept.
    const isFollowing = this.lock.value === "following" && this.stranded.value.length === 0;
    if (!isFollowing || !isSameStamp(edit.after, this.#stamp)) return;
    this.session.follow(edit.change, edit.place);
    this.#stamp = edit.stamp;
    this.unsaved.follow(edit);
    this.saveState.value = { kind: "waiting" };
  }

  async #followKept(at: string, stamp: EditStamp | undefined): Promise<void> {
    if (this.lock.value !== "following" || this.stranded.value.length > 0) return;
    this.unsaved.stored(stamp);
    if (isSameStamp(stamp, this.#stamp)) this.saveState.value = { kind: "saved", at };
    else if (!isReached(stamp, this.#stamp)) await this.#catchUp();
  }

  /** Shows what is stored, as one change where that can be said. */
  async #catchUp(): Promise<StoredEdition | undefined> {
    const stored = await this.#platform.editions.read(this.id);
    if (!stored.ok) {
      if (!this.#stopIfOutrun(stored.problems)) this.session.refuse(stored.problems);
      return undefined;
    }
    // On a renewed host this part may be gone; what is stored is then shown without saying what is other.
    const part = await import("../../core/document/difference").catch(() => undefined);
    const change = part?.differenceBetween(this.session.book.value, stored.value.book, "What another tab did");
    if (change) this.session.follow(change);
    else this.session.replace(stored.value.book);
    if (stored.value.undo) this.session.history.value = stored.value.undo;
    this.unsaved.clear();
    this.#stamp = stored.value.edit;
    this.saveState.value = { kind: "saved", at: stored.value.updatedAt };
    return stored.value;
  }

  /** Stops for good where a newer program has written the edition; what was done here has been kept as an edition of its own before. */
  #stopIfOutrun(problems: readonly Problem[]): boolean {
    if (!isNewer(problems)) return false;
    this.#lock.close();
    batch(() => {
      this.session.readOnly.value = OUTRUN;
      if (this.unsaved.edits.length === 0)
        this.saveState.value = { kind: "saved", at: this.#platform.now().toISOString() };
      this.outrun.value = problems[0];
    });
    return true;
  }

  async #lockChanged(lock: LockState): Promise<void> {
    if (this.outrun.value) return;
    this.lock.value = lock;
    if (lock === "following") {
      this.session.readOnly.value = FOLLOWING;
      await this.#giveWay();
      return;
    }
    const stored = await this.#platform.editions.stamp(this.id);
    if (!stored.ok) {
      if (this.#stopIfOutrun(stored.problems)) return;
      this.session.refuse(stored.problems);
      this.session.readOnly.value = undefined;
      await this.storeAgain();
      return;
    }
    // Ahead of the store, the tab has edits that the other one sent and did not live to write.
    const isAhead = isReached(stored.value.edit, this.#stamp);
    if (!isAhead && this.stranded.value.length > 0) return this.#giveWay();
    this.stranded.value = [];
    const caughtUp = isAhead ? undefined : await this.#catchUp();
    this.#begin(caughtUp ?? stored.value);
    batch(() => {
      this.session.readOnly.value = undefined;
      this.session.notify("done", "This tab writes the edition now.");
    });
    this.#lock.send({ say: "took", stamp: this.#stamp });
  }

  /** Another tab wrote while this one had the lock, or could not know that it had lost it. */
  async #wentOn(): Promise<void> {
    if (this.outrun.value) return;
    const lock = await this.#lock.check();
    this.lock.value = lock;
    if (lock === "following") this.session.readOnly.value = FOLLOWING;
    await this.#giveWay();
  }

  /**
   * The edition went on elsewhere, and this tab shows the other. What was not saved here the other tab has, or it becomes an
   * edition of its own; where neither is so, it stays here alone and that is said.
   */
  async #giveWay(): Promise<void> {
    // Nothing is typed into what is about to be replaced.
    if (this.lock.value === "writing") this.session.readOnly.value = CHANGING_HANDS;
    await this.#autosave.drop();
    if (this.unsaved.arePutBack) this.unsaved.clear();
    if (await this.#areTaken()) {
      // Not stored yet: what is there is older than what both tabs show.
      this.saveState.value = { kind: "waiting" };
      return;
    }
    this.stranded.value =
      this.unsaved.edits.length > 0 ? await forkEdition(this.session, this.unsaved, this.#platform) : [];
    if (this.stranded.value.length > 0) return;
    const stored = await this.#catchUp();
    if (this.lock.value === "following" || this.outrun.value) return;
    if (stored) this.#autosave.loaded(stored, "drop");
    this.session.readOnly.value = undefined;
  }

  /** Whether there are unsaved edits and the tab that took the lock has them all. */
  async #areTaken(): Promise<boolean> {
    const last = this.unsaved.edits.at(-1);
    if (!last || this.lock.value === "writing" || this.stranded.value.length > 0) return false;
    if (!isReached(last.stamp, this.#took)) {
      const heard = new Promise<void>((done) => {
        this.#onTook = done;
      });
      await Promise.race([heard, this.#platform.lockPlatform.wait(PROMISE_MS)]);
    }
    return isReached(last.stamp, this.#took);
  }

  /** Sends followers the edits that the store does not have, so that whoever takes the lock has them. */
  #sendUnsaved(): void {
    if (this.lock.value === "writing") for (const edit of this.unsaved.edits) this.#lock.send({ say: "edit", ...edit });
  }

  /** Another tab asks for the lock: everything is written, and nothing is changed until it has it. */
  async #handOver(): Promise<void> {
    this.session.readOnly.value = CHANGING_HANDS;
    await this.#autosave.flush();
    this.#sendUnsaved();
    this.#platform.setTimer(() => {
      if (this.lock.value === "writing" && !this.outrun.value) this.session.readOnly.value = undefined;
    }, PROMISE_MS);
  }
}
