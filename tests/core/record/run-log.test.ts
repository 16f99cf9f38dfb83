import { describe, expect, test } from "vitest";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, invert } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { type Recording, record, recordChange } from "../../../src/core/record/record-edits";
import { takeBack } from "../../../src/core/record/run-log";
import { planExtraSteps, repeatOf } from "../../../src/core/steps/extra-steps";
import { removeStep } from "../../../src/core/steps/step-edits";
import { codesOf, must } from "../../accounts/results";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const AT = "2026-03-01T10:00:00.000Z";
const LATER = "2026-03-02T10:00:00.000Z";
const book = smallEdition();
const run = (of: Workbook, ids: readonly string[], recording: Recording) => must(record(of, ids, recording, AT));
const back = (of: Workbook, id: string) => must(takeBack(of, id, LATER));
const backed = (of: Workbook, id: string) => applyChange(of, back(of, id).change);
const coats = (amount: number): Recording => ({ kind: "coats", step: "glaze", amount });
const cells = (of: Workbook, id: string) => rowOf(of, "pieces", id)?.cells ?? {};

test("an entry is marked as taken back and not deleted; its cells hold what they held", () => {
  const after = backed(run(book, ["p1", "p2"], coats(3)), "l1");
  expect(after.sheets).toEqual(book.sheets);
  expect(after.lists.log).toMatchObject([{ id: "l1", takenBack: LATER }]);
  expect(codesOf(takeBack(after, "l1", LATER))).toEqual(["log.taken"]);
  expect(codesOf(takeBack(after, "l9", LATER))).toEqual(["log.taken"]);
});

test("taking back is one step: undone, the entry stands again", () => {
  const recorded = run(book, ["p1", "p2"], coats(3));
  const { change } = back(recorded, "l1");
  expect(applyChange(applyChange(recorded, change), invert(change))).toEqual(recorded);
});

test("a cell that was changed since is left and named, the others are restored", () => {
  const recorded = run(book, ["p1", "p2", "p3"], coats(3));
  const typed = afterTyping(recorded, [["pieces", "p2", "glaze.coats", "4"]]);
  const taken = back(typed, "l1");
  expect(taken.restored).toBe(2);
  expect(taken.left).toEqual(["Pieces 02, Glaze: coats: changed since, now 4"]);
  expect(["p1", "p2", "p3"].map((id) => cells(applyChange(typed, taken.change), id)["glaze.coats"])).toEqual([
    undefined,
    4,
    undefined,
  ]);
});

test("nothing is marked where every cell was changed since", () => {
  const recorded = run(run(book, ["p1"], coats(3)), ["p1"], coats(4));
  expect(codesOf(takeBack(recorded, "l1", LATER))).toEqual(["log.nothing"]);
});

test("taken back in any order, two entries on one cell leave it as it was before both", () => {
  const both = run(run(book, ["p1", "p2"], coats(3)), ["p1"], coats(4));
  expect(cells(backed(both, "l2"), "p1")["glaze.coats"]).toBe(3);
  expect(backed(backed(both, "l2"), "l1").sheets).toEqual(book.sheets);
  // The first one gives up p2 only; p1 then falls back past it.
  expect(backed(backed(both, "l1"), "l2").sheets).toEqual(book.sheets);
});

test("a loss that is taken back frees the piece, and gives its grade back", () => {
  const passed = run(book, ["p1"], { kind: "passed", grade: "good" });
  const lost = run(passed, ["p1"], { kind: "lost", step: "bisque", reason: "dunted" });
  expect(backed(lost, "l2").sheets).toEqual(passed.sheets);
});

describe("a firing that an entry made", () => {
  const wish = { kind: "new", name: "F3", kiln: "Large" } as const;
  const fired = run(book, ["p1", "p2"], { kind: "firing", step: "bisque", firing: wish });

  test("goes with it", () => expect(backed(fired, "l1").sheets).toEqual(book.sheets));

  test("stays where others are in it, or its meter was read, and is named", () => {
    const shared = run(fired, ["p3"], { kind: "firing", step: "bisque", firing: { kind: "there", name: "F3" } });
    expect(back(shared, "l1").left).toEqual(["Firings F3: kept, it is used by others"]);
    expect(cells(backed(shared, "l1"), "p3")["bisque.firing"]).toBe("F3");
    const metered = afterTyping(fired, [["firings", "f3", "meter", "90"]]);
    expect(back(metered, "l1").left).toEqual(["Firings F3: kept, it was changed since"]);
    expect(backed(metered, "l1").sheets.firings).toEqual(metered.sheets.firings);
  });

  test("what a cell held is not put back where it is no longer there", () => {
    const moved = run(fired, ["p1"], { kind: "firing", step: "bisque", firing: { kind: "there", name: "F1" } });
    const renamed = afterTyping(moved, [["firings", "f3", "id", "B3"]]);
    const taken = back(run(renamed, ["p1"], coats(2)), "l3");
    expect(taken.left).toEqual([]);
    expect(codesOf(takeBack(renamed, "l2", LATER))).toEqual(["log.nothing"]);
  });
});

describe("a step that an entry made", () => {
  const refire = repeatOf(book, "firing");
  if (!refire) throw new Error("no such step");
  const steps = [{ ...refire, firing: { kind: "there", name: "F2" } as const }];
  const plan = must(planExtraSteps(book, ["p1"], { kind: "extra", title: "Refire", steps }));
  const refired = applyChange(book, recordChange(book, plan, AT));

  test("goes with it, with its columns and wiring", () => expect(backed(refired, "l1").sheets).toEqual(book.sheets));

  test("stays where another piece has had it since", () => {
    const other = must(planExtraSteps(refired, ["p2"], { kind: "extra", title: "Refire", steps }));
    const both = applyChange(refired, recordChange(refired, other, AT));
    expect(back(both, "l1").left).toEqual(["Route Glaze firing 2: kept, it is used by others"]);
    const after = backed(both, "l1");
    expect(cells(after, "p1")["glaze_firing_2.firing"]).toBeUndefined();
    expect(cells(after, "p2")["glaze_firing_2.firing"]).toBe("F2");
  });

  test("may have been removed since", () => {
    const removed = applyChange(refired, must(removeStep(refired, "glaze_firing_2")));
    expect(codesOf(takeBack(removed, "l1", LATER))).toEqual(["log.nothing"]);
  });
});
