// Earlier copies as a maker meets them: looked at, put back as one undo step, opened apart; and what a damaged record leaves.
import { describe, expect, it } from "vitest";
import {
  closePreview,
  keepCopy,
  listCopies,
  makeRoom,
  openCopyAsEdition,
  previewCopy,
  putBack,
  removeCopies,
  sizeText,
} from "../../../src/app/keeping/studio-copies";
import type { CopyNote } from "../../../src/storage/copies";
import { smallEdition } from "../../storage/small-edition";
import { Device, type Tab } from "../../tools/open-studio";

/** A tab whose edition was written at 08:00 (blank), 08:30 (“one”) and 09:00 (“two”). */
async function withCopies() {
  const device = new Device();
  const tab = device.openTab();
  await tab.studio.start(async () => smallEdition(2));
  for (const text of ["one", "two"]) {
    device.minute += 30;
    tab.type(text);
    await tab.ring();
  }
  return { device, tab };
}

const notesOf = (tab: Tab) => listCopies(tab.studio, tab.studio.editionId.value ?? "");
const newest = async (tab: Tab): Promise<CopyNote> => {
  const [note] = await notesOf(tab);
  if (!note) throw new Error("there is no copy");
  return note;
};
const titles = async (tab: Tab) => {
  const list = await tab.home.editions.list();
  return list.ok ? list.value.map(({ title }) => title).sort() : [];
};

describe("copies", () => {
  it("are of how it stood before each stretch of work", async () => {
    const { tab } = await withCopies();
    expect((await notesOf(tab)).map(({ takenAt }) => takenAt.slice(11, 16))).toEqual(["08:30", "08:00"]);
  });

  it("are put back as one step, which undo takes back, and both are saved", async () => {
    const { tab } = await withCopies();
    expect(await putBack(tab.studio, await newest(tab), "08:30")).toBe(true);
    expect([tab.note, tab.messages.at(-1)]).toEqual(["one", "Put back the copy of 08:30."]);
    await tab.ring();
    expect(tab.studio.saveState.value.kind).toBe("saved");
    tab.studio.session.value?.undo();
    expect(tab.note).toBe("two");
    expect(tab.studio.session.value?.history.value.done.map(({ label }) => label)).toEqual(["Typed one", "Typed two"]);
  });

  it("are looked at without a change to the edition behind them, and can't be written in", async () => {
    const { tab } = await withCopies();
    const session = tab.studio.session.value;
    await previewCopy(tab.studio, tab.studio.editionId.value ?? "", await newest(tab));
    expect([tab.note, tab.type("no"), tab.studio.preview.value !== undefined]).toEqual(["one", false, true]);
    expect(tab.messages[0]).toContain("this is an earlier copy");
    closePreview(tab.studio);
    expect([tab.studio.session.value === session, tab.note, tab.type("three")]).toEqual([true, "two", true]);
  });

  it("are opened as editions of their own; the one they are of stays", async () => {
    const { tab } = await withCopies();
    const first = tab.studio.editionId.value ?? "";
    await openCopyAsEdition(tab.studio, first, await newest(tab), "08:30");
    expect([tab.note, await titles(tab)]).toEqual(["one", ["Marram", "Marram (copy of 08:30)"]]);
    await tab.studio.openStored(first);
    expect(tab.note).toBe("two");
  });

  it("with a name are kept on purpose, and making room leaves them", async () => {
    const { tab } = await withCopies();
    expect(await keepCopy(tab.studio, "  before the glaze ")).toBe(true);
    expect((await notesOf(tab)).map(({ name }) => name)).toEqual(["before the glaze", undefined, undefined]);
    await makeRoom(tab.studio);
    expect((await notesOf(tab)).map(({ name }) => name)).toEqual(["before the glaze"]);
    await removeCopies(tab.studio, tab.studio.editionId.value ?? "", await notesOf(tab));
    expect(await notesOf(tab)).toEqual([]);
  });

  it("say their size roughly", () => {
    expect([sizeText(12), sizeText(84_400), sizeText(1_234_567)]).toEqual(["1 kB", "84 kB", "1.23 MB"]);
  });
});

describe("a damaged record", () => {
  const damage = (device: Device, id: string) =>
    device.records.documents.set(id, { text: '{"kind":"saggar edit', revision: 3, sum: 1 });

  it("is set aside, the last good copy is offered, and nothing is written over it", async () => {
    const { device, tab } = await withCopies();
    const id = tab.studio.editionId.value ?? "";
    await tab.studio.open?.close();
    damage(device, id);
    const again = device.openTab();
    await again.studio.start(async () => smallEdition(1, "Demo"));
    expect(again.book.meta.title).toBe("Demo");
    expect(again.studio.damaged.value).toMatchObject({ id, newest: { title: "Marram", pieces: 2 } });
    const { newest: note } = again.studio.damaged.value ?? {};
    if (!note) throw new Error("no copy was found");
    await openCopyAsEdition(again.studio, id, note, "08:30");
    expect([again.note, again.studio.damaged.value]).toEqual(["one", undefined]);
    const text = await again.home.editions.readText(id);
    expect(text.ok && text.value).toBe('{"kind":"saggar edit');
  });

  it("passes over copies that are damaged too", async () => {
    const { device, tab } = await withCopies();
    const id = tab.studio.editionId.value ?? "";
    const [last, first] = await notesOf(tab);
    device.records.copies.set(`${id}|${last?.takenAt}`, { text: "{}", sum: 7 });
    damage(device, id);
    await tab.studio.open?.close();
    const again = device.openTab();
    await again.studio.start(async () => smallEdition(1, "Demo"));
    expect(again.studio.damaged.value?.newest?.takenAt).toBe(first?.takenAt);
  });

  it("leaves another sound edition to open", async () => {
    const { device, tab } = await withCopies();
    const id = tab.studio.editionId.value ?? "";
    await tab.studio.openNew(smallEdition(1, "Sound"));
    await tab.studio.openStored(id);
    await tab.studio.open?.close();
    damage(device, id);
    const again = device.openTab();
    await again.studio.start(async () => smallEdition(1, "Demo"));
    expect(again.book.meta.title).toBe("Sound");
  });
});

describe("the reminder of a file", () => {
  it("comes after many edits, is put off, and ends with a file", async () => {
    const device = new Device();
    const tab = device.openTab();
    await tab.studio.start(async () => smallEdition(1));
    for (let edit = 1; edit < 150; edit += 1) tab.type(`note ${edit}`);
    expect(tab.studio.files.reminder.value).toBeUndefined();
    tab.type("one more");
    expect(tab.studio.files.reminder.value).toMatchObject({ edits: 150, hasFile: false });
    tab.studio.files.putOff();
    expect(tab.studio.files.reminder.value).toBeUndefined();
    device.minute += 7 * 24 * 60 + 1;
    tab.type("a week later");
    expect(tab.studio.files.reminder.value?.edits).toBe(151);
    tab.studio.files.saved();
    expect(tab.studio.files.reminder.value).toBeUndefined();
    await tab.studio.open?.close();
    const again = device.openTab();
    await again.studio.start(async () => smallEdition(1));
    for (let edit = 0; edit < 20; edit += 1) again.type(`later ${edit}`);
    expect(again.studio.files.reminder.value).toBeUndefined();
    device.minute += 7 * 24 * 60;
    again.type("and a week");
    expect(again.studio.files.reminder.value).toMatchObject({ edits: 21, hasFile: true });
  });

  it("never comes for an edition whose numbers are invented", async () => {
    const tab = new Device().openTab();
    const book = smallEdition(1);
    await tab.studio.start(async () => ({ ...book, meta: { ...book.meta, invented: true } }));
    for (let edit = 0; edit < 200; edit += 1) tab.type(`note ${edit}`);
    expect(tab.studio.files.reminder.value).toBeUndefined();
  });
});
