// The same promises in a real browser, and what only a real one can show: a full disk and real files.
import { deleteDB, openDB } from "idb";
import { afterEach, describe, expect, it, vi } from "vitest";
import { CSV_FILE, openTextFile, saveTextFile } from "../../src/storage/files";
import { openIdbStore } from "../../src/storage/idb-store";
import { describeStore, problemsOf, valueFrom } from "../storage/contract";
import { freshName, openIdbHome } from "../storage/idb-home";
import { smallEdition } from "../storage/small-edition";

describeStore("the browser's database", openIdbHome);

const content = { book: smallEdition(), updatedAt: "2026-11-25T08:00:00.000Z" };

/** A part of Chromium's storage that holds no more than it is told: a disk that is soon full. */
interface SmallDisk {
  readonly indexedDB: IDBFactory;
}
interface Disks {
  open(name: string, options: { readonly quota: number }): Promise<SmallDisk>;
  delete(name: string): Promise<void>;
}

describe("a full disk", () => {
  afterEach(() => vi.unstubAllGlobals());

  it("is reported, and what was stored stays", async () => {
    const disks = (navigator as unknown as { readonly storageBuckets: Disks }).storageBuckets;
    vi.stubGlobal("indexedDB", (await disks.open("small", { quota: 1_000_000 })).indexedDB);
    const store = valueFrom(await openIdbStore(freshName()));
    valueFrom(await store.editions.write("a", content, 0));
    const refused = await store.editions.write("a", { ...content, values: "x".repeat(5_000_000) }, 1);
    expect(problemsOf(refused).map((found) => found.code)).toEqual(["store.full"]);
    expect(valueFrom(await store.editions.read("a")).revision).toBe(1);
    expect(valueFrom(await store.editions.write("a", content, 1))).toBe(2);
    store.close();
    await disks.delete("small");
  });
});

describe("two tabs of different versions", () => {
  it("the older one lets the newer one in, says so, and stops", async () => {
    const name = freshName();
    const onClosed = vi.fn();
    const store = valueFrom(await openIdbStore(name, { onClosed }));
    const blocked = vi.fn();
    const newer = await openDB(name, 99, { blocked });
    expect(blocked).not.toHaveBeenCalled();
    expect(onClosed).toHaveBeenCalledWith(expect.objectContaining({ code: "store.closed" }));
    expect(problemsOf(await store.editions.write("a", content, 0))[0]?.code).toBe("store.closed");
    newer.close();
    await deleteDB(name);
  });

  it("the newer one gives up with a message when the older one does not let go", async () => {
    const name = freshName();
    const stubborn = await openDB(name, 1);
    const refused = await openIdbStore(name, { version: 99, blockedWaitMs: 50 });
    expect(problemsOf(refused)[0]?.code).toBe("store.blocked");
    stubborn.close();
    await deleteDB(name);
  });
});

describe("files", () => {
  it("are saved through a real handle and read back from it", async () => {
    const folder = await navigator.storage.getDirectory();
    const handle = await folder.getFileHandle("marram.csv", { create: true });
    const text = 'Piece,note\r\n007,"süß, 🏺"\r\n';
    const saved = valueFrom(await saveTextFile("marram.csv", text, CSV_FILE, handle));
    expect(saved?.handle).toBe(handle);
    const open = vi.fn(async () => [handle]);
    vi.stubGlobal("showOpenFilePicker", open);
    const opened = valueFrom(await openTextFile(CSV_FILE));
    vi.unstubAllGlobals();
    expect(opened).toMatchObject({ name: "marram.csv", text });
    expect(await opened?.handle?.isSameEntry(handle)).toBe(true);
    await folder.removeEntry("marram.csv");
  });
});
