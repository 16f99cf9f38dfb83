// Whatever a small run has in it, its causes end in the two lines of Results, to the cent: `roundVariances` refuses otherwise.
import { expect, test } from "vitest";
import type { MarginEnd } from "../../../src/accounts/plan-records";
import { againstPlan } from "../../../src/app/settle/against-plan";
import { settle } from "../../../src/app/settle/settle";
import { applyChange } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { planOnSheets } from "../../../src/core/record/kept-plan";
import { record } from "../../../src/core/record/record-edits";
import { addStep } from "../../../src/core/steps/step-edits";
import { must } from "../../accounts/results";
import { evaluate } from "../../tools/evaluate";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";

const AT = "2026-03-20T10:00:00.000Z";
const ENDS: readonly MarginEnd[] = ["so far", "once sold"];

/** Ten pieces planned with a refire and two special ones. */
function planned(): Workbook {
  const book = afterTyping(smallEdition(10), [
    ["edition", "special_wanted", "value", "2"],
    ["edition", "moulds", "value", "1"],
    ["edition", "mould_rest", "value", "charged"],
    ["edition", "overhead_loading", "value", "yes"],
    ["route", "band", "who", "special"],
  ]);
  const cells = { kiln: "Small", who: "as needed", needed: 0.2 };
  return applyChange(book, must(addStep(book, { kind: "firing", title: "Refire", cells }, "firing")));
}

/** The run half way: finished, a second, lost ones, some on their way, two not begun. */
function halfWay(plan: Workbook): Workbook {
  const firings = { bisque: { kind: "there", name: "F1" }, firing: { kind: "there", name: "F2" } } as const;
  let book = must(record(plan, ["p3"], { kind: "tier", tier: "special" }, AT));
  book = must(record(book, ["p1", "p2", "p3", "p4", "p5", "p6"], { kind: "done", step: "firing", firings }, AT));
  book = must(record(book, ["p7", "p8"], { kind: "done", step: "fettle", firings: {} }, AT));
  book = must(record(book, ["p8"], { kind: "lost", step: "fettle", reason: "" }, AT));
  book = must(record(book, ["p6"], { kind: "lost", step: "firing", reason: "" }, AT));
  book = must(record(book, ["p5"], { kind: "passed", grade: "second" }, AT));
  return must(record(book, ["p1", "p2", "p4"], { kind: "passed", grade: "good" }, AT));
}

const plan = planned();
const kept = planOnSheets(plan, evaluate(plan), AT, "run began");
const run = halfWay(plan);

const CASES: Readonly<Record<string, readonly Typed[]>> = {
  "as it is": [],
  "dearer, slower, sold dearer": [
    ["edition", "wage", "value", "27"],
    ["edition", "tariff", "value", "0.41"],
    ["route", "fettle", "minutes", "13"],
    ["materials", "m2", "pack_price", "61"],
    ["pieces", "p1", "own_price", "133"],
  ],
  "overhead really paid, with idle hours; meters; firings with others": [
    ["edition", "overhead_paid", "value", "90"],
    ["edition", "normal_hours", "value", "60"],
    ["firings", "f1", "meter", "131"],
    ["firings", "f1", "other_count", "7"],
    ["edition", "scrap_value", "value", "2"],
  ],
  "sold, given away, consigned": [
    ["pieces", "p1", "became", "sold"],
    ["pieces", "p1", "paid", "95"],
    ["pieces", "p2", "became", "given away"],
    ["pieces", "p4", "became", "consigned"],
  ],
  "a price below what it cost, so that stock and pieces in progress are carried below it": [
    ["edition", "price_standard", "value", "9"],
    ["edition", "price_special", "value", "11"],
    ["edition", "price_second", "value", "3"],
  ],
  "written down by hand, finished and in progress": [
    ["pieces", "p2", "down_by", "4"],
    ["pieces", "p7", "down_by", "2"],
  ],
  "planned otherwise since": [
    ["edition", "wanted", "value", "40"],
    ["route", "bisque", "loss", "20"],
  ],
};

test.each(Object.keys(CASES))("%s", (name) => {
  if (!kept) throw new Error("no plan");
  const book = afterTyping(run, CASES[name] ?? []);
  const read = evaluate(book) as never;
  const settled = must(settle(book, read));
  for (const end of ENDS) {
    const found = must(againstPlan(book, read, settled, kept, end));
    expect(found.causes.reduce((sum, { minor }) => sum + minor, 0)).toBe(found.realMinor - found.plannedMinor);
  }
});

test("a step that the plan did not have, a piece lost at it, and a step taken out", () => {
  if (!kept) throw new Error("no plan");
  const cells = { minutes: 4, loss: 0 };
  const added = applyChange(run, must(addStep(run, { kind: "hand", title: "Sand", cells }, "glaze")));
  const sand = added.sheets.route.rows.find((row) => row.cells.title === "Sand")?.id ?? "";
  const did = afterTyping(added, [
    ["pieces", "p2", `${sand}.minutes`, "5"],
    ["pieces", "p7", `${sand}.minutes`, "6"],
  ]);
  const lost = must(record(did, ["p7"], { kind: "lost", step: sand, reason: "" }, AT));
  const read = evaluate(lost) as never;
  const settled = must(settle(lost, read));
  for (const end of ENDS) {
    const found = must(againstPlan(lost, read, settled, kept, end));
    const steps = found.causes.find(({ cause }) => cause === "steps");
    expect(steps?.parts.find(({ of }) => of === sand)?.minor).toBe(Math.round(-(11 / 60) * 26 * 100));
    const without = { ...kept, steps: kept.steps.filter(({ step }) => step !== "fettle") };
    must(againstPlan(lost, read, settled, without, end));
  }
});
