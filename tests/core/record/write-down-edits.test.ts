// Stock written down by hand, for many pieces at once: who is left out, what each standard lets be taken back, undone.
import { describe, expect, test } from "vitest";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, invert } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { record, recordChange } from "../../../src/core/record/record-edits";
import { takeBack } from "../../../src/core/record/run-log";
import { planWriteDown, type WriteDownAsked } from "../../../src/core/record/write-down-edits";
import { must } from "../../accounts/results";
import { smallEdition } from "../../tools/small-edition";

const AT = "2026-03-20T10:00:00.000Z";
const firings = { bisque: { kind: "there", name: "F1" } } as const;
const book = must(record(smallEdition(3), ["p1", "p2"], { kind: "done", step: "bisque", firings }, AT));
const carried = new Map([
  ["p1", { cost: 20, carried: 20 }],
  ["p2", { cost: 20, carried: 12.5 }],
]);
const asked = (more: Partial<WriteDownAsked> = {}): WriteDownAsked => ({
  ...{
    kind: "write-down",
    down: "by",
    amount: 8,
    day: "2026-03-20",
    today: "2026-03-20",
    reason: "chipped",
    rule: "IAS 2",
  },
  ...{ carried, digits: 2, ...more },
});
const plan = (of: Workbook, ids: readonly string[], more: Partial<WriteDownAsked> = {}) =>
  must(planWriteDown(of, ids, asked(more)));
const done = (of: Workbook, ids: readonly string[], more: Partial<WriteDownAsked> = {}) =>
  applyChange(of, recordChange(of, plan(of, ids, more), AT));
const cells = (of: Workbook, id: string) => {
  const { down_by: by, down_on: on, down_why: why } = rowOf(of, "pieces", id)?.cells ?? {};
  return { by, on, why };
};

describe("written down by hand", () => {
  test("by an amount on top of what was, to a value, and back; what is not in stock is left out by name", () => {
    const once = done(book, ["p1", "p2", "p3"]);
    expect(cells(once, "p1")).toEqual({ by: 8, on: "2026-03-20", why: "chipped" });
    expect(plan(book, ["p3"]).leftOut).toEqual([{ says: "not started: it has no cost yet", pieces: ["p3"] }]);
    expect(cells(done(once, ["p1"]), "p1").by).toBe(16);
    expect(cells(done(once, ["p1"], { down: "to", amount: 3.5, reason: "price cut" }), "p1")).toEqual({
      ...{ by: 16.5, on: "2026-03-20", why: "price cut" },
    });
    expect(cells(done(once, ["p1"], { down: "back" }), "p1")).toEqual({});
    expect(plan(book, ["p1"], { down: "back" }).leftOut[0]?.says).toBe("not written down by hand");
  });

  test("never below nothing and never above cost", () => {
    expect(plan(book, ["p1"], { amount: 20.01 }).leftOut[0]?.says).toBe("costs less than that is written down by");
    expect(plan(book, ["p1"], { down: "to", amount: 20.01 }).leftOut[0]?.says).toBe("costs less than that");
    expect(cells(done(book, ["p1"], { down: "to", amount: 0 }), "p1").by).toBe(20);
    for (const amount of [Number.NaN, -1, 0]) expect(planWriteDown(book, ["p1"], asked({ amount })).ok).toBe(false);
    expect(planWriteDown(book, ["p1"], asked({ reason: " " })).ok).toBe(false);
    expect(planWriteDown(book, ["p1"], asked({ day: "2026-02-30" })).ok).toBe(false);
  });

  test("ASC 330: what was written down in a closed year is cost, within its year it is asked about", () => {
    const once = done(book, ["p1"], { day: "2025-12-31" });
    const rule = "ASC 330" as const;
    expect(plan(once, ["p1"], { down: "back", rule }).leftOut[0]?.says).toContain("written down on 2025-12-31");
    expect(plan(once, ["p1"], { down: "to", amount: 15, rule }).operations).toEqual([]);
    expect(plan(once, ["p1"], { down: "to", amount: 5, rule }).takes).toEqual(["p1"]);
    const asks = plan(once, ["p1"], { down: "back" });
    expect([asks.takes, asks.warnings.length]).toEqual([["p1"], 1]);
    expect(plan(done(book, ["p1"]), ["p1"], { down: "back", rule }).takes).toEqual(["p1"]);
  });

  test("ASC 330: what is carried below cost at the close of a year is kept as cost", () => {
    const kept = plan(book, ["p1", "p2"], { down: "keep", reason: "", rule: "ASC 330" });
    expect(kept.leftOut).toEqual([{ says: "carried at its cost, less what was written down", pieces: ["p1"] }]);
    expect(cells(done(book, ["p2"], { down: "keep", reason: "", rule: "ASC 330" }), "p2")).toEqual({
      ...{ by: 7.5, on: "2026-03-20", why: "will not fetch its cost" },
    });
  });

  test("undone, and taken back in the run log", () => {
    const change = recordChange(book, plan(book, ["p1", "p2"]), AT);
    const once = applyChange(book, change);
    expect(applyChange(once, invert(change))).toEqual(book);
    expect(change.label).toBe("Written down, 2026-03-20, chipped: 01, 02");
    const [entry] = once.lists.log.slice(-1);
    const back = applyChange(once, must(takeBack(once, entry?.id ?? "", AT)).change);
    expect([cells(back, "p1"), cells(back, "p2")]).toEqual([{}, {}]);
  });
});
