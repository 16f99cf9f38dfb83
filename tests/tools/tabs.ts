// Locks and channels of a browser with several tabs, for tests: what one tab holds or says, the others of the same browser know.
import type { Channel, LockPlatform } from "../../src/storage/edition-lock";

interface Waiting {
  readonly tab: string;
  readonly work: (lock: Lock | null) => unknown;
  readonly settle: { resolve: (value: unknown) => void; reject: (error: unknown) => void };
  readonly signal: AbortSignal | undefined;
}

/** Runs a task in a tab, as soon as that is awake. */
type Deliver = (tab: string, task: () => void) => void;

/** As much of the Web Locks API as is used, by its rules: `ifAvailable`, `steal`, `signal`, and a queue. */
class FakeLocks {
  readonly #held = new Map<string, Waiting>();
  readonly #queue = new Map<string, Waiting[]>();
  readonly #deliver: Deliver;

  constructor(deliver: Deliver) {
    this.#deliver = deliver;
  }

  requestFrom(tab: string): LockManager["request"] {
    return ((name: string, options: LockOptions, work: Waiting["work"]) =>
      this.#request(tab, name, options, work)) as never;
  }

  /** Ends all that a tab holds and waits for, as a crash does. */
  end(tab: string): void {
    for (const [name, queue] of this.#queue)
      this.#queue.set(
        name,
        queue.filter((one) => one.tab !== tab),
      );
    for (const [name, holder] of [...this.#held]) if (holder.tab === tab) this.#free(name);
  }

  #request(tab: string, name: string, options: LockOptions, work: Waiting["work"]): Promise<unknown> {
    return new Promise((resolve, reject) => {
      const settle = { resolve: (value: unknown) => resolve(value as never), reject };
      const waiting: Waiting = { tab, work, settle, signal: options.signal };
      queueMicrotask(() => this.#take(name, options, waiting));
    });
  }

  #take(name: string, options: LockOptions, waiting: Waiting): void {
    const isHeld = this.#held.has(name);
    if (options.signal?.aborted) waiting.settle.reject(new DOMException("given up", "AbortError"));
    else if (options.steal) {
      const robbed = this.#held.get(name);
      if (robbed) this.#deliver(robbed.tab, () => robbed.settle.reject(new DOMException("stolen", "AbortError")));
      this.#held.delete(name);
      this.#grant(name, waiting);
    } else if (!isHeld) this.#grant(name, waiting);
    else if (options.ifAvailable) void Promise.resolve(waiting.work(null)).then(waiting.settle.resolve);
    else {
      this.#queue.set(name, [...(this.#queue.get(name) ?? []), waiting]);
      options.signal?.addEventListener("abort", () =>
        waiting.settle.reject(new DOMException("given up", "AbortError")),
      );
    }
  }

  #grant(name: string, waiting: Waiting): void {
    this.#held.set(name, waiting);
    Promise.resolve(waiting.work({ name, mode: "exclusive" })).then((value) => {
      waiting.settle.resolve(value);
      if (this.#held.get(name) === waiting) this.#free(name);
    });
  }

  #free(name: string): void {
    this.#held.delete(name);
    const queue = this.#queue.get(name) ?? [];
    const next = queue.find(({ signal }) => !signal?.aborted);
    this.#queue.set(
      name,
      queue.filter((one) => one !== next && !one.signal?.aborted),
    );
    if (next) this.#grant(name, next);
  }
}

/** A browser whose tabs share locks, if it has any, and channels. */
export class FakeBrowser {
  readonly #channels = new Set<TabChannel>();
  /** What waits for a tab that is frozen. */
  readonly #frozen = new Map<string, (() => void)[]>();
  readonly #locks: FakeLocks | undefined;
  #tabs = 0;

  constructor(hasLocks: boolean) {
    this.#locks = hasLocks ? new FakeLocks((tab, task) => this.#deliver(tab, task)) : undefined;
  }

  /** A new tab's view of it; waits are counted in turns of the event loop, not in time. */
  openTab(): LockPlatform {
    this.#tabs += 1;
    const tab = `tab ${this.#tabs}`;
    return {
      tab,
      locks: this.#locks && { request: this.#locks.requestFrom(tab) },
      openChannel: (name) => this.#openChannel(name, tab),
      wait: () => turns(20),
    };
  }

  /** A tab that crashes lets go of everything and never says another word. */
  crash(platform: LockPlatform): void {
    this.freeze(platform);
    this.#locks?.end(platform.tab);
  }

  /** A frozen tab says nothing, and hears what is said when it wakes. */
  freeze(platform: LockPlatform): void {
    this.#frozen.set(platform.tab, []);
  }

  thaw(platform: LockPlatform): void {
    const tasks = this.#frozen.get(platform.tab) ?? [];
    this.#frozen.delete(platform.tab);
    for (const task of tasks) setImmediate(task);
  }

  #deliver(tab: string, task: () => void): void {
    const waiting = this.#frozen.get(tab);
    if (waiting) waiting.push(task);
    else setImmediate(task);
  }

  #openChannel(name: string, tab: string): Channel {
    const channel: TabChannel = {
      name,
      tab,
      onmessage: null,
      postMessage: (message) => {
        if (this.#frozen.has(tab)) return;
        const data: unknown = structuredClone(message);
        for (const other of this.#channels)
          if (other !== channel && other.name === name)
            this.#deliver(other.tab, () => this.#channels.has(other) && other.onmessage?.({ data } as MessageEvent));
      },
      close: () => void this.#channels.delete(channel),
    };
    this.#channels.add(channel);
    return channel;
  }
}

type TabChannel = Channel & { readonly name: string; readonly tab: string };

/** Resolves after everything that is due now has run. */
function nextTurn(): Promise<void> {
  return new Promise((done) => setImmediate(done));
}

/** Resolves after so many turns of the event loop. */
export async function turns(count = 30): Promise<void> {
  for (let turn = 0; turn < count; turn += 1) await nextTurn();
}
