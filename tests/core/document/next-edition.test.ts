// The next edition: what carries over from the one before, and what does not.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import type { Change } from "../../../src/core/document/change";
import { applyChange } from "../../../src/core/document/change";
import { readDocument } from "../../../src/core/document/document-file";
import { nextEdition } from "../../../src/core/document/next-edition";
import { addOwnColumn, addOwnInput } from "../../../src/core/document/own-edits";
import type { Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import type { Result } from "../../../src/core/problem";

const ANSWERS = { title: "Eelgrass", wanted: 90, firstPiece: "E-01", started: "2026-12-01" };
const grown = (book: Workbook, change: Result<Change>): Workbook => {
  if (!change.ok) throw new Error(change.problems[0]?.message);
  return applyChange(book, change.value);
};

function marram(): Workbook {
  const column = { title: "shelf mark", unit: "", type: "text", formula: "" } as const;
  const book = grown(demoEdition(), addOwnColumn(demoEdition(), "pieces", column));
  return grown(book, addOwnInput(book, "Crate", "¤"));
}

describe("the next edition", () => {
  const from = marram();
  const { book, leftBehind } = nextEdition(from, ANSWERS, 104);

  test("has the way, materials, kilns, programmes, tariffs, recipes, own columns and inputs of the one before", () => {
    for (const sheet of ["materials", "kilns", "programmes", "tariffs"] as const)
      expect(book.sheets[sheet]).toEqual(from.sheets[sheet]);
    expect(book.sheets.route.columns).toEqual(from.sheets.route.columns);
    const planned = (one: Workbook) =>
      one.sheets.route.rows.map(({ id, cells: { seen_entered: _, seen_lost: __, ...cells } }) => ({ id, cells }));
    expect(planned(book)).toEqual(planned(from));
    expect(book.lists.recipes).toEqual(from.lists.recipes);
    expect(book.sheets.pieces.columns).toEqual(from.sheets.pieces.columns);
    expect(book.sheets.pieces.columns.some(({ title }) => title === "shelf mark")).toBe(true);
    expect(book.sheets.edition.rows.some(({ cells }) => cells.label === "Crate")).toBe(true);
    expect(book.meta).toMatchObject({ title: "Eelgrass", started: "2026-12-01", note: "", invented: false });
    expect(book.meta.currency).toBe(from.meta.currency);
  });

  test("has no firing, no log, and blank pieces under new numbers", () => {
    expect(book.sheets.firings.rows).toEqual([]);
    expect(book.lists.log).toEqual([]);
    expect(book.sheets.pieces.rows.length).toBe(104);
    expect(book.sheets.pieces.rows[0]).toEqual({ id: "p1", cells: { piece: "E-01", tier: "standard" } });
    const wanted = book.sheets.edition.rows.find(({ id }) => id === "wanted");
    expect(wanted?.cells.value).toBe(90);
  });

  test("knows what was seen, and its Route counts it with what was counted before", () => {
    expect(book.seen?.map(({ title }) => title)).toEqual(["Counted before", "Marram"]);
    const cast = book.sheets.route.rows.find(({ id }) => id === "cast")?.cells;
    const of = (which: "entered" | "lost") =>
      (book.seen ?? []).flatMap(({ steps }) => steps.filter(({ step }) => step === "cast").map((step) => step[which]));
    expect([cast?.seen_entered, cast?.seen_lost]).toEqual([of("entered"), of("lost")].map(([a = 0, b = 0]) => a + b));
    expect(cast?.seen_entered).toBeGreaterThan(64);
  });

  test("leaves amounts behind that were given by hand where a formula stands, and names them", () => {
    const by = { kind: "cell", sheet: "route", row: "cast", column: "plan_loads", was: undefined, is: 3 } as const;
    const hand = nextEdition(applyChange(from, { label: "", operations: [by] }), ANSWERS, 10);
    expect(hand.leftBehind.length).toBe(leftBehind.length + 1);
    expect(hand.leftBehind.join(" ")).toContain("Route Cast");
    expect(hand.book.sheets.route.rows.find(({ id }) => id === "cast")?.cells.plan_loads).toBeUndefined();
  });

  test("can be written, read, and be the source of another", () => {
    const read = readDocument(writeDocument(book), "next");
    expect(read.ok && read.value).toEqual(book);
    const third = nextEdition(book, { ...ANSWERS, title: "Thrift" }, 12).book;
    expect(third.seen).toEqual(book.seen);
    expect(third.sheets.route.rows).toEqual(book.sheets.route.rows);
  });

  test("keeps the studio's days, not the date the other one was due", () => {
    const hours = [8, 8, 8, 8, 8, 0, 0];
    const calendar = { due: "2026-11-01", from: "2026-09-01", hours, closed: ["2026-08-01", "2026-12-24"], people: 2 };
    const { meta } = nextEdition({ ...from, meta: { ...from.meta, calendar } }, ANSWERS, 1).book;
    expect(meta.calendar).toEqual({ hours, closed: ["2026-12-24"], people: 2 });
  });
});
