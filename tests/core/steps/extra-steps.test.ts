import { describe, expect, test } from "vitest";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, invert } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { dropRecipe, keepRecipe, type NewRecipe, starterRecipes } from "../../../src/core/record/recipes";
import { record, recordChange } from "../../../src/core/record/record-edits";
import { type ExtraStep, planExtraSteps, repeatOf } from "../../../src/core/steps/extra-steps";
import { codesOf, must } from "../../accounts/results";
import { evaluate } from "../../tools/evaluate";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const AT = "2026-03-01T10:00:00.000Z";
const there = (name: string) => ({ kind: "there", name }) as const;
// All five through the glaze firing.
const book = must(
  record(
    smallEdition(),
    ["p1", "p2", "p3", "p4", "p5"],
    { kind: "done", step: "firing", firings: { bisque: there("F1"), firing: there("F1") } },
    AT,
  ),
);
const again = (of: Workbook, id: string, more: Partial<ExtraStep> = {}): ExtraStep => {
  const step = repeatOf(of, id);
  if (!step) throw new Error(`no step ${id}`);
  return { ...step, ...more };
};
const extra = (of: Workbook, ids: readonly string[], steps: readonly ExtraStep[]) => {
  const plan = must(planExtraSteps(of, ids, { kind: "extra", title: "Once more", steps }));
  return applyChange(of, recordChange(of, plan, AT));
};
const route = (of: Workbook) => of.sheets.route.rows.map((row) => `${row.cells.title}${row.cells.who ? "*" : ""}`);
const cells = (of: Workbook, id: string) => rowOf(of, "pieces", id)?.cells ?? {};

describe("a coat and a firing more for some", () => {
  const steps = [again(book, "glaze", { amount: 1 }), again(book, "firing", { firing: there("F2") })];
  const after = extra(book, ["p2", "p4"], steps);

  test("stand after all that they have had, as needed, in the order asked for", () => {
    expect(route(after)).toEqual([
      "Cast",
      "Fettle",
      "Bisque",
      "Glaze",
      "Glaze firing",
      "Glaze 2*",
      "Glaze firing 2*",
      "Band",
    ]);
    expect(cells(after, "p2")).toMatchObject({ "glaze_2.coats": 1, "glaze_firing_2.firing": "F2" });
    expect(rowOf(after, "route", "glaze_2")?.cells).toMatchObject({
      material: "Glaze",
      laydown: 0.02,
      who: "as needed",
    });
    expect(rowOf(after, "route", "glaze_firing_2")?.cells.loss).toBeUndefined();
  });

  test("leave every other row blank there, and cost it nothing", () => {
    const [earlier, now] = [evaluate(book), evaluate(after)];
    for (const id of ["p1", "p3", "p5"]) {
      expect(
        Object.keys(cells(after, id)).filter((key) => key.startsWith("glaze_2") || key.startsWith("glaze_firing_2")),
      ).toEqual([]);
      expect(now("pieces", id, "own")).toBe(earlier("pieces", id, "own"));
      expect(now("pieces", id, "glaze_2.cost")).toBe("");
    }
    // One coat by the calculation of the small edition: 500 × 1 × 0.02 ÷ 0.5 = 20 g at 0.005, 2 min at 20 + 6 an hour.
    expect(now("pieces", "p2", "glaze_2.cost")).toBeCloseTo(20 * 0.005 + (2 / 60) * 26, 10);
    expect(now("pieces", "p2", "glaze_firing_2.cost")).toBeCloseTo(Number(now("firings", "f2", "cost")) / 2, 10);
    const more = Number(now("pieces", "p2", "own")) - Number(earlier("pieces", "p2", "own"));
    expect(more).toBeCloseTo(
      Number(now("pieces", "p2", "glaze_2.cost")) + Number(now("pieces", "p2", "glaze_firing_2.cost")),
      10,
    );
  });

  test("are said beforehand by their titles, and are one step of the history", () => {
    const plan = must(planExtraSteps(book, ["p2"], { kind: "extra", title: "Once more", steps }));
    expect(plan.says).toEqual([
      "A new step, as needed: Glaze 2",
      "A new step, as needed: Glaze firing 2",
      "Glaze 2: 1 coat, for 1 piece",
      "Glaze firing 2: into F2, for 1 piece",
    ]);
    const change = recordChange(book, plan, AT);
    expect(applyChange(applyChange(book, change), invert(change))).toEqual(book);
  });

  test("use a repeat that is there and blank for them; a second round gets its own", () => {
    const other = extra(after, ["p1"], steps);
    expect(route(other)).toEqual(route(after));
    expect(cells(other, "p1")).toMatchObject({ "glaze_2.coats": 1, "glaze_firing_2.firing": "F2" });
    const twice = extra(other, ["p1"], steps);
    expect(route(twice)).toEqual([...route(after).slice(0, 7), "Glaze 3*", "Glaze firing 3*", "Band"]);
  });

  test("never stand before something that a piece still waits for", () => {
    const afterBand = extra(book, ["p1"], [again(book, "band", { amount: 1 })]);
    expect(route(afterBand)).toEqual(["Cast", "Fettle", "Bisque", "Glaze", "Glaze firing", "Band 2*", "Band"]);
    const banded = must(record(afterBand, ["p3"], { kind: "coats", step: "band", amount: 1 }, AT));
    const refired = extra(banded, ["p3"], [again(banded, "firing", { firing: there("F2") })]);
    expect(route(refired).at(-1)).toBe("Glaze firing 2*");
    // 05 still waits for its band: the refire after it is not for 05, and would hide the band.
    const other = extra(refired, ["p5"], [again(refired, "firing", { firing: there("F2") })]);
    expect(route(other).slice(4)).toEqual(["Glaze firing", "Glaze firing 3*", "Band 2*", "Band", "Glaze firing 2*"]);
  });

  test("with another area give it to the pieces, not to the step", () => {
    const wide = again(book, "glaze", { amount: 1 });
    const other = extra(after, ["p1"], [{ ...wide, cells: { ...wide.cells, area: 800 } }]);
    expect(route(other)).toEqual(route(after));
    expect(cells(other, "p1")["glaze_2.area"]).toBe(800);
    expect(evaluate(other)("pieces", "p1", "glaze_2.used")).toBeCloseTo((800 * 0.02) / 0.5, 10);
  });

  test("with another glaze are a step of their own", () => {
    const blue = afterTyping(after, []);
    const step = again(book, "glaze", { amount: 1 });
    const other = extra(blue, ["p1"], [{ ...step, cells: { ...step.cells, material: "Slip" } }]);
    expect(route(other)).toContain("Glaze 3*");
  });
});

test("lost pieces are left out; with none left there is no step", () => {
  const lost = must(record(book, ["p1"], { kind: "lost", step: "firing", reason: "" }, AT));
  const plan = must(planExtraSteps(lost, ["p1"], { kind: "extra", title: "x", steps: [again(book, "glaze")] }));
  expect(plan.operations).toEqual([]);
  expect(plan.leftOut).toEqual([{ says: "lost at Glaze firing", pieces: ["p1"] }]);
});

test.each<[string, ExtraStep, string]>([
  ["a material that is not there", { kind: "coat", title: "Coat", cells: { material: "None" } }, "extra.cell"],
  ["a cell of another kind", { kind: "hand", title: "Strip", cells: { coats: 2 } }, "extra.cell"],
  ["no title", { kind: "hand", title: " ", cells: {} }, "extra.title"],
  ["half a coat", { kind: "coat", title: "Coat", cells: {}, amount: 0.5 }, "extra.amount"],
])("refuses %s", (_, step, code) => {
  expect(codesOf(planExtraSteps(book, ["p1"], { kind: "extra", title: "x", steps: [step] }))).toEqual([code]);
});

describe("recipes", () => {
  const strip: NewRecipe = {
    title: "Strip and recoat",
    steps: [{ kind: "hand", title: "Strip", cells: { minutes: 20 } }],
    chance: 0.6,
    grade: "good",
    failed: 0,
    days: 5,
  };

  test("are made, changed and removed, each as one step", () => {
    const made = applyChange(book, must(keepRecipe(book, strip)));
    expect(made.lists.recipes).toEqual([{ ...strip, id: "r1" }]);
    const changed = applyChange(made, must(keepRecipe(made, { ...strip, id: "r1", chance: 0.7 })));
    expect(changed.lists.recipes).toEqual([{ ...strip, id: "r1", chance: 0.7 }]);
    expect(applyChange(changed, dropRecipe(changed, "r1")).lists.recipes).toEqual([]);
  });

  test.each<[string, Partial<NewRecipe>, string]>([
    ["a chance in percent", { chance: 60 }, "recipe.entry"],
    ["no steps", { steps: [] }, "recipe.entry"],
    ["no name", { title: " " }, "recipe.entry"],
    ["what is no number", { failed: Number.NaN }, "recipe.entry"],
    ["a kiln that is not there", { steps: [{ kind: "firing", title: "Fire", cells: { kiln: "None" } }] }, "extra.cell"],
  ])("refuse %s", (_, changed, code) => {
    expect(codesOf(keepRecipe(book, { ...strip, ...changed }))).toEqual([code]);
  });

  test("to start from are put together from the edition's own route, and not offered twice", () => {
    const starters = starterRecipes(book);
    // No firing comes after the band, so nothing is offered to cover with lustre.
    expect(starters.map(({ title }) => title)).toEqual(["Strip and recoat", "Another glaze coat and firing"]);
    expect(starters[1]?.steps).toMatchObject([
      { kind: "coat", cells: { material: "Glaze", coats: 1 } },
      { kind: "firing", cells: { kiln: "Large" } },
    ]);
    for (const starter of starters) expect(keepRecipe(book, starter).ok).toBe(true);
    const kept = applyChange(book, must(keepRecipe(book, starters[0] as NewRecipe)));
    expect(starterRecipes(kept).map(({ title }) => title)).toEqual(["Another glaze coat and firing"]);
  });
});
