// Which edits still fit a document that went on without them.
import { describe, expect, it } from "vitest";
import { applyChange, type Change, type Operation } from "../../../src/core/document/change";
import { fitEdits } from "../../../src/core/document/fit-edits";
import { smallEdition } from "../../storage/small-edition";

const book = smallEdition(3);
const note = (row: string, is: string | undefined, was?: string): Operation => ({
  kind: "cell",
  sheet: "pieces",
  row,
  column: "note",
  was,
  is,
});
const edit = (label: string, ...operations: Operation[]): Change => ({ label, operations });
const [first] = book.sheets.pieces.rows;
if (!first) throw new Error("no rows");
const notesAfter = (change: Change) => applyChange(book, change).sheets.pieces.rows.map(({ cells }) => cells.note);

describe("edits of another state", () => {
  it("fit where the cell holds what it held, in turn, and become one change", () => {
    const { change, left } = fitEdits(book, [edit("a", note("p1", "x")), edit("b", note("p1", "y", "x"))], "both");
    expect([left, change.label, notesAfter(change)]).toEqual([[], "both", ["y", undefined, undefined]]);
    expect(change.operations).toHaveLength(1);
  });

  it("of many cells fit cell by cell; one that holds something else or is gone is left", () => {
    const pasted = edit("paste", note("p1", "x"), note("p2", "y", "other"), note("p9", "z"));
    const { change, left } = fitEdits(book, [pasted], "back");
    expect(notesAfter(change)).toEqual(["x", undefined, undefined]);
    expect(left).toEqual([
      {
        of: pasted,
        change: edit("paste", note("p2", "y", "other"), note("p9", "z")),
        why: "2 of 3 cells no longer hold what they did, or are gone",
      },
    ]);
  });

  it("that are in the document already are nothing left to do", () => {
    const after = applyChange(book, edit("a", note("p1", "x")));
    expect(fitEdits(after, [edit("a", note("p1", "x"))], "back").left).toEqual([]);
  });

  it("that add or remove rows fit whole or not at all", () => {
    const row = { ...first, id: "p7", cells: {} };
    const added = edit("add", { kind: "add rows", sheet: "pieces", at: 3, rows: [row] }, note("p7", "new"));
    const fitted = fitEdits(book, [added], "back");
    expect([fitted.left, notesAfter(fitted.change)]).toEqual([[], [undefined, undefined, undefined, "new"]]);
    const there = applyChange(book, fitted.change);
    expect(fitEdits(there, [added], "back").left[0]?.why).toContain("have changed since");
    const removed = edit("remove", { kind: "remove rows", sheet: "pieces", at: 0, rows: [row] });
    expect(fitEdits(book, [removed], "back").change.operations).toEqual([]);
    const settings = edit("name", { kind: "meta", was: { ...book.meta, title: "Other" }, is: book.meta });
    expect(fitEdits(book, [settings], "back").left).toHaveLength(1);
  });

  it("that break a rule of the document are left, whatever they say that was there", () => {
    const broken = edit("bad", {
      kind: "cell",
      sheet: "pieces",
      row: "p1",
      column: "id",
      was: first.cells.id,
      is: true,
    });
    const { change, left } = fitEdits(book, [broken], "back");
    expect([change.operations, left.length]).toEqual([[], 1]);
  });
});
