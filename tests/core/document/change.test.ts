import { describe, expect, test } from "vitest";
import {
  applyChange,
  type Change,
  invert,
  isEmptyChange,
  type Operation,
  sameRaw,
  squash,
} from "../../../src/core/document/change";
import { addRows, editMeta, removeRows } from "../../../src/core/document/edits";
import { addEntry, changeEntry, freshEntryId, removeEntry } from "../../../src/core/document/list-edits";
import type { Raw, Workbook } from "../../../src/core/document/workbook";
import { addStep, removeStep } from "../../../src/core/steps/step-edits";
import { smallEdition, typed } from "../../tools/small-edition";

const book = smallEdition();

function must(change: ReturnType<typeof removeRows>): Change {
  if (!change.ok) throw new Error(change.problems[0]?.message);
  return change.value;
}

const cellOf = (at: Workbook, row: string, column: string) =>
  at.sheets.pieces.rows.find(({ id }) => id === row)?.cells[column];

const write = (row: string, column: string, was: Raw | undefined, is: Raw | undefined): Operation => ({
  kind: "cell",
  sheet: "pieces",
  row,
  column,
  was,
  is,
});

describe("applyChange", () => {
  test("writes cells and leaves the old workbook as it was", () => {
    const before = structuredClone(book);
    const after = applyChange(book, typed(book, [["pieces", "p2", "cast.slip", "880"]]));
    expect(cellOf(after, "p2", "cast.slip")).toBe(880);
    expect(book).toEqual(before);
  });

  test("shares the sheets and rows that did not change", () => {
    const after = applyChange(book, typed(book, [["pieces", "p2", "cast.slip", "880"]]));
    expect(after.sheets.route).toBe(book.sheets.route);
    expect(after.sheets.pieces.rows[0]).toBe(book.sheets.pieces.rows[0]);
    expect(after.sheets.pieces.rows[1]).not.toBe(book.sheets.pieces.rows[1]);
  });

  test("clears a cell by taking its entry away, so that no key is left behind", () => {
    const full = applyChange(book, typed(book, [["pieces", "p1", "note", "a crack?"]]));
    const cleared = applyChange(full, { label: "", operations: [write("p1", "note", "a crack?", undefined)] });
    expect(Object.keys(cleared.sheets.pieces.rows[0]?.cells ?? {})).not.toContain("note");
  });

  test("follows cells through rows that come and go within one change", () => {
    const row = { id: "p9", cells: { piece: "09" } };
    const change: Change = {
      label: "",
      operations: [
        { kind: "add rows", sheet: "pieces", at: 0, rows: [row] },
        write("p9", "note", undefined, "first"),
        { kind: "remove rows", sheet: "pieces", at: 1, rows: book.sheets.pieces.rows.slice(0, 1) },
        write("p9", "note", "first", "second"),
      ],
    };
    const after = applyChange(book, change);
    expect(after.sheets.pieces.rows.map(({ id }) => id)).toEqual(["p9", "p2", "p3", "p4", "p5"]);
    expect(cellOf(after, "p9", "note")).toBe("second");
    expect(applyChange(after, invert(change))).toEqual(book);
  });

  test("keeps what a later version wrote beside the sheets", () => {
    const later = { ...book, cases: [{ name: "dear gas" }] } as Workbook;
    expect(applyChange(later, editMeta(later, { title: "New" }, "")).cases).toEqual([{ name: "dear gas" }]);
  });

  test("a row or column that is not there is our own mistake and throws", () => {
    const lost = write("p77", "note", undefined, "x");
    expect(() => applyChange(book, { label: "", operations: [lost] })).toThrow("a row that is not there: p77");
    const column = { key: "nope", title: "", unit: "", kind: "input", type: "text" } as const;
    const operation: Operation = { kind: "column", sheet: "pieces", was: column, is: column };
    expect(() => applyChange(book, { label: "", operations: [operation] })).toThrow("a column that is not there: nope");
  });
});

describe("invert takes back", () => {
  const step = addStep(book, { kind: "hand", title: "Sand" }, "bisque");
  const changes: readonly (readonly [string, Change])[] = [
    [
      "entries",
      typed(book, [
        ["pieces", "p1", "glaze.coats", "3"],
        ["edition", "wage", "value", "31"],
      ]),
    ],
    ["a renamed firing and the pieces in it", typed(book, [["firings", "f1", "id", "B1"]])],
    ["added rows", addRows(book, "pieces", [{ id: "p6", cells: { piece: "06" } }], "", "p2")],
    ["removed rows", must(removeRows(book, "pieces", ["p1", "p4", "p5"], ""))],
    ["an added step", must(step)],
    ["a removed step", must(removeStep(book, "glaze"))],
    ["a changed title", editMeta(book, { title: "Other", currency: "CHF" }, "")],
  ];
  test.each(changes)("%s", (_, change) => {
    const after = applyChange(book, change);
    expect(after).not.toEqual(book);
    expect(applyChange(after, invert(change))).toEqual(book);
    expect(invert(invert(change))).toEqual(change);
  });
});

describe("squash", () => {
  test("joins writes to one cell and forgets those that come to nothing", () => {
    const a: Change = {
      label: "a",
      operations: [write("p1", "note", undefined, "x"), write("p2", "note", undefined, "y")],
    };
    const b: Change = { label: "b", operations: [write("p1", "note", "x", "z"), write("p2", "note", "y", undefined)] };
    expect(squash([a, b], "both")).toEqual({ label: "both", operations: [write("p1", "note", undefined, "z")] });
  });

  test("does not join writes across a change of structure", () => {
    const rows = [{ id: "p6", cells: { piece: "06" } }];
    const add: Operation = { kind: "add rows", sheet: "pieces", at: 5, rows };
    const first = write("p1", "note", undefined, "x");
    const second = write("p1", "note", "x", "z");
    const squashed = squash([{ label: "", operations: [first, add, second] }], "");
    expect(squashed.operations).toEqual([first, add, second]);
  });

  test("a formula typed twice the same is no change", () => {
    const same = write("p1", "glaze.area", { f: "=1+1" }, { f: "=1+1" });
    expect(isEmptyChange(squash([{ label: "", operations: [same] }], ""))).toBe(true);
  });
});

test("sameRaw compares formulas by text and nothing with nothing", () => {
  expect(sameRaw({ f: "=1" }, { f: "=1" })).toBe(true);
  expect(sameRaw({ f: "=1" }, { f: "=2" })).toBe(false);
  expect(sameRaw({ f: "=1" }, "=1")).toBe(false);
  expect(sameRaw(undefined, undefined)).toBe(true);
  expect(sameRaw(undefined, "")).toBe(false);
  expect(sameRaw(1, "1")).toBe(false);
});

describe("what is kept beside the sheets", () => {
  const wage = { id: "a1", sheet: "edition", row: "wage", column: "value", low: 18, high: 24 } as const;
  const more = { ...wage, high: 30 };
  const change = (operations: readonly Operation[]): Change => ({ label: "", operations });

  test("is added, changed and taken out, and undone exactly", () => {
    const added = change([addEntry(book, "ranges", wage)]);
    const one = applyChange(book, added);
    expect(one.lists.ranges).toEqual([wage]);
    const changed = change(changeEntry(one, "ranges", more));
    const two = applyChange(one, changed);
    expect(two.lists.ranges).toEqual([more]);
    const removed = change(removeEntry(two, "ranges", "a1"));
    const three = applyChange(two, removed);
    expect(three.lists.ranges).toEqual([]);
    const back = [removed, changed, added].reduce((at, step) => applyChange(at, invert(step)), three);
    expect(back).toEqual(book);
    expect(one.sheets.pieces).toBe(book.sheets.pieces);
  });

  test("has ids of its own, and an entry that is not there changes nothing", () => {
    expect(freshEntryId(book, "log")).toBe("l1");
    expect(changeEntry(book, "ranges", wage)).toEqual([]);
    expect(removeEntry(book, "ranges", "a1")).toEqual([]);
    expect(() =>
      applyChange(book, change([{ kind: "list", list: "ranges", at: 0, was: wage, is: undefined }])),
    ).toThrow("an entry that is not there");
  });
});
