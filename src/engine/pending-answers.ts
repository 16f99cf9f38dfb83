// Requests to a worker that are not answered yet: one list for every client.

interface Waiting {
  readonly resolve: (answer: unknown) => void;
  readonly reject: (reason: unknown) => void;
  readonly onProgress?: ((done: number, total: number) => void) | undefined;
}

/** How a request is waited for. */
export interface WaitOptions<Answer> {
  /** Gives the request up: its promise is broken with the reason. */
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((done: number, total: number) => void) | undefined;
  /** Called when the request is given up. */
  readonly onAbort?: () => void;
  /** Takes an answer that comes after the request was given up. */
  readonly onLate?: (answer: Answer) => void;
}

export class PendingAnswers {
  readonly #waiting = new Map<number, Waiting>();
  #latest = 1;

  /** How many requests wait. */
  get size(): number {
    return this.#waiting.size;
  }

  /** A number for another request. */
  nextId(): number {
    this.#latest += 1;
    return this.#latest;
  }

  has(id: number): boolean {
    return this.#waiting.has(id);
  }

  /** The answer to a request. */
  wait<Answer>(id: number, options: WaitOptions<Answer> = {}): Promise<Answer> {
    const { signal, onProgress, onAbort, onLate } = options;
    return new Promise<Answer>((resolve, reject) => {
      const giveUp = () => {
        if (onLate) this.#waiting.set(id, { resolve: (answer) => onLate(answer as Answer), reject: () => undefined });
        else this.#waiting.delete(id);
        onAbort?.();
        reject(signal?.reason);
      };
      signal?.addEventListener("abort", giveUp, { once: true });
      const done = () => signal?.removeEventListener("abort", giveUp);
      this.#waiting.set(id, {
        resolve: (answer) => {
          done();
          resolve(answer as Answer);
        },
        reject: (reason) => {
          done();
          reject(reason);
        },
        onProgress,
      });
    });
  }

  progress(id: number, done: number, total: number): void {
    this.#waiting.get(id)?.onProgress?.(done, total);
  }

  settle(id: number, answer: unknown): void {
    this.#take(id)?.resolve(answer);
  }

  fail(id: number, reason: unknown): void {
    this.#take(id)?.reject(reason);
  }

  failAll(reason: Error): void {
    for (const id of [...this.#waiting.keys()]) this.fail(id, reason);
  }

  /** Waits no more: whatever comes is for nobody. */
  forget(id: number): void {
    this.#waiting.delete(id);
  }

  #take(id: number): Waiting | undefined {
    const waiting = this.#waiting.get(id);
    this.#waiting.delete(id);
    return waiting;
  }
}
