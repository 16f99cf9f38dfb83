import { describe, expect, test } from "vitest";
import { rowLabel, rowOf } from "../../../src/core/document/access";
import { applyChange, invert } from "../../../src/core/document/change";
import { addRows, clearCells, editMeta, freshRowId, referencesTo, removeRows } from "../../../src/core/document/edits";
import { addPieces } from "../../../src/core/record/piece-edits";
import { afterTyping, refusal, smallEdition, typed, typing } from "../../tools/small-edition";

const book = smallEdition();

describe("writeEntries", () => {
  test("keeps the good entries and refuses the bad ones one by one", () => {
    const { change, refused } = typing(book, [
      ["pieces", "p1", "glaze.coats", "3"],
      ["pieces", "p2", "glaze.coats", "three"],
      ["pieces", "p3", "glaze.coats", "2"],
      ["pieces", "p4", "bisque.firing", "F9"],
    ]);
    expect(change.operations.map((operation) => (operation.kind === "cell" ? operation.row : ""))).toEqual([
      "p1",
      "p3",
    ]);
    expect(refused.map(({ code, where }) => `${code} ${where}`)).toEqual([
      "entry.number Pieces 02, Glaze: coats",
      "entry.choice Pieces 04, Bisque: firing",
    ]);
  });

  test("an entry that changes nothing makes no operation", () => {
    expect(typing(book, [["pieces", "p1", "piece", "01"]])).toEqual({
      change: { label: "Type", operations: [] },
      refused: [],
      messages: [],
    });
  });

  test("a blank entry clears an input", () => {
    const full = afterTyping(book, [["pieces", "p1", "glaze.coats", "3"]]);
    expect(rowOf(afterTyping(full, [["pieces", "p1", "glaze.coats", " "]]), "pieces", "p1")).toEqual(
      rowOf(book, "pieces", "p1"),
    );
  });

  test("a renamed firing takes its pieces with it, in one change", () => {
    const loaded = afterTyping(book, [
      ["pieces", "p1", "bisque.firing", "F1"],
      ["pieces", "p2", "bisque.firing", "F1"],
      ["pieces", "p3", "firing.firing", "F1"],
    ]);
    const change = typed(loaded, [["firings", "f1", "id", "B1"]]);
    expect(change.operations).toHaveLength(4);
    const after = applyChange(loaded, change);
    expect(referencesTo(after, "firings:id", "F1")).toEqual([]);
    expect(referencesTo(after, "firings:id", "B1")).toHaveLength(3);
    expect(applyChange(after, invert(change))).toEqual(loaded);
  });

  test("a renamed material, kiln and step keep what names them", () => {
    const after = afterTyping(book, [
      ["materials", "m2", "id", "White glaze"],
      ["kilns", "k2", "id", "Big kiln"],
      ["route", "bisque", "title", "First firing"],
    ]);
    expect(rowOf(after, "route", "glaze")?.cells.material).toBe("White glaze");
    expect(rowOf(after, "route", "bisque")?.cells).toMatchObject({ kiln: "Big kiln", title: "First firing" });
    expect(rowOf(after, "firings", "f1")?.cells.kiln).toBe("Big kiln");
  });

  test("refuses the same name twice, in the sheet and within one paste", () => {
    expect(refusal(book, ["pieces", "p1", "piece", "02"])).toBe(
      "Pieces 01, Piece: found “02”, but it takes a name that no other row has.",
    );
    const { change, refused } = typing(book, [
      ["firings", "f1", "id", "X1"],
      ["firings", "f2", "id", "x1"],
    ]);
    expect(change.operations).toHaveLength(1);
    expect(refused[0]?.message).toBe("Firings F2, Firing: found “x1”, but it takes a name that no other row has.");
  });

  test("a computed cell takes a value only on purpose, a hidden one never", () => {
    expect(refusal(book, ["pieces", "p1", "own", "12"])).toBe(
      "Pieces 01, own cost: found “12”, but it takes no entry, because it is computed. Give it another value on purpose in the card beside the sheet.",
    );
    expect(rowOf(afterTyping(book, [["pieces", "p1", "own", "12"]], true), "pieces", "p1")?.cells.own).toBe(12);
    expect(refusal(book, ["pieces", "p1", "lost_bare", "cast"], true)).toMatch(/^Pieces 01, lost before it was done: /);
    expect(refusal(book, ["route", "cast", "order", "9"], true)).toMatch(/^Route Cast, order: /);
  });

  test("the kind of a step stays what it was made with", () => {
    expect(refusal(book, ["route", "cast", "kind", "metal"])).toBe(
      "Route Cast, kind: found “metal”, but it takes the kind it was made with, cast. Add a step of the other kind and remove this one.",
    );
    expect(typing(book, [["route", "cast", "kind", "cast"]])).toMatchObject({
      change: { operations: [] },
      refused: [],
    });
  });

  test("the same cell twice ends with the last entry and can be undone", () => {
    const change = typed(book, [
      ["pieces", "p1", "note", "first"],
      ["pieces", "p1", "note", "second"],
    ]);
    const after = applyChange(book, change);
    expect(rowOf(after, "pieces", "p1")?.cells.note).toBe("second");
    expect(applyChange(after, invert(change))).toEqual(book);
  });

  test("a cell that is not there is our own mistake and throws", () => {
    expect(() => typing(book, [["pieces", "p99", "note", "x"]])).toThrow("no such cell: pieces p99 note");
    expect(() => typing(book, [["pieces", "p1", "nope", "x"]])).toThrow("no such cell: pieces p1 nope");
  });
});

describe("clearCells", () => {
  test("gives an overridden cell back to its formula and clears inputs", () => {
    const changed = afterTyping(book, [["pieces", "p1", "own", "12"]], true);
    const outcome = clearCells(changed, [{ sheet: "pieces", row: "p1", column: "own" }], "Give back");
    expect(applyChange(changed, outcome.change)).toEqual(book);
  });

  test("refuses to clear what must hold something, passes over what is blank", () => {
    const outcome = clearCells(
      book,
      [
        { sheet: "pieces", row: "p1", column: "piece" },
        { sheet: "pieces", row: "p1", column: "note" },
        { sheet: "pieces", row: "p99", column: "note" },
      ],
      "Clear",
    );
    expect(outcome.change.operations).toEqual([]);
    expect(outcome.refused.map(({ message }) => message)).toEqual([
      "Pieces 01, Piece: found nothing, but it takes something: it can't be blank.",
    ]);
  });
});

describe("rows", () => {
  test("go in at the end or after another one", () => {
    const row = { id: "p6", cells: { piece: "06" } };
    const ids = (after?: string) =>
      applyChange(book, addRows(book, "pieces", [row], "", after)).sheets.pieces.rows.map(({ id }) => id);
    expect(ids()).toEqual(["p1", "p2", "p3", "p4", "p5", "p6"]);
    expect(ids("p2")).toEqual(["p1", "p2", "p6", "p3", "p4", "p5"]);
  });

  test("added as pieces get numbers that nobody has, whatever the last one is called", () => {
    const renamed = afterTyping(book, [
      ["pieces", "p2", "piece", "7"],
      ["pieces", "p5", "piece", "6"],
    ]);
    const added = addPieces(renamed, 3);
    if (!added.ok) throw new Error(added.problems[0]?.message);
    const labels = applyChange(renamed, added.value).sheets.pieces.rows.map(({ cells }) => cells.piece);
    expect(labels).toEqual(["01", "7", "03", "04", "6", "8", "9", "10"]);
  });

  test("get ids that nobody has", () => {
    expect(freshRowId(book.sheets.pieces.rows, "p")).toBe("p6");
    expect(freshRowId([], "p")).toBe("p1");
    expect(freshRowId([{ id: "p10" }, { id: "px" }, { id: "p2" }], "p")).toBe("p11");
  });

  test("are removed wherever they stand, each once, whatever the order in which they are named", () => {
    const removed = removeRows(book, "pieces", ["p4", "p1", "p4", "p5"], "Remove");
    if (!removed.ok) throw new Error(removed.problems[0]?.message);
    const after = applyChange(book, removed.value);
    expect(after.sheets.pieces.rows.map(({ id }) => id)).toEqual(["p2", "p3"]);
    expect(applyChange(after, invert(removed.value))).toEqual(book);
  });

  test("that others name are not removed", () => {
    const loaded = afterTyping(book, [
      ["pieces", "p1", "bisque.firing", "F1"],
      ["pieces", "p2", "bisque.firing", "F1"],
    ]);
    const messages = (sheet: "firings" | "materials" | "kilns", id: string) => {
      const removed = removeRows(loaded, sheet, [id], "");
      return removed.ok ? [] : removed.problems.map(({ message }) => message);
    };
    expect(messages("firings", "f1")).toEqual([
      "Firings F1: found “2 cells that name it, first Pieces 01, Bisque: firing”, but it takes to be removed only when nothing names it. Change those cells first.",
    ]);
    expect(messages("firings", "f2")).toEqual([]);
    expect(messages("materials", "m1")[0]).toContain("1 cell that names it, first Route Cast, material");
    expect(messages("kilns", "k1")[0]).toContain("first Firings F2, kiln");
  });
});

test("editMeta changes what is given and keeps the rest", () => {
  const after = applyChange(book, editMeta(book, { title: "Other" }, "Title"));
  expect(after.meta).toEqual({ ...book.meta, title: "Other" });
});

test("rows are called by their names, or by their id where they have none", () => {
  expect(rowLabel("pieces", { id: "p1", cells: { piece: "007" } })).toBe("007");
  expect(rowLabel("pieces", { id: "p1", cells: {} })).toBe("p1");
  expect(rowLabel("pieces", { id: "p1", cells: { piece: { f: "=1" } } })).toBe("p1");
});

describe("rows that go together", () => {
  const book = smallEdition();
  const { rows } = book.sheets.pieces;
  const gone = (ids: readonly string[]) => {
    const removed = removeRows(book, "pieces", ids, "Fewer");
    if (!removed.ok) throw new Error(removed.problems[0]?.message);
    return removed.value;
  };

  test("are one step of the change where they are neighbours, whatever order they are named in", () => {
    const ids = rows.map(({ id }) => id);
    const change = gone(ids.toReversed());
    expect(change.operations).toHaveLength(1);
    expect(applyChange(book, change).sheets.pieces.rows).toEqual([]);
    expect(applyChange(applyChange(book, change), invert(change))).toEqual(book);
  });

  test("leave those between them, and come back where they were", () => {
    const odd = rows.filter((_, at) => at % 2 === 0).map(({ id }) => id);
    const change = gone(odd);
    const after = applyChange(book, change);
    expect(after.sheets.pieces.rows).toEqual(rows.filter((_, at) => at % 2 === 1));
    expect(applyChange(after, invert(change))).toEqual(book);
  });
});
