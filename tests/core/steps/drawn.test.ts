// What an edition takes of each material, by the day it was recorded, and what it will still need.
import { describe, expect, test } from "vitest";
import { applyChange } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { purchaseOn } from "../../../src/core/record/day-prices";
import { planRecord, type Recording, recordChange } from "../../../src/core/record/record-edits";
import { takeBack } from "../../../src/core/record/run-log";
import { drawsOf, needsOf } from "../../../src/core/steps/drawn";
import { must } from "../../accounts/results";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const dayOf = (at: string) => at.slice(0, 10);
const on = (day: string) => `${day}T12:00:00.000Z`;
function recorded(book: Workbook, ids: readonly string[], recording: Recording, day: string): Workbook {
  return applyChange(book, recordChange(book, must(planRecord(book, ids, recording)), on(day)));
}
const draws = (book: Workbook) =>
  drawsOf(book, dayOf).map(({ material, isBack, isLost, day, grams, pieces }) => ({
    ...{ material, isBack, isLost, day, pieces },
    grams: Number(grams.toFixed(6)),
  }));

describe("what an edition takes", () => {
  const cast = recorded(smallEdition(), ["p1", "p2", "p3"], { kind: "slip", step: "cast", amount: 900 }, "2026-02-10");

  test("is what was recorded, on its day", () => {
    expect(draws(cast)).toEqual([
      { material: "Slip", isBack: false, isLost: false, day: "2026-02-10", grams: 2700, pieces: ["p1", "p2", "p3"] },
    ]);
  });

  test("with overspray, and what is left in the brush; a piece's own area and weighed grams come first", () => {
    let book = recorded(cast, ["p1", "p2"], { kind: "coats", step: "glaze", amount: 2 }, "2026-02-20");
    book = recorded(book, ["p1"], { kind: "coats", step: "band", amount: 1 }, "2026-02-21");
    book = afterTyping(book, [["pieces", "p2", "glaze.area", "600"]]);
    const [, glaze, gold] = draws(book);
    // 500 and 600 cm² × 2 coats × 0.02 g ÷ 0.5, and 20 cm² × 0.0024 g ÷ 0.8.
    expect([glaze?.grams, gold?.grams]).toEqual([88, 0.06]);
    const weighed = applyChange(book, {
      label: "",
      operations: [{ kind: "cell", sheet: "pieces", row: "p1", column: "glaze.used", was: undefined, is: 41 }],
    });
    expect(draws(weighed)[1]?.grams).toBe(89);
  });

  test("of a piece lost unfired, part of the clay comes back on the day it was lost", () => {
    const lost = recorded(cast, ["p3"], { kind: "lost", step: "fettle", reason: "" }, "2026-02-12");
    expect(draws(lost)).toEqual([
      { material: "Slip", isBack: false, isLost: false, day: "2026-02-10", grams: 1800, pieces: ["p1", "p2"] },
      { material: "Slip", isBack: false, isLost: true, day: "2026-02-10", grams: 900, pieces: ["p3"] },
      { material: "Slip", isBack: true, isLost: true, day: "2026-02-12", grams: 810, pieces: ["p3"] },
    ]);
  });

  test("typed on the sheet it has no day, nor once its recording is taken back", () => {
    const typed = afterTyping(smallEdition(), [["pieces", "p1", "cast.slip", "800"]]);
    expect(draws(typed)).toMatchObject([{ day: "", grams: 800 }]);
    const back = applyChange(cast, must(takeBack(cast, cast.lists.log[0]?.id ?? "", on("2026-02-11"))).change);
    expect(draws(afterTyping(back, [["pieces", "p1", "cast.slip", "800"]]))).toMatchObject([{ day: "" }]);
  });
});

describe("what it will still need", () => {
  test("is the usual amount of every piece to come, less those that planned losses take before", () => {
    const [slip, glaze] = needsOf(smallEdition(4));
    expect(slip).toMatchObject({ material: "Slip", grams: 3600 });
    // 40 g a piece; 5 %, 2 % and 2 % are lost before.
    expect(glaze?.grams).toBeCloseTo(4 * 40 * 0.95 * 0.98 * 0.98, 9);
  });

  test("nothing of what was done, of pieces that are lost, and of those that are passed", () => {
    let book = recorded(smallEdition(4), ["p1", "p2"], { kind: "slip", step: "cast", amount: 900 }, "2026-02-10");
    book = recorded(book, ["p3"], { kind: "lost", step: "cast", reason: "" }, "2026-02-10");
    expect(needsOf(book)[0]).toMatchObject({ material: "Slip", grams: 900 });
    const passed = recorded(book, ["p1", "p2", "p4"], { kind: "passed", grade: "good" }, "2026-02-11");
    expect(needsOf(passed)).toEqual([]);
  });
});

describe("the price of the day", () => {
  const purchase = (id: string, date: string, paid: string): Workbook["sheets"]["purchases"]["rows"][number] => ({
    ...{ id, cells: { id: id.toUpperCase(), date, sort: "bought", material: "Slip", grams: 1000, paid: Number(paid) } },
  });
  const small = smallEdition();
  const rows = [purchase("b1", "2026-02-01", "2"), purchase("b2", "2026-03-01", "9")];
  const book: Workbook = { ...small, sheets: { ...small.sheets, purchases: { ...small.sheets.purchases, rows } } };

  test("is that of the last purchase up to it", () => {
    expect(
      ["2026-01-31", "2026-02-01", "2026-02-28", "2026-03-05"].map((day) => purchaseOn(book, "Slip", day)),
    ).toEqual([undefined, "B1", "B1", "B2"]);
    expect(purchaseOn(book, "Glaze", "2026-03-05")).toBeUndefined();
  });

  test("is written with what is recorded, taken back with it, and gone where the amount is taken away", () => {
    const early = recorded(book, ["p1"], { kind: "slip", step: "cast", amount: 900 }, "2026-02-10");
    const late = recorded(early, ["p2"], { kind: "slip", step: "cast", amount: 900 }, "2026-03-10");
    const priced = (of: Workbook) => of.sheets.pieces.rows.slice(0, 3).map(({ cells }) => cells["cast.priced"]);
    expect(priced(late)).toEqual(["B1", "B2", undefined]);
    const back = applyChange(late, must(takeBack(late, late.lists.log[1]?.id ?? "", on("2026-03-11"))).change);
    expect(priced(back)).toEqual(["B1", undefined, undefined]);
  });
});
