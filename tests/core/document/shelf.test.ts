// The studio's shelf against an edition: what is shared, what differs, and what goes from one to the other.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { columnsInView, rowsInView, WHOLE_VIEW } from "../../../src/app/edition/view";
import { cardParts } from "../../../src/app/plan/row-cards";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, invert } from "../../../src/core/document/change";
import { readDocument } from "../../../src/core/document/document-file";
import { bringItems, compareShelf, emptyShelf, shelfItems, type Wanted } from "../../../src/core/document/shelf";
import { isShelf, STUDIO_LINES } from "../../../src/core/document/shelf-kind";
import type { Raw, SheetKey, Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";

const HOURS = [8, 8, 8, 8, 8, 0, 0];
const CALENDAR = { due: "2027-01-05", hours: HOURS, closed: ["2026-12-24"], people: 2 };
const demo = demoEdition();
const marram: Workbook = { ...demo, meta: { ...demo.meta, calendar: CALENDAR, accounts: { wages: "4100 Wages" } } };
const all = (book: Workbook): readonly Wanted[] => shelfItems(book).map((item) => ({ item }));
const fullShelf = () => {
  const empty = emptyShelf(marram, "2026-11-29");
  return applyChange(empty, bringItems(empty, all(marram), "all").change);
};
/** A document with one cell written. */
function typed(book: Workbook, sheet: SheetKey, row: string, column: string, is: Raw): Workbook {
  const was = rowOf(book, sheet, row)?.cells[column];
  return applyChange(book, { label: "", operations: [{ kind: "cell", sheet, row, column, was, is }] });
}
const count = (one: ReturnType<typeof compareShelf>) => [
  one.differences.length,
  one.onlyHere.length,
  one.onlyThere.length,
];

describe("the shelf", () => {
  test("is a document of its own kind that can be written and read, with no way and no piece", () => {
    const shelf = fullShelf();
    const read = readDocument(writeDocument(shelf), "shelf");
    expect(read.ok && read.value).toEqual(shelf);
    expect([isShelf(shelf), isShelf(marram)]).toEqual([true, false]);
    expect([shelf.sheets.route.rows, shelf.sheets.pieces.rows]).toEqual([[], []]);
  });

  test("that has everything of an edition differs in nothing from it", () => {
    const shelf = fullShelf();
    expect(count(compareShelf(marram, shelf))).toEqual([0, 0, 0]);
    expect(shelf.sheets.kilns.rows.map(({ cells }) => cells)).toEqual(
      marram.sheets.kilns.rows.map(({ cells }) => cells),
    );
    expect(shelf.meta.calendar).toEqual({ hours: HOURS, closed: ["2026-12-24"], people: 2 });
    expect(shelf.lists.recipes.map(({ title }) => title)).toEqual(marram.lists.recipes.map(({ title }) => title));
  });

  test("an empty one has nothing, and lacks all of the edition", () => {
    const found = compareShelf(marram, emptyShelf(marram, "2026-11-29"));
    expect(found.onlyThere.map(({ id }) => id)).toEqual([]);
    expect(found.onlyHere.filter(({ kind }) => kind === "materials").length).toBe(marram.sheets.materials.rows.length);
  });
});

test("a shelf shows what means something there: no plan, no use, and of the Edition's lines the studio's", () => {
  const shelf = fullShelf();
  const shown = (book: Workbook) => columnsInView(book, "materials", new Set()).map(({ key }) => key);
  expect(shown(shelf)).toEqual(["id", "sort", "pack_price", "pack_grams", "per_gram", "fraction", "carat", "note"]);
  expect(shown(marram)).toContain("plan_packs");
  const lines = rowsInView(
    shelf,
    "edition",
    WHOLE_VIEW,
    () => undefined,
    () => "",
  );
  expect([...lines].sort()).toEqual([...STUDIO_LINES].sort());
  const titles = cardParts(shelf, "materials", ["m1"]).map(({ title }) => title);
  expect(titles).not.toContain("Planned");
});

describe("what differs", () => {
  const shelf = typed(fullShelf(), "materials", "m3", "pack_price", 24.1);

  test("is told value by value, and taken over by a change that can be taken back", () => {
    const found = compareShelf(marram, shelf);
    expect(
      found.differences.map(({ here, key, value }) => [here.title, key, value.here?.value, value.there?.value]),
    ).toEqual([[String(marram.sheets.materials.rows[2]?.cells.id), "pack_price", 112, 24.1]]);
    const wanted = found.differences.map(({ there, key }) => ({ item: there, key }));
    const { change, refused } = bringItems(marram, wanted, "take");
    expect(refused).toEqual([]);
    const after = applyChange(marram, change);
    expect(count(compareShelf(after, shelf))).toEqual([0, 0, 0]);
    expect(applyChange(after, invert(change))).toEqual(marram);
  });

  test("by name whatever its case, and an amount that one of them leaves blank is one", () => {
    const named = typed(
      typed(marram, "kilns", "k1", "id", String(rowOf(marram, "kilns", "k1")?.cells.id).toUpperCase()),
      "kilns",
      "k1",
      "open_at",
      80,
    );
    const found = compareShelf(named, fullShelf());
    expect(found.differences.map(({ key, value }) => [key, value.here?.value, value.there?.value])).toEqual([
      ["open_at", 80, undefined],
    ]);
    const item = found.differences[0]?.there;
    const taken = applyChange(named, bringItems(named, item ? [{ item, key: "open_at" }] : [], "").change);
    expect(rowOf(taken, "kilns", "k1")?.cells.open_at).toBeUndefined();
  });

  test("of a wage, of the days off, and of names of accounts", () => {
    const other = typed(
      { ...marram, meta: { ...marram.meta, calendar: { ...CALENDAR, people: 1 }, accounts: {} } },
      "edition",
      "wage",
      "value",
      31,
    );
    const found = compareShelf(other, fullShelf());
    expect(found.differences.map(({ here }) => here.kind).sort()).toEqual(["accounts", "days", "line"]);
    const wanted = found.differences.map(({ there, key }) => ({ item: there, key }));
    const after = applyChange(other, bringItems(other, wanted, "").change);
    expect(count(compareShelf(after, fullShelf()))).toEqual([0, 0, 0]);
    // When it is due is the edition's own.
    expect(after.meta.calendar?.due).toBe("2027-01-05");
  });
});

describe("bringing over", () => {
  test("a programme puts its ramps in the place of those it had; two at once too", () => {
    const ramp = (id: string, programme: string, at: number, celsius: number) => ({
      ...{ id, cells: { programme, ramp: at, celsius } },
    });
    const rows = [ramp("r1", "Soft", 1, 600), ramp("r2", "Hard", 1, 900), ramp("r3", "Soft", 2, 780)];
    const from: Workbook = { ...demo, sheets: { ...demo.sheets, programmes: { ...demo.sheets.programmes, rows } } };
    const held = [
      ramp("r1", "hard", 1, 1),
      ramp("r2", "Other", 1, 2),
      ramp("r3", "soft", 1, 3),
      ramp("r4", "soft", 2, 4),
    ];
    const into: Workbook = {
      ...from,
      sheets: { ...from.sheets, programmes: { ...from.sheets.programmes, rows: held } },
    };
    const wanted = all(from).filter(({ item }) => item.kind === "programmes");
    const { change } = bringItems(into, wanted, "");
    const after = applyChange(into, change);
    expect(after.sheets.programmes.rows.map(({ cells }) => [cells.programme, cells.celsius])).toEqual([
      ["Other", 2],
      ["Soft", 600],
      ["Soft", 780],
      ["Hard", 900],
    ]);
    expect(new Set(after.sheets.programmes.rows.map(({ id }) => id)).size).toBe(4);
    expect(applyChange(after, invert(change))).toEqual(into);
  });

  test("a recipe comes with the materials it names, or says what is missing", () => {
    const recipes = shelfItems(marram).filter(({ kind }) => kind === "recipe");
    expect(recipes.length).toBeGreaterThan(0);
    const bare: Workbook = {
      ...marram,
      sheets: { ...marram.sheets, materials: { ...marram.sheets.materials, rows: [] } },
      lists: { ...marram.lists, recipes: [] },
    };
    const alone = bringItems(
      bare,
      recipes.map((item) => ({ item })),
      "",
    );
    const withAll = bringItems(bare, all(marram), "");
    expect(alone.refused.length).toBeGreaterThan(0);
    expect(withAll.refused).toEqual([]);
    const after = applyChange(bare, withAll.change);
    expect(after.lists.recipes.map(({ title }) => title)).toEqual(recipes.map(({ title }) => title));
    expect(new Set(after.lists.recipes.map(({ id }) => id)).size).toBe(recipes.length);
  });

  test("a formula stays where it is, and that is said", () => {
    const by = typed(marram, "materials", "m1", "pack_price", { f: "=4*7" });
    const empty = emptyShelf(by, "2026-11-29");
    const { change, refused } = bringItems(empty, all(by), "");
    expect(refused.map(({ code, where }) => [code, where])).toEqual([
      ["shelf.formula", String(marram.sheets.materials.rows[0]?.cells.id)],
    ]);
    expect(applyChange(empty, change).sheets.materials.rows.length).toBe(marram.sheets.materials.rows.length - 1);
  });
});
