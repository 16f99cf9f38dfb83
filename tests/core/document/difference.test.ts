import { describe, expect, it } from "vitest";
import { applyChange, invert } from "../../../src/core/document/change";
import { differenceBetween } from "../../../src/core/document/difference";
import { addEntry } from "../../../src/core/document/list-edits";
import { addOwnColumn } from "../../../src/core/document/own-edits";
import type { Workbook } from "../../../src/core/document/workbook";
import { removeStep } from "../../../src/core/steps/step-edits";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const book = smallEdition(3);
const kinds = (from: Workbook, to: Workbook) => differenceBetween(from, to, "x")?.operations.map(({ kind }) => kind);

/** The difference leads from one to the other, and its inverse back. */
function leads(from: Workbook, to: Workbook): void {
  const change = differenceBetween(from, to, "x");
  if (!change) throw new Error("no change says this");
  const there = applyChange(from, change);
  expect(there).toEqual(to);
  expect(applyChange(there, invert(change))).toEqual(from);
}

describe("the difference between two states of an edition", () => {
  it("is nothing between equal ones, even when nothing is shared", () => {
    expect(kinds(book, book)).toEqual([]);
    expect(kinds(book, structuredClone(book))).toEqual([]);
  });

  it("is one write for each cell that differs, text and formulas and blanks alike", () => {
    const typed = afterTyping(book, [
      ["pieces", "p1", "cast.slip", "900"],
      ["pieces", "p1", "glaze.area", "={route[glaze]:area}+20"],
    ]);
    expect(kinds(book, typed)).toEqual(["cell", "cell"]);
    leads(book, typed);
    leads(typed, book);
  });

  it("says steps, columns, pieces, title and lists that came or went", () => {
    const added = addOwnColumn(book, "pieces", { title: "Shelf", unit: "", type: "text", formula: "" });
    if (!added.ok) throw new Error(added.problems[0]?.message);
    const wider = applyChange(book, added.value);
    const gone = removeStep(wider, "fettle");
    if (!gone.ok) throw new Error(gone.problems[0]?.message);
    const shorter = applyChange(wider, gone.value);
    const renamed = { ...shorter, meta: { ...shorter.meta, title: "Other" } };
    const logged = applyChange(renamed, {
      label: "log",
      operations: [
        addEntry(renamed, "log", {
          id: "l1",
          at: "2026-11-25T08:00",
          act: "lost",
          label: "Lost",
          pieces: [],
          writes: [],
        }),
        addEntry(renamed, "ranges", { id: "r1", sheet: "edition", row: "wage", column: "value", low: 1, high: 2 }),
      ],
    });
    for (const other of [wider, shorter, renamed, logged, smallEdition(5), smallEdition(1)]) {
      leads(book, other);
      leads(other, book);
      leads(logged, other);
    }
  });

  it("puts rows, columns and entries of another order in that order", () => {
    const reversed: Workbook = {
      ...book,
      sheets: {
        ...book.sheets,
        materials: { ...book.sheets.materials, rows: book.sheets.materials.rows.toReversed() },
        kilns: { ...book.sheets.kilns, columns: book.sheets.kilns.columns.toReversed() },
      },
    };
    leads(book, reversed);
    leads(reversed, book);
  });

  it("takes a row whose own rules differ out and puts the other in", () => {
    const rows = book.sheets.edition.rows.map((row, at) => (at === 2 ? { ...row, own: true } : row));
    leads(book, { ...book, sheets: { ...book.sheets, edition: { ...book.sheets.edition, rows } } });
  });

  it("is told not to exist where a change can't say it", () => {
    expect(differenceBetween(book, { ...book, template: { id: "other", version: 2 } }, "x")).toBeUndefined();
    expect(differenceBetween(book, { ...book, later: [1] }, "x")).toBeUndefined();
    const titled = { ...book.sheets.pieces, title: "Lanterns" };
    expect(differenceBetween(book, { ...book, sheets: { ...book.sheets, pieces: titled } }, "x")).toBeUndefined();
  });
});
