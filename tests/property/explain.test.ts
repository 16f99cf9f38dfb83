// Over every computed cell of the demo and of each template's standard run: what an explanation says must be so.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import { agrees, evaluate, referencesIn } from "../../src/app/help/explain/evaluate";
import type { ExplainedPart, Opened } from "../../src/app/help/explain/part";
import { errorTrail } from "../../src/app/help/explain/trail";
import { explain } from "../../src/app/help/explain/tree";
import { usersOf } from "../../src/app/help/explain/users";
import { parsed, type View } from "../../src/app/help/explain/view";
import { listTemplates } from "../../src/app/plan/templates";
import { type CellName, cellKeyOf, columnOf, formulaOf, rowOf } from "../../src/core/document/access";
import { applyChange } from "../../src/core/document/change";
import { columnFor } from "../../src/core/formula/reference";
import { functionNamed } from "../../src/engine/functions/index";
import { isCellError } from "../../src/engine/values";
import { computedCells, viewOfBook } from "../tools/explained";
import { typed } from "../tools/small-edition";
import { standardRun } from "../tools/standard-run";

const books = [
  { name: "Marram", book: demoEdition() },
  ...listTemplates().flatMap(({ folder, template }) =>
    template.ok ? [{ name: folder, book: standardRun({ ...template.value, wanted: 10 }) }] : [],
  ),
];

/** Sees the lines under a cell, down to the cells its formula names and no further; pages of groups included. */
function walk(part: ExplainedPart, see: (part: ExplainedPart, opened: Opened | undefined) => void): void {
  const isOther = part.role === "cell" && part.joins.kind !== "whole";
  const opened = isOther || part.role === "breakdown" ? undefined : part.open?.();
  see(part, opened);
  for (const one of opened?.parts ?? []) walk(one, see);
}

function within(part: ExplainedPart): ExplainedPart[] {
  const found: ExplainedPart[] = [];
  walk(part, (one) => found.push(one));
  return found.slice(1);
}

/** How far the terms of a sum are from it, in parts of what is added up. */
function gap({ parts }: Opened, value: unknown): number {
  const amounts = parts.flatMap(({ joins }) => (joins.kind === "term" ? [joins.amount ?? Number.NaN] : []));
  const size = amounts.reduce((total, amount) => total + Math.abs(amount), 0);
  return Math.abs(amounts.reduce((total, amount) => total + amount, 0) - Number(value)) / Math.max(1, size);
}

function sharesOf({ parts }: Opened): number | undefined {
  const shares = parts.flatMap(({ joins }) =>
    joins.kind === "term" && joins.share !== undefined ? [joins.share] : [],
  );
  return shares.length === 0 ? undefined : shares.reduce((a, b) => a + b, 0);
}

/** What a formula may list: the cells it names, rows of the columns it names, and what its functions read unasked. */
function mayList(view: View, cell: CellName): (named: CellName) => boolean {
  const column = columnOf(view.book, cell.sheet, cell.column);
  const row = rowOf(view.book, cell.sheet, cell.row);
  const formula = (column && row && formulaOf(column, row)) ?? "";
  const tree = parsed(view, formula);
  const cells = new Set<string>();
  const columns = new Set<string>();
  for (const name of tree ? referencesIn(tree) : []) {
    if (name.kind === "name") cells.add(`edition ${name.name} value`);
    else if (name.to.kind === "own") cells.add(`${cell.sheet} ${cell.row} ${name.to.column}`);
    else if (name.to.kind === "cell") cells.add(`${name.to.sheet} ${name.to.row} ${name.to.column}`);
    else columns.add(`${name.to.sheet} ${columnFor(name.to.column, cell.row)}`);
  }
  for (const [, word = ""] of formula.matchAll(/([A-Z_]+)\(/g))
    for (const read of functionNamed(word)?.reads ?? []) columns.add(`${read.sheet} ${read.column}`);
  return (named) => cells.has(cellKeyOf(named)) || columns.has(`${named.sheet} ${named.column}`);
}

const LEAVES = ["input", "literal", "blank"];

describe.each(books)("in $name", ({ book }) => {
  const view = viewOfBook(book);
  const all = computedCells(book);

  test("every formula, calculated anew, gives its cell's value, so that every cell can be taken apart", () => {
    const calculated = all.filter((cell) => explain(view, cell).open?.().whole === "calculated");
    expect(calculated).toEqual([]);
    // Against the engine's own value, not against what a tree made of it.
    const wrong = all.filter((cell) => {
      const [column, row] = [columnOf(book, cell.sheet, cell.column), rowOf(book, cell.sheet, cell.row)];
      const tree = column && row && parsed(view, formulaOf(column, row) ?? "");
      const value = view.value(cell);
      return !tree || !(isCellError(value) || agrees(evaluate(tree, { view, cell }), value, 1));
    });
    expect(wrong).toEqual([]);
  });

  test("terms add up to their sum and shares to one; lines end in inputs, literals and blanks, and are named above", () => {
    const wrong: string[] = [];
    let sums = 0;
    for (const cell of all) {
      const isListed = mayList(view, cell);
      walk(explain(view, cell), (part, opened) => {
        const where = `${cellKeyOf(cell)}: ${part.words}`;
        if (opened?.whole === "sum") {
          sums += 1;
          if (!(gap(opened, part.value) <= 1e-9)) wrong.push(`${where} is no sum of its terms`);
          if (Math.abs((sharesOf(opened) ?? 1) - 1) > 1e-9) wrong.push(`${where} has shares that are not one`);
        }
        if (!part.open && !LEAVES.includes(part.role)) wrong.push(`${where} ends as ${part.role}`);
        if (part.open && opened?.parts.length === 0) wrong.push(`${where} opens to nothing`);
        if (part.cell && part.joins.kind !== "whole" && !isListed(part.cell)) wrong.push(`${where} is not named`);
      });
    }
    expect(wrong).toEqual([]);
    expect(sums).toBeGreaterThan(100);
  });

  test("a group by what its cells are made of adds up to the group, level after level", () => {
    let levels = 0;
    const check = (part: ExplainedPart, deep: number): void => {
      const made = part.open?.().parts.find(({ role }) => role === "breakdown");
      const opened = made?.open?.();
      if (!made || opened?.whole !== "sum") return;
      levels += 1;
      expect(gap(opened, made.value), part.words).toBeLessThanOrEqual(1e-9);
      if (deep > 0) for (const one of opened.parts) check(one, deep - 1);
    };
    for (const line of ["per_good", "own_lost", "revenue", "margin"]) {
      const root = explain(view, { sheet: "results", row: line, column: "value" });
      for (const part of within(root).filter(({ role }) => role === "group")) check(part, 3);
    }
    expect(levels).toBeGreaterThan(3);
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
        expect(users, `${cellKeyOf(one)} is used by ${cellKeyOf(cell)}`).toBe(true);
      }
    }
  });
});

describe("errors", () => {
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
    const withErrors = computedCells(view.book).filter((cell) => isCellError(view.value(cell)));
    expect(withErrors.length).toBeGreaterThan(300);
    for (const cell of withErrors) {
      const value = view.value(cell);
      const trail = errorTrail(view, cell);
      expect(trail.at(-1), cellKeyOf(cell)).toEqual(isCellError(value) ? (value.from ?? cell) : undefined);
      trail.slice(1).forEach((next, at) => {
        expect(mayList(view, trail[at] ?? start)(next), `${cellKeyOf(trail[at] ?? start)} → ${cellKeyOf(next)}`).toBe(
          true,
        );
      });
    }
  });
});
