// Keeping as a maker meets it: edits are saved, a closed page loses nothing, and two tabs never lose one another's work.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { editMeta } from "../../../src/core/document/edits";
import { fail, ok } from "../../../src/core/problem";
// Loaded on demand in the page; here at once, so that no test waits for it.
import "../../../src/core/document/difference";
import { createMemoryStore } from "../../../src/storage/memory-store";
import { storageProblem } from "../../../src/storage/storage-problems";
import { smallEdition } from "../../storage/small-edition";
import { Device, failingHome, type Tab } from "../../tools/open-studio";
import { turns } from "../../tools/tabs";

/** A tab that has opened the edition kept last, or a new one where there is none. */
const opened = async (device: Device, settings?: Parameters<Device["openTab"]>[0]) => {
  const tab = device.openTab(settings);
  await tab.studio.start(async () => smallEdition(2));
  return tab;
};
const storedNote = async (tab: Tab, id = tab.studio.editionId.value ?? "") => {
  const stored = await tab.home.editions.read(id);
  return stored.ok ? stored.value.book.sheets.pieces.rows[0]?.cells.note : stored.problems[0]?.code;
};
const titles = async (tab: Tab) => {
  const list = await tab.home.editions.list();
  return list.ok ? list.value.map(({ title }) => title).sort() : [];
};

describe("one tab", () => {
  it("says what is different in an edition that an earlier program saved, until that is put away", async () => {
    const device = new Device();
    const tab = await opened(device);
    const id = tab.studio.editionId.value ?? "";
    const file = new URL("../../fixtures/documents/format-2.edition.json", import.meta.url);
    const record = device.records.documents.get(id) as { readonly revision: number };
    device.records.documents.set(id, { text: readFileSync(file, "utf8"), revision: record.revision });
    const { studio } = await opened(device);
    const news = studio.session.value?.notices.value.find(({ text }) => text.startsWith("An earlier Saggar"));
    expect(news).toMatchObject({ tone: "refused" });
    expect(news?.details.join()).toContain("Edition, Pieces to deliver bring in");
  });

  it("keeps nothing that could not be opened again: the change is refused, with the limit", async () => {
    const tab = await opened(new Device());
    const { session } = tab.studio;
    const book = session.value?.book.value;
    if (!book) throw new Error("nothing is open");
    expect(session.value?.commit(editMeta(book, { note: "x".repeat(5001) }, "Note"))).toBe(false);
    expect(session.value?.book.value).toBe(book);
    expect(session.value?.history.value.done).toEqual([]);
    expect(session.value?.notices.value.at(-1)?.text).toBe(
      "Marram, note: found “5\u202f001 characters”, but it takes up to 5\u202f000. Nothing was changed. Shorten it.",
    );
    expect(tab.studio.saveState.value.kind).toBe("saved");
  });

  it("says saved only once the store has it, and opens it again", async () => {
    const device = new Device();
    const tab = await opened(device);
    expect(tab.studio.saveState.value.kind).toBe("saved");
    tab.type("one");
    expect(tab.studio.saveState.value.kind).toBe("waiting");
    expect(await storedNote(tab)).toBeUndefined();
    await tab.ring();
    expect(tab.studio.saveState.value.kind).toBe("saved");
    expect(await storedNote(tab)).toBe("one");
    await tab.studio.open?.close();
    const again = await opened(device);
    expect([again.note, await titles(again)]).toEqual(["one", ["Marram"]]);
  });

  it("puts edits back that a closed page left unsaved, saves them, and they can be undone", async () => {
    const device = new Device();
    const closed = await opened(device);
    closed.type("one");
    await closed.ring();
    closed.type("two");
    closed.type("three");
    device.browser.crash(closed.lockPlatform);
    const tab = await opened(device);
    expect(tab.note).toBe("three");
    expect(tab.messages).toEqual(["Put back 2 edits made just before the page was closed."]);
    await tab.ring();
    expect(await storedNote(tab)).toBe("three");
    expect(device.small.size).toBe(0);
    tab.studio.session.value?.undo();
    expect(tab.note).toBe("two");
  });

  it("does not put back what was saved after all, though it was still written down", async () => {
    const device = new Device();
    const closed = await opened(device);
    closed.type("one");
    const held = [...device.small];
    await closed.ring();
    device.browser.crash(closed.lockPlatform);
    for (const [name, text] of held) device.small.set(name, text);
    const tab = await opened(device);
    expect([tab.note, tab.messages, device.small.size]).toEqual(["one", [], 0]);
    expect(tab.studio.saveState.value.kind).toBe("saved");
  });

  it("raises no alarm of edits of an earlier session that are all there, though the small storage never heard of it", async () => {
    const device = new Device();
    const first = await opened(device);
    first.type("one");
    const held = [...device.small];
    await first.ring();
    device.browser.crash(first.lockPlatform);
    // Written to the disk seconds later, the small storage of a killed browser is as it was then, each time.
    const asThen = () => {
      device.small.clear();
      for (const [name, text] of held) device.small.set(name, text);
    };
    for (const text of ["two", "three", "four"]) {
      asThen();
      const next = await opened(device);
      next.type(text);
      await next.ring();
      device.browser.crash(next.lockPlatform);
    }
    asThen();
    const last = await opened(device);
    expect([last.note, last.messages]).toEqual(["four", []]);
  });

  it("leaves out what does not fit the edition any more, and says what it was", async () => {
    const device = new Device();
    const closed = await opened(device);
    closed.type("one");
    const held = [...device.small];
    await closed.ring();
    closed.type("two");
    await closed.ring();
    device.browser.crash(closed.lockPlatform);
    for (const [name, text] of held) device.small.set(name, text.replaceAll("id2", "another session"));
    const tab = await opened(device);
    expect(tab.note).toBe("two");
    expect(tab.messages[0]).toContain("They do not fit the edition as it is now");
    expect(tab.studio.session.value?.notices.value[0]?.details).toEqual(["Typed one"]);
    // Out of the way, so that they are told of once; not gone.
    expect([...device.small.keys()]).toEqual([expect.stringContaining("left out")]);
    await tab.studio.open?.close();
    const next = await opened(device);
    expect(next.messages).toEqual([]);
  });

  it("refuses what was written down but breaks the rules of the document", async () => {
    const device = new Device();
    const closed = await opened(device);
    closed.type("one");
    device.browser.crash(closed.lockPlatform);
    for (const [name, text] of [...device.small])
      device.small.set(name, text.replace('"column":"note"', '"column":"nowhere"'));
    const tab = await opened(device);
    expect(tab.note).toBeUndefined();
    expect(tab.messages[0]).toContain("left out");
  });

  it("says at once why it is not saved, goes on trying, and is at risk until it is", async () => {
    const device = new Device();
    const { home, now } = failingHome(device);
    const tab = await opened(device, { home });
    expect(tab.studio.isAtRisk).toBe(false);
    now.failure = "full";
    tab.type("one");
    await tab.ring();
    expect(tab.studio.saveState.value).toMatchObject({ kind: "failed", problems: [{ code: "store.full" }] });
    expect(tab.studio.isAtRisk).toBe(true);
    tab.type("two");
    now.failure = undefined;
    await tab.ring();
    expect([tab.studio.saveState.value.kind, await storedNote(tab), tab.studio.isAtRisk]).toEqual([
      "saved",
      "two",
      false,
    ]);
  });

  it("keeps an edition again that was removed elsewhere", async () => {
    const device = new Device();
    const tab = await opened(device);
    const id = tab.studio.editionId.value ?? "";
    await (await opened(device)).studio.openNew(smallEdition(1, "Other"));
    await tab.home.editions.remove(id);
    tab.type("one");
    await tab.ring();
    expect(tab.studio.saveState.value).toMatchObject({ kind: "failed", problems: [{ code: "store.removed" }] });
    await tab.studio.open?.storeAgain();
    expect([tab.studio.saveState.value.kind, await storedNote(tab)]).toEqual(["saved", "one"]);
  });
});

describe("a browser that keeps nothing", () => {
  it("works in memory, says so, and takes the edition along once there is a home", async () => {
    const device = new Device();
    const real = createMemoryStore(device.records);
    const tab = await opened(device, {
      home: createMemoryStore(),
      refused: [storageProblem("denied")],
      openHome: async () => ok(real),
    });
    expect(tab.studio.isAtRisk).toBe(false);
    tab.type("one");
    await tab.ring();
    expect(tab.studio.isAtRisk).toBe(true);
    await tab.studio.tryHomeAgain();
    expect([tab.studio.refused.value, tab.note]).toEqual([[], "one"]);
    const list = await real.editions.list();
    expect(list.ok && list.value.map(({ title }) => title)).toEqual(["Marram"]);
  });

  it("goes on as it was while the browser still refuses", async () => {
    const tab = await opened(new Device(), {
      refused: [storageProblem("denied")],
      openHome: async () => fail(storageProblem("unavailable")),
    });
    await tab.studio.tryHomeAgain();
    expect(tab.studio.refused.value[0]?.code).toBe("store.unavailable");
    expect(tab.messages[0]).toContain("private window");
  });
});

for (const hasLocks of [true, false])
  describe(hasLocks ? "two tabs with locks" : "two tabs without locks", () => {
    const twoTabs = async () => {
      const device = new Device(hasLocks);
      const [a, b] = [await opened(device), await opened(device)];
      await turns();
      return { device, a, b };
    };

    it("one writes, the other follows edit by edit and can't be written in", async () => {
      const { a, b } = await twoTabs();
      expect([a.studio.lock.value, b.studio.lock.value]).toEqual(["writing", "following"]);
      expect(b.type("mine")).toBe(false);
      expect(b.messages[0]).toContain("another tab writes this edition");
      a.type("one");
      await turns();
      expect([b.note, b.studio.saveState.value.kind]).toEqual(["one", "waiting"]);
      await a.ring();
      expect(b.studio.saveState.value.kind).toBe("saved");
      expect(await storedNote(a)).toBe("one");
    });

    it("both have the one undo stack, whoever goes back in it", async () => {
      const { a, b } = await twoTabs();
      a.type("one");
      a.type("two");
      await turns();
      await b.studio.takeOver();
      await turns();
      b.studio.session.value?.undo();
      await turns();
      expect([a.note, b.note]).toEqual(["one", "one"]);
      await a.studio.takeOver();
      await turns();
      a.studio.session.value?.redo();
      expect(a.note).toBe("two");
      a.studio.session.value?.walk(-2);
      expect(a.note).toBeUndefined();
    });

    it("takes over with one press, and back, and nothing is lost on the way", async () => {
      const { a, b } = await twoTabs();
      a.type("one");
      await b.studio.takeOver();
      await turns();
      expect([a.studio.lock.value, b.studio.lock.value, b.note]).toEqual(["following", "writing", "one"]);
      expect(a.type("no")).toBe(false);
      expect(b.type("two")).toBe(true);
      await b.ring();
      expect([a.note, await storedNote(a)]).toEqual(["two", "two"]);
      await a.studio.takeOver();
      await turns();
      expect(a.type("three")).toBe(true);
      await a.ring();
      expect([b.note, await storedNote(b), await titles(a)]).toEqual(["three", "three", ["Marram"]]);
    });

    it("goes on from a tab that is closed", async () => {
      const { a, b } = await twoTabs();
      a.type("one");
      await turns();
      await a.studio.open?.close();
      await turns(60);
      expect([b.studio.lock.value, b.note, b.type("two")]).toEqual(["writing", "one", true]);
      await b.ring();
      expect(await storedNote(b)).toBe("two");
    });

    it("takes over from a tab that is frozen with an edit it had no time to save", async () => {
      const { device, a, b } = await twoTabs();
      device.browser.freeze(a.lockPlatform);
      a.type("asleep");
      await b.studio.takeOver();
      await turns();
      // Written down at once, the edit is put back by the tab that goes on.
      expect([b.studio.lock.value, b.note]).toEqual(["writing", "asleep"]);
      b.type("awake");
      await b.ring();
      device.browser.thaw(a.lockPlatform);
      await a.ring();
      await turns(60);
      expect([a.studio.lock.value, a.note, await storedNote(a)]).toEqual(["following", "awake", "awake"]);
    });

    it("keeps edits of a frozen tab apart where they could not be written down", async () => {
      const { device, a, b } = await twoTabs();
      device.browser.freeze(a.lockPlatform);
      device.isSmallFull = true;
      a.type("asleep");
      await b.studio.takeOver();
      b.type("awake");
      await b.ring();
      device.browser.thaw(a.lockPlatform);
      await a.ring();
      await turns(60);
      expect(await titles(b)).toEqual(["Marram", "Marram (edits kept apart)"]);
      expect(a.note).toBe("awake");
      const apart = (await a.home.editions.list()).ok ? await a.home.editions.list() : undefined;
      const id = apart?.ok ? apart.value.find(({ title }) => title.includes("apart"))?.id : "";
      expect(await storedNote(a, id)).toBe("asleep");
      expect(a.messages.some((text) => text.includes("kept as an edition of its own"))).toBe(true);
    });

    it("different editions in different tabs are written side by side", async () => {
      const { device, a, b } = await twoTabs();
      await b.studio.openNew(smallEdition(1, "Other"));
      expect([a.studio.lock.value, b.studio.lock.value]).toEqual(["writing", "writing"]);
      a.type("in a");
      b.type("in b");
      await a.ring();
      await b.ring();
      expect([await storedNote(a), await storedNote(b), device.small.size]).toEqual(["in a", "in b", 0]);
    });

    it("a tab that hears of a save while it still reads the edition shows that save", async () => {
      const { device, a } = await twoTabs();
      a.type("one");
      const home = createMemoryStore(device.records);
      const read: typeof home.editions.read = async (id) => {
        const stored = await home.editions.read(id);
        await turns(15);
        return stored;
      };
      const c = await opened(device, { home: { ...home, editions: { ...home.editions, read } } });
      await turns(60);
      expect(c.note).toBe("one");
    });

    it("a third tab that opens in the middle of an edit shows it once it is saved", async () => {
      const { device, a } = await twoTabs();
      a.type("one");
      const c = await opened(device);
      await turns(60);
      expect([c.studio.lock.value, c.note]).toEqual(["following", "one"]);
    });
  });
