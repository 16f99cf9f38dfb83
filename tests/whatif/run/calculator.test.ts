// What the calculator says of a document and of a change is what the engine says: in the demo, in every template run to its end, and in random
// workbooks, for numbers as odd as can be and for cells that are cleared.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { listTemplates } from "../../../src/app/plan/templates";
import { type CellName, rawAt, specOf } from "../../../src/core/document/access";
import { applyChange } from "../../../src/core/document/change";
import type { SheetKey, Workbook } from "../../../src/core/document/workbook";
import { Engine } from "../../../src/engine/engine";
import { layoutOf } from "../../../src/engine/layout";
import { ValueStore } from "../../../src/engine/value-store";
import { Calculator } from "../../../src/whatif/run/calculator";
import { compareCalculator, compareWith } from "../../tools/calculator-compare";
import { changeOf } from "../../tools/random-commands";
import { randomInputs, randomWorkbook, seeded } from "../../tools/random-workbook";
import { afterTyping, smallEdition } from "../../tools/small-edition";
import { standardRun } from "../../tools/standard-run";

const SHEETS: readonly SheetKey[] = ["edition", "route", "materials", "kilns", "programmes", "tariffs"];

/** The numeric inputs of each column, as the app makes them ready. */
function columnsOf(book: Workbook): CellName[][] {
  return SHEETS.flatMap((sheet) => {
    const { rows, columns } = book.sheets[sheet];
    return columns
      .map(({ key }) => key)
      .map((key) =>
        rows.flatMap((row): CellName[] => {
          const column = columns.find((one) => one.key === key);
          const spec = column && specOf(column, row);
          return spec?.kind === "input" && spec.type === "number" ? [{ sheet, row: row.id, column: key }] : [];
        }),
      )
      .filter((cells) => cells.length > 0);
  });
}

const ODD = [0, -3, 1e12, Number.NaN, 0.5, 1, 7.25, 1e300];

/** One cell after the other is given another number, some odd, and back. */
function casesFor(book: Workbook, inputs: readonly CellName[], seed: number): number[][] {
  const random = seeded(seed);
  const today = inputs.map((cell) => {
    const raw = rawAt(book, cell);
    return typeof raw === "number" ? raw : Number.NaN;
  });
  const cases: number[][] = [];
  for (let at = 0; at < 4; at += 1) {
    const cell = Math.floor(random() * inputs.length);
    const before = cases.at(-1) ?? today;
    const now = before[cell] ?? 0;
    const isOdd = random() < 0.5;
    const odd = ODD[Math.floor(random() * ODD.length)] ?? 0;
    cases.push(before.with(cell, isOdd ? odd : Number.isNaN(now) ? 3 : now * 1.25));
  }
  return [...cases, today];
}

function expectSame(book: Workbook): void {
  let unanswered = 0;
  let cells = 0;
  const engine = new Engine(book);
  for (const [at, inputs] of columnsOf(book).entries()) {
    const found = compareWith(engine, book, inputs, casesFor(book, inputs, at + 1));
    const name = `${inputs[0]?.sheet} ${inputs[0]?.column}`;
    expect({ name, notes: found.notes, differences: found.differences.slice(0, 3) }).toEqual({
      name,
      notes: [],
      differences: [],
    });
    unanswered += found.unanswered;
    cells += found.cells;
  }
  engine.close();
  expect(cells).toBeGreaterThan(10_000);
  // Where cells that are numbers stop being numbers, everything is compiled anew.
  expect(unanswered).toBeLessThan(columnsOf(book).length * 3);
}

const templates = listTemplates().flatMap(({ template }) => (template.ok ? [template.value] : []));

describe("the calculator says what the engine says", () => {
  test("the demo", () => expectSame(demoEdition()), 400_000);

  test.each(templates.map((template) => [template.id, template] as const))(
    "the template %s, run to its end",
    (_, template) => expectSame(standardRun(template)),
    400_000,
  );

  test("a hundred random workbooks", () => {
    let [cells, refused, unanswered] = [0, 0, 0];
    for (let seed = 1; seed <= 100; seed += 1) {
      const book = randomWorkbook(seed);
      const { inputs, cases } = randomInputs(seed, book);
      const found = compareCalculator(book, inputs, cases);
      expect({ seed, differences: found.differences.slice(0, 3) }).toEqual({ seed, differences: [] });
      for (const note of found.notes) expect(`${seed}: ${note}`).toMatch(/depends on itself$/);
      refused += found.notes.length > 0 ? 1 : 0;
      unanswered += found.unanswered;
      cells += found.cells;
    }
    expect(cells).toBeGreaterThan(20_000);
    expect(refused).toBeLessThan(10);
    expect(unanswered).toBeGreaterThan(0);
  }, 240_000);
});

const WAGE: CellName = { sheet: "edition", row: "wage", column: "value" };

const calculatorOf = (book: Workbook) => new Calculator(book, layoutOf(book), []);

describe("preparing", () => {
  test("a formula that only the engine knows is told by its cell", () => {
    const book = afterTyping(smallEdition(), [["pieces", "p1", "own", "=SUMSQ(1;2)"]], true);
    const opened = calculatorOf(book).prepare([WAGE]);
    expect(!opened.ok && opened.notes.join()).toMatch(/pieces p1 own/);
  });

  test("a cell that is not there is told", () => {
    const opened = calculatorOf(smallEdition()).prepare([{ ...WAGE, row: "nothing" }]);
    expect(!opened.ok && opened.notes.join()).toMatch(/edition has no cell nothing/);
  });

  test("a formula that is set aside is the engine's", () => {
    const book = smallEdition();
    const formula = book.sheets.results.rows.find(({ line }) => line?.formula)?.line?.formula ?? "";
    const opened = new Calculator(book, layoutOf(book), [formula]).prepare([WAGE]);
    expect(!opened.ok && opened.notes.join()).toMatch(/set aside/);
  });

  test("a value that is not the engine's is found, with its cell", () => {
    const book = demoEdition();
    const engine = new Engine(book);
    const store = new ValueStore(book);
    store.accept(engine.values());
    engine.close();
    const opened = calculatorOf(book).prepare([WAGE]);
    if (!opened.ok) throw new Error(opened.notes.join());
    expect(store.differenceFrom(opened.patch)).toBeUndefined();
    const list = opened.patch.columns.find(({ values }) => values.others[0] === -1);
    if (!list) throw new Error("no number");
    const [number = 0] = list.values.numbers;
    list.values.numbers[0] = number + 1;
    const row = book.sheets[list.sheet].rows[list.values.rows[0] ?? 0]?.id;
    const column = book.sheets[list.sheet].columns[list.column]?.key;
    expect(store.differenceFrom(opened.patch)).toEqual({
      cell: { sheet: list.sheet, row, column },
      pending: number + 1,
      engine: number,
    });
  });
});

describe("a document that changes", () => {
  test("pieces, steps and columns come and go, and it still says what the engine says, in the engine's places", () => {
    let answered = 0;
    for (let seed = 1; seed <= 6; seed += 1) {
      let book = smallEdition(6);
      const engine = new Engine(book);
      const calculator = calculatorOf(book);
      const store = new ValueStore(book);
      store.accept(engine.values());
      calculator.prepare([WAGE]);
      const random = seeded(seed);
      for (let at = 0; at < 15; at += 1) {
        const change = changeOf(book, { command: random(), a: random(), b: random(), c: random() });
        if (!change) continue;
        store.follow(change);
        book = applyChange(book, change);
        store.accept(engine.apply(change));
        const patch = calculator.apply(change) ?? calculator.again([WAGE]);
        if (patch) answered += 1;
        expect(patch && store.differenceFrom(patch), `${seed}: ${change.label}`).toBeUndefined();
      }
      engine.close();
    }
    // What only the engine knows, such as a function that is not compiled, is left to it.
    expect(answered).toBeGreaterThan(30);
  }, 120_000);
});
