// A backup file is brought up to date by itself, by the tab that writes, and never over what something else wrote into it.
import { describe, expect, it } from "vitest";
import { bringBackup, endBackup } from "../../../src/app/keeping/backup-file";
import { resumeBackup } from "../../../src/app/keeping/file-commands";
import { readDocument } from "../../../src/core/document/document-file";
import { smallEdition } from "../../storage/small-edition";
import { FakeFile } from "../../tools/fake-file";
import { Device, failingHome, type Tab } from "../../tools/open-studio";
import { turns } from "../../tools/tabs";

const NEVER = { lastModified: 0, size: 0, sum: 0 };

/** A tab with an edition whose backup file was chosen in an earlier visit. */
async function withBackup(device = new Device(), home = failingHome(device)) {
  const tab = device.openTab({ home: home.home });
  await tab.studio.start(async () => smallEdition(2));
  const file = new FakeFile();
  const edition = tab.studio.editionId.value ?? "";
  const record = { edition, handle: file.handle, revision: 0, at: "2026-11-24T08:00:00.000Z", mark: NEVER };
  await tab.studio.home.preferences.set("backups", [record]);
  await resumed(tab);
  return { device, tab, file, home };
}

async function resumed(tab: Tab): Promise<void> {
  await resumeBackup(tab.studio);
  await turns();
}

/** The note of the first piece in the file. */
function noteIn(file: FakeFile): unknown {
  const read = readDocument(file.text, file.name);
  return read.ok ? read.value.sheets.pieces.rows[0]?.cells.note : read.problems;
}

/** Edits are saved, then the file is written. */
async function pass(tab: Tab): Promise<void> {
  await tab.ring();
  await tab.ring();
  await turns();
}

describe("a backup file", () => {
  it("has every edit some seconds after it is saved, and is not written again for nothing", async () => {
    const { tab, file } = await withBackup();
    await pass(tab);
    expect(tab.studio.backup.value).toMatchObject({ kind: "up to date", waits: false });
    const before = file.writes;
    await pass(tab);
    expect(file.writes).toBe(before);
    tab.type("kept twice");
    expect(tab.studio.backup.value?.kind).toBe("due");
    await pass(tab);
    expect([noteIn(file), tab.studio.backup.value?.kind, file.writes]).toEqual([
      "kept twice",
      "up to date",
      before + 1,
    ]);
  });

  it("waits for a press where the browser has to be asked again, and says so", async () => {
    const { tab, file } = await withBackup();
    await pass(tab);
    file.permission = "prompt";
    tab.type("after a new visit");
    await pass(tab);
    expect(tab.studio.backup.value).toMatchObject({ kind: "not permitted", waits: true });
    expect([noteIn(file), file.asked]).toEqual([undefined, 0]);
    file.answer = "denied";
    await bringBackup(tab.studio);
    expect([tab.studio.backup.value?.kind, file.asked]).toEqual(["not permitted", 1]);
    file.answer = "granted";
    await bringBackup(tab.studio);
    expect([noteIn(file), tab.studio.backup.value?.kind]).toEqual(["after a new visit", "up to date"]);
  });

  it("is left alone once something else wrote into it, until the maker says otherwise", async () => {
    const { tab, file } = await withBackup();
    await bringBackup(tab.studio);
    // Touched by what copies folders to other devices: still the same.
    file.lastModified += 1000;
    tab.type("one");
    await pass(tab);
    expect([noteIn(file), tab.studio.backup.value?.kind]).toEqual(["one", "up to date"]);
    file.text = `${file.text} `;
    file.lastModified += 1000;
    tab.type("two");
    await pass(tab);
    expect([noteIn(file), tab.studio.backup.value?.kind]).toEqual(["one", "changed elsewhere"]);
    await bringBackup(tab.studio);
    expect([noteIn(file), tab.studio.backup.value?.kind]).toEqual(["two", "up to date"]);
  });

  it("that can't be written, or is gone, says why and is tried again", async () => {
    const { tab, file } = await withBackup();
    await bringBackup(tab.studio);
    file.failure = "QuotaExceededError";
    tab.type("no room");
    await pass(tab);
    expect(tab.studio.backup.value?.problems[0]?.message).toContain("no room for it");
    file.failure = undefined;
    file.isGone = true;
    tab.type("unplugged");
    await pass(tab);
    expect(tab.studio.backup.value?.problems[0]?.message).toContain("no file of that name where it was");
    file.isGone = false;
    tab.type("back");
    await pass(tab);
    expect([noteIn(file), tab.studio.backup.value?.kind]).toEqual(["back", "up to date"]);
  });

  it("holds what the browser could not store", async () => {
    const { tab, file, home } = await withBackup();
    await bringBackup(tab.studio);
    home.now.failure = "full";
    tab.type("in the file alone");
    await pass(tab);
    expect([tab.studio.saveState.value.kind, noteIn(file)]).toEqual(["failed", "in the file alone"]);
    home.now.failure = undefined;
    await pass(tab);
    expect([tab.studio.saveState.value.kind, noteIn(file)]).toEqual(["saved", "in the file alone"]);
  });

  it("is written by the tab that holds the lock, and by the next one without a false alarm", async () => {
    const { device, tab, file } = await withBackup();
    await bringBackup(tab.studio);
    const other = device.openTab({ home: tab.home });
    await other.studio.start(async () => smallEdition(2));
    await resumed(other);
    tab.type("one");
    await pass(tab);
    await pass(other);
    const written = file.writes;
    expect(noteIn(file)).toBe("one");
    await other.studio.takeOver();
    other.type("two");
    await pass(other);
    await pass(tab);
    expect([noteIn(file), other.studio.backup.value?.kind, file.writes]).toEqual(["two", "up to date", written + 1]);
  });

  it("is let go when the maker says so, in every tab, and stays as it is", async () => {
    const { tab, file } = await withBackup();
    await bringBackup(tab.studio);
    await endBackup(tab.studio);
    tab.type("later");
    await pass(tab);
    expect([tab.studio.backup.value, noteIn(file)]).toEqual([undefined, undefined]);
    await resumed(tab);
    expect(tab.studio.backup.value).toBeUndefined();
  });

  it("gets the last edits of an edition that is left for another one", async () => {
    const { tab, file } = await withBackup();
    await bringBackup(tab.studio);
    tab.type("right before");
    await tab.studio.openNew(smallEdition(3));
    expect(tab.studio.backup.value).toBeUndefined();
    await pass(tab);
    expect([noteIn(file), tab.studio.backup.value]).toEqual(["right before", undefined]);
  });
});
