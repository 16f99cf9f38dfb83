// Formulas that go through the steps of the route: what they stand for, what is refused, and that none grows with the route.
import { afterEach, describe, expect, test } from "vitest";
import { applyChange, type Change } from "../../../src/core/document/change";
import { COLUMN_MOST } from "../../../src/core/document/limits";
import { addOwnColumn } from "../../../src/core/document/own-edits";
import type { Row, Workbook } from "../../../src/core/document/workbook";
import { parseFormula, readFormula } from "../../../src/core/formula/formula";
import { checkTypedFormula, readableFormula } from "../../../src/core/formula/typed-formula";
import { eachSteps } from "../../../src/core/sheets/each-step";
import { columnsOfStep } from "../../../src/core/sheets/pieces-sheet";
import { standardSheets } from "../../../src/core/sheets/standard";
import { enteredColumn, isFiringStep, STEP_KIND_RULES, STEP_KINDS } from "../../../src/core/sheets/step-kinds";
import { addStep, moveStep, removeStep, repeatStep } from "../../../src/core/steps/step-edits";
import { codesOf, must } from "../../accounts/results";
import { compareCalculator } from "../../tools/calculator-compare";
import { errorsOf, evaluateAnew } from "../../tools/evaluate";
import { LiveEdition } from "../../tools/live-edition";
import { printFormula } from "../../tools/print-formula";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const book = smallEdition();
const read = (formula: string) => printFormula(must(readFormula(formula, eachSteps(book))));

test.each([
  ["=SUM(EACH_STEP({*.minutes}))", "SUM({fettle.minutes})"],
  ["=SUM(1,each_firing({ *.load }),2)", "SUM(1,{bisque.load},{firing.load},2)"],
  [
    "=MAX(EACH_STEP({route[*]:loss}*2))",
    "MAX({route[cast]:loss}*2,{route[fettle]:loss}*2,{route[bisque]:loss}*2,{route[glaze]:loss}*2,{route[firing]:loss}*2,{route[band]:loss}*2)",
  ],
  [
    "=SUM(EACH_FIRING(COUNT_BY({id},{pieces:*.load})))",
    "SUM(COUNT_BY({id},{pieces:bisque.load}),COUNT_BY({id},{pieces:firing.load}))",
  ],
  [
    '=SWITCH(FALSE,EACH_STEP_BACK({*.entry}="",{route[*]:order}),"")',
    'SWITCH(FALSE,{band.coats}="",{route[band]:order},{firing.firing}="",{route[firing]:order},{glaze.coats}="",{route[glaze]:order},{bisque.firing}="",{route[bisque]:order},{fettle.minutes}="",{route[fettle]:order},{cast.slip}="",{route[cast]:order},"")',
  ],
  // A text at the end stands between.
  ['=CONCATENATE(EACH_FIRING({*.load},"|"))', 'CONCATENATE({bisque.load},"|",{firing.load})'],
  // Where no step is left.
  ["=SUM(EACH_AS_NEEDED({*.cost}))", "0"],
  ['=1+SWITCH(3,EACH_STEP({*.nothing},1),"x")', '1+"x"'],
  ["=SUM(5,EACH_AS_NEEDED({*.cost}))", "SUM(5)"],
])("%s stands for every step", (formula, printed) => {
  expect(read(formula)).toBe(printed);
});

test("brackets, texts and names that only look like it stay as they are", () => {
  for (const formula of ['="EACH_STEP({*.cost})"', "=each_other*2", "=ROUND({own}*.5,1)"])
    expect(readFormula(formula, eachSteps(book))).toEqual(parseFormula(formula));
});

test.each([
  "=EACH_STEP({*.cost})",
  "=1+EACH_STEP({*.cost})",
  "=SUM((EACH_STEP({*.cost})))",
  "={*.cost}",
  "=SUM({route[*]:loss})",
  "=SUM(EACH_STEP(SUM(EACH_STEP({*.cost}))))",
])("%s is refused, with the place where it is wrong", (formula) => {
  const parsed = parseFormula(formula);
  expect(codesOf(parsed)).toEqual(["formula.expression"]);
  expect(parsed.ok || parsed.problems[0]?.message).toContain("straight inside a function");
});

test("a maker types it by title, is told of what no step has, and reads it in words", () => {
  expect(checkTypedFormula(book, "pieces", "=sum(each_step({*.minutes}))")).toEqual({
    ok: true,
    value: "=SUM(EACH_STEP({*.minutes}))",
  });
  expect(checkTypedFormula(book, "pieces", "=SUM(EACH_STEP({route[*]:loss}))").ok).toBe(true);
  expect(codesOf(checkTypedFormula(book, "pieces", "=SUM(EACH_STEP({*.minuts}))"))).toEqual(["formula.column"]);
  expect(codesOf(checkTypedFormula(book, "pieces", "=SUM(EACH_STEP({firings[*]:cost}))"))).toEqual(["formula.row"]);
  expect(readableFormula(book, "pieces", "=MAX(EACH_STEP({*.minutes}/{route[*]:loss}))")).toBe(
    "MAX(EACH_STEP(time ÷ the step › planned loss))",
  );
});

describe("as steps come, go, move and change", () => {
  let live: LiveEdition;
  afterEach(() => live.close());

  test("every formula that goes through them follows, on every sheet, and back again", () => {
    live = new LiveEdition(smallEdition(3));
    const own = (sheet: "pieces" | "firings", title: string, formula: string) =>
      live.run(must(addOwnColumn(live.book, sheet, { title, unit: "", type: "number", formula })));
    own("pieces", "Work", "=SUM(EACH_STEP({*.minutes}))+COUNT(EACH_AS_NEEDED({*.cost}))");
    own("firings", "In it", "=SUM(EACH_FIRING(COUNT_BY({id},{pieces:*.load})))");
    live.type(
      ["pieces", "p1", "fettle.minutes", "15"],
      ["pieces", "p1", "glaze.coats", "2"],
      ["pieces", "p1", "bisque.firing", "F1"],
    );
    expect([live.read("pieces", "p1", "my_work"), live.read("firings", "f1", "my_in_it")]).toEqual([15, 1]);
    const steps: ((at: Workbook) => Change)[] = [
      () => live.type(["route", "fettle", "who", "as needed"]),
      (at) => must(addStep(at, { kind: "hand", title: "Sand" }, "bisque")),
      (at) => must(moveStep(at, "sand", 1)),
      () => live.type(["pieces", "p1", "sand.minutes", "7"]),
      (at) => must(removeStep(at, "fettle")),
      (at) => must(repeatStep(at, "firing")),
    ];
    const done: Change[] = [];
    const seen: unknown[] = [];
    for (const step of steps) {
      const before = live.book;
      const change = step(before);
      if (live.book === before) live.run(change);
      done.push(change);
      seen.push(live.read("pieces", "p1", "my_work"));
      expect(live.differences()).toEqual([]);
    }
    expect(seen).toEqual([16, 16, 16, 23, 7, 7]);
    for (const change of done.toReversed()) live.undo(change);
    expect(live.read("pieces", "p1", "my_work")).toBe(15);
    expect(live.differences()).toEqual([]);
  });
});

test("an edition without a step is calculated", () => {
  let at = smallEdition();
  for (const { id } of at.sheets.route.rows) at = applyChange(at, must(removeStep(at, id)));
  const read = evaluateAnew(at);
  expect(errorsOf(at, read)).toEqual([]);
  expect(
    ["reached", "outcome", "own", "reclaim", "scrap", "twice", "lost_bare"].map((key) => read("pieces", "p1", key)),
  ).toEqual(["", "not started", 0, 0, 0, "", ""]);
  expect([read("firings", "f1", "pieces"), read("firings", "f1", "sizes")]).toEqual([0, ""]);
});

/** A route of so many steps of all kinds in turn, with the longest titles and ids that a step can have. */
const longRoute = (count: number): readonly Row[] =>
  Array.from({ length: count }, (_, at) => {
    const id = `${"x".repeat(28)}_${at + 100}`;
    const kind = STEP_KINDS[at % STEP_KINDS.length] ?? "cast";
    return {
      id,
      cells: {
        key: id,
        kind,
        title: `${"t".repeat(76)} ${at + 100}`,
        order: at + 1,
        who: at % 3 === 1 ? "as needed" : "all",
      },
    };
  });

/** Every formula of the standard sheets. */
const formulasOf = (steps: readonly Row[]) =>
  Object.values(standardSheets(steps)).flatMap(({ columns, rows }) => [
    ...columns.flatMap(({ formula }) => formula ?? []),
    ...rows.flatMap(({ line }) => line?.formula ?? []),
  ]);

test("no formula grows with the route", () => {
  const [some, more, most] = [3, 40, 100].map((count) => {
    const formulas = formulasOf(longRoute(count));
    expect(formulas.length).toBeGreaterThan(count * 2);
    return Math.max(...formulas.map(({ length }) => length));
  });
  expect([more, most]).toEqual([some, some]);
  expect(most).toBeLessThan(COLUMN_MOST.formula / 2);
});

test("a route of more steps than anybody has is calculated alike by engine and calculator", () => {
  let at = smallEdition(2);
  while (at.sheets.route.rows.length < 120) at = applyChange(at, must(repeatStep(at, "glaze")));
  at = afterTyping(at, [
    ["pieces", "p1", "cast.slip", "900"],
    ["pieces", "p1", "glaze.coats", "2"],
    ["pieces", "p1", "glaze_100.coats", "1"],
  ]);
  const found = compareCalculator(at, [{ sheet: "edition", row: "wage", column: "value" }], [[21], [22]]);
  expect(found).toMatchObject({ notes: [], differences: [], unanswered: 0 });
  expect(errorsOf(at, evaluateAnew(at))).toEqual([]);
});

test.each(STEP_KINDS)("formulas know the columns of a %s step as its kind has them", (kind) => {
  const rules = STEP_KIND_RULES[kind];
  const rows = [{ id: "s", cells: { kind } }];
  const steps = eachSteps({ ...book, sheets: { ...standardSheets(rows), route: { ...book.sheets.route, rows } } });
  const [step] = steps.EACH_STEP;
  expect([...(step?.columns ?? [])].sort()).toEqual(
    columnsOfStep({ id: "s", cells: { kind } })
      .map(({ key }) => key)
      .sort(),
  );
  expect(step?.entry).toBe(`s.${enteredColumn(rules)}`);
  expect(steps.EACH_MAKING.length > 0).toBe(rules.isMaking === true);
  expect(steps.EACH_FIRING.length > 0).toBe(isFiringStep({ id: "s", cells: { kind } }));
});
