// No edit is dropped without a word: what can't be saved is handed on, kept, or asked about.
import { describe, expect, it } from "vitest";
import { applyAside, discardAside } from "../../../src/app/keeping/aside-edits";
import "../../../src/core/document/difference";
import type { AsideEdits } from "../../../src/storage/last-edits";
import { smallEdition } from "../../storage/small-edition";
import { Device, failingHome, type Tab } from "../../tools/open-studio";
import { turns } from "../../tools/tabs";

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

describe("leaving an edition", () => {
  /** A tab with an edit that the full disk does not take; nor does the small storage. */
  const unsaved = async () => {
    const device = new Device();
    const { home, now } = failingHome(device);
    const tab = await opened(device, { home });
    const first = tab.studio.editionId.value ?? "";
    now.failure = "full";
    device.isSmallFull = true;
    tab.type("pasted");
    await tab.ring();
    return { device, tab, now, first };
  };

  it("that is being saved waits for the save and asks nothing", async () => {
    const device = new Device();
    const tab = await opened(device);
    const first = tab.studio.editionId.value ?? "";
    tab.type("one");
    expect(await tab.studio.openNew(smallEdition(1, "Other"))).toBe(true);
    expect([tab.studio.leaving.value, await storedNote(tab, first)]).toEqual([undefined, "one"]);
  });

  it("that can't be saved asks, and staying leaves everything as it was", async () => {
    const { tab, now } = await unsaved();
    const left = tab.studio.openNew(smallEdition(1, "Other"));
    await turns();
    expect(tab.studio.leaving.value).toMatchObject({ title: "Marram", unsaved: 1, isHeld: false });
    expect(tab.studio.leaving.value?.problems[0]?.code).toBe("store.full");
    tab.studio.leaving.value?.answer("stay");
    expect([await left, tab.note, tab.studio.leaving.value]).toEqual([false, "pasted", undefined]);
    expect(await titles(tab)).toEqual(["Marram"]);
    now.failure = undefined;
    await tab.ring();
    expect(await storedNote(tab)).toBe("pasted");
  });

  it("goes on where the maker gives the edits up, and says where it would have put them back", async () => {
    const { device, tab, first, now } = await unsaved();
    const other = await opened(device);
    await other.studio.openNew(smallEdition(1, "Other"));
    const id = other.studio.editionId.value ?? "";
    await other.studio.open?.close();
    const left = tab.studio.openStored(id);
    await turns();
    tab.studio.leaving.value?.answer("leave");
    expect([await left, tab.book.meta.title, tab.messages]).toEqual([true, "Other", []]);
    now.failure = undefined;
    await tab.studio.openStored(first);
    now.failure = "full";
    device.isSmallFull = false;
    tab.type("written down");
    const again = tab.studio.openStored(id);
    await turns();
    expect(tab.studio.leaving.value?.isHeld).toBe(true);
    tab.studio.leaving.value?.answer("leave");
    await again;
    now.failure = undefined;
    await tab.studio.openStored(first);
    expect(tab.note).toBe("written down");
  });

  it("tells of edits that came after the question and could not be saved either", async () => {
    const { tab } = await unsaved();
    const left = tab.studio.openNew(smallEdition(1, "Other"));
    await turns();
    tab.studio.leaving.value?.answer("leave");
    tab.type("too late");
    await left;
    expect(tab.messages).toEqual(["The last edits of the edition that was open before could not be saved:"]);
    expect(tab.studio.session.value?.notices.value[0]?.details).toEqual(["Typed too late"]);
  });

  it("asks the browser's question while anything is unsaved, whatever its size", async () => {
    const tab = await opened(new Device());
    expect(tab.studio.isAtRisk).toBe(false);
    tab.type("one");
    expect(tab.studio.isAtRisk).toBe(true);
    await tab.ring();
    expect(tab.studio.isAtRisk).toBe(false);
  });
});

for (const hasLocks of [true, false])
  describe(`taking the lock from a tab that can't save, ${hasLocks ? "with" : "without"} locks`, () => {
    /** Tab a holds an edit that neither storage takes. */
    const stuck = async () => {
      const device = new Device(hasLocks);
      const { home, now } = failingHome(device);
      const a = await opened(device, { home });
      a.type("saved");
      await a.ring();
      now.failure = "full";
      device.isSmallFull = true;
      a.type("pasted");
      await a.ring();
      return { device, home, now, a };
    };

    it("hands the edits over, and both tabs show them until the store takes them", async () => {
      const { device, home, now, a } = await stuck();
      const b = await opened(device, { home });
      await turns(60);
      expect([b.studio.lock.value, b.note]).toEqual(["following", "pasted"]);
      await b.studio.takeOver();
      await turns(120);
      expect([b.studio.lock.value, a.studio.lock.value]).toEqual(["writing", "following"]);
      expect([a.note, b.note, b.studio.isAtRisk, a.studio.isAtRisk]).toEqual(["pasted", "pasted", true, false]);
      expect(b.type("and on")).toBe(true);
      await turns();
      expect(a.note).toBe("and on");
      now.failure = undefined;
      await b.ring();
      await turns(60);
      expect([await storedNote(b), a.note, b.studio.isAtRisk]).toEqual(["and on", "and on", false]);
      expect([a.studio.saveState.value.kind, await titles(a)]).toEqual(["saved", ["Marram"]]);
    });

    it("goes back to the first tab with them when the second is closed before anything was saved", async () => {
      const { device, home, now, a } = await stuck();
      const b = await opened(device, { home });
      await turns(60);
      await b.studio.takeOver();
      await turns(120);
      device.browser.crash(b.lockPlatform);
      await a.studio.takeOver();
      await turns(60);
      expect([a.studio.lock.value, a.note]).toEqual(["writing", "pasted"]);
      now.failure = undefined;
      await a.ring();
      expect(await storedNote(a)).toBe("pasted");
    });

    it("where the other tab could not hear them keeps them and says so, until they are kept apart", async () => {
      const { device, home, now, a } = await stuck();
      device.browser.freeze(a.lockPlatform);
      const b = await opened(device, { home });
      // Without locks a tab that says nothing is taken for gone.
      await b.studio.takeOver();
      await turns();
      b.type("the other way");
      now.failure = undefined;
      await b.ring();
      now.failure = "full";
      device.browser.thaw(a.lockPlatform);
      await a.ring();
      await turns(200);
      expect([a.studio.lock.value, a.note, a.studio.isAtRisk]).toEqual(["following", "pasted", true]);
      expect(a.studio.open?.stranded.value[0]?.code).toBe("store.full");
      now.failure = undefined;
      await a.studio.open?.keepStranded();
      expect(await titles(a)).toEqual(["Marram", "Marram (edits kept apart)"]);
      expect([a.note, a.studio.isAtRisk, a.studio.open?.stranded.value]).toEqual(["the other way", false, []]);
    });
  });

describe("what is stored goes while the edition is open", () => {
  const cleared = async (tab: Tab, device: Device) => {
    for (const map of Object.values(device.records)) (map as Map<string, unknown>).clear();
    device.small.clear();
    await tab.ring();
  };

  it("is noticed without an edit, and the whole edition is written again and said", async () => {
    const device = new Device();
    const tab = await opened(device);
    tab.type("one");
    await tab.ring();
    await cleared(tab, device);
    expect([tab.studio.saveState.value.kind, await storedNote(tab)]).toEqual(["saved", "one"]);
    expect(tab.messages.at(-1)).toContain("This browser cleared what it had kept for this page.");
    expect(await tab.home.preferences.get("lastEdition")).toEqual({ ok: true, value: tab.studio.editionId.value });
    tab.type("two");
    await tab.ring();
    expect(await storedNote(tab)).toBe("two");
  });

  it("is said to be so, and the page at risk, where only this edition is gone", async () => {
    const device = new Device();
    const tab = await opened(device);
    const id = tab.studio.editionId.value ?? "";
    await (await opened(device)).studio.openNew(smallEdition(1, "Other"));
    await tab.home.editions.remove(id);
    await tab.studio.wake();
    expect(tab.studio.saveState.value).toMatchObject({ kind: "failed", problems: [{ code: "store.removed" }] });
    expect([tab.studio.isAtRisk, await titles(tab)]).toEqual([true, ["Other"]]);
  });
});

describe("edits set aside", () => {
  /** A tab that was opened over edits of another session: of the first note, and of the second after it was written over. */
  const aside = async () => {
    const device = new Device();
    const closed = await opened(device);
    closed.type("one", "p1");
    closed.type("one", "p2");
    const held = [...device.small];
    closed.studio.session.value?.undo();
    closed.studio.session.value?.undo();
    closed.type("two", "p2");
    await closed.ring();
    device.browser.crash(closed.lockPlatform);
    for (const [name, text] of held) device.small.set(name, text.replaceAll("id2", "another session"));
    device.minute = 7;
    return { device, tab: await opened(device) };
  };
  const listed = (tab: Tab): readonly AsideEdits[] => tab.studio.open?.unsaved.aside.value ?? [];
  const kept = (tab: Tab) => {
    const { open } = tab.studio;
    const [one] = listed(tab);
    if (!open || !one) throw new Error("nothing was set aside");
    return [open, one] as const;
  };
  const notes = (tab: Tab) => tab.book.sheets.pieces.rows.map(({ cells }) => cells.note);

  it("are listed with when and what, at every opening, until they are seen to", async () => {
    const { device, tab } = await aside();
    expect(listed(tab).map(({ at, edits }) => [at, edits.map(({ change }) => change.label)])).toEqual([
      ["2026-11-25T08:07:00.000Z", ["Typed one", "Typed one"]],
    ]);
    await tab.studio.open?.close();
    const next = await opened(device);
    expect([listed(next).length, next.messages]).toEqual([1, []]);
    discardAside(...kept(next));
    expect([listed(next), device.small.size]).toEqual([[], 0]);
  });

  it("are put back as one step as far as they fit; what does not is said and stays", async () => {
    const { tab } = await aside();
    applyAside(...kept(tab));
    expect(notes(tab)).toEqual(["one", "two"]);
    expect(tab.messages.at(-1)).toBe("Put back 2 edits, as far as they fit. What does not stays set aside:");
    expect(tab.studio.session.value?.notices.value.at(-1)?.details).toEqual([
      "Typed one: 1 of 1 cell no longer holds what it did, or is gone.",
    ]);
    expect(listed(tab)[0]?.edits.length).toBe(1);
    tab.studio.session.value?.undo();
    expect(notes(tab)).toEqual([undefined, "two"]);
    applyAside(...kept(tab));
    expect(tab.messages.at(-1)).toContain("Nothing of these edits fits");
  });

  it("of a second time do not push the first ones out", async () => {
    const { device, tab } = await aside();
    const held = tab.studio.open?.unsaved.aside.value[0]?.edits ?? [];
    await tab.studio.open?.close();
    const id = tab.studio.editionId.value ?? "";
    device.small.set(`saggar last edits ${id}`, JSON.stringify(held).replaceAll("another", "a third"));
    expect(listed(await opened(device)).length).toBe(2);
  });
});
