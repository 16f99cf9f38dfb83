// The shelf beside editions: put on, opened, taken from, with its own undo and the rules of two tabs.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import type { Session } from "../../../src/app/edition/session";
import { fieldTitle, openShelf, putOnShelf, readShelf, sharedText, takeFromShelf } from "../../../src/app/shelf/shelf";
import { applyChange } from "../../../src/core/document/change";
import { writeEntries } from "../../../src/core/document/edits";
import { bringItems, compareShelf, emptyShelf, shelfItems, type Wanted } from "../../../src/core/document/shelf";
import { SHELF } from "../../../src/core/document/shelf-kind";
import type { Workbook } from "../../../src/core/document/workbook";
import { openSession } from "../../tools/open-session";
import { Device, type Tab } from "../../tools/open-studio";

const all = (book: Workbook): readonly Wanted[] => shelfItems(book).map((item) => ({ item }));

async function opened(device = new Device()): Promise<{ tab: Tab; session: Session; marram: string }> {
  const tab = device.openTab();
  await tab.studio.openNew(demoEdition());
  const session = tab.studio.session.value;
  if (!session) throw new Error("nothing is open");
  return { tab, session, marram: tab.studio.editionId.value ?? "" };
}

function price(session: Session, typed: string): void {
  const cell = { sheet: "materials", row: "m3", column: "pack_price" } as const;
  const options = { label: "price", marks: { decimal: "." }, override: false } as const;
  session.commit(writeEntries(session.book.value, [{ cell, typed }], options).change);
}

describe("the shelf", () => {
  test("is made by the first thing put on it, and is listed apart from editions", async () => {
    const { tab, session } = await opened();
    expect(await readShelf(tab.studio)).toBeUndefined();
    await putOnShelf(tab.studio, session, all(session.book.value));
    const shelf = await readShelf(tab.studio);
    expect(shelf && compareShelf(session.book.value, shelf).differences).toEqual([]);
    await tab.studio.refreshList();
    expect(tab.studio.editions.value.map(({ id, mark }) => [id === SHELF, mark?.as])).toContainEqual([true, "shelf"]);
  });

  test("is opened as an edition is: its own undo, and its page; where there is none, an empty one is made", async () => {
    const { tab, session, marram } = await opened();
    await openShelf(tab.studio, session);
    const shelf = tab.studio.session.value;
    expect([tab.studio.editionId.value, shelf?.page.value]).toEqual([SHELF, "shelf"]);
    const cell = { sheet: "edition", row: "wage", column: "value" } as const;
    const options = { label: "wage", marks: { decimal: "." }, override: false } as const;
    shelf?.commit(writeEntries(tab.book, [{ cell, typed: "31" }], options).change);
    await tab.studio.openStored(marram);
    const stored = await readShelf(tab.studio);
    expect(stored?.sheets.edition.rows.find(({ id }) => id === "wage")?.cells.value).toBe(31);
    expect(tab.book.sheets.edition.rows.find(({ id }) => id === "wage")?.cells.value).toBe(22);
  });

  test("says the price here and there, and one undo takes back what was taken over", async () => {
    const { tab, session } = await opened();
    await putOnShelf(tab.studio, session, all(session.book.value));
    price(session, "109.5");
    const shelf = (await readShelf(tab.studio)) as Workbook;
    const [one, ...others] = compareShelf(session.book.value, shelf).differences;
    expect(others).toEqual([]);
    if (!one) throw new Error("no difference");
    expect([one.here.title, fieldTitle(session.book.value, one.here, one.key)]).toEqual([
      "Platinum lustre",
      "pack price",
    ]);
    expect(sharedText(session, one.value.here, one.value.there)).toMatch(/109\.50/);
    expect(sharedText(session, one.value.there, one.value.here)).toMatch(/112\.00/);
    takeFromShelf(session, [{ item: one.there, key: one.key }]);
    expect(compareShelf(session.book.value, shelf).differences).toEqual([]);
    expect(session.history.value.done.at(-1)?.label).toBe("From the shelf: Platinum lustre");
    session.undo();
    expect(compareShelf(session.book.value, shelf).differences.length).toBe(1);
  });

  test("is put on from an edition by the rules of two tabs", async () => {
    const device = new Device();
    const { tab, session } = await opened(device);
    await putOnShelf(tab.studio, session, all(session.book.value));
    price(session, "109.5");
    const find = async () => compareShelf(session.book.value, (await readShelf(tab.studio)) as Workbook).differences;
    const other = device.openTab();
    await other.studio.openStored(SHELF);
    const [one] = await find();
    const wanted = one ? [{ item: one.here, key: one.key }] : [];
    await putOnShelf(tab.studio, session, wanted);
    expect(tab.messages.at(-1)).toContain("open in another tab");
    expect((await find()).length).toBe(1);
    await other.studio.openNew(demoEdition());
    await putOnShelf(tab.studio, session, wanted);
    expect(await find()).toEqual([]);
  });

  test("calculates: a price a gram, and nothing that is wrong in what it shows", async () => {
    const empty = emptyShelf(demoEdition(), "2026-11-29");
    const book = applyChange(empty, bringItems(empty, all(demoEdition()), "").change);
    const { session, settled } = openSession(book);
    await settled();
    expect(session.value({ sheet: "materials", row: "m1", column: "per_gram" })).toBeCloseTo(28 / 20_000, 12);
    for (const { id } of book.sheets.programmes.rows)
      expect(typeof session.value({ sheet: "programmes", row: id, column: "target" })).toBe("number");
  });
});
