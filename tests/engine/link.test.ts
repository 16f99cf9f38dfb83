import { describe, expect, test } from "vitest";
import { applyChange, type Change } from "../../src/core/document/change";
import { widthChange } from "../../src/core/document/edits";
import { eachSteps } from "../../src/core/sheets/each-step";
import { implicitArguments } from "../../src/engine/functions/index";
import { columnLetters, type Layout, layOut, layoutOf } from "../../src/engine/layout";
import { linkFormula, prepareFormula } from "../../src/engine/link";
import { affectedBy, writesFor } from "../../src/engine/writes";
import { smallEdition } from "../tools/small-edition";

const book = smallEdition();

/** A layout with known indices: columns A, B, … and rows from 1. */
function layout(): Layout {
  const made = layoutOf(book);
  const layoutOfSheet = (columns: readonly string[], rows: readonly string[]) => ({
    rows: new Map(rows.map((id, at) => [id, at])),
    columns: new Map(columns.map((key, at) => [key, at])),
    height: 20,
    freeRows: [],
    nextRow: rows.length,
    freeColumns: [],
    nextColumn: columns.length,
  });
  return {
    ...made,
    edition: layoutOfSheet(["label", "value"], ["wage", "k2"]),
    pieces: layoutOfSheet(["piece", "glaze.coats", "own"], ["p1", "p2"]),
    route: layoutOfSheet(["area", "cost"], ["glaze", "cast"]),
    firings: layoutOfSheet(["id", "cost", "weight"], ["f1"]),
  };
}

function linked(formula: string, sheet: "pieces" | "route" = "pieces", row = "p2", at = layout()): string {
  const prepared = prepareFormula(
    formula,
    (word) => at.edition.rows.has(word),
    implicitArguments,
    eachSteps(smallEdition()),
  );
  return prepared.problem ?? linkFormula(prepared, sheet, row, at);
}

describe("linkFormula", () => {
  test.each([
    ["={own}*2", "=C2*2"],
    ["=SUM({pieces:own})", "=SUM(pieces!$C$1:$C$20)"],
    ["={route[cast]:area}", "=route!$A$2"],
    ["=wage/60", "=edition!$B$1/60"],
    ["=k2+1", "=edition!$B$2+1"],
    ["=IF(true,1,FALSE)", "=IF(TRUE(),1,FALSE())"],
    ['="A1 {own} wage"', '="A1 {own} wage"'],
    ["=nobody", "=nobody"],
    ["={gone}+{pieces:gone}+{route[gone]:area}", "=#REF!+#REF!+#REF!"],
    ['=FIRING_SHARE("F1",{own})', '=FIRING_SHARE(firings!$A$1:$A$20,firings!$B$1:$B$20,firings!$C$1:$C$20,"F1",C2)'],
    ["=SUM(FIRING_SHARE(1,2))", "=SUM(FIRING_SHARE(firings!$A$1:$A$20,firings!$B$1:$B$20,firings!$C$1:$C$20,1,2))"],
  ])("%s → %s", (formula, expected) => {
    expect(linked(formula)).toBe(expected);
  });

  test("the column of this row's own step, or nothing where the step has none", () => {
    expect(linked("=SUM({pieces:@.coats})", "route", "glaze")).toBe("=SUM(pieces!$B$1:$B$20)");
    expect(linked("=SUM({pieces:@.coats})", "route", "cast")).toBe("=SUM(0)");
  });

  test("says why a formula can't be linked", () => {
    expect(linked("=b2")).toBe("names nothing");
    expect(linked("={own")).toBe("no formula");
  });
});

describe("layout", () => {
  test.each([
    [0, "A"],
    [25, "Z"],
    [26, "AA"],
    [51, "AZ"],
    [52, "BA"],
    [701, "ZZ"],
    [702, "AAA"],
    [18_277, "ZZZ"],
  ])("column %i is %s", (index, letters) => {
    expect(columnLetters(index)).toBe(letters);
  });

  const columns = [{ key: "x.a", title: "a", unit: "", kind: "input", type: "text" } as const];
  const add: Change = { label: "", operations: [{ kind: "add columns", sheet: "pieces", at: 0, columns }] };
  const remove: Change = { label: "", operations: [{ kind: "remove columns", sheet: "pieces", at: 0, columns }] };
  const rows = (count: number) => Array.from({ length: count }, (_, at) => ({ id: `n${at}`, cells: {} }));

  test("indices of removed columns and rows are given out again, so that no number of undos uses them up", () => {
    const at = layoutOf(book);
    const before = [at.pieces.nextColumn, at.pieces.nextRow];
    const more: Change = { label: "", operations: [{ kind: "add rows", sheet: "pieces", at: 0, rows: rows(3) }] };
    const fewer: Change = { label: "", operations: [{ kind: "remove rows", sheet: "pieces", at: 0, rows: rows(3) }] };
    for (let count = 0; count < 5000; count += 1) for (const change of [add, more, remove, fewer]) layOut(at, change);
    expect(at.pieces.nextColumn).toBe((before[0] ?? 0) + 1);
    expect(at.pieces.nextRow).toBe((before[1] ?? 0) + 3);
    expect(at.pieces.columns.has("x.a")).toBe(false);
  });

  test("a sheet grows before its last row is used, and says by how much", () => {
    const at = layoutOf(book);
    const height = at.pieces.height;
    const change = (count: number): Change => ({
      label: "",
      operations: [{ kind: "add rows", sheet: "pieces", at: 0, rows: rows(count) }],
    });
    // The last row of every whole-column range stays blank, so that ranges grow with what goes in above it.
    const room = height - 1 - at.pieces.nextRow;
    expect(layOut(layoutOf(book), change(room)).size).toBe(0);
    expect(layOut(layoutOf(book), change(room + 1)).size).toBe(1);
    const grown = layOut(at, change(100));
    expect(at.pieces.height).toBe(height + (grown.get("pieces") ?? 0));
    expect(at.pieces.nextRow).toBeLessThan(at.pieces.height);
    expect(at.route.height).toBe(layoutOf(book).route.height);
  });
});

describe("writes", () => {
  test("a cell is one write; a row is one for each of its columns; what goes is blanked", () => {
    const at = layoutOf(book);
    const cell = { kind: "cell", sheet: "pieces", row: "p1", column: "note", was: undefined, is: "x" } as const;
    expect(writesFor(book, at, { label: "", operations: [cell] }, "after")).toHaveLength(1);
    const remove = { kind: "remove rows", sheet: "pieces", at: 0, rows: book.sheets.pieces.rows.slice(0, 1) } as const;
    const blanks = writesFor(book, at, { label: "", operations: [remove] }, "before");
    expect(blanks).toHaveLength(book.sheets.pieces.columns.length);
    expect(blanks.every(({ row }) => row === undefined)).toBe(true);
  });

  test("a column's width calculates nothing anew; its formula, every cell of it", () => {
    const at = layoutOf(book);
    const change = widthChange(book, { sheet: "pieces", column: "own", px: 120 });
    expect(writesFor(book, at, change, "after")).toEqual([]);
    const [operation] = change.operations;
    if (operation?.kind !== "column") throw new Error("no column was changed");
    expect(operation.is).toEqual({ ...operation.was, width: 120 });
    const formula = { ...operation, is: { ...operation.is, formula: "=1" } };
    expect(writesFor(book, at, { label: "", operations: [formula] }, "after")).toHaveLength(
      book.sheets.pieces.rows.length,
    );
  });

  test("only formulas that name what came or went are linked anew", () => {
    const formulas = applyChange(book, {
      label: "",
      operations: ["={pieces[p2]:own}", "={ pieces[p2]:own }*2", "={pieces[p3]:own}", "=wage"].map((f, at) => ({
        kind: "cell",
        sheet: "pieces",
        row: `p${at + 1}`,
        column: "foot",
        was: undefined,
        is: { f },
      })),
    });
    const gone = formulas.sheets.pieces.rows.slice(1, 2);
    const change: Change = { label: "", operations: [{ kind: "remove rows", sheet: "pieces", at: 1, rows: gone }] };
    const written = affectedBy(formulas, layoutOf(formulas), change, new Set());
    expect(written.map(({ row, column }) => `${row} ${column?.key}`)).toEqual(["p1 foot", "p2 foot"]);
    expect(affectedBy(formulas, layoutOf(formulas), { label: "", operations: [] }, new Set())).toEqual([]);
  });
});
