// Questions whose answers follow from rules that can be checked by hand.
import { describe, expect, test } from "vitest";
import type { CellName } from "../../../src/core/document/access";
import { applyChange } from "../../../src/core/document/change";
import { addOwnColumn } from "../../../src/core/document/own-edits";
import type { Workbook } from "../../../src/core/document/workbook";
import { Engine } from "../../../src/engine/engine";
import { answerBlock, prepareQuestion, type Question } from "../../../src/whatif/run/question";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";
import { compareCases } from "../../tools/whatif-compare";

const WAGE: CellName = { sheet: "edition", row: "wage", column: "value" };
const cell = (sheet: CellName["sheet"], row: string, column: string): CellName => ({ sheet, row, column });

function prepare(book: Workbook, inputs: readonly CellName[], outputs: readonly CellName[]): Question {
  const engine = new Engine(book);
  const model = engine.model();
  engine.close();
  const outcome = model && prepareQuestion(model, inputs, outputs);
  if (!outcome?.ok) throw new Error(outcome?.notes.join());
  return outcome.question;
}

function answer(question: Question, cases: readonly number[]) {
  const count = cases.length / question.inputs.length;
  const findings = { outputs: new Float64Array(count * question.outputs.length), failures: new Map() };
  for (let at = 0; at < count; ) at = answerBlock(question, Float64Array.from(cases), at, findings);
  return { outputs: [...findings.outputs], failures: [...findings.failures.values()] };
}

/** Six pieces cast and fettled. */
function worked(extra: readonly Typed[] = []): Workbook {
  const entries = smallEdition(6).sheets.pieces.rows.flatMap(({ id }): Typed[] => [
    ["pieces", id, "cast.slip", "900"],
    ["pieces", id, "fettle.minutes", "10"],
  ]);
  return afterTyping(smallEdition(6), [...entries, ...extra]);
}

describe("answers that can be checked by hand", () => {
  test("a wage is paid by the minute: 6 pieces × (6 + 10) minutes", () => {
    const question = prepare(worked(), [WAGE], [cell("results", "in_labour", "value")]);
    expect(answer(question, [0, 30, 60]).outputs).toEqual([0, 48, 96]);
  });

  test("what is asked about can be what is read", () => {
    const question = prepare(worked(), [WAGE], [WAGE]);
    expect(answer(question, [5, 7.25]).outputs).toEqual([5, 7.25]);
  });

  test("a computed number can be given by hand, and goes back to its formula when it is cleared", () => {
    const starts = cell("edition", "starts", "value");
    const question = prepare(worked(), [starts], [starts, cell("edition", "plan_good", "value")]);
    const today = question.todayOutputs[0] ?? 0;
    const { outputs } = answer(question, [150, Number.NaN]);
    expect(outputs[0]).toBe(150);
    expect(outputs[2]).toBe(today);
    // Good pieces to expect are proportional to the starts.
    expect((outputs[1] ?? 0) / 150).toBeCloseTo((outputs[3] ?? 0) / today, 12);
  });

  test("a whole block of cases, and one more, come back in order", () => {
    const question = prepare(worked(), [WAGE], [cell("results", "in_labour", "value")]);
    const wages = Array.from({ length: question.blockSize * 3 + 1 }, (_, at) => at);
    const labour = wages.map((wage) => (wage * 96) / 60);
    const { outputs } = answer(question, wages);
    expect(outputs).toHaveLength(wages.length);
    for (const [at, one] of labour.entries()) expect(outputs[at]).toBeCloseTo(one, 10);
  });
});

describe("what was taken for granted", () => {
  test("a number that becomes blank for one case changes that case only", () => {
    const minutes = cell("pieces", "p1", "fettle.minutes");
    const question = prepare(
      worked(),
      [minutes],
      [cell("route", "fettle", "done"), cell("pieces", "p1", "fettle.cost")],
    );
    // 26 an hour for wage and overhead.
    const { outputs, failures } = answer(question, [30, Number.NaN, 60]);
    expect(outputs).toEqual([6, 13, 5, Number.NaN, 6, 26]);
    expect(failures).toEqual([{ output: 1, case: 1, message: "It is blank." }]);
  });

  test("an error in one case is told, and leaves the others as they are", () => {
    const transfer = cell("route", "glaze", "transfer");
    const book = worked([["pieces", "p1", "glaze.coats", "2"]]);
    const question = prepare(book, [transfer], [cell("pieces", "p1", "glaze.used")]);
    const { outputs, failures } = answer(question, [0.5, 0, 0.25]);
    // 500 cm² × 2 coats × 0.02 g ÷ transfer.
    expect(outputs).toEqual([40, Number.NaN, 80]);
    expect(failures).toMatchObject([{ output: 0, case: 1 }]);
    expect(failures[0].message).toMatch(/^COAT_GRAMS, transfer: found 0/);
  });
});

describe("formulas that lean on one another", () => {
  test("cells of two columns that take turns are taken apart", () => {
    const book = afterTyping(
      worked(),
      [
        ["pieces", "p2", "cast.cost", "={pieces[p1]:own}*2"],
        ["pieces", "p3", "cast.cost", "={pieces[p2]:own}+1"],
      ],
      true,
    );
    const outputs = ["p1", "p2", "p3"].map((row) => cell("pieces", row, "own"));
    const found = compareCases(book, [WAGE], [[0], [15], [40]], outputs);
    expect(found).toMatchObject({ notes: [], differences: [] });
    expect(found.cells).toBeGreaterThan(10);
    // Whichever of the cells is asked about: 16 minutes of work, the slip, and what stands in the formulas above.
    const [first = 0] = prepare(book, [WAGE], [cell("pieces", "p1", "own")]).todayOutputs;
    const fettled = (20 * 10) / 60 + (6 * 10) / 60;
    const second = 2 * first + fettled;
    for (const [row, value] of [
      ["p2", second],
      ["p3", second + 1 + fettled],
    ] as const)
      expect(prepare(book, [WAGE], [cell("pieces", row, "own")]).todayOutputs[0]).toBeCloseTo(value, 10);
  });

  test("a real circle is the engine's", () => {
    const book = afterTyping(
      worked(),
      [
        ["pieces", "p2", "cast.cost", "={pieces[p3]:own}"],
        ["pieces", "p3", "cast.cost", "={pieces[p2]:own}"],
      ],
      true,
    );
    const found = compareCases(book, [WAGE], [[1]], [cell("pieces", "p2", "own")]);
    expect(found.notes.join()).toMatch(/pieces p[23] (cast.cost|own), .* depends on itself/);
  });

  test("a maker's own column joins in, with functions this can't calculate told by name", () => {
    const own = (formula: string) => {
      const change = addOwnColumn(worked(), "pieces", { title: "Mine", unit: "", type: "number", formula });
      if (!change.ok) throw new Error(change.problems[0]?.message);
      return applyChange(worked(), change.value);
    };
    const outputs = [cell("pieces", "p1", "my_mine")];
    expect(compareCases(own("={own}*wage+SUM({pieces:own})"), [WAGE], [[3], [-1]], outputs)).toMatchObject({
      notes: [],
      differences: [],
    });
    expect(compareCases(own("=MEDIAN({pieces:own})"), [WAGE], [[3]], outputs).notes).toEqual([
      expect.stringMatching(/^pieces p1 my_mine, =MEDIAN\(.*\): MEDIAN is not calculated here$/),
    ]);
    expect(compareCases(own("={own}+{firings:cost}"), [WAGE], [[3]], outputs)).toMatchObject({
      notes: [],
      differences: [],
    });
  });

  test("what no input touches may hold anything that can be calculated once", () => {
    const found = compareCases(worked([["edition", "wanted", "value", ""]]), [WAGE], [[3]]);
    expect(found.differences).toEqual([]);
  });

  test("a cell that is not there is told", () => {
    const engine = new Engine(worked());
    const model = engine.model();
    engine.close();
    expect(model && prepareQuestion(model, [cell("edition", "nothing", "value")], [])).toEqual({
      ok: false,
      notes: ["edition has no cell nothing, value"],
    });
  });
});
