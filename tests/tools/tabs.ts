// Locks and channels of a browser with several tabs, for tests: what one tab holds or says, the others of the same browser know.
import type { Channel, TurnWorld } from "../../src/storage/turn";

interface Waiting {
  readonly work: (lock: Lock | null) => unknown;
  readonly settle: { resolve: (value: unknown) => void; reject: (error: unknown) => void };
  readonly signal: AbortSignal | undefined;
}

type Holder = Waiting["settle"];

/** As much of the Web Locks API as is used, by its rules: `ifAvailable`, `steal`, `signal`, and a queue. */
class FakeLocks {
  readonly #held = new Map<string, Holder>();
  readonly #queue = new Map<string, Waiting[]>();

  readonly request = ((name: string, options: LockOptions, work: Waiting["work"]) =>
    new Promise((resolve, reject) => {
      const settle = { resolve: (value: unknown) => resolve(value as never), reject };
      const waiting: Waiting = { work, settle, signal: options.signal };
      queueMicrotask(() => this.#take(name, options, waiting));
    })) as LockManager["request"];

  #take(name: string, options: LockOptions, waiting: Waiting): void {
    const isHeld = this.#held.has(name);
    if (options.signal?.aborted) waiting.settle.reject(new DOMException("given up", "AbortError"));
    else if (options.steal) {
      this.#held.get(name)?.reject(new DOMException("stolen", "AbortError"));
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
    this.#held.set(name, waiting.settle);
    Promise.resolve(waiting.work({ name, mode: "exclusive" })).then((value) => {
      waiting.settle.resolve(value);
      if (this.#held.get(name) === waiting.settle) this.#free(name);
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
  readonly #channels = new Set<Channel & { readonly name: string }>();
  readonly #frozen = new Set<string>();
  readonly #locks: FakeLocks | undefined;
  #tabs = 0;

  constructor(hasLocks: boolean) {
    this.#locks = hasLocks ? new FakeLocks() : undefined;
  }

  /** A new tab's view of it; waits are counted in turns of the event loop, not in time. */
  openTab(): TurnWorld {
    this.#tabs += 1;
    const tab = `tab ${this.#tabs}`;
    return {
      tab,
      locks: this.#locks,
      openChannel: (name) => this.#openChannel(name, tab),
      wait: async () => {
        for (let turn = 0; turn < 20; turn += 1) await nextTurn();
      },
    };
  }

  /** A frozen tab hears nothing and says nothing. */
  freeze(world: TurnWorld): void {
    this.#frozen.add(world.tab);
  }

  thaw(world: TurnWorld): void {
    this.#frozen.delete(world.tab);
  }

  #openChannel(name: string, tab: string): Channel {
    const channel = {
      name,
      onmessage: null as Channel["onmessage"],
      postMessage: (message: unknown) => {
        if (this.#frozen.has(tab)) return;
        const data: unknown = structuredClone(message);
        for (const other of this.#channels)
          if (other !== channel && other.name === name)
            setTimeout(() => this.#channels.has(other) && other.onmessage?.({ data } as MessageEvent), 0);
      },
      close: () => this.#channels.delete(channel),
    };
    const heard = {
      get onmessage() {
        return channel.onmessage;
      },
      set onmessage(listener: Channel["onmessage"]) {
        channel.onmessage = (event) => {
          if (!frozen.has(tab)) listener?.(event);
        };
      },
      postMessage: channel.postMessage,
      close: channel.close,
    };
    const frozen = this.#frozen;
    this.#channels.add(channel);
    return heard;
  }
}

/** Resolves after everything that is due now has run. */
export function nextTurn(): Promise<void> {
  return new Promise((done) => setTimeout(done, 0));
}

/** Resolves after so many turns of the event loop. */
export async function turns(count = 30): Promise<void> {
  for (let turn = 0; turn < count; turn += 1) await nextTurn();
}
