import { describe, expect, test } from "vitest";
import { columnOf, rowOf } from "../../../src/core/document/access";
import { applyChange, type Change, invert } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { readFormula } from "../../../src/core/formula/formula";
import type { Result } from "../../../src/core/problem";
import { loseAt } from "../../../src/core/record/piece-edits";
import { eachSteps } from "../../../src/core/sheets/each-step";
import { columnsOfStep } from "../../../src/core/sheets/pieces-sheet";
import { standardSheets } from "../../../src/core/sheets/standard";
import { STEP_KIND_RULES, STEP_KINDS } from "../../../src/core/sheets/step-kinds";
import { addStep, moveStep, removeStep, repeatStep } from "../../../src/core/steps/step-edits";
import { must } from "../../accounts/results";
import { LiveEdition } from "../../tools/live-edition";
import { printFormula } from "../../tools/print-formula";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const book = smallEdition();

function changed(before: Workbook, change: Result<Change>): Workbook {
  if (!change.ok) throw new Error(change.problems[0]?.message);
  const after = applyChange(before, change.value);
  expect(applyChange(after, invert(change.value))).toEqual(before);
  return after;
}

const messagesOf = (result: Result<Change>) => (result.ok ? [] : result.problems.map(({ message }) => message));
const routeOf = (at: Workbook) => at.sheets.route.rows.map(({ id }) => id);
const groupsOf = (at: Workbook) => [...new Set(at.sheets.pieces.columns.flatMap(({ step }) => step ?? []))];

/** Every column is there once, in route order, and every formula is that of the route. */
function expectWhole(at: Workbook): void {
  expect(groupsOf(at)).toEqual(routeOf(at));
  const steps = at.sheets.pieces.columns.filter(({ step }) => step !== undefined);
  expect(steps).toEqual(at.sheets.route.rows.flatMap(columnsOfStep));
  const { pieces, firings } = standardSheets(at.sheets.route.rows);
  for (const { key, formula } of pieces.columns) expect(columnOf(at, "pieces", key)?.formula).toBe(formula);
  for (const { key, formula } of firings.columns) expect(columnOf(at, "firings", key)?.formula).toBe(formula);
  const orders = at.sheets.route.rows.map(({ cells }) => Number(cells.order));
  expect([...orders].sort((a, b) => a - b)).toEqual(orders);
  expect(new Set(orders).size).toBe(orders.length);
}

describe("addStep", () => {
  test.each(STEP_KINDS)("puts a %s step after another one", (kind) => {
    const after = changed(book, addStep(book, { kind, title: ` New ${kind} ` }, "bisque"));
    expect(routeOf(after)).toEqual(["cast", "fettle", "bisque", `new_${kind}`, "glaze", "firing", "band"]);
    expect(rowOf(after, "route", `new_${kind}`)?.cells).toMatchObject({
      title: `New ${kind}`,
      kind,
      key: `new_${kind}`,
    });
    expectWhole(after);
  });

  test("puts one first or last, and many between two", () => {
    expect(routeOf(changed(book, addStep(book, { kind: "hand", title: "Mix" }, undefined)))[0]).toBe("mix");
    let at = changed(book, addStep(book, { kind: "hand", title: "Pack" }, "band"));
    expect(routeOf(at).at(-1)).toBe("pack");
    for (let count = 0; count < 20; count += 1)
      at = changed(at, addStep(at, { kind: "hand", title: `Wipe ${count}` }, "glaze"));
    expectWhole(at);
  });

  test("carries what the route is to say of it", () => {
    const cells = { kiln: "Small", loss: 0.01, method: "cone 018" };
    const after = changed(book, addStep(book, { kind: "firing", title: "Low firing", cells }, "band"));
    expect(rowOf(after, "route", "low_firing")?.cells).toMatchObject(cells);
    const pieces = must(readFormula(columnOf(after, "firings", "pieces")?.formula ?? "", eachSteps(after)));
    expect(printFormula(pieces)).toContain("{pieces:low_firing.load}");
  });

  test("makes an id from any title, never one that is taken", () => {
    let at = book;
    const ids = ["Émail blanc", "釉薬", "3rd coat", "Cast!", "x".repeat(80)].map((title) => {
      at = changed(at, addStep(at, { kind: "coat", title }, "glaze"));
      return routeOf(at)[routeOf(at).indexOf("glaze") + 1];
    });
    expect(ids).toEqual(["e_mail_blanc", "coat", "rd_coat", "cast_2", "x".repeat(28)]);
    expectWhole(at);
  });

  test("refuses a title that is taken, missing or too long", () => {
    const add = (title: string) => messagesOf(addStep(book, { kind: "hand", title }, "cast"));
    expect(add("FETTLE ")).toEqual(["The new step: found “FETTLE”, but it takes a title that no other step has."]);
    expect(add("  ")).toEqual(["The new step: found nothing, but it takes a title of 1 to 80 characters."]);
    expect(add("x".repeat(81))[0]).toMatch(
      /^The new step: found “x{58}…, but it takes a title of 1 to 80 characters\.$/,
    );
  });
});

describe("repeatStep", () => {
  test("adds the same step right after itself and counts on", () => {
    const once = changed(book, repeatStep(book, "firing"));
    expect(routeOf(once)).toEqual(["cast", "fettle", "bisque", "glaze", "firing", "glaze_firing_2", "band"]);
    expect(rowOf(once, "route", "glaze_firing_2")?.cells).toMatchObject({
      kiln: "Large",
      title: "Glaze firing 2",
      loss: 0.04,
    });
    // For the same pieces as the one it repeats; what earlier editions saw was seen of that one.
    expect(rowOf(once, "route", "glaze_firing_2")?.cells).not.toHaveProperty("who");
    const special = afterTyping(book, [
      ["route", "firing", "who", "special"],
      ["route", "firing", "seen_entered", "40"],
    ]);
    const again = rowOf(changed(special, repeatStep(special, "firing")), "route", "glaze_firing_2")?.cells;
    expect(again?.who).toBe("special");
    expect(again).not.toHaveProperty("seen_entered");
    const twice = changed(once, repeatStep(once, "glaze_firing_2"));
    expect(rowOf(twice, "route", "glaze_firing_3")?.cells.title).toBe("Glaze firing 3");
    expectWhole(twice);
  });

  test("of a step that is not there is refused", () => {
    expect(messagesOf(repeatStep(book, "nope"))).toEqual([
      "The route: found “nope”, but it takes a step that is on it.",
    ]);
  });
});

describe("moveStep", () => {
  test("changes places with its neighbour, columns and wiring with it", () => {
    const down = changed(book, moveStep(book, "glaze", 1));
    expect(routeOf(down)).toEqual(["cast", "fettle", "bisque", "firing", "glaze", "band"]);
    expectWhole(down);
    const up = changed(book, moveStep(book, "bisque", -1));
    expect(routeOf(up)).toEqual(["cast", "bisque", "fettle", "glaze", "firing", "band"]);
    expectWhole(up);
    expectWhole(changed(book, moveStep(book, "fettle", -1)));
    expectWhole(changed(book, moveStep(book, "firing", 1)));
  });

  test("keeps what was entered, and the engine says what an engine built anew says", () => {
    const live = new LiveEdition(
      afterTyping(book, [
        ["pieces", "p1", "cast.slip", "900"],
        ["pieces", "p1", "fettle.minutes", "10"],
        ["pieces", "p2", "firing.firing", "F1"],
      ]),
    );
    // Nobody has had the glaze: the firing moves before it, and p2's share of it stays what it was.
    const [before, own] = [live.book, live.read("pieces", "p2", "own")];
    const moved = moveStep(live.book, "glaze", 1);
    if (!moved.ok) throw new Error(moved.problems[0]?.message);
    live.run(moved.value);
    expect(rowOf(live.book, "pieces", "p2")?.cells["firing.firing"]).toBe("F1");
    expect(live.read("pieces", "p2", "own")).toBe(own);
    expect(live.differences()).toEqual([]);
    live.undo(moved.value);
    expect(live.book).toEqual(before);
    expect(live.differences()).toEqual([]);
    live.close();
  });

  test("is refused at the ends, and where pieces have had the one that would come later", () => {
    expect(messagesOf(moveStep(book, "cast", -1))[0]).toContain("the first step");
    expect(messagesOf(moveStep(book, "band", 1))[0]).toContain("the last step");
    const run = afterTyping(book, [["pieces", "p3", "fettle.minutes", "10"]]);
    expect(messagesOf(moveStep(run, "fettle", 1))[0]).toMatch(/1 piece that had Fettle first .*: 03/);
    expect(messagesOf(moveStep(run, "bisque", -1))[0]).toMatch(/no piece has had Fettle/);
    expect(moveStep(run, "fettle", -1).ok).toBe(true);
    const lost = applyChange(book, loseAt(book, ["p4"], "bisque", "cracked"));
    expect(moveStep(lost, "bisque", -1).ok).toBe(false);
  });
});

describe("removeStep", () => {
  test("takes its columns and all that was entered for it, and undo brings them back", () => {
    const full = afterTyping(book, [
      ["pieces", "p1", "glaze.coats", "3"],
      ["pieces", "p2", "glaze.area", "=100+20"],
    ]);
    const after = changed(full, removeStep(full, "glaze"));
    expect(groupsOf(after)).toEqual(["cast", "fettle", "bisque", "firing", "band"]);
    expect(JSON.stringify(after.sheets.pieces.rows)).not.toContain("glaze.");
    expectWhole(after);
  });

  test.each(["cast", "fettle", "bisque", "glaze", "firing", "band"])("works for %s", (id) => {
    expectWhole(changed(book, removeStep(book, id)));
  });

  test("takes the whole route apart, step by step", () => {
    let at = book;
    for (const id of routeOf(book)) at = changed(at, removeStep(at, id));
    expect(at.sheets.route.rows).toEqual([]);
    expectWhole(at);
    expectWhole(changed(at, addStep(at, { kind: "cast", title: "Cast" }, undefined)));
  });

  test("is refused while pieces are lost at it", () => {
    const lost = applyChange(book, loseAt(book, ["p1", "p2"], "glaze", "crawled"));
    expect(messagesOf(removeStep(lost, "glaze"))).toEqual([
      "Step Glaze: found “2 lost pieces at it”, but it takes to be removed only when no piece was lost at it. Give those pieces another step to be lost at first.",
    ]);
  });

  test("is refused while a formula of the maker's uses it", () => {
    const used = afterTyping(book, [["pieces", "p1", "band.area", "={glaze.area}/10"]]);
    expect(messagesOf(removeStep(used, "glaze"))).toEqual([
      "Step Glaze: found “a formula that uses it: Pieces p1, band.area”, but it takes to be removed only when no formula of yours uses it.",
    ]);
    const own = afterTyping(book, [["pieces", "p1", "glaze.area", "={glaze.coats}*3"]]);
    expectWhole(changed(own, removeStep(own, "glaze")));
  });

  test("of a step that is not there is refused", () => {
    expect(messagesOf(removeStep(book, "nope"))).toEqual([
      "The route: found “nope”, but it takes a step that is on it.",
    ]);
  });
});

test("every kind of step has a title to begin with", () => {
  expect(STEP_KINDS.map((kind) => STEP_KIND_RULES[kind].title)).toEqual([
    "Cast",
    "Work by hand",
    "Coat",
    "Lustre",
    "Firing",
  ]);
});
