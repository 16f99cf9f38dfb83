// The demo, every template run to its end, and editions off the planned road: every numeric input can be asked about
// without falling back to the engine, and every answer is the engine's to the last bit.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { listTemplates } from "../../../src/app/plan/templates";
import { type CellName, specOf } from "../../../src/core/document/access";
import { applyChange } from "../../../src/core/document/change";
import { addRows } from "../../../src/core/document/edits";
import type { SheetKey, Workbook } from "../../../src/core/document/workbook";
import { loseAt } from "../../../src/core/record/piece-edits";
import { Engine } from "../../../src/engine/engine";
import { prepareQuestion } from "../../../src/whatif/run/question";
import { passAs } from "../../tools/piece-changes";
import { seeded } from "../../tools/random-workbook";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";
import { standardRun } from "../../tools/standard-run";
import { compareAnswers } from "../../tools/whatif-compare";

const SWEPT: readonly SheetKey[] = [
  "edition",
  "route",
  "materials",
  "purchases",
  "kilns",
  "programmes",
  "tariffs",
  "firings",
];

function cellsOf(book: Workbook, sheet: SheetKey, isWanted: (kind: string, type: string) => boolean): CellName[] {
  const { rows, columns } = book.sheets[sheet];
  return rows.flatMap((row) =>
    columns.flatMap((column): CellName[] => {
      const spec = specOf(column, row);
      const isIt = column.key !== "label" && isWanted(spec.kind, spec.type);
      return isIt ? [{ sheet, row: row.id, column: column.key }] : [];
    }),
  );
}

/** Every third or so piece's numbers, some of each kind of column, and two results of it. */
function pieceInputs(book: Workbook): CellName[] {
  return cellsOf(book, "pieces", (kind, type) => kind === "input" && type === "number").filter(
    (_, at) => at % 37 === 0,
  );
}

function inputsOf(book: Workbook): CellName[] {
  const numbers = SWEPT.flatMap((sheet) => cellsOf(book, sheet, (kind, type) => kind === "input" && type === "number"));
  // How many to start is computed, and may be given by hand.
  return [...numbers, { sheet: "edition", row: "starts", column: "value" }, ...pieceInputs(book)];
}

function outputsOf(book: Workbook): CellName[] {
  const computed = (sheet: SheetKey) => cellsOf(book, sheet, (kind) => kind === "computed");
  const pieces = computed("pieces").filter(({ column }, at) => column === "full" || column === "own" || at % 61 === 0);
  return [...computed("results"), ...computed("edition"), ...computed("route"), ...pieces];
}

/** Cases in each of which a few of the inputs are as odd as can be, and the others as they are today. */
function oddCases(today: Float64Array, seed: number): number[][] {
  const random = seeded(seed);
  const odd = [0, -3, 1e12, Number.NaN, 0.5, 1, 7.25, 1e300];
  return odd.map((value) => Array.from(today, (now) => (random() < 0.15 ? value : random() < 0.1 ? now * 1.5 : now)));
}

function expectCompiled(book: Workbook, atOnce: number): void {
  const engine = new Engine(book);
  const model = engine.model();
  if (!model) throw new Error("no model");
  const all = inputsOf(book);
  expect(all.length).toBeGreaterThan(80);
  const outputs = outputsOf(book);
  for (let at = 0; at < all.length; at += atOnce) {
    const inputs = all.slice(at, at + atOnce);
    const outcome = prepareQuestion(model, inputs, outputs);
    expect(outcome.ok ? [] : outcome.notes).toEqual([]);
    if (!outcome.ok) continue;
    const cases = oddCases(outcome.question.todayInputs, at + 1);
    const { differences, cells } = compareAnswers(outcome.question, engine, book, inputs, cases);
    expect(differences.slice(0, 3)).toEqual([]);
    expect(cells).toBeGreaterThan(1000);
  }
  engine.close();
}

/** Each input by itself, not together with others. */
function expectEachCompiled(book: Workbook): void {
  const engine = new Engine(book);
  const model = engine.model();
  engine.close();
  if (!model) throw new Error("no model");
  const outputs = outputsOf(book);
  const notes = inputsOf(book).flatMap((input) => {
    const outcome = prepareQuestion(model, [input], outputs);
    return outcome.ok ? [] : [`${JSON.stringify(input)}: ${outcome.notes.join()}`];
  });
  expect(notes).toEqual([]);
}

/** Pieces lost green, in a firing and while it was loaded; special ones, a second, one fired again; odd entries by hand. */
function offTheRoad(): Workbook {
  let book = smallEdition(12);
  const firing = [
    { id: "f3", cells: { id: "F3", kiln: "Large", basis: "shelf area", programme: "slow", ware: "raw" } },
  ];
  book = applyChange(book, addRows(book, "firings", firing, "One more"));
  const ids = book.sheets.pieces.rows.map(({ id }) => id);
  book = afterTyping(
    book,
    ids.flatMap((row, at): Typed[] => [
      ["pieces", row, "cast.slip", String(850 + 10 * at)],
      ["pieces", row, "fettle.minutes", String(8 + (at % 3))],
      ["pieces", row, "tier", at % 4 === 0 ? "special" : "standard"],
    ]),
  );
  book = applyChange(book, loseAt(book, ["p2"], "fettle", "cracked"));
  book = applyChange(book, loseAt(book, ["p5"], "bisque", "dropped"));
  const kept = ids.filter((id) => id !== "p2" && id !== "p5");
  book = afterTyping(
    book,
    kept.flatMap((row, at): Typed[] => [
      ["pieces", row, "bisque.firing", at % 2 === 0 ? "F1" : "F3"],
      ["pieces", row, "glaze.coats", String(1 + (at % 3))],
      ["pieces", row, "firing.firing", "F2"],
    ]),
  );
  book = afterTyping(book, [
    ["edition", "special_wanted", "value", "1"],
    ["route", "band", "who", "special"],
    ["route", "band", "loss", "10"],
    ["pieces", "p1", "band.coats", "2"],
    ["pieces", "p3", "kg", "2.5"],
    ["pieces", "p4", "glaze.area", "640"],
    ["firings", "f1", "meter", "88"],
    ["firings", "f2", "tariff", "0.19"],
    ["firings", "f2", "other_count", "3"],
    ["firings", "f3", "with_cm2", "700"],
    ["firings", "f1", "with_count", "2"],
    ["kilns", "k1", "width", "60"],
  ]);
  const bought = { date: "2026-02-01", sort: "bought" };
  const purchases = [
    { id: "b1", cells: { ...bought, id: "B1", material: "Slip", grams: 25_000, paid: 31 } },
    { id: "b2", cells: { ...bought, id: "B2", material: "Glaze", grams: 5000, paid: 24 } },
  ];
  const priced = [
    ["p1", "cast.priced", "B1"],
    ["p2", "cast.priced", "B1"],
    ["p3", "glaze.priced", "B2"],
  ].map(([row = "", column = "", is]) => ({ kind: "cell", sheet: "pieces", row, column, was: undefined, is }) as const);
  book = applyChange(book, addRows(book, "purchases", purchases, "Bought"));
  book = applyChange(book, { label: "Prices of the days", operations: priced });
  book = afterTyping(book, [["pieces", "p6", "own", "33"]], true);
  book = afterTyping(book, [["pieces", "p7", "cast.cost", "={cast.slip}/100+{pieces[p6]:own}"]], true);
  book = applyChange(book, passAs(book, ["p1", "p3", "p4", "p6"], "good"));
  return applyChange(book, passAs(book, ["p7"], "second"));
}

const templates = listTemplates().flatMap(({ template }) => (template.ok ? [template.value] : []));

describe("every numeric input is compiled, and answered as the engine answers it", () => {
  test("the demo", () => expectCompiled(demoEdition(), 80), 400_000);

  test.each(templates.map((template) => [template.id, template] as const))(
    "the template %s, run to its end",
    (_, template) => expectCompiled(standardRun({ ...template, wanted: 12 }), 60),
    400_000,
  );

  test("an edition off the planned road", () => expectCompiled(offTheRoad(), 25), 400_000);

  test("an edition of which nothing has been recorded yet", () => expectCompiled(smallEdition(3), 40), 400_000);

  test("each input by itself", () => expectEachCompiled(offTheRoad()), 400_000);
});
