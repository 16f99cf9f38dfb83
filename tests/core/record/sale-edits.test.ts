// What becomes of finished pieces, recorded for many at once: who is left out, what is asked about, undone and taken back.
import { describe, expect, test } from "vitest";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, invert } from "../../../src/core/document/change";
import { consignedOn } from "../../../src/core/document/consigned-day";
import type { Workbook } from "../../../src/core/document/workbook";
import { record, recordChange } from "../../../src/core/record/record-edits";
import { takeBack } from "../../../src/core/record/run-log";
import { planSale, type SaleAsked } from "../../../src/core/record/sale-edits";
import { planImport } from "../../../src/csv/plan";
import { readSheetCsv } from "../../../src/csv/read";
import { must } from "../../accounts/results";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const AT = "2026-03-20T10:00:00.000Z";

/** Pieces 1 to 4 good, 5 lost, 6 in progress; a gallery is on the Channels sheet. */
function finished(): Workbook {
  let book = smallEdition(6);
  const all = book.sheets.pieces.rows.map(({ id }) => id);
  const firings = { bisque: { kind: "there", name: "F1" } } as const;
  book = must(record(book, all, { kind: "done", step: "bisque", firings }, AT));
  book = must(record(book, ["p5"], { kind: "lost", step: "bisque", reason: "cracked" }, AT));
  book = must(record(book, ["p1", "p2", "p3", "p4"], { kind: "passed", grade: "good" }, AT));
  const named = afterTyping(book, [["firings", "f1", "date", "2026-03-01"]]);
  const { channels } = named.sheets;
  const rows = [{ id: "c1", cells: { id: "Gallery", commission: 0.4 } }];
  return { ...named, sheets: { ...named.sheets, channels: { ...channels, rows } } };
}

const book = finished();
const paid = (price: number) => new Map(book.sheets.pieces.rows.map(({ id }) => [id, price]));
const asked = (more: Partial<SaleAsked> = {}): SaleAsked => ({
  ...{ kind: "sale", became: "sold", day: "2026-03-15", today: "2026-03-20", paid: paid(80) },
  ...more,
});
const sellNow = (of: Workbook, ids: readonly string[], more: Partial<SaleAsked> = {}) =>
  applyChange(of, recordChange(of, must(planSale(of, ids, asked(more))), AT));
const cells = (of: Workbook, id: string) => rowOf(of, "pieces", id)?.cells ?? {};
const pieceOf = (of: Workbook, id: string) => rowOf(of, "pieces", id) ?? { id, cells: {} };

describe("a sale", () => {
  test("writes what became of each piece, the day, and what was paid, with one line in the run log", () => {
    const plan = must(planSale(book, ["p1", "p2"], asked({ paid: paid(72.5), document: " R-7 " })));
    expect(plan.says).toEqual([
      "sold, for 2 pieces",
      "on 2026-03-15, for 2 pieces",
      "price paid: 72.50 EUR, for 2 pieces",
      "document: R-7, for 2 pieces",
    ]);
    const sold = sellNow(book, ["p1", "p2"], { paid: paid(72.5), document: " R-7 " });
    expect(cells(sold, "p2")).toMatchObject({ became: "sold", became_on: "2026-03-15", paid: 72.5, document: "R-7" });
    expect(sold.lists.log.length).toBe(book.lists.log.length + 1);
    expect(sold.lists.log.at(-1)).toMatchObject({ act: "sold", label: "Sold, 2026-03-15: 01, 02" });
  });

  test("is kept at what was paid, and so stays what it was when prices change", () => {
    expect(cells(sellNow(book, ["p1"]), "p1").paid).toBe(80);
  });

  test("leaves out what is lost or not finished, and says why", () => {
    const plan = must(planSale(book, ["p1", "p5", "p6"], asked()));
    expect(plan.takes).toEqual(["p1"]);
    expect(plan.leftOut).toEqual([
      { says: "lost at Bisque", pieces: ["p5"] },
      { says: "not finished: pass it as good or second on Record first", pieces: ["p6"] },
    ]);
  });

  test("asks where the order is odd: sold already, a day to come, a firing after that day", () => {
    const sold = sellNow(book, ["p1"]);
    const notes = (of: Workbook, more: Partial<SaleAsked>) =>
      must(planSale(of, ["p1"], asked(more))).warnings.map(({ says }) => says);
    expect(notes(sold, { became: "broken" })).toEqual(["was sold on 2026-03-15; that is replaced"]);
    expect(notes(book, { day: "2026-04-01" })).toEqual(["the day 2026-04-01 is still to come"]);
    expect(notes(book, { day: "2026-02-20" })).toEqual(["was in firing F1, 2026-03-01, after that day"]);
    const consigned = sellNow(book, ["p1"], { became: "consigned" });
    expect(notes(consigned, { day: "2026-03-10" })).toEqual(["was consigned only on 2026-03-15"]);
  });

  test.each<[string, Partial<SaleAsked>, string]>([
    ["no day", { day: "" }, "sale.day"],
    ["a price that can't be read", { paid: paid(Number.NaN) }, "sale.price"],
    ["a channel that is not there", { channel: { kind: "there", name: "Fair" } }, "sale.channel"],
    ["a new channel that is there", { channel: { kind: "new", name: "gallery" } }, "sale.channel"],
    ["a new channel without a name", { channel: { kind: "new", name: " " } }, "sale.channel"],
  ])("is refused with %s", (_, more, code) => {
    const plan = planSale(book, ["p1"], asked(more));
    expect(plan.ok ? [] : plan.problems.map((one) => one.code)).toEqual([code]);
  });

  test("through a consigned piece's channel, unless another is said", () => {
    const consigned = sellNow(book, ["p1", "p2"], { became: "consigned", channel: { kind: "there", name: "Gallery" } });
    expect(cells(consigned, "p1")).toMatchObject({ became: "consigned", channel: "Gallery" });
    expect(cells(consigned, "p1").paid).toBeUndefined();
    expect(cells(sellNow(consigned, ["p1"]), "p1")).toMatchObject({ became: "sold", channel: "Gallery", paid: 80 });
    expect(must(planSale(consigned, ["p1"], asked())).warnings).toEqual([]);
    const fair = sellNow(consigned, ["p2"], { channel: { kind: "new", name: "Fair" } });
    expect(cells(fair, "p2").channel).toBe("Fair");
    expect(fair.sheets.channels.rows.map((row) => row.cells.id)).toEqual(["Gallery", "Fair"]);
  });
});

describe("the day a piece was consigned", () => {
  const gallery = { became: "consigned", day: "2026-03-10", channel: { kind: "there", name: "Gallery" } } as const;
  const consigned = sellNow(book, ["p1", "p2"], gallery);

  test("is that on which it became so, and stays with it when it is sold, broken, or said anew", () => {
    expect(consignedOn(pieceOf(consigned, "p1"))).toBe("2026-03-10");
    expect(cells(consigned, "p1").consigned_on).toBeUndefined();
    const sold = sellNow(consigned, ["p1"]);
    expect(cells(sold, "p1")).toMatchObject({ became_on: "2026-03-15", consigned_on: "2026-03-10" });
    expect(must(planSale(consigned, ["p1"], asked())).says).toContain(
      "consigned since 2026-03-10 until then, for 1 piece",
    );
    const anew = sellNow(sold, ["p1"], { day: "2026-03-18" });
    expect(cells(anew, "p1").consigned_on).toBe("2026-03-10");
    expect(cells(sellNow(consigned, ["p2"], { became: "broken" }), "p2").consigned_on).toBe("2026-03-10");
  });

  test("is gone once it is back in stock, and was never there for a piece sold from stock", () => {
    const back = sellNow(sellNow(consigned, ["p1"]), ["p1"], { became: "in stock" });
    expect(cells(back, "p1").consigned_on).toBeUndefined();
    expect(cells(sellNow(back, ["p1"]), "p1").consigned_on).toBeUndefined();
    expect(consignedOn(pieceOf(sellNow(book, ["p1"]), "p1"))).toBeUndefined();
  });

  test("is kept when the sale is typed on the sheet or comes from a file, and the file may say another", () => {
    const typed = afterTyping(consigned, [
      ["pieces", "p1", "became", "sold"],
      ["pieces", "p1", "became_on", "2026-03-15"],
    ]);
    expect(cells(typed, "p1")).toMatchObject({ became_on: "2026-03-15", consigned_on: "2026-03-10" });
    const read = (text: string) => {
      const plan = planImport(consigned, "pieces", readSheetCsv(text));
      return cells(applyChange(consigned, plan.change), "p2");
    };
    expect(read("Piece,what became of it,on the day\r\n02,sold,2026-03-15")).toMatchObject({
      ...{ became: "sold", became_on: "2026-03-15", consigned_on: "2026-03-10" },
    });
    expect(
      read("Piece,what became of it,on the day,was consigned on\r\n02,sold,2026-03-15,2026-03-09").consigned_on,
    ).toBe("2026-03-09");
  });
});

describe("pieces that went otherwise, and back again", () => {
  test("have a day, and neither channel nor price", () => {
    const given = sellNow(book, ["p3"], {
      became: "given away",
      paid: paid(5),
      channel: { kind: "there", name: "Gallery" },
    });
    expect(cells(given, "p3")).toMatchObject({ became: "given away", became_on: "2026-03-15" });
    expect([cells(given, "p3").paid, cells(given, "p3").channel]).toEqual([undefined, undefined]);
  });

  test("go back into stock as if nothing had been said", () => {
    const sold = sellNow(book, ["p1", "p2"], { document: "R-1", channel: { kind: "there", name: "Gallery" } });
    expect(sellNow(sold, ["p1", "p2"], { became: "in stock" }).sheets.pieces).toEqual(book.sheets.pieces);
    expect(must(planSale(book, ["p1"], asked({ became: "in stock" }))).leftOut[0]?.says).toBe("in stock already");
  });

  test("can't be lost or passed anew before they are back", () => {
    const sold = sellNow(book, ["p1"]);
    for (const recording of [
      { kind: "lost", step: "firing", reason: "" },
      { kind: "passed", grade: undefined },
      { kind: "passed", grade: "second" },
    ] as const)
      expect(must(record(sold, ["p1"], recording, AT))).toEqual(sold);
  });
});

test("a sale is undone exactly, and taken back in the run log with the channel it made", () => {
  const plan = must(planSale(book, ["p1", "p2"], asked({ channel: { kind: "new", name: "Harbour fair" } })));
  const change = recordChange(book, plan, AT);
  const sold = applyChange(book, change);
  expect(applyChange(sold, invert(change))).toEqual(book);
  const taken = must(takeBack(sold, sold.lists.log.at(-1)?.id ?? "", AT));
  expect(taken.left).toEqual([]);
  expect(applyChange(sold, taken.change).sheets).toEqual(book.sheets);
});
