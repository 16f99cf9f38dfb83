// One open edition and its keeping: edits are written by themselves, written down at once for the moment before that, and
// told to other tabs that have the same edition open. Only the tab whose turn it is writes.
import { batch, type Signal, signal } from "@preact/signals";
import type { Change } from "../core/change";
import { ok, type Problem, type Result } from "../core/problem";
import type { Workbook } from "../core/workbook";
import { type Autosave, createAutosave, type SaveState, type Written } from "../storage/autosave";
import {
  type EditionStore,
  type EditStamp,
  isNewer,
  isReached,
  isSameStamp,
  NOT_YET_STORED,
  type StoredEdition,
  type StoredStamp,
} from "../storage/edition-store";
import { editsSince, type HeldEdit, isSound, type LastEdits } from "../storage/last-edits";
import { type News, type Turn, type TurnEvents, TurnTaker, type TurnWorld } from "../storage/turn";
import type { Session } from "./session";

/** What keeping needs of the world. */
export interface KeepingWorld {
  readonly editions: EditionStore;
  readonly lastEdits: LastEdits;
  readonly turns: TurnWorld;
  now(): Date;
  freshId(): string;
  /** Gives the page a moment. */
  breathe(): Promise<void>;
  setTimer(run: () => void, ms: number): number;
  clearTimer(timer: number): void;
}

/** Edits of more operations are not written down at every key press, only when the page is left. */
const SMALL_EDIT = 500;
/** How long an edition that was promised to another tab waits for it. */
const PROMISE_MS = 4000;

const FOLLOWING = {
  why: "another tab writes this edition",
  fix: "Press “Write here” to go on in this tab.",
};
const OUTRUN = {
  why: "a newer version of Saggar has written this edition",
  fix: "Reload this page to go on in it.",
};
const CHANGING_HANDS = { why: "the edition is being handed from one tab to another", fix: "Try again in a moment." };

/** Makes the session of an edition; `keep` hears of every change made in it. */
export type MakeSession = (book: Workbook, keep: (book: Workbook, change: Change) => void, values: unknown) => Session;

export class KeptEdition {
  readonly id: string;
  readonly session: Session;
  readonly saveState: Signal<SaveState> = signal({ is: "loading" });
  readonly turn: Signal<Turn>;
  /** Set when a newer program has written the edition: nothing is written here any more. */
  readonly outrun: Signal<Problem | undefined> = signal(undefined);
  /** Edits made here since the edition was opened. */
  readonly edits: Signal<number> = signal(0);

  readonly #world: KeepingWorld;
  readonly #autosave: Autosave;
  readonly #taker: TurnTaker;
  readonly #sitting: string;
  /** The stamp of the document as it is shown. */
  #stamp: EditStamp | undefined;
  #unsaved: HeldEdit[] = [];
  /** Whether all of them are written down. */
  #isHeld = false;
  /** What has to be done one after the other. */
  #work: Promise<void> = Promise.resolve();

  private constructor(id: string, world: KeepingWorld, taker: Hearing, stored: Opened, makeSession: MakeSession) {
    this.id = id;
    this.#world = world;
    this.#taker = taker.taker;
    this.#sitting = world.freshId();
    this.#stamp = stored.stamp;
    this.turn = signal(taker.taker.turn);
    this.session = makeSession(stored.book, (book, change) => this.#edited(book, change), stored.values);
    this.#autosave = createAutosave<number>({
      store: world.editions,
      id,
      now: () => world.now().toISOString(),
      setTimer: (run, ms) => world.setTimer(run, ms),
      clearTimer: (timer) => world.clearTimer(timer),
      onState: (state) => this.#show(state),
      onWritten: (written) => this.#written(written),
      valuesNow: () => (this.session.engineState.value === "ready" ? this.session.snapshot() : undefined),
    });
    taker.events = {
      onTurn: (turn) => this.#enqueue(() => this.#turned(turn)),
      beforeHandOver: () => this.#handOver(),
      onNews: (news) => this.#heard(news),
    };
    if (this.turn.value === "following") this.session.readOnly.value = FOLLOWING;
    for (const news of taker.early) this.#heard(news);
  }

  /** Opens a stored edition; edits that a closed page left behind are put back. */
  static async open(id: string, world: KeepingWorld, makeSession: MakeSession): Promise<Result<KeptEdition>> {
    const taker = hearing(id, world.turns);
    const turn = await taker.taker.begin();
    const stored = await world.editions.read(id);
    if (!stored.ok) {
      taker.taker.close();
      return stored;
    }
    // A large edition takes a tenth of a second to read, and nearly as long to make a session of.
    await world.breathe();
    const { book, values, edit, revision, updatedAt } = stored.value;
    const kept = new KeptEdition(id, world, taker, { book, values, stamp: edit }, makeSession);
    if (turn === "writing") kept.#begin({ revision, updatedAt, ...(edit === undefined ? {} : { edit }) });
    else kept.saveState.value = { is: "saved", at: updatedAt };
    kept.session.tellNews(stored.value.news);
    return ok(kept);
  }

  /** Starts keeping an edition that was not kept before; resolves when it is stored or could not be. */
  static async start(id: string, book: Workbook, world: KeepingWorld, makeSession: MakeSession): Promise<KeptEdition> {
    const taker = hearing(id, world.turns);
    await taker.taker.begin();
    const kept = new KeptEdition(id, world, taker, { book, values: undefined, stamp: undefined }, makeSession);
    kept.#autosave.loaded({ revision: NOT_YET_STORED, updatedAt: "" });
    kept.#autosave.edited(book);
    await kept.#autosave.flush();
    return kept;
  }

  /** Goes on in this tab; the other one follows from then on. */
  async takeOver(): Promise<void> {
    if (this.turn.value === "writing" || this.outrun.value) return;
    this.session.readOnly.value = CHANGING_HANDS;
    await this.#taker.takeOver();
    await this.#work;
  }

  /** Writes at once what waits, as when the page is left; what the database may no longer get to is written down first. */
  flush(): Promise<SaveState> {
    if (this.#unsaved.length > 0) this.#isHeld = this.#world.lastEdits.hold(this.id, this.#unsaved);
    return this.#autosave.flush();
  }

  /** Looks whether the edition went on elsewhere while this tab was asleep. */
  async wake(): Promise<void> {
    const stored = await this.#world.editions.stamp(this.id);
    const isHere = stored.ok ? isReached(stored.value.edit, this.#stamp) : !isNewer(stored.problems);
    if (!isHere && !this.outrun.value) await this.#enqueue(() => this.#wentOn());
  }

  /** Stores an edition again that was removed elsewhere while it was open here. */
  async storeAgain(): Promise<void> {
    this.#autosave.loaded({ revision: NOT_YET_STORED, updatedAt: "" });
    this.#autosave.edited(this.session.book.value, this.#stamp);
    await this.#autosave.flush();
  }

  async close(): Promise<void> {
    if (this.turn.value === "writing") await this.#autosave.close();
    await this.#work;
    this.#taker.close();
    this.session.close();
  }

  #enqueue(work: () => Promise<void>): Promise<void> {
    this.#work = this.#work.then(work);
    return this.#work;
  }

  #edited(book: Workbook, change: Change): void {
    const after = this.#stamp;
    this.edits.value += 1;
    const stamp = { sitting: this.#sitting, edits: this.edits.value };
    this.#stamp = stamp;
    this.#unsaved.push({ stamp, after, change });
    const size = this.#unsaved.reduce((sum, edit) => sum + edit.change.operations.length, 0);
    this.#isHeld = size <= SMALL_EDIT && this.#world.lastEdits.hold(this.id, this.#unsaved);
    this.#autosave.edited(book, stamp);
    this.#taker.tell({ say: "edit", stamp, after, change });
  }

  #written({ edit, updatedAt }: Written): void {
    const at = this.#unsaved.findLastIndex(({ stamp }) => isSameStamp(stamp, edit));
    this.#unsaved = this.#unsaved.slice(at + 1);
    if (this.#unsaved.length === 0) this.#world.lastEdits.drop(this.id);
    this.#taker.tell({ say: "kept", at: updatedAt, stamp: edit });
  }

  #show(state: SaveState): void {
    this.saveState.value = state;
    const isElsewhere = ({ code }: Problem) => code === "store.changed" || code === "store.newer";
    const refused = state.is === "failed" && state.problems.some(isElsewhere);
    if (refused) void this.#enqueue(() => this.#wentOn());
  }

  /** Takes up writing on what is stored, with the edits that a closed page left behind. */
  #begin(stored: StoredStamp): void {
    const { lastEdits } = this.#world;
    const held = lastEdits.read(this.id);
    const left = editsSince(held, this.#stamp);
    const isPutBack = this.#putBack(left);
    const isAhead = !isSameStamp(this.#stamp, stored.edit);
    this.#autosave.loaded(stored, "drop");
    if (isAhead) this.#autosave.edited(this.session.book.value, this.#stamp);
    const last = held.at(-1);
    const isLost = last !== undefined && !isPutBack && !isReached(last.stamp, this.#stamp);
    if (isLost) lastEdits.setAside(this.id);
    else if (!isAhead) lastEdits.drop(this.id);
    if (isLost)
      this.session.tell(
        "failed",
        "Edits were made in a page that was closed before they were saved. They do not fit the edition as it is now, and were left out:",
        held.map(({ change }) => change.label),
      );
  }

  /** Puts edits back that follow from the document as it is; false where there are none or they break its rules. */
  #putBack(left: readonly HeldEdit[]): boolean {
    const stamp = left.at(-1)?.stamp;
    if (!stamp || !isSound(this.session.book.value, left)) return false;
    for (const { change } of left) this.session.follow(change);
    this.#unsaved = [...left];
    this.#stamp = stamp;
    // Stays until it is put away: it is told while the page is still opening.
    this.session.tell(
      "refused",
      left.length === 1
        ? `Put back what was done just before the page was closed: ${left[0]?.change.label}.`
        : `Put back ${left.length} edits made just before the page was closed.`,
    );
    return true;
  }

  #heard(news: News): void {
    switch (news.say) {
      case "hello":
        if (this.turn.value === "writing") void this.#autosave.flush();
        break;
      case "edit":
        if (this.turn.value === "following") void this.#enqueue(() => this.#followEdit(news));
        break;
      case "kept":
        if (this.turn.value === "following") void this.#enqueue(() => this.#followKept(news.at, news.stamp));
        break;
      case "anew":
        void this.#enqueue(async () => void (await this.#catchUp()));
    }
  }

  async #followEdit({ after, change, stamp }: Extract<News, { say: "edit" }>): Promise<void> {
    // What does not follow is read from the store as soon as it is kept.
    if (this.turn.value !== "following" || !isSameStamp(after, this.#stamp)) return;
    this.session.follow(change);
    this.#stamp = stamp;
    this.saveState.value = { is: "waiting" };
  }

  async #followKept(at: string, stamp: EditStamp | undefined): Promise<void> {
    if (this.turn.value !== "following") return;
    if (isSameStamp(stamp, this.#stamp)) this.saveState.value = { is: "saved", at };
    else if (!isReached(stamp, this.#stamp)) await this.#catchUp();
  }

  /** Shows what is stored, as one change where that can be said. */
  async #catchUp(): Promise<StoredEdition | undefined> {
    const stored = await this.#world.editions.read(this.id);
    if (!stored.ok) {
      if (!this.#stopIfOutrun(stored.problems)) this.session.refuse(stored.problems);
      return undefined;
    }
    // On a renewed host this part may be gone; what is stored is then shown without saying what is other.
    const part = await import("../core/difference").catch(() => undefined);
    const change = part?.differenceBetween(this.session.book.value, stored.value.book, "What another tab did");
    if (change) this.session.follow(change);
    else this.session.replace(stored.value.book);
    this.#stamp = stored.value.edit;
    this.saveState.value = { is: "saved", at: stored.value.updatedAt };
    return stored.value;
  }

  /** Stops for good where a newer program has written the edition; what was done here has been kept apart before. */
  #stopIfOutrun(problems: readonly Problem[]): boolean {
    if (!isNewer(problems)) return false;
    this.#taker.close();
    batch(() => {
      this.session.readOnly.value = OUTRUN;
      if (this.#unsaved.length === 0) this.saveState.value = { is: "saved", at: this.#world.now().toISOString() };
      this.outrun.value = problems[0];
    });
    return true;
  }

  async #turned(turn: Turn): Promise<void> {
    if (this.outrun.value) return;
    this.turn.value = turn;
    if (turn === "following") {
      this.session.readOnly.value = FOLLOWING;
      await this.#giveWay();
      return;
    }
    const stored = await this.#world.editions.stamp(this.id);
    if (!stored.ok) {
      if (this.#stopIfOutrun(stored.problems)) return;
      this.session.refuse(stored.problems);
      this.session.readOnly.value = undefined;
      await this.storeAgain();
      return;
    }
    // Ahead of the store, the tab has edits that the other one told of and did not live to write.
    const isAhead = isReached(stored.value.edit, this.#stamp);
    const caughtUp = isAhead ? undefined : await this.#catchUp();
    this.#begin(caughtUp ?? stored.value);
    batch(() => {
      this.session.readOnly.value = undefined;
      this.session.tell("done", "This tab writes the edition now.");
    });
  }

  /** Another tab wrote while this one had the turn, or could not know that it had lost it. */
  async #wentOn(): Promise<void> {
    if (this.outrun.value) return;
    const turn = await this.#taker.check();
    this.turn.value = turn;
    if (turn === "following") this.session.readOnly.value = FOLLOWING;
    await this.#giveWay();
  }

  /** The edition went on elsewhere: what was not saved here becomes an edition of its own, and this tab shows the other. */
  async #giveWay(): Promise<void> {
    await this.#autosave.drop();
    const { lastEdits } = this.#world;
    if (this.#isHeld && lastEdits.arePutBack(this.id, this.#unsaved)) this.#unsaved = [];
    if (this.#unsaved.length > 0) await this.#keepApart();
    const stored = await this.#catchUp();
    if (stored && this.turn.value === "writing") this.#autosave.loaded(stored, "drop");
  }

  async #keepApart(): Promise<void> {
    const { editions, now, freshId, lastEdits } = this.#world;
    const book = this.session.book.value;
    const title = `${book.meta.title} (edits kept apart)`.slice(0, 200);
    const content = { book: { ...book, meta: { ...book.meta, title } }, updatedAt: now().toISOString() };
    const written = await editions.write(freshId(), content, NOT_YET_STORED);
    const labels = this.#unsaved.map(({ change }) => change.label);
    if (!written.ok) return this.session.refuse(written.problems, "Edits of this tab could not be kept.");
    this.#unsaved = [];
    lastEdits.drop(this.id);
    this.session.tell(
      "failed",
      `The edition went on in another tab. What was done here and not saved is kept as an edition of its own, “${title}”:`,
      labels,
    );
  }

  /** Another tab asks for the turn: everything is written, and nothing is changed until it has it. */
  async #handOver(): Promise<void> {
    this.session.readOnly.value = CHANGING_HANDS;
    await this.#autosave.flush();
    this.#world.setTimer(() => {
      if (this.turn.value === "writing" && !this.outrun.value) this.session.readOnly.value = undefined;
    }, PROMISE_MS);
  }
}

interface Opened {
  readonly book: Workbook;
  readonly values: unknown;
  readonly stamp: EditStamp | undefined;
}

/** A taker whose events are given to the edition once there is one. */
interface Hearing {
  readonly taker: TurnTaker;
  /** What was heard before. */
  readonly early: News[];
  events: TurnEvents | undefined;
}

function hearing(id: string, world: TurnWorld): Hearing {
  const early: News[] = [];
  const later: { events: TurnEvents | undefined } = { events: undefined };
  const taker = new TurnTaker(id, world, {
    onTurn: (turn) => later.events?.onTurn(turn),
    beforeHandOver: async () => later.events?.beforeHandOver(),
    onNews: (news) => (later.events ? later.events.onNews(news) : early.push(news)),
  });
  return Object.assign(later, { taker, early });
}
