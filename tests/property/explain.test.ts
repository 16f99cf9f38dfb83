// Over every computed cell of the demo and of each template's standard run: what an explanation says must be so.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../src/app/demo";
import { agrees, evaluate, namesIn } from "../../src/app/explain/evaluate";
import type { Part } from "../../src/app/explain/part";
import { troubleTrail } from "../../src/app/explain/trail";
import { explain } from "../../src/app/explain/tree";
import { usersOf } from "../../src/app/explain/users";
import { cellKey, parsed, type View } from "../../src/app/explain/view";
import { listTemplates } from "../../src/app/templates";
import { type CellName, columnOf, formulaOf, rowOf } from "../../src/core/access";
import { applyChange } from "../../src/core/change";
import { columnFor } from "../../src/core/formula";
import { functionNamed } from "../../src/engine/functions/index";
import { isTrouble } from "../../src/engine/values";
import { computedCells, viewOfBook } from "../tools/explained";
import { typed } from "../tools/small-edition";
import { standardRun } from "../tools/standard-run";

const books = [
  { name: "Marram", book: demoEdition() },
  ...listTemplates().flatMap(({ folder, template }) =>
    template.ok ? [{ name: folder, book: standardRun({ ...template.value, wanted: 24 }) }] : [],
  ),
];

/** The lines under a cell, down to the cells its formula names and no further; pages of groups included. */
function within(part: Part): Part[] {
  const isOwn = part.role === "cell" && part.joins.as !== "whole";
  if (isOwn || part.role === "breakdown" || !part.open) return [];
  return part.open().parts.flatMap((one) => [one, ...within(one)]);
}

/** What a formula may list: the cells it names, rows of the columns it names, and what its functions read unasked. */
function mayList(view: View, cell: CellName): (named: CellName) => boolean {
  const column = columnOf(view.book, cell.sheet, cell.column);
  const row = rowOf(view.book, cell.sheet, cell.row);
  const formula = (column && row && formulaOf(column, row)) ?? "";
  const tree = parsed(view, formula);
  const cells = new Set<string>();
  const columns = new Set<string>();
  for (const name of tree ? namesIn(tree) : []) {
    if (name.kind === "name") cells.add(`edition ${name.name} value`);
    else if (name.to.is === "own") cells.add(`${cell.sheet} ${cell.row} ${name.to.column}`);
    else if (name.to.is === "fixed") cells.add(`${name.to.sheet} ${name.to.row} ${name.to.column}`);
    else columns.add(`${name.to.sheet} ${columnFor(name.to.column, cell.row)}`);
  }
  for (const [, word = ""] of formula.matchAll(/([A-Z_]+)\(/g))
    for (const read of functionNamed(word)?.reads ?? []) columns.add(`${read.sheet} ${read.column}`);
  return (named) => cells.has(cellKey(named)) || columns.has(`${named.sheet} ${named.column}`);
}

const LEAVES = ["input", "literal", "blank"];

describe.each(books)("in $name", ({ book }) => {
  const view = viewOfBook(book);
  const all = computedCells(book);

  test("every formula, reckoned anew, gives its cell's value, so that every cell can be taken apart", () => {
    const calculated = all.filter((cell) => explain(view, cell).open?.().whole === "calculated");
    expect(calculated).toEqual([]);
    // Against the engine's own value, not against what a tree made of it.
    const wrong = all.filter((cell) => {
      const [column, row] = [columnOf(book, cell.sheet, cell.column), rowOf(book, cell.sheet, cell.row)];
      const tree = column && row && parsed(view, formulaOf(column, row) ?? "");
      const value = view.value(cell);
      return !tree || !(isTrouble(value) || agrees(evaluate(tree, { view, cell }), value, 1));
    });
    expect(wrong).toEqual([]);
  });

  test("the terms of every sum add up to it, and so do their shares to one", () => {
    let sums = 0;
    for (const cell of all) {
      const root = explain(view, cell);
      for (const part of [root, ...within(root)]) {
        const opened = part.role === "more" ? undefined : part.open?.();
        if (opened?.whole !== "sum") continue;
        sums += 1;
        const terms = opened.parts.flatMap(({ joins }) => (joins.as === "term" ? [joins] : []));
        const size = terms.reduce((total, { amount }) => total + Math.abs(amount ?? 0), 0);
        const sum = terms.reduce((total, { amount }) => total + (amount ?? Number.NaN), 0);
        const value = part.value === "" || part.value === null ? 0 : Number(part.value);
        expect(Math.abs(sum - value), `${cellKey(cell)}: ${part.words}`).toBeLessThanOrEqual(1e-9 * Math.max(1, size));
        const shares = terms.map(({ share }) => share).filter((share) => share !== undefined);
        if (shares.length > 0)
          expect(
            shares.reduce((a, b) => a + b, 0),
            part.words,
          ).toBeCloseTo(1, 9);
      }
    }
    expect(sums).toBeGreaterThan(100);
  });

  test("a group by what its cells are made of adds up to the group, level after level", () => {
    let levels = 0;
    const check = (part: Part, deep: number): void => {
      const made = part.open?.().parts.find(({ role }) => role === "breakdown");
      const opened = made?.open?.();
      if (!made || opened?.whole !== "sum") return;
      levels += 1;
      const terms = opened.parts.flatMap(({ joins }) => (joins.as === "term" ? [joins.amount ?? Number.NaN] : []));
      const size = terms.reduce((total, amount) => total + Math.abs(amount), 0);
      const sum = terms.reduce((total, amount) => total + amount, 0);
      expect(Math.abs(sum - Number(made.value)), part.words).toBeLessThanOrEqual(1e-9 * Math.max(1, size));
      if (deep > 0) for (const one of opened.parts) check(one, deep - 1);
    };
    for (const line of ["per_good", "own_lost", "revenue", "margin"]) {
      const root = explain(view, { sheet: "results", row: line, column: "value" });
      for (const part of within(root).filter(({ role }) => role === "group")) check(part, 3);
    }
    expect(levels).toBeGreaterThan(3);
  });

  test("every line ends in an input, a literal or a blank, and lists no cell that the formula does not name", () => {
    for (const cell of all) {
      const root = explain(view, cell);
      const isListed = mayList(view, cell);
      for (const part of within(root)) {
        if (!part.open) expect(LEAVES, `${cellKey(cell)}: ${part.words}`).toContain(part.role);
        if (part.cell) expect(isListed(part.cell), `${cellKey(cell)} lists ${cellKey(part.cell)}`).toBe(true);
        else if (part.open && part.role !== "more") expect(part.open().parts.length, part.words).toBeGreaterThan(0);
      }
    }
  });

  test("a cell used by another lists it among its users", () => {
    // Some cells only: each asks for the users of all its parts.
    for (const cell of all.filter((_, at) => at % 97 === 0)) {
      const named = within(explain(view, cell)).flatMap((part) =>
        part.cell && part.role !== "working" ? [part.cell] : [],
      );
      for (const one of named.slice(0, 12)) {
        const users = usersOf(view, one).some(
          ({ sheet, column, rows }) => sheet === cell.sheet && column === cell.column && rows.includes(cell.row),
        );
        expect(users, `${cellKey(one)} is used by ${cellKey(cell)}`).toBe(true);
      }
    }
  });
});

describe("troubles", () => {
  const start = { sheet: "materials", row: "m1", column: "pack_price" } as const;

  test("every trail goes from cell to named cell and ends where the engine says that it began", () => {
    const book = demoEdition();
    const change = typed(
      book,
      [
        ["materials", "m1", "pack_price", "=1/0"],
        ["pieces", "p7", "fettle.labour", '="a"+1'],
        ["edition", "loading_minutes", "value", "=SQRT(-1)"],
      ],
      true,
    );
    const view = viewOfBook(applyChange(book, change));
    const troubled = computedCells(view.book).filter((cell) => isTrouble(view.value(cell)));
    expect(troubled.length).toBeGreaterThan(300);
    for (const cell of troubled) {
      const value = view.value(cell);
      const trail = troubleTrail(view, cell);
      expect(trail.at(-1), cellKey(cell)).toEqual(isTrouble(value) ? (value.from ?? cell) : undefined);
      trail.slice(1).forEach((next, at) => {
        expect(mayList(view, trail[at] ?? start)(next), `${cellKey(trail[at] ?? start)} → ${cellKey(next)}`).toBe(true);
      });
    }
  });
});
