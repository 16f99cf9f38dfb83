// Which tab writes an edition. One has the lock, the others follow it and can take the lock over.
//   · Where the browser has locks, the lock is a lock: a tab that is closed or crashes gives it up by itself.
//   · A tab that asks for the lock waits until the other has written what it holds. One that does not answer, because it is
//     frozen, loses the lock all the same; it notices when it wakes.
//   · Without locks the tabs ask one another. Should two ever write, the revision in the store lets only one of them win.
import { FORMAT_VERSION } from "../core/document/workbook";
import type { EditStamp } from "./edition-store";
import type { HeldEdit } from "./last-edits";

/** How long a tab may take to write before the lock is taken from it. */
const HAND_OVER_MS = 2500;
/** How long to wait for another tab to say that it has the lock, where there are no locks. */
const ANSWER_MS = 250;

export type LockState = "writing" | "following";

/** The messages between tabs with the same edition. */
export type News =
  /** An edit, right after it was made. */
  | ({ readonly say: "edit" } & HeldEdit)
  /** The edition was stored. */
  | { readonly say: "kept"; readonly at: string; readonly stamp: EditStamp | undefined }
  /** The lock was taken, with a document that has come to this stamp. */
  | { readonly say: "took"; readonly stamp: EditStamp | undefined }
  /** Somebody began to follow. */
  | { readonly say: "hello" }
  /** The edition has another content altogether; it is to be read anew. */
  | { readonly say: "anew" };

type Word =
  | News
  | { readonly say: "ask" }
  | { readonly say: "handed"; readonly to: string }
  | { readonly say: "who" }
  | { readonly say: "mine" }
  | { readonly say: "gone" };
type Message = Word & { readonly tab: string; readonly format: number };

/** As much of a BroadcastChannel as is used. */
export interface Channel {
  onmessage: ((event: MessageEvent) => void) | null;
  postMessage(message: unknown): void;
  close(): void;
}

export interface LockPlatform {
  /** This tab's name, drawn at random. */
  readonly tab: string;
  /** Absent in older browsers and on pages without a secure address. */
  readonly locks: Pick<LockManager, "request"> | undefined;
  openChannel(name: string): Channel | undefined;
  wait(ms: number): Promise<void>;
}

export interface LockEvents {
  /** The lock came or went, other than by `begin`. A tab that takes the lock over has not read what was written last. */
  onLock(lock: LockState): void;
  /** Another tab asks for the lock: resolves once everything is written. */
  beforeHandOver(): Promise<void>;
  onNews(news: News): void;
}

/** A tab's part in the locks over one edition. */
export class EditionLock {
  readonly #platform: LockPlatform;
  readonly #events: LockEvents;
  readonly #name: string;
  readonly #channel: Channel | undefined;
  #state: LockState = "following";
  #giveUp: (() => void) | undefined;
  #waiting: AbortController | undefined;
  #listeners = new Set<(message: Message) => void>();
  #isClosed = false;

  constructor(edition: string, platform: LockPlatform, events: LockEvents) {
    this.#platform = platform;
    this.#events = events;
    this.#name = `saggar ${edition}`;
    this.#channel = platform.openChannel(this.#name);
    if (this.#channel) this.#channel.onmessage = ({ data }) => this.#receive(data as Message);
  }

  get state(): LockState {
    return this.#state;
  }

  /** Takes the lock if nobody has it. */
  async begin(): Promise<LockState> {
    const isMine = this.#platform.locks ? await this.#tryLock() : await this.#askAround();
    this.#state = isMine ? "writing" : "following";
    if (!isMine) {
      this.#queue();
      this.send({ say: "hello" });
    }
    return this.#state;
  }

  /** Finds out anew that holds the lock, after another tab wrote; a lock knows it by itself. */
  async check(): Promise<LockState> {
    if (!this.#platform.locks && this.#state === "writing") {
      this.#state = "following";
      if (await this.#askAround()) this.#state = "writing";
    }
    return this.#state;
  }

  /** Takes the lock over from the tab that has it. */
  async takeOver(): Promise<void> {
    if (this.#state === "writing" || this.#isClosed) return;
    await Promise.race([
      this.#answer((message) => message.say === "handed" && message.to === this.#platform.tab, { say: "ask" }),
      this.#platform.wait(HAND_OVER_MS),
    ]);
    if (this.#isClosed) return;
    this.#waiting?.abort();
    if (this.#platform.locks) await this.#hold({ steal: true });
    this.#say({ say: "mine" });
    this.#became("writing");
  }

  send(news: News): void {
    this.#say(news);
  }

  close(): void {
    if (this.#isClosed) return;
    this.#isClosed = true;
    this.#waiting?.abort();
    this.#giveUp?.();
    if (this.#state === "writing") this.#say({ say: "gone" });
    this.#channel?.close();
  }

  #became(state: LockState): void {
    if (this.#isClosed || this.#state === state) return;
    this.#state = state;
    if (state === "following") this.#queue();
    this.#events.onLock(state);
  }

  async #tryLock(): Promise<boolean> {
    return this.#hold({ ifAvailable: true });
  }

  /** Waits in the queue for the lock to come free. */
  #queue(): void {
    if (!this.#platform.locks || this.#isClosed) return;
    this.#waiting = new AbortController();
    void this.#hold({ signal: this.#waiting.signal }).then((isMine) => {
      if (isMine) this.#became("writing");
    });
  }

  /** Resolves once it is known whether the lock is ours; ours it stays until `#giveUp` or until another tab steals it. */
  #hold(options: LockOptions): Promise<boolean> {
    return new Promise((resolve) => {
      const held = this.#platform.locks?.request(this.#name, options, (lock) => {
        if (!lock || this.#isClosed) {
          resolve(false);
          return undefined;
        }
        return new Promise<void>((release) => {
          this.#giveUp = release;
          resolve(true);
        });
      });
      held?.catch(() => {
        resolve(false);
        // Stolen, or no longer waited for.
        if (!("signal" in options) || !options.signal?.aborted) this.#became("following");
      });
    });
  }

  async #askAround(): Promise<boolean> {
    if (!this.#channel) return true;
    const isTaken = await Promise.race([
      this.#answer(({ say }) => say === "mine", { say: "who" }).then(() => true),
      this.#platform.wait(ANSWER_MS).then(() => false),
    ]);
    if (!isTaken) this.#say({ say: "mine" });
    return !isTaken;
  }

  /** Resolves when a message comes that is an answer to `word`. */
  #answer(isAnswer: (message: Message) => boolean, word: Word): Promise<void> {
    return new Promise((resolve) => {
      const listener = (message: Message) => {
        if (!isAnswer(message)) return;
        this.#listeners.delete(listener);
        resolve();
      };
      this.#listeners.add(listener);
      this.#say(word);
    });
  }

  #say(word: Word): void {
    if (this.#isClosed && word.say !== "gone") return;
    this.#channel?.postMessage({ ...word, tab: this.#platform.tab, format: FORMAT_VERSION });
  }

  #receive(message: Message): void {
    if (this.#isClosed) return;
    for (const listener of [...this.#listeners]) listener(message);
    const isWriting = this.#state === "writing";
    switch (message.say) {
      case "who":
        if (isWriting) this.#say({ say: "mine" });
        break;
      case "mine":
        // With locks the lock itself says so; a message may be older than what happened since.
        if (isWriting && !this.#platform.locks) this.#became("following");
        break;
      case "gone":
        if (!isWriting && !this.#platform.locks)
          void this.#askAround().then((isMine) => isMine && this.#became("writing"));
        break;
      case "ask":
        if (isWriting) void this.#handOver(message.tab);
        break;
      case "handed":
        break;
      case "edit":
        // An edit of a program with another format fits no document of this one; what is stored after it is read anew.
        if (message.format === FORMAT_VERSION) this.#events.onNews(message);
        break;
      default:
        this.#events.onNews(message);
    }
  }

  async #handOver(to: string): Promise<void> {
    await this.#events.beforeHandOver();
    if (this.#state !== "writing") return;
    this.#say({ say: "handed", to });
    // The lock is not let go here: whoever waits in the queue would get it first. It is taken by the tab that asked.
  }
}
