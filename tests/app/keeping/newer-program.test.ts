// Two versions of the program on one store: the older one stops, says so, and loses nothing of either.
import { describe, expect, it } from "vitest";
import { checksumOf } from "../../../src/core/checksum";
import { FORMAT_VERSION } from "../../../src/core/document/workbook";
import { smallEdition } from "../../storage/small-edition";
import { Device, type Tab } from "../../tools/open-studio";
import { turns } from "../../tools/tabs";

const opened = async (device: Device) => {
  const tab = device.openTab();
  await tab.studio.start(async () => smallEdition(2));
  return tab;
};

/** Writes the open edition as a newer program does: the next revision, another format, its own stamp. */
function outrun(device: Device, id: string): string {
  const summary = device.records.summaries.get(id) as Readonly<Record<string, unknown>>;
  const revision = (summary.revision as number) + 1;
  const text = JSON.stringify({ kind: "saggar edition", formatVersion: FORMAT_VERSION + 1, tables: [] });
  const edit = { sitting: "the newer one", edits: 1 };
  device.records.summaries.set(id, { ...summary, revision, edit, format: FORMAT_VERSION + 1 });
  device.records.documents.set(id, { text, sum: checksumOf(text), revision });
  return text;
}

const idOf = (tab: Tab) => tab.studio.editionId.value ?? "";
const textOf = (device: Device, id: string) => (device.records.documents.get(id) as { readonly text: string }).text;
const titles = (device: Device) =>
  [...device.records.summaries.values()].map((one) => (one as { readonly title: string }).title).sort();

describe("an edition that a newer program has written meanwhile", () => {
  it("is not written over: the edit is kept apart, and the page says so and stops", async () => {
    const device = new Device();
    const tab = await opened(device);
    const theirs = outrun(device, idOf(tab));
    tab.type("mine");
    await tab.ring();
    expect(textOf(device, idOf(tab))).toBe(theirs);
    expect(tab.studio.open?.outrun.value?.code).toBe("store.newer");
    expect(titles(device)).toEqual(["Marram", "Marram (edits kept apart)"]);
    expect([tab.type("more"), tab.note]).toEqual([false, "mine"]);
    expect([tab.studio.saveState.value.kind, tab.studio.isAtRisk]).toEqual(["saved", false]);
    expect(tab.studio.damaged.value).toBeUndefined();
    await tab.ring();
    expect(textOf(device, idOf(tab))).toBe(theirs);
  });

  it("is noticed when the page is shown again", async () => {
    const device = new Device();
    const tab = await opened(device);
    outrun(device, idOf(tab));
    await tab.studio.wake();
    expect(tab.studio.open?.outrun.value?.code).toBe("store.newer");
    expect(tab.type("more")).toBe(false);
  });

  it.each([true, false])("is not taken over by a tab that follows (locks: %s)", async (hasLocks) => {
    const device = new Device(hasLocks);
    const writer = await opened(device);
    const follower = await opened(device);
    expect(follower.studio.lock.value).toBe("following");
    const theirs = outrun(device, idOf(writer));
    device.browser.crash(writer.lockPlatform);
    await follower.studio.takeOver();
    await turns();
    expect(follower.studio.open?.outrun.value?.code).toBe("store.newer");
    expect(follower.type("mine")).toBe(false);
    await follower.studio.takeOver();
    await follower.ring();
    expect(textOf(device, idOf(follower))).toBe(theirs);
    // The lock is free for a program that can write.
    expect(
      await device.openTab().lockPlatform.locks?.request(`saggar ${idOf(follower)}`, { ifAvailable: true }, Boolean),
    ).toBe(hasLocks || undefined);
    await follower.studio.open?.close();
  });

  it("hears no edits of a program with another format", async () => {
    const device = new Device();
    const writer = await opened(device);
    const follower = await opened(device);
    const channel = device.browser.openTab().openChannel(`saggar ${idOf(writer)}`);
    const news = { say: "edit", stamp: { sitting: "x", edits: 1 }, after: undefined, tab: "x" };
    channel?.postMessage({ ...news, change: { label: "", operations: [{ kind: "unheard of" }] }, format: 99 });
    await turns();
    expect(follower.messages).toEqual([]);
    writer.type("one");
    await turns();
    expect(follower.note).toBe("one");
  });
});

describe("an edition that a newer program wrote before", () => {
  it("is no damage, and no demo is put beside it", async () => {
    const device = new Device();
    const first = await opened(device);
    const theirs = outrun(device, idOf(first));
    await first.studio.open?.close();
    const tab = device.openTab();
    await tab.studio.start(async () => smallEdition(2));
    expect(tab.studio.session.value).toBeUndefined();
    expect(tab.studio.problems.value.map(({ message }) => message).join()).toMatch(/newer version of Saggar.*Reload/);
    expect(tab.studio.damaged.value).toBeUndefined();
    expect([titles(device), textOf(device, idOf(first))]).toEqual([["Marram"], theirs]);
  });

  it("is told of while another edition opens", async () => {
    const device = new Device();
    const first = await opened(device);
    const late = idOf(first);
    await first.studio.openNew(smallEdition(1, "Dune"));
    await first.studio.openStored(late);
    outrun(device, late);
    await first.studio.open?.close();
    const tab = await opened(device);
    expect(tab.book.meta.title).toBe("Dune");
    expect(tab.studio.newer.value?.message).toContain("Marram");
  });
});
