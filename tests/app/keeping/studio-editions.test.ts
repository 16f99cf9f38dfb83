// Kept editions as a whole: duplicated, renamed, archived, kept as templates, deleted, brought back, and gone at last.
import { describe, expect, test } from "vitest";
import {
  bookOfEdition,
  duplicateEdition,
  goneOn,
  KEPT_DAYS,
  keepAsTemplate,
  purgeDeleted,
  putEdition,
  renameEdition,
} from "../../../src/app/keeping/studio-editions";
import { smallEdition } from "../../storage/small-edition";
import { Device, type Tab } from "../../tools/open-studio";

async function twoEditions(device = new Device()): Promise<{ device: Device; tab: Tab; tide: string; marram: string }> {
  const tab = device.openTab();
  await tab.studio.openNew(smallEdition(3, "Tide"));
  const tide = tab.studio.editionId.value ?? "";
  await tab.studio.openNew(smallEdition(4, "Marram"));
  return { device, tab, tide, marram: tab.studio.editionId.value ?? "" };
}

const titles = (tab: Tab) =>
  tab.studio.editions.value.map(({ title, mark }) => `${title}${mark ? `, ${mark.as}` : ""}`);
const DAY = 24 * 60;

describe("a kept edition", () => {
  test("is duplicated beside itself, the open one as it stands, under a name of its own", async () => {
    const { tab, marram, tide } = await twoEditions();
    tab.type("just now");
    expect(await duplicateEdition(tab.studio, marram)).toBe(true);
    expect(await duplicateEdition(tab.studio, marram)).toBe(true);
    await duplicateEdition(tab.studio, tide);
    expect(titles(tab).sort()).toEqual(["Marram", "Marram (copy)", "Marram (copy) 2", "Tide", "Tide (copy)"]);
    expect(tab.studio.editionId.value).toBe(marram);
    const copy = tab.studio.editions.value.find(({ title }) => title === "Marram (copy)");
    const book = await bookOfEdition(tab.studio, copy?.id ?? "");
    expect(book?.sheets.pieces.rows[0]?.cells.note).toBe("just now");
  });

  test("is renamed: the open one by a step that can be undone", async () => {
    const { tab, marram } = await twoEditions();
    expect(await renameEdition(tab.studio, marram, "  Eelgrass ")).toBe(true);
    expect(titles(tab)).toEqual(["Eelgrass", "Tide"]);
    tab.studio.session.value?.undo();
    expect(tab.book.meta.title).toBe("Marram");
    expect(await renameEdition(tab.studio, marram, " ")).toBe(false);
  });

  test("that is not open is renamed too, but not while another tab has it open", async () => {
    const { device, tab, tide } = await twoEditions();
    expect(await renameEdition(tab.studio, tide, "Ebb")).toBe(true);
    expect(titles(tab).sort()).toEqual(["Ebb", "Marram"]);
    const other = device.openTab();
    await other.studio.openStored(tide);
    expect(await renameEdition(tab.studio, tide, "Flood")).toBe(false);
    expect(tab.messages.at(-1)).toContain("open in another tab");
    expect(other.book.meta.title).toBe("Ebb");
  });

  test("is archived and taken back; work on it keeps it where it is", async () => {
    const { tab, tide } = await twoEditions();
    await putEdition(tab.studio, tide, "archived");
    expect(titles(tab).sort()).toEqual(["Marram", "Tide, archived"]);
    await tab.studio.openStored(tide);
    tab.type("a word");
    await tab.studio.flush();
    await tab.studio.refreshList();
    expect(titles(tab)).toContain("Tide, archived");
    await putEdition(tab.studio, tide, undefined);
    expect(titles(tab)).toContain("Tide");
  });

  test("is kept as a template with no piece in it, and stays", async () => {
    const { tab, marram } = await twoEditions();
    expect(await keepAsTemplate(tab.studio, marram)).toBe(true);
    expect(titles(tab).sort()).toEqual(["Marram", "Marram, template", "Tide"]);
    const template = tab.studio.editions.value.find(({ mark }) => mark?.as === "template");
    expect(template?.pieces).toBe(0);
    const book = await bookOfEdition(tab.studio, template?.id ?? "");
    expect(book?.sheets.route.rows.length).toBe(tab.book.sheets.route.rows.length);
  });
});

describe("a deleted edition", () => {
  test("is there for 30 days by the clock, can be brought back, and then goes with its copies", async () => {
    const { device, tab, tide } = await twoEditions();
    await putEdition(tab.studio, tide, "deleted");
    device.minute = KEPT_DAYS * DAY - 1;
    await purgeDeleted(tab.studio);
    expect(titles(tab).sort()).toEqual(["Marram", "Tide, deleted"]);
    await putEdition(tab.studio, tide, undefined);
    await putEdition(tab.studio, tide, "deleted");
    device.minute += KEPT_DAYS * DAY - 1;
    await purgeDeleted(tab.studio);
    expect(titles(tab).length).toBe(2);
    device.minute += 1;
    await purgeDeleted(tab.studio);
    expect(titles(tab)).toEqual(["Marram"]);
    expect(device.records.documents.has(tide)).toBe(false);
  });

  test("is not opened when the page is, and others are", async () => {
    const { device, tab, tide, marram } = await twoEditions();
    await putEdition(tab.studio, marram, "deleted");
    await tab.home.preferences.set("lastEdition", undefined);
    const again = device.openTab();
    await again.studio.start(async () => smallEdition(1, "Fresh"));
    expect(again.studio.editionId.value).toBe(tide);
  });

  test("that another tab goes on with is not deleted any more", async () => {
    const { device, tab, tide } = await twoEditions();
    const other = device.openTab();
    await other.studio.openStored(tide);
    await putEdition(tab.studio, tide, "deleted");
    other.type("still at it");
    await other.studio.flush();
    await tab.studio.refreshList();
    expect(titles(tab)).toContain("Tide");
  });

  test("goes on the day that is told", () => {
    expect(goneOn({ as: "deleted", since: "2026-11-29T08:00:00.000Z" }).toISOString()).toBe("2026-12-29T08:00:00.000Z");
  });
});
