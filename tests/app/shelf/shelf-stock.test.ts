// The stock of the studio's shelf: bought, used by editions, counted; what is to be bought; and the prices of the days, taken
// over into an edition that then gives the same numbers alone.
import { describe, expect, test } from "vitest";
import type { Session } from "../../../src/app/edition/session";
import { settle } from "../../../src/app/settle/settle";
import { planDayPrices } from "../../../src/app/shelf/day-prices";
import { metalInYear, metalYears } from "../../../src/app/shelf/fine-metal";
import { addPurchase, chooseMethod, type PurchaseTyped } from "../../../src/app/shelf/purchases";
import { shelfStock } from "../../../src/app/shelf/stock";
import { countedUses, useOf } from "../../../src/app/shelf/uses";
import { applyChange, invert } from "../../../src/core/document/change";
import { readDocument } from "../../../src/core/document/document-file";
import { bringItems, emptyShelf, shelfItems } from "../../../src/core/document/shelf";
import type { Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import { planRecord, type Recording, recordChange } from "../../../src/core/record/record-edits";
import { planImport } from "../../../src/csv/plan";
import { readSheetCsv } from "../../../src/csv/read";
import { must } from "../../accounts/results";
import { compareSheets } from "../../tools/compare-sheets";
import { evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const TODAY = "2026-11-25";
const BISQUE = { bisque: { kind: "there", name: "F1" } } as const;

/** A shelf with the materials of the small edition, open, with nothing bought. */
function openShelfOf(book: Workbook): Session {
  const empty = emptyShelf(book, "2026-01-01");
  const wanted = shelfItems(book).map((item) => ({ item }));
  return openSession(applyChange(empty, bringItems(empty, wanted, "").change)).session;
}
const buy = (material: string, date: string, grams: string, paid: string): PurchaseTyped => ({
  ...{ sort: "bought", material, date, grams, paid, reference: "R 1" },
});
const count = (material: string, date: string, grams: string): PurchaseTyped => ({
  ...{ sort: "counted", material, date, grams, paid: "", reference: "" },
});
function recorded(book: Workbook, ids: readonly string[], recording: Recording, day: string): Workbook {
  const change = recordChange(book, must(planRecord(book, ids, recording)), `${day}T12:00:00.000Z`);
  return applyChange(book, change);
}
const codes = (problems: readonly { readonly code: string }[]) => problems.map(({ code }) => code);
const real = (book: Workbook): Workbook => ({ ...book, meta: { ...book.meta, invented: false } });

/** Four cast on two days, one of them lost unfired, two glazed. */
function worked(title = "Small"): Workbook {
  const small = smallEdition(4);
  let book = real({ ...small, meta: { ...small.meta, title } });
  book = recorded(book, ["p1", "p2"], { kind: "slip", step: "cast", amount: 1000 }, "2026-03-01");
  book = recorded(book, ["p3", "p4"], { kind: "slip", step: "cast", amount: 1000 }, "2026-04-01");
  book = recorded(book, ["p4"], { kind: "lost", step: "fettle", reason: "" }, "2026-04-02");
  book = recorded(book, ["p1", "p2", "p3"], { kind: "done", step: "bisque", firings: BISQUE }, "2026-04-03");
  return recorded(book, ["p1", "p2"], { kind: "coats", step: "glaze", amount: 2 }, "2026-04-10");
}

describe("a purchase", () => {
  test("is typed by the rules of the sheet, is one step, and prices a pack", () => {
    const session = openShelfOf(smallEdition());
    expect(addPurchase(session, buy("Glaze", "2026-02-01", "20 kg", "120"))).toEqual([]);
    const [row] = session.book.value.sheets.purchases.rows;
    expect(row?.cells).toEqual({
      ...{
        id: "B1",
        sort: "bought",
        date: "2026-02-01",
        material: "Glaze",
        grams: 20_000,
        paid: 120,
        reference: "R 1",
      },
    });
    const price = () => session.book.value.sheets.materials.rows[1]?.cells.pack_price;
    expect(price()).toBe(60);
    session.undo();
    expect([price(), session.book.value.sheets.purchases.rows.length]).toEqual([50, 0]);
  });

  test("of an earlier day leaves the price of a pack", () => {
    const session = openShelfOf(smallEdition());
    addPurchase(session, buy("Glaze", "2026-02-01", "10 kg", "60"));
    addPurchase(session, buy("Glaze", "2026-01-01", "10 kg", "40"));
    expect(session.book.value.sheets.materials.rows[1]?.cells.pack_price).toBe(60);
  });

  test.each([
    [buy("Glaze", "2026-02-01", "much", "60"), ["entry.number"]],
    [buy("Glaze", "2026-02-01", "0", "60"), ["stock.grams"]],
    [buy("Glaze", "2026-02-01", "5", ""), ["stock.paid"]],
    [buy("Glaze", "2999-02-01", "5", "1"), ["stock.day"]],
    [buy("Gold leaf", "", "-5", "1"), ["entry.required", "entry.choice", "entry.range"]],
  ])("that can't be is refused, said, and nothing is written", (typed, expected) => {
    const session = openShelfOf(smallEdition());
    const before = session.book.value;
    expect(codes(addPurchase(session, typed))).toEqual(expected);
    expect(session.book.value).toBe(before);
  });
});

test("purchases come in from a CSV: what is good is kept, what names no material is refused with its line", () => {
  const session = openShelfOf(smallEdition());
  const text =
    "Purchase,date,what,material,quantity (g),paid (EUR),reference\n" +
    "B1,2026-02-01,bought,Slip,2500,5,R 1\nB2,2026-02-02,bought,Clay,10,5,R 2\n";
  const planned = planImport(session.book.value, "purchases", readSheetCsv(text), { addMissing: true });
  expect([planned.added, planned.rejected.map(({ line, code }) => [line, code])]).toEqual([
    ["B1"],
    [
      [3, "entry.choice"],
      [3, "csv.lacking"],
    ],
  ]);
  const [row] = applyChange(session.book.value, planned.change).sheets.purchases.rows;
  expect(row?.cells).toMatchObject({ material: "Slip", grams: 2500, paid: 5 });
});

describe("fine metal over a year", () => {
  test("what was there and bought, less what is on pieces, in the brush and lost with pieces, is what is left", () => {
    const session = openShelfOf(smallEdition());
    addPurchase(session, buy("Gold", "2025-12-01", "2", "90"));
    addPurchase(session, buy("Gold", "2026-02-01", "2", "90"));
    let book = recorded(worked(), ["p1", "p2"], { kind: "coats", step: "band", amount: 1 }, "2026-04-20");
    book = recorded(book, ["p2"], { kind: "lost", step: "band", reason: "" }, "2026-04-21");
    addPurchase(session, count("Gold", "2026-11-01", "3.8"));
    const uses = [useOf("e1", book)];
    const stock = must(shelfStock(session.book.value, uses, 2));
    expect(metalYears(stock, TODAY)).toEqual(["2026", "2025"]);
    const [year] = metalInYear(stock, uses, "2026", TODAY);
    // 10 % of 22 carat; 20 cm² × 0.0024 g on a piece, ÷ 0.8 with what stays in the brush.
    const fine = (grams: number) => grams * 0.1 * (22 / 24);
    const expected = {
      ...{ opening: fine(2), bought: fine(2), onPieces: fine(0.048), waste: fine(0.012), lost: fine(0.06) },
      ...{ counted: fine(3.8 - 3.88), left: fine(3.8) },
    };
    for (const [key, grams] of Object.entries(expected))
      expect([key, year?.[key as keyof typeof expected]]).toEqual([key, expect.closeTo(grams, 12)]);
    const [before] = metalInYear(stock, uses, "2025", TODAY);
    expect(before).toMatchObject({ opening: 0, onPieces: 0, lost: 0 });
    expect(before?.left).toBeCloseTo(fine(2), 12);
  });
});

describe("the stock", () => {
  const shelfOf = (...typed: readonly PurchaseTyped[]) => {
    const session = openShelfOf(smallEdition());
    for (const one of typed) expect(addPurchase(session, one)).toEqual([]);
    return session;
  };
  const bought = [
    buy("Slip", "2026-02-01", "2500", "5"),
    buy("Slip", "2026-03-15", "2500", "10"),
    buy("Glaze", "2026-02-01", "10 kg", "50"),
  ];

  test("is drawn down by what editions used on their days, and what came back", () => {
    const session = shelfOf(...bought);
    const [slip, glaze, gold] = must(shelfStock(session.book.value, [useOf("e1", worked())], 2));
    // 5000 − 4000 + 900; average 0.002, then (500 × 0.002 + 10) ÷ 3000.
    expect([slip?.stock.leftGrams, glaze?.stock.leftGrams]).toEqual([1900, 9920]);
    expect(slip?.stock.lines.map(({ movement, minor }) => [movement.kind, minor])).toEqual([
      ["bought", 500],
      ["used", -400],
      ["bought", 1000],
      ["used", -733],
      ["back", 255],
    ]);
    expect([gold?.isKept, slip?.undated, slip?.openGrams]).toEqual([false, 0, 1900]);
  });

  test("counted says what is missing; the method is the studio's choice", () => {
    const session = shelfOf(...bought, count("Slip", "2026-11-01", "1800"));
    const last = () => must(shelfStock(session.book.value, [useOf("e1", worked())], 2))[0]?.stock.lines.at(-1);
    const average = last()?.minor;
    expect(last()?.grams).toBeCloseTo(-100, 9);
    chooseMethod(session, "first in first out");
    expect(last()?.grams).toBeCloseTo(-100, 9);
    expect(last()?.minor).not.toBe(average);
  });

  test("needs of all editions, the one due first first, less what is left, in whole packs", () => {
    const first = { ...useOf("e1", real(smallEdition(4))), title: "First", due: "2026-12-01", begins: "2026-11-20" };
    const second = { ...useOf("e2", real(smallEdition(4))), title: "Second", due: "2027-01-01", begins: "2026-12-10" };
    const session = shelfOf(buy("Slip", "2026-02-01", "5000", "10"));
    const [slip, , gold] = must(shelfStock(session.book.value, [second, first], 2));
    expect(slip?.needs.map(({ title, grams, lacking }) => [title, grams, lacking])).toEqual([
      ["First", 3600, 0],
      ["Second", 3600, 2200],
    ]);
    // A pack of slip holds 20 kg.
    expect(slip?.buy).toEqual({ packs: 1, grams: 20_000, cost: 40 });
    expect(slip?.runsOut).toMatchObject({ title: "Second", begins: "2026-12-10" });
    expect(gold?.runsOut?.title).toBe("First");
    const { value: shelf } = session.book;
    const ordered = { ...shelf, meta: { ...shelf.meta, order: ["e2"] } };
    expect(must(shelfStock(ordered, [second, first], 2))[0]?.runsOut?.title).toBe("First");
  });

  test("of invented editions counts only where there are no others", () => {
    const invented = { ...useOf("e1", worked()), isInvented: true };
    const own = useOf("e2", worked());
    expect(countedUses([invented, own])).toEqual([own]);
    expect(countedUses([invented])).toEqual([invented]);
  });
});

describe.each(["average", "first in first out"] as const)("prices of the days by %s", (method) => {
  const session = openShelfOf(smallEdition());
  addPurchase(session, buy("Slip", "2026-02-01", "2500", "5"));
  addPurchase(session, buy("Slip", "2026-03-15", "2500", "10"));
  chooseMethod(session, method);
  const taken = (book: Workbook) => {
    const uses = [useOf("e1", book)];
    const plan = must(planDayPrices(book, "e1", session.book.value, uses, { digits: 2, today: TODAY }));
    return { plan, after: applyChange(book, plan.change), stock: must(shelfStock(session.book.value, uses, 2)) };
  };
  const castCost = (book: Workbook) => {
    const read = evaluate(book);
    return book.sheets.pieces.rows.reduce((sum, { id }) => sum + Number(read("pieces", id, "cast.material")), 0);
  };

  test("the cost of the edition is what the stock gave, sheets, plain loops and books agree, and one undo takes it back", () => {
    const book = worked();
    const { plan, after, stock } = taken(book);
    expect([plan.priced, plan.undated]).toEqual([4, 0]);
    const out = stock[0]?.stock.lines.filter(({ movement }) => movement.kind === "used") ?? [];
    expect(castCost(after) * 100).toBeCloseTo(-out.reduce((sum, { minor }) => sum + minor, 0), 0);
    const read = evaluate(after);
    expect(compareSheets(after, read).differ).toEqual([]);
    expect(settle(after, read).ok).toBe(true);
    expect(applyChange(after, invert(plan.change))).toEqual(book);
  });

  test("taken over again nothing moves, and after a price change nothing done earlier costs anything else", () => {
    const { after } = taken(worked());
    expect(taken(after).plan.change.operations).toEqual([]);
    const dearer = afterTyping(after, [["materials", "m1", "pack_price", "900"]]);
    expect(castCost(dearer)).toBeCloseTo(castCost(after), 12);
    addPurchase(session, buy("Slip", "2026-05-01", "1000", "90"));
    expect(castCost(taken(after).after)).toBeCloseTo(castCost(after), 12);
    session.undo();
  });

  test("the edition has it all in its own file", () => {
    const { after } = taken(worked());
    const read = readDocument(writeDocument(after), "alone");
    expect(castCost(must(read))).toBe(castCost(after));
  });

  test("what was typed has no day: it keeps the price of Materials, and that is counted", () => {
    const { after } = taken(afterTyping(real(smallEdition(2)), [["pieces", "p1", "cast.slip", "1000"]]));
    expect(after.sheets.pieces.rows[0]?.cells["cast.priced"]).toBeUndefined();
    expect(taken(after).plan).toMatchObject({ priced: 0, undated: 1 });
  });

  test("a row of the maker's own with such a name is left alone", () => {
    const own = {
      id: "b9",
      cells: { id: "B1", date: "2026-01-01", sort: "bought", material: "Glaze", grams: 1, paid: 7 },
    };
    const book = worked();
    const with1: Workbook = {
      ...book,
      sheets: { ...book.sheets, purchases: { ...book.sheets.purchases, rows: [own] } },
    };
    const { after } = taken(with1);
    expect(after.sheets.purchases.rows[0]).toEqual(own);
    expect(after.sheets.pieces.rows[0]?.cells["cast.priced"]).toBe("B1, 2");
  });
});
