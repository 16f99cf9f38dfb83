// Whatever can be saved can be opened again: each limit is held where a change is made, and the reader takes what is within.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, type Change, type Operation } from "../../../src/core/document/change";
import { checkSize } from "../../../src/core/document/check-size";
import { readDocument } from "../../../src/core/document/document-file";
import { editMeta } from "../../../src/core/document/edits";
import { COLUMN_MOST, LISTS_MOST, META_MOST, RAW_MOST, SHEET_MOST } from "../../../src/core/document/limits";
import { addEntry } from "../../../src/core/document/list-edits";
import { addOwnColumn, addOwnInput } from "../../../src/core/document/own-edits";
import type { Column, ListEntry, Row, Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import type { Result } from "../../../src/core/problem";
import { addStep, repeatStep } from "../../../src/core/steps/step-edits";
import { errorsOf, evaluateAnew } from "../../tools/evaluate";
import { refusal, smallEdition } from "../../tools/small-edition";

const book = smallEdition();
const must = (made: Result<Change>): Change => {
  if (!made.ok) throw new Error(made.problems[0]?.message);
  return made.value;
};
const reopened = (at: Workbook) => readDocument(writeDocument(at), "limits.edition.json");
const change = (...operations: readonly Operation[]): Change => ({ label: "x", operations });
const refused = (one: Change, before = book) =>
  checkSize(before, applyChange(before, one), one).map(({ message }) => message);

const cell = (is: string | number | { readonly f: string }): Operation =>
  ({ kind: "cell", sheet: "pieces", row: "p1", column: "note", was: undefined, is }) as Operation;
const rows = (count: number): readonly Row[] =>
  Array.from({ length: count }, (_, at) => ({ id: `f${at + 10}`, cells: {} }));
const columns = (count: number): readonly Column[] =>
  Array.from({ length: count }, (_, at) => ({
    key: `my_${at}`,
    title: `My ${at}`,
    unit: "",
    kind: "input",
    type: "number",
    own: true,
  }));
const logEntry = (at: number, more: Partial<ListEntry<"log">> = {}): ListEntry<"log"> => ({
  id: `l${at}`,
  at: "2026-02-12T09:30",
  act: "lost",
  label: "Lost",
  pieces: [],
  writes: [],
  ...more,
});
const withLog = (count: number): Workbook => ({
  ...book,
  lists: { ...book.lists, log: Array.from({ length: count }, (_, at) => logEntry(at)) },
});
const own = (most: number): Column => ({
  key: "my_sum",
  title: "Sum",
  unit: "",
  kind: "computed",
  type: "number",
  formula: `=${"1".repeat(most - 1)}`,
  own: true,
});
const added = (column: Column) => change({ kind: "add columns", sheet: "pieces", at: 0, columns: [column] });

describe("a limit is held where the change is made, and what is within it can be read", () => {
  const cases: readonly (readonly [string, (most: number) => Change, number, string])[] = [
    [
      "a text",
      (most) => change(cell("a".repeat(most))),
      RAW_MOST.text,
      "Pieces 01, note, text: found “20\u202f001 characters”",
    ],
    [
      "a formula of a column",
      (most) => added(own(most)),
      COLUMN_MOST.formula,
      "Pieces, column Sum, formula: found “4\u202f001 characters”, but it takes up to 4\u202f000. Nothing was changed. Split it over several columns.",
    ],
    [
      "columns",
      (most) => change({ kind: "add columns", sheet: "kilns", at: 0, columns: columns(most - kilnColumns) }),
      SHEET_MOST.columns,
      "Kilns: found “2\u202f001 columns”, but it takes up to 2\u202f000.",
    ],
    [
      "firings",
      (most) => change({ kind: "add rows", sheet: "firings", at: 0, rows: rows(most - 2) }),
      SHEET_MOST.rows,
      "Firings: found “30\u202f001 rows”, but it takes up to 30\u202f000.",
    ],
    [
      "entries of the run log",
      (most) => change({ kind: "list", list: "log", at: 0, was: undefined, is: logEntry(most) }),
      LISTS_MOST.log[0],
      "The run log: found “20\u202f001 entries”, but it takes up to 20\u202f000.",
    ],
    [
      "a note in the run log",
      (most) => change(addEntry(book, "log", logEntry(1, { note: "a".repeat(most) }))),
      LISTS_MOST.log[1].note,
      "The run log, note: found “2\u202f001 characters”",
    ],
    [
      "the title",
      (most) => editMeta(book, { title: "a".repeat(most) }, "Title"),
      META_MOST.title,
      "Small, title: found “201 characters”, but it takes up to 200.",
    ],
    [
      "an account's name",
      (most) => editMeta(book, { accounts: { sales: "a".repeat(most) } }, "Account"),
      META_MOST.account,
      "Small, account: found “121 characters”",
    ],
    [
      "a reason",
      (most) => editMeta(book, { reasons: ["a".repeat(most)] }, "Reasons"),
      META_MOST.reasons[1],
      "Small, reasons: found “301 characters”",
    ],
    [
      "reasons",
      (most) => editMeta(book, { reasons: Array.from({ length: most }, (_, at) => `${at}`) }, "Reasons"),
      META_MOST.reasons[0],
      "Small, reasons: found “101 entries”",
    ],
  ];
  const kilnColumns = book.sheets.kilns.columns.length;

  test.each(cases)("%s", (name, make, most, message) => {
    const before = name === "entries of the run log" ? withLog(most - 1) : book;
    expect(refused(make(most), before)).toEqual([]);
    const within = reopened(applyChange(before, make(most)));
    expect(within.ok ? [] : within.problems.map(({ message }) => message)).toEqual([]);
    const full = name === "entries of the run log" ? withLog(most) : book;
    expect(refused(make(most + 1), full).join()).toContain(message);
  });

  test("a cell's formula is refused as it is typed, with its cell", () => {
    const typed = `="${"a".repeat(RAW_MOST.f)}"`;
    expect(refusal(book, ["pieces", "p1", "cast.slip", typed])).toBe(
      "Pieces 01, Cast: slip kept, formula: found “8\u202f003 characters”, but it takes up to 8\u202f000. Nothing was changed. Split it over several columns.",
    );
  });

  test("a number that can't be written down is refused, not kept as nothing", () => {
    expect(refused(change(cell(Number.NaN)))).toEqual([
      "Pieces 01, note: found NaN, but it takes a number that can be written down.",
    ]);
  });

  test("what is beyond a limit already can be made smaller", () => {
    const before = withLog(LISTS_MOST.log[0] + 5);
    expect(refused(editMeta(before, { title: "Still" }, "Title"), before)).toEqual([]);
    const less = change({ kind: "list", list: "log", at: 0, was: logEntry(0), is: undefined });
    expect(refused(less, before)).toEqual([]);
    expect(reopened(before).ok).toBe(true);
  });
});

describe("formulas made for the route", () => {
  test("the demo with its glaze firing 77 times and more is saved, opened and calculated", () => {
    let at = demoEdition();
    const glaze = at.sheets.route.rows.find(({ cells }) => cells.title === "Glaze firing")?.id ?? "";
    const started = evaluateAnew(at)("results", "put_in", "value");
    while (at.sheets.route.rows.length < 90) at = applyChange(at, must(repeatStep(at, glaze)));
    const own = at.sheets.firings.columns.find(({ key }) => key === "load_cm2")?.formula ?? "";
    expect(own).toBe(demoEdition().sheets.firings.columns.find(({ key }) => key === "load_cm2")?.formula);
    // Between two steps there is room for so many halves only.
    const orders = at.sheets.route.rows.map(({ cells }) => Number(cells.order));
    expect(orders).toEqual([...new Set(orders)].sort((a, b) => a - b));
    const read = reopened(at);
    expect(read).toEqual({ ok: true, value: at });
    const values = evaluateAnew(at);
    expect(errorsOf(at, values)).toEqual([]);
    expect(values("results", "put_in", "value")).toBe(started);
  });

  test("a route as long as it may be is calculated, and one step more refused", () => {
    let at = book;
    while (at.sheets.pieces.columns.length + 9 <= SHEET_MOST.columns)
      at = applyChange(at, must(repeatStep(at, "glaze")));
    expect(errorsOf(at, evaluateAnew(at))).toEqual([]);
    const { length } = at.sheets.pieces.columns;
    expect(refused(must(repeatStep(at, "glaze")), at)).toEqual([
      `Pieces: found “${(length + 9).toLocaleString("en").replace(",", "\u202f")} columns”, but it takes up to 2\u202f000. Nothing was changed. Remove what is no longer needed, or go on in an edition of its own.`,
    ]);
    expect(reopened(at)).toEqual({ ok: true, value: at });
    expect(rowOf(at, "route", "cast")).toBeDefined();
  });
});

test("own columns and inputs within the limits come back", () => {
  const column = must(addOwnColumn(book, "pieces", { title: "Luck", unit: "", type: "number", formula: "={own}*2" }));
  const grown = applyChange(book, column);
  const both = applyChange(grown, must(addOwnInput(grown, "Rent", "¤")));
  expect(reopened(both)).toEqual({ ok: true, value: both });
});

test("a step put first again and again comes before all others, and is read back", () => {
  let at = book;
  for (let count = 1; count <= 4; count += 1)
    at = applyChange(at, must(addStep(at, { kind: "hand", title: `First ${count}` }, undefined)));
  const orders = at.sheets.route.rows.map(({ cells }) => Number(cells.order));
  expect(orders).toEqual(orders.toSorted((a, b) => a - b));
  expect(reopened(at)).toEqual({ ok: true, value: at });
});
