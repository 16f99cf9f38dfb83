// The promises of saving by itself, with a clock, timers and a store that are moved by hand.
import { describe, expect, it } from "vitest";
import type { Workbook } from "../../src/core/document/workbook";
import { fail, ok, type Result } from "../../src/core/problem";
import {
  type Autosave,
  createAutosave,
  RETRY_DELAYS_MS,
  SAVE_DELAY_MS,
  type SaveState,
} from "../../src/storage/autosave";
import type { EditionContent } from "../../src/storage/edition-store";
import { createMemoryStore } from "../../src/storage/memory-store";
import { type StorageFailure, storageProblem } from "../../src/storage/storage-problems";
import { smallEdition } from "./small-edition";

const base = smallEdition(1);
const edition = (title: string): Workbook => ({ ...base, meta: { ...base.meta, title } });

interface Write {
  readonly title: string;
  readonly expected: number;
  readonly content: EditionContent;
  readonly answer: (result: Result<number>) => Promise<void>;
}

/** A store whose answers are given by hand, with timers that run when told. */
function bench(settings: { valuesNow?: () => unknown; delayMs?: number; onWritten?: (written: unknown) => void } = {}) {
  const writes: Write[] = [];
  const states: SaveState[] = [];
  const timers = new Map<number, { run: () => void; ms: number }>();
  let lastTimer = 0;
  let minute = 0;
  const autosave: Autosave = createAutosave<number>({
    id: "a",
    store: {
      write: (_id, content, expected) =>
        new Promise((resolve) => {
          const answer = async (result: Result<number>) => {
            resolve(result);
            await settle();
          };
          writes.push({ title: content.book.meta.title, expected, content, answer });
        }),
    },
    now: () => {
      minute += 1;
      return `minute ${minute}`;
    },
    setTimer: (run, ms) => {
      lastTimer += 1;
      timers.set(lastTimer, { run, ms });
      return lastTimer;
    },
    clearTimer: (timer) => timers.delete(timer),
    onState: (state) => states.push(state),
    ...settings,
  });
  const waits = () => [...timers.values()].map((timer) => timer.ms);
  const ring = () => {
    const due = [...timers];
    timers.clear();
    for (const [, timer] of due) timer.run();
  };
  const last = () => {
    const write = writes.at(-1);
    if (!write) throw new Error("nothing was written");
    return write;
  };
  return { autosave, writes, states, waits, ring, last, titles: () => writes.map((write) => write.title) };
}

const settle = async () => {
  for (let turn = 0; turn < 10; turn += 1) await Promise.resolve();
};
const refused = (failure: StorageFailure) => fail<number>(storageProblem(failure));
const kinds = (states: readonly SaveState[]) => states.map((state) => state.kind);
const STORED = { revision: 4, updatedAt: "yesterday" };

describe("autosave", () => {
  it("says that it is loading, then that what was loaded is saved, and since when", () => {
    const { autosave, states } = bench();
    expect(autosave.state).toEqual({ kind: "loading" });
    autosave.loaded(STORED);
    expect(states).toEqual([{ kind: "saved", at: "yesterday" }]);
  });

  it("never writes before the edition has been loaded, and does not lose an edit made before", async () => {
    const { autosave, waits, ring, last, titles } = bench();
    autosave.edited(edition("early"));
    expect(autosave.state).toEqual({ kind: "waiting" });
    expect(waits()).toEqual([]);
    expect(await autosave.flush()).toEqual({ kind: "waiting" });
    expect(titles()).toEqual([]);
    autosave.loaded(STORED);
    expect(autosave.state).toEqual({ kind: "waiting" });
    ring();
    expect([last().title, last().expected]).toEqual(["early", 4]);
  });

  it("collects edits for a while and writes only the last of them", async () => {
    const { autosave, waits, ring, last, titles, states } = bench();
    autosave.loaded(STORED);
    for (const title of ["one", "two", "three"]) autosave.edited(edition(title));
    expect(waits()).toEqual([SAVE_DELAY_MS]);
    expect(titles()).toEqual([]);
    ring();
    expect(titles()).toEqual(["three"]);
    expect(autosave.state).toEqual({ kind: "saving" });
    await last().answer(ok(5));
    expect(autosave.state).toEqual({ kind: "saved", at: "minute 1" });
    expect(last().content.updatedAt).toBe("minute 1");
    expect(kinds(states)).toEqual(["saved", "waiting", "saving", "saved"]);
    expect(waits()).toEqual([]);
  });

  it("is not put off by steady typing: the first edit starts the wait", () => {
    const { autosave, waits, ring, titles } = bench({ delayMs: 50 });
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    autosave.edited(edition("two"));
    expect(waits()).toEqual([50]);
    ring();
    expect(titles()).toEqual(["two"]);
  });

  it("writes an edit that came during a write after it, one write at a time, each on the revision before", async () => {
    const { autosave, writes, waits, ring, last, titles, states } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    ring();
    autosave.edited(edition("two"));
    autosave.edited(edition("three"));
    expect(autosave.state).toEqual({ kind: "saving" });
    expect(waits()).toEqual([]);
    await last().answer(ok(5));
    // Not “saved”: “three” is still to be written.
    expect(autosave.state).toEqual({ kind: "waiting" });
    expect(waits()).toEqual([SAVE_DELAY_MS]);
    ring();
    expect(titles()).toEqual(["one", "three"]);
    expect(writes.map((write) => write.expected)).toEqual([4, 5]);
    await last().answer(ok(6));
    expect(kinds(states)).toEqual(["saved", "waiting", "saving", "waiting", "saving", "saved"]);
    expect(autosave.revision).toBe(6);
  });

  it("loses no edit that comes in the very turn in which a write ends", async () => {
    for (let turns = 0; turns < 8; turns += 1) {
      const { autosave, ring, last, titles } = bench();
      autosave.loaded(STORED);
      autosave.edited(edition("one"));
      ring();
      const answered = last().answer(ok(5));
      for (let turn = 0; turn < turns; turn += 1) await Promise.resolve();
      autosave.edited(edition("two"));
      await answered;
      expect(autosave.state).toEqual({ kind: "waiting" });
      ring();
      expect(titles()).toEqual(["one", "two"]);
    }
  });

  it("flush writes at once, also what came during a write, and resolves when all is written", async () => {
    const { autosave, waits, ring, last, titles } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    ring();
    autosave.edited(edition("two"));
    let flushed: SaveState | undefined;
    const flushing = autosave.flush().then((state) => {
      flushed = state;
    });
    await last().answer(ok(5));
    expect(flushed).toBeUndefined();
    expect(titles()).toEqual(["one", "two"]);
    await last().answer(ok(6));
    await flushing;
    expect(flushed).toEqual({ kind: "saved", at: "minute 2" });
    expect(waits()).toEqual([]);
  });

  it("does not write when there is nothing to write", async () => {
    const { autosave, titles } = bench();
    autosave.loaded(STORED);
    expect(await autosave.flush()).toEqual({ kind: "saved", at: "yesterday" });
    expect(await autosave.close()).toEqual({ kind: "saved", at: "yesterday" });
    expect(titles()).toEqual([]);
  });

  it("two flushes at once make one write", async () => {
    const { autosave, last, titles } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    const both = Promise.all([autosave.flush(), autosave.flush()]);
    await settle();
    expect(titles()).toEqual(["one"]);
    await last().answer(ok(5));
    expect(kinds(await both)).toEqual(["saved", "saved"]);
    expect(titles()).toEqual(["one"]);
  });

  it("close flushes, and then takes no more edits", async () => {
    const { autosave, waits, last, titles } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    const closing = autosave.close();
    await settle();
    expect(titles()).toEqual(["one"]);
    await last().answer(ok(5));
    expect(await closing).toMatchObject({ kind: "saved" });
    expect(waits()).toEqual([]);
    expect(() => autosave.edited(edition("two"))).toThrow("closed");
  });

  it("says that a write failed, tries again later and later, and goes on trying", async () => {
    const { autosave, waits, ring, last, writes } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    ring();
    const delays = [...RETRY_DELAYS_MS, RETRY_DELAYS_MS[4], RETRY_DELAYS_MS[4]];
    expect(delays).toEqual([1000, 2000, 5000, 10_000, 30_000, 30_000, 30_000]);
    for (const retryInMs of delays) {
      await last().answer(refused("full"));
      expect(autosave.state).toEqual({ kind: "failed", problems: [storageProblem("full")], retryInMs });
      expect(waits()).toEqual([retryInMs]);
      const tries = writes.length;
      ring();
      // What it said stands while it is tried again: a way out must not go and come under the maker's hand.
      expect(writes).toHaveLength(tries + 1);
      expect(autosave.state.kind).toBe("failed");
    }
    await last().answer(ok(5));
    expect(autosave.state).toMatchObject({ kind: "saved" });
    expect(new Set(writes.map((write) => write.expected))).toEqual(new Set([4]));
  });

  it("starts again with the short wait after a success", async () => {
    const { autosave, waits, ring, last } = bench();
    autosave.loaded(STORED);
    for (const result of [refused("full"), refused("full"), ok(5), refused("full")]) {
      autosave.edited(edition("more"));
      ring();
      await last().answer(result);
    }
    expect(waits()).toEqual([RETRY_DELAYS_MS[0]]);
  });

  it("never says saved or waiting while a write has failed, and retries with the newest edit", async () => {
    const { autosave, waits, ring, last, titles } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    ring();
    autosave.edited(edition("two"));
    await last().answer(refused("failed"));
    autosave.edited(edition("three"));
    expect(autosave.state.kind).toBe("failed");
    expect(waits()).toEqual([RETRY_DELAYS_MS[0]]);
    ring();
    expect(titles()).toEqual(["one", "three"]);
  });

  it("keeps an edit that came during a write that fails, not the older one", async () => {
    const { autosave, ring, last, titles } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    ring();
    autosave.edited(edition("two"));
    await last().answer(refused("failed"));
    ring();
    expect(titles()).toEqual(["one", "two"]);
  });

  it("flush tries once more after a failure, and gives the failure back instead of waiting for ever", async () => {
    const { autosave, ring, last, writes } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    ring();
    await last().answer(refused("full"));
    const flushing = autosave.flush();
    await settle();
    expect(writes).toHaveLength(2);
    await last().answer(refused("full"));
    expect(await flushing).toMatchObject({ kind: "failed" });
  });

  it("does not try again by itself when another tab has changed the edition", async () => {
    for (const failure of ["changed", "removed", "closed", "newer"] as const) {
      const { autosave, waits, ring, last, writes } = bench();
      autosave.loaded(STORED);
      autosave.edited(edition("one"));
      ring();
      await last().answer(refused(failure));
      expect(autosave.state).toEqual({ kind: "failed", problems: [storageProblem(failure)], retryInMs: undefined });
      autosave.edited(edition("two"));
      expect(waits()).toEqual([]);
      expect(writes).toHaveLength(1);
    }
  });

  it("writes over the other tab's copy, or forgets ours, as the maker chooses", async () => {
    for (const choice of ["keep", "drop"] as const) {
      const { autosave, ring, last, titles } = bench();
      autosave.loaded(STORED);
      autosave.edited(edition("mine"));
      ring();
      await last().answer(refused("changed"));
      autosave.loaded({ revision: 9, updatedAt: "just now" }, choice);
      expect(autosave.state).toEqual(choice === "keep" ? { kind: "waiting" } : { kind: "saved", at: "just now" });
      ring();
      expect(titles()).toEqual(choice === "keep" ? ["mine", "mine"] : ["mine"]);
      if (choice === "keep") expect(last().expected).toBe(9);
    }
  });

  it("gives no promise of another try when closing fails, but can still be flushed", async () => {
    const { autosave, waits, last } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    const closing = autosave.close();
    await settle();
    await last().answer(refused("full"));
    expect(await closing).toEqual({ kind: "failed", problems: [storageProblem("full")], retryInMs: undefined });
    expect(waits()).toEqual([]);
    const again = autosave.flush();
    await settle();
    await last().answer(ok(5));
    expect(await again).toMatchObject({ kind: "saved" });
  });

  it("turns a throw of the store or of the values into a failure that is shown and retried", async () => {
    let isBroken = true;
    const values = bench({
      valuesNow: () => {
        if (isBroken) throw new TypeError("a bug of ours");
        return [1];
      },
    });
    values.autosave.loaded(STORED);
    values.autosave.edited(edition("one"));
    values.ring();
    await settle();
    expect(values.autosave.state).toMatchObject({ kind: "failed", problems: [{ code: "store.failed" }] });
    isBroken = false;
    values.ring();
    expect(values.last().content.values).toEqual([1]);
  });

  it("takes the values when it writes, and together with the book they belong to", async () => {
    let now = 0;
    const { autosave, ring, last } = bench({ valuesNow: () => now });
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    now = 1;
    autosave.edited(edition("two"));
    now = 2;
    ring();
    now = 3;
    expect([last().title, last().content.values]).toEqual(["two", 2]);
  });

  it("refuses to be told of a load in the middle of a write", () => {
    const { autosave, ring } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    ring();
    expect(() => autosave.loaded({ revision: 5, updatedAt: "now" })).toThrow("during a write");
  });

  it("works with a real store, from a new edition on", async () => {
    const { editions } = createMemoryStore();
    const states: SaveState[] = [];
    const autosave = createAutosave({
      store: editions,
      id: "a",
      now: () => "2026-11-25T08:00:00.000Z",
      setTimer: () => 0,
      clearTimer: () => undefined,
      onState: (state) => states.push(state),
    });
    autosave.loaded({ revision: 0, updatedAt: "" });
    autosave.edited(edition("first"));
    await autosave.flush();
    autosave.edited(edition("second"));
    expect(await autosave.close()).toEqual({ kind: "saved", at: "2026-11-25T08:00:00.000Z" });
    expect(await editions.read("a")).toMatchObject({
      ok: true,
      value: { revision: 2, book: { meta: { title: "second" } } },
    });
  });

  it("says what was written, with its stamp, also while newer edits wait", async () => {
    const written: unknown[] = [];
    const { autosave, ring, last } = bench({ onWritten: (one) => written.push(one) });
    autosave.loaded(STORED);
    autosave.edited(edition("one"), { sitting: "s", edits: 1 });
    ring();
    autosave.edited(edition("two"), { sitting: "s", edits: 2 });
    expect(last().content.edit).toEqual({ sitting: "s", edits: 1 });
    await last().answer(ok(5));
    expect(written).toEqual([{ revision: 5, updatedAt: "minute 1", edit: { sitting: "s", edits: 1 } }]);
    expect(autosave.state).toEqual({ kind: "waiting" });
    ring();
    expect(last().content.edit).toEqual({ sitting: "s", edits: 2 });
  });

  it("forgets on request what waits, also what a write under way could not write, and takes a new start", async () => {
    const { autosave, ring, last, titles, waits } = bench();
    autosave.loaded(STORED);
    autosave.edited(edition("one"));
    ring();
    autosave.edited(edition("two"));
    const dropped = autosave.drop();
    await last().answer(refused("failed"));
    await dropped;
    expect(waits()).toEqual([]);
    await autosave.flush();
    expect(titles()).toEqual(["one"]);
    autosave.loaded({ revision: 9, updatedAt: "later" }, "drop");
    expect(autosave.state).toEqual({ kind: "saved", at: "later" });
    autosave.edited(edition("three"));
    ring();
    expect([last().title, last().expected]).toEqual(["three", 9]);
  });
});
