// The whole studio in one file: what goes out comes back, compared one by one, and nothing is written over without a copy.
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { StudioFile } from "../../../src/app/keeping/studio-file";
import {
  compareStudio,
  type FoundEdition,
  type RestoreWish,
  restoreStudio,
} from "../../../src/app/keeping/studio-restore";
import { emptyShelf } from "../../../src/core/document/shelf";
import { SHELF } from "../../../src/core/document/shelf-kind";
import type { CsvClient } from "../../../src/csv/client";
import type { StudioPart } from "../../../src/csv/studio-contents";
import { readStudioZip, writeStudioZip } from "../../../src/csv/studio-zip";
import { createCsvWork } from "../../../src/csv/work";
import { NOT_YET_STORED } from "../../../src/storage/edition-store";
import { smallEdition } from "../../storage/small-edition";
import { Device, type Tab } from "../../tools/open-studio";
import { turns } from "../../tools/tabs";

/** The worker's work in this thread. */
function clientHere(): CsvClient {
  const work = createCsvWork();
  return {
    ask: async (question, onProgress) => {
      const result = await work(question, onProgress ?? (() => undefined));
      return (
        result.ok ? { kind: "answer", value: result.value } : { kind: "refused", problems: result.problems }
      ) as never;
    },
    cancel: () => undefined,
  };
}

async function opened(device: Device): Promise<Tab> {
  const tab = device.openTab();
  await tab.studio.start(async () => smallEdition(2));
  await turns();
  return tab;
}

async function partsOf({ studio }: Tab): Promise<readonly StudioPart[]> {
  await studio.flush();
  await studio.refreshList();
  return Promise.all(
    studio.editions.value.map(async ({ id, title, updatedAt, pieces, mark }) => {
      const [stamp, text] = [await studio.home.editions.stamp(id), await studio.home.editions.readText(id)];
      if (!stamp.ok || !text.ok) throw new Error("not stored");
      const { edit } = stamp.value;
      return {
        ...{ id, title, updatedAt, pieces, text: text.value },
        ...(mark ? { mark } : {}),
        ...(edit ? { edit } : {}),
      };
    }),
  );
}

async function fileOf(tab: Tab): Promise<Uint8Array<ArrayBuffer>> {
  const bytes = writeStudioZip("2026-11-25T08:00:00.000Z", await partsOf(tab));
  if (!bytes.ok) throw new Error(bytes.problems[0]?.message);
  return bytes.value;
}

/** Reads a file in a tab and holds it against what is there. */
async function found(tab: Tab, bytes: Uint8Array<ArrayBuffer>) {
  const client = clientHere();
  const answer = await client.ask({ kind: "studio", file: new Blob([bytes]), name: "s.zip" });
  if (answer.kind !== "answer") throw new Error("refused");
  const editions = await compareStudio(tab.studio, answer.value);
  const restore = (wish: (one: FoundEdition) => RestoreWish) =>
    restoreStudio(
      tab.studio,
      client,
      answer.value.at,
      editions.map((one) => [one, wish(one)] as const),
      () => undefined,
    );
  return { editions, restore, states: editions.map(({ state }) => state) };
}

/** Another device, whose ids are others. */
function otherDevice(): Device {
  const device = new Device();
  for (let at = 0; at < 20; at += 1) device.freshId();
  return device;
}

const settled = async (tab: Tab) => {
  await tab.ring();
  await tab.studio.flush();
  await turns();
};

describe("a studio file", () => {
  it("brings everything back into an empty browser, marks and all, and finds it the same there afterwards", async () => {
    const device = new Device();
    const tab = await opened(device);
    tab.type("kept");
    await settled(tab);
    const { editions } = tab.studio.home;
    await editions.write("old", { book: smallEdition(3), updatedAt: device.now().toISOString() }, NOT_YET_STORED);
    await editions.mark("old", { as: "archived", since: device.now().toISOString() });
    const bytes = await fileOf(tab);

    const elsewhere = await opened(otherDevice());
    const first = await found(elsewhere, bytes);
    expect(first.states).toEqual(["new", "new"]);
    const { done, problems } = await first.restore(() => "bring");
    expect([done.length, problems]).toEqual([2, []]);
    expect(elsewhere.studio.editions.value.find(({ id }) => id === "old")).toMatchObject({
      pieces: 3,
      mark: { as: "archived" },
    });
    expect((await found(elsewhere, bytes)).states).toEqual(["same", "same"]);
  });

  it("knows what went on here, what went on in the file, and what went on in both", async () => {
    const device = new Device();
    const tab = await opened(device);
    tab.type("first");
    await settled(tab);
    const early = await fileOf(tab);
    expect((await found(tab, early)).states).toEqual(["same"]);
    tab.type("second");
    await settled(tab);
    const late = await fileOf(tab);
    expect((await found(tab, early)).states).toEqual(["older"]);

    // Another browser gets the early state, and then the late one.
    const there = await opened(otherDevice());
    await (await found(there, early)).restore(() => "bring");
    expect((await found(there, late)).states).toEqual(["newer"]);
    await there.studio.openStored(tab.studio.editionId.value ?? "");
    there.type("elsewhere");
    await settled(there);
    const both = await found(there, late);
    expect(both.states).toEqual(["conflicting"]);
    await both.restore(() => "beside");
    expect(there.studio.editions.value.filter(({ title }) => title.includes("(from the file of")).length).toBe(1);
    expect(there.note).toBe("elsewhere");
  });

  it("does not take the shelf of another browser for the one here", async () => {
    const shelves = [new Device(), otherDevice()].map(opened);
    const [tab, there] = [await shelves[0], await shelves[1]];
    if (!tab || !there) throw new Error("no tab");
    const shelf = emptyShelf(tab.book, "2026-11-25");
    const content = { book: shelf, updatedAt: "2026-11-25T08:00:00.000Z" };
    await tab.studio.home.editions.write(SHELF, { ...content, edit: { sitting: "s", edits: 1 } }, NOT_YET_STORED);
    const other = { ...shelf, meta: { ...shelf.meta, note: "the other" } };
    await there.studio.home.editions.write(SHELF, { ...content, book: other }, NOT_YET_STORED);
    const { editions } = await found(there, await fileOf(tab));
    expect(editions.find(({ packed }) => packed.id === SHELF)?.state).toBe("conflicting");
  });

  it("takes what was never edited for the beginning of what was", async () => {
    const tab = await opened(new Device());
    await settled(tab);
    const begun = await fileOf(tab);
    tab.type("gone on");
    await settled(tab);
    expect((await found(tab, begun)).states).toEqual(["older"]);
  });

  it("replaces what is open as one step that is undone, with a copy of what was there", async () => {
    const device = new Device();
    const tab = await opened(device);
    tab.type("in the file");
    await settled(tab);
    const bytes = await fileOf(tab);
    tab.type("after it");
    await settled(tab);
    const id = tab.studio.editionId.value ?? "";
    const { done } = await (await found(tab, bytes)).restore(() => "replace");
    expect([done.length, tab.note]).toEqual([1, "in the file"]);
    const copies = await tab.studio.home.copies.list(id);
    expect(copies.ok && copies.value.some(({ name }) => name?.startsWith("Before the studio file"))).toBe(true);
    tab.studio.session.value?.undo();
    expect(tab.note).toBe("after it");
  });

  it("replaces one that is not open, brings a deleted one back, and leaves what is not wished", async () => {
    const device = new Device();
    const tab = await opened(device);
    const { editions } = tab.studio.home;
    const updatedAt = device.now().toISOString();
    await editions.write("aside", { book: smallEdition(3), updatedAt }, NOT_YET_STORED);
    await settled(tab);
    const bytes = await fileOf(tab);
    const changed = smallEdition(3);
    await editions.write("aside", { book: { ...changed, meta: { ...changed.meta, note: "later" } }, updatedAt }, 1);
    await editions.mark("aside", { as: "deleted", since: updatedAt });
    const one = await found(tab, bytes);
    const aside = one.editions.find(({ packed }) => packed.id === "aside");
    expect(aside?.state).toBe("deleted");
    expect((await one.restore(() => "leave")).done).toEqual([]);
    await one.restore(({ packed }) => (packed.id === "aside" ? "replace" : "leave"));
    const back = await editions.read("aside");
    expect(back.ok && back.value.book.meta.note).not.toBe("later");
    expect(tab.studio.editions.value.find(({ id }) => id === "aside")?.mark).toBeUndefined();
  });

  it("is packed of all but the deleted, and every edition then counts as having a file", async () => {
    const device = new Device();
    const tab = await opened(device);
    tab.studio.files.edited("other", 30);
    tab.studio.files.mayBeCleared = true;
    device.minute += 8 * 24 * 60;
    tab.studio.files.remind();
    expect(tab.studio.files.reminder.value).toMatchObject({ edition: "", edits: 30 });
    tab.studio.files.savedAll(["other"]);
    expect(tab.studio.files.reminder.value).toBeUndefined();
    tab.studio.files.edited("other", 1);
    expect(tab.studio.files.reminder.value).toBeUndefined();
    device.minute += 7 * 24 * 60;
    tab.studio.files.remind();
    expect(tab.studio.files.reminder.value).toMatchObject({ edits: 1, hasFile: true });
    tab.studio.files.putOff();
    tab.studio.files.edited("another", 1);
    expect(tab.studio.files.reminder.value).toBeUndefined();
    device.minute += 7 * 24 * 60;
    tab.studio.files.remind();
    expect(tab.studio.files.reminder.value).toMatchObject({ edits: 2, hasFile: false });
  });
});

describe("a file that is no studio file", () => {
  const good = { id: "a", title: "A", updatedAt: "2026-11-25T08:00:00.000Z", pieces: 1 };
  const zipOf = (files: Readonly<Record<string, string>>) =>
    new Uint8Array(zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)]))));
  const listOf = (...editions: unknown[]) => JSON.stringify({ kind: "saggar studio", version: 1, at: "", editions });
  const messageOf = (bytes: Uint8Array) => {
    const read = readStudioZip(bytes, "s.zip");
    return read.ok ? "" : (read.problems[0]?.message ?? "");
  };

  it.each([
    ["no zip at all", strToU8("PK no"), "no end of a zip"],
    ["a zip of something else", zipOf({ "a.csv": "1" }), "studio.json: found “no such file”"],
    ["a list that breaks off", zipOf({ "studio.json": '{"kind":' }), "studio.json"],
    ["a list without end", zipOf({ "studio.json": "[".repeat(100_000) }), "studio.json"],
    ["another kind", zipOf({ "studio.json": '{"kind":"x","editions":[]}' }), "no list of editions"],
    ["a newer kind", zipOf({ "studio.json": '{"kind":"saggar studio","version":2,"editions":[]}' }), "newer"],
    ["an id that is a path", zipOf({ "studio.json": listOf({ ...good, id: "../a" }) }), "edition 1"],
    ["an edition twice", zipOf({ "studio.json": listOf(good, good) }), "edition 2"],
    ["a file outside", zipOf({ "../studio.json": listOf(good) }), "within the zip"],
    ["a bomb", zipOf({ "studio.json": listOf(good), "editions/0001.json": " ".repeat(40_000_000) }), "0001.json"],
  ])("%s is refused with its place", (_, bytes, said) => expect(messageOf(bytes)).toContain(said));

  it("says of each edition why it can't be opened, and gives the others", () => {
    const whole = writeStudioZip("2026-11-25T08:00:00.000Z", [{ ...good, text: '{"format":1}' }]);
    const read = readStudioZip(whole.ok ? whole.value : new Uint8Array(), "s.zip");
    if (!read.ok) throw new Error("refused");
    expect(read.value.books).toEqual([undefined]);
    expect(read.value.contents.editions[0]?.problems[0]?.where).toContain("editions/0001.json");
    const missing = readStudioZip(zipOf({ "studio.json": listOf(good) }), "s.zip");
    expect(missing.ok && missing.value.contents.editions[0]?.problems[0]?.found).toContain("no such file");
  });

  it("is not made where it could not be read again", () => {
    const many = Array.from({ length: 1001 }, (_, at) => ({ ...good, id: `e${at}`, text: "{}" }));
    expect(writeStudioZip("", many).ok).toBe(false);
  });
});

it("the making of a file says what it is at", async () => {
  const tab = await opened(new Device());
  Object.assign(tab.studio.platform, { startCsv: clientHere });
  const file = new StudioFile(tab.studio);
  const seen: string[] = [];
  file.progress.subscribe((progress) => {
    if (progress) seen.push(progress.doing);
  });
  // There is no page to save from: the browser's refusal is told, and nothing counts as saved.
  expect(await file.save()).toBe(false);
  expect(seen).toEqual(["reading", "packing"]);
  expect(file.problems.value.length).toBe(1);
});
