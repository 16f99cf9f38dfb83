// What a browser's database does when things go wrong, and that every such thing ends in a problem with a way out.
import "fake-indexeddb/auto";
import { deleteDB, openDB } from "idb";
import { afterEach, describe, expect, it, vi } from "vitest";
import { writeDocument } from "../../src/core/document/write-document";
import type { Problem } from "../../src/core/problem";
import { openIdbStore } from "../../src/storage/idb-store";
import { problemsOf, valueFrom } from "./contract";
import { freshName } from "./idb-home";
import { smallEdition } from "./small-edition";

const content = { book: smallEdition(), updatedAt: "2026-11-25T08:00:00.000Z" };
const codes = (result: Parameters<typeof problemsOf>[0]) => problemsOf(result).map((found) => found.code);

afterEach(() => vi.unstubAllGlobals());

describe("opening the database", () => {
  it("says so when the browser has none", async () => {
    vi.stubGlobal("indexedDB", undefined);
    const refused = await openIdbStore(freshName());
    expect(codes(refused)).toEqual(["store.absent"]);
    expect(problemsOf(refused)[0]?.fix).toContain("file");
  });

  it("says so when the browser forbids even the mention of it", async () => {
    const real = Object.getOwnPropertyDescriptor(globalThis, "indexedDB");
    Object.defineProperty(globalThis, "indexedDB", {
      configurable: true,
      get() {
        throw new DOMException("no", "SecurityError");
      },
    });
    try {
      expect(codes(await openIdbStore(freshName()))).toEqual(["store.denied"]);
    } finally {
      if (real) Object.defineProperty(globalThis, "indexedDB", real);
    }
  });

  it("says so in a private window that refuses to open it", async () => {
    vi.spyOn(indexedDB, "open").mockImplementation(() => {
      throw new DOMException("A mutation operation was attempted", "InvalidStateError");
    });
    expect(codes(await openIdbStore(freshName()))).toEqual(["store.unavailable"]);
  });

  it("says so when a newer version has written it", async () => {
    const name = freshName();
    (await openDB(name, 7)).close();
    expect(codes(await openIdbStore(name))).toEqual(["store.newer"]);
  });

  it("gives up, with a message, when an old tab does not let go", async () => {
    const name = freshName();
    const stubborn = await openDB(name, 1);
    const onClosed = vi.fn();
    const refused = await openIdbStore(name, { version: 2, blockedWaitMs: 20, onClosed });
    expect(codes(refused)).toEqual(["store.blocked"]);
    stubborn.close();
    // The late answer was closed at once: deleting the database asks no connection to go.
    await deleteDB(name);
    expect(onClosed).not.toHaveBeenCalled();
  });

  it("waits for an old tab that lets go in time", async () => {
    const name = freshName();
    const slow = await openDB(name, 1, {
      upgrade: (database) => {
        for (const place of ["summaries", "documents", "preferences"]) database.createObjectStore(place);
      },
    });
    setTimeout(() => slow.close(), 20);
    const store = valueFrom(await openIdbStore(name, { version: 2, blockedWaitMs: 5000 }));
    expect(valueFrom(await store.editions.list())).toEqual([]);
    store.close();
  });

  it("gives up when the browser never answers", async () => {
    vi.spyOn(indexedDB, "open").mockImplementation(() => new IDBOpenDBRequest());
    expect(codes(await openIdbStore(freshName(), { openWaitMs: 20 }))).toEqual(["store.silent"]);
  });

  it("can be tried again after a failure", async () => {
    const name = freshName();
    const open = vi.spyOn(indexedDB, "open").mockImplementationOnce(() => {
      throw new DOMException("busy", "UnknownError");
    });
    expect(codes(await openIdbStore(name))).toEqual(["store.failed"]);
    open.mockRestore();
    valueFrom(await openIdbStore(name)).close();
  });
});

describe("a database that opens and then never answers", () => {
  it("is given up, so that the page can start without it", async () => {
    vi.spyOn(IDBObjectStore.prototype, "count").mockImplementation(() => new IDBRequest());
    const refused = await openIdbStore(freshName(), { openWaitMs: 20 });
    expect(codes(refused)).toEqual(["store.silent"]);
  });
});

describe("an open database", () => {
  it("lets a newer version in at once, tells, and stops writing", async () => {
    const name = freshName();
    const problems: Problem[] = [];
    const store = valueFrom(await openIdbStore(name, { onClosed: (problem) => problems.push(problem) }));
    valueFrom(await store.editions.write("a", content, 0));
    const blocked = vi.fn();
    const newer = await openDB(name, 99, { blocked });
    expect(blocked).not.toHaveBeenCalled();
    expect(problems.map((problem) => problem.code)).toEqual(["store.closed"]);
    expect(codes(await store.editions.write("a", content, 1))).toEqual(["store.closed"]);
    expect(codes(await store.editions.list())).toEqual(["store.closed"]);
    expect(codes(await store.preferences.set("decimal", ","))).toEqual(["store.closed"]);
    newer.close();
  });

  it("finishes the write that is under way when a newer version comes", async () => {
    const name = freshName();
    const store = valueFrom(await openIdbStore(name));
    const writing = store.editions.write("a", content, 0);
    const newer = await openDB(name, 99);
    expect(valueFrom(await writing)).toBe(1);
    expect(await newer.count("documents")).toBe(1);
    newer.close();
  });

  it("is opened anew when the browser has dropped it without a word", async () => {
    const name = freshName();
    const store = valueFrom(await openIdbStore(name));
    valueFrom(await store.editions.write("a", content, 0));
    vi.spyOn(IDBDatabase.prototype, "transaction").mockImplementationOnce(() => {
      throw new DOMException("The database connection is closing.", "InvalidStateError");
    });
    expect(valueFrom(await store.editions.write("a", content, 1))).toBe(2);
    store.close();
  });

  it("that is deleted is not given up: it tells that what was stored may be gone, and can be written in again", async () => {
    const name = freshName();
    const [onClosed, onDropped] = [vi.fn(), vi.fn()];
    const store = valueFrom(await openIdbStore(name, { onClosed, onDropped }));
    valueFrom(await store.editions.write("a", content, 0));
    await deleteDB(name);
    expect([onDropped.mock.calls.length, onClosed.mock.calls.length]).toEqual([1, 0]);
    expect(codes(await store.editions.write("a", content, 1))).toEqual(["store.removed"]);
    expect(valueFrom(await store.editions.write("a", content, 0))).toBe(1);
    store.close();
  });

  for (const [error, code] of [
    ["QuotaExceededError", "store.full"],
    ["NS_ERROR_DOM_QUOTA_REACHED", "store.full"],
    ["UnknownError", "store.failed"],
    ["InvalidStateError", "store.unavailable"],
  ] as const)
    it(`reports ${error} on a put, and half of a write is never kept`, async () => {
      const store = valueFrom(await openIdbStore(freshName()));
      valueFrom(await store.editions.write("a", content, 0));
      const real = IDBObjectStore.prototype.put;
      vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(function (this: IDBObjectStore, value, key) {
        if (this.name === "documents") throw new DOMException("no", error);
        return real.call(this, value, key);
      });
      const refused = await store.editions.write("a", { ...content, updatedAt: "2026-11-26T08:00:00.000Z" }, 1);
      expect(codes(refused)).toEqual([code]);
      expect(problemsOf(refused)[0]?.fix).toContain("file");
      expect(valueFrom(await store.editions.read("a"))).toMatchObject({ revision: 1, updatedAt: content.updatedAt });
      expect(valueFrom(await store.editions.list())[0]?.revision).toBe(1);
      store.close();
    });

  it("reports a disk that turns out to be full when the write is finished", async () => {
    const store = valueFrom(await openIdbStore(freshName()));
    const real = IDBDatabase.prototype.transaction;
    vi.spyOn(IDBDatabase.prototype, "transaction").mockImplementationOnce(function (this: IDBDatabase, ...args) {
      const transaction = real.apply(this, args);
      // Browsers give the reason as the transaction's own error when it fails at its end.
      Object.defineProperty(transaction, "error", { value: new DOMException("disk full", "QuotaExceededError") });
      queueMicrotask(() => transaction.abort());
      return transaction;
    });
    expect(codes(await store.editions.write("a", content, 0))).toEqual(["store.full"]);
    expect(valueFrom(await store.editions.list())).toEqual([]);
    store.close();
  });

  it("writes without a copy of what was there where there is no room for both", async () => {
    const store = valueFrom(await openIdbStore(freshName()));
    valueFrom(await store.editions.write("a", content, 0));
    const real = IDBObjectStore.prototype.put;
    const full = vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(function (
      this: IDBObjectStore,
      value,
      key,
    ) {
      if (this.name === "copies") throw new DOMException("no", "QuotaExceededError");
      return real.call(this, value, key);
    });
    expect(valueFrom(await store.editions.write("a", { ...content, updatedAt: "2026-11-26T08:00:00.000Z" }, 1))).toBe(
      2,
    );
    expect(valueFrom(await store.copies.list("a"))).toEqual([]);
    full.mockRestore();
    valueFrom(await store.editions.write("a", { ...content, updatedAt: "2026-11-27T08:00:00.000Z" }, 2));
    expect(valueFrom(await store.copies.list("a")).map(({ takenAt }) => takenAt)).toEqual(["2026-11-26T08:00:00.000Z"]);
    store.close();
  });

  it("gives up what can be undone before an edit is lost, and keeps it again once there is room", async () => {
    const store = valueFrom(await openIdbStore(freshName()));
    const step = { label: "Typed", operations: [], at: content.updatedAt };
    const undo = { done: [step], undone: [] };
    valueFrom(await store.editions.write("a", content, 0));
    const real = IDBObjectStore.prototype.put;
    const full = vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(function (
      this: IDBObjectStore,
      value,
      key,
    ) {
      if (this.name === "steps") throw new DOMException("no", "QuotaExceededError");
      return real.call(this, value, key);
    });
    const later = { ...content, updatedAt: "2026-11-26T08:00:00.000Z", undo };
    expect(valueFrom(await store.editions.write("a", later, 1))).toBe(2);
    full.mockRestore();
    expect(valueFrom(await store.editions.read("a")).undo).toEqual({ done: [], undone: [], cut: later.updatedAt });
    valueFrom(await store.editions.write("a", later, 2));
    expect(valueFrom(await store.editions.read("a")).undo).toEqual(undo);
    store.close();
  });

  it("writes a step once, however often the edition is saved after it", async () => {
    const store = valueFrom(await openIdbStore(freshName()));
    const put = vi.spyOn(IDBObjectStore.prototype, "put");
    const steps = Array.from({ length: 5 }, (_, at) => ({ label: `Step ${at}`, operations: [] }));
    for (let at = 0; at < steps.length; at += 1)
      valueFrom(
        await store.editions.write("a", { ...content, undo: { done: steps.slice(0, at + 1), undone: [] } }, at),
      );
    const places = put.mock.instances.map((place) => (place as unknown as IDBObjectStore).name);
    expect(places.filter((name) => name === "steps")).toHaveLength(5);
    put.mockRestore();
    store.close();
  });

  it("takes over what the first kind of storage held, which had no checksums and no copies", async () => {
    const name = freshName();
    const first = await openDB(name, 1, {
      upgrade: (database) => {
        for (const place of ["summaries", "documents", "preferences"]) database.createObjectStore(place);
      },
    });
    const { book, updatedAt } = content;
    await first.put("summaries", { title: "Marram", updatedAt, revision: 3, pieces: 4 }, "a");
    await first.put("documents", { text: writeDocument(book), revision: 3 }, "a");
    first.close();
    const store = valueFrom(await openIdbStore(name));
    expect(valueFrom(await store.editions.read("a"))).toEqual({ id: "a", book, updatedAt, revision: 3 });
    expect(valueFrom(await store.editions.write("a", { book, updatedAt: "2026-11-26T08:00:00.000Z" }, 3))).toBe(4);
    expect(valueFrom(await store.copies.read("a", updatedAt))).toEqual(book);
    store.close();
  });

  it("fails with a problem, not with a throw, once it was closed", async () => {
    const store = valueFrom(await openIdbStore(freshName()));
    store.close();
    expect(codes(await store.editions.list())).toEqual(["store.failed"]);
    expect(codes(await store.preferences.get("decimal"))).toEqual(["store.failed"]);
  });
});
