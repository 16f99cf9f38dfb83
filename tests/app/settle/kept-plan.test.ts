// The plan is kept in the step that begins the run, with what the sheets planned until then; on purpose it is kept anew.
import { writeFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { plannedDemo } from "../../../src/app/demo/demo";
import kept from "../../../src/app/demo/kept-plan.json" with { type: "json" };
import { figuresOf } from "../../../src/app/edition/figures";
import { recordPieces } from "../../../src/app/record/record";
import { keepPlanAnew } from "../../../src/app/settle/against-plan";
import { readDocument } from "../../../src/core/document/document-file";
import { nextEdition } from "../../../src/core/document/next-edition";
import { writeDocument } from "../../../src/core/document/write-document";
import { heldPlan, planOnSheets } from "../../../src/core/record/kept-plan";
import { must } from "../../accounts/results";
import { evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { afterTyping, smallEdition } from "../../tools/small-edition";

test("the demo's kept plan is what its sheets planned before the first cast", () => {
  const book = plannedDemo();
  const plan = planOnSheets(book, evaluate(book), "2026-09-07T08:00:00.000Z", "run began");
  if (process.env.UPDATE_EXPECTED === "1")
    writeFileSync(new URL("../../../src/app/demo/kept-plan.json", import.meta.url), `${JSON.stringify(plan)}\n`);
  else expect(kept).toEqual(plan);
});

/** A small edition with its engine, ready. */
async function opened() {
  const held = openSession(smallEdition());
  await held.settled();
  return held;
}

describe("the plan is kept", () => {
  test("with the first recording, in its step, as the sheets had it before", async () => {
    const { session, settled } = await opened();
    const leaves = session.result("plan_pays", "edition");
    expect(recordPieces(session, ["p1"], { kind: "done", step: "cast", firings: {} })).toBe(true);
    await settled();
    const plan = heldPlan(session.book.value);
    expect(plan).toMatchObject({ why: "run began", at: "2026-11-25T09:00:00.000Z", lines: { plan_pays: leaves } });
    expect(plan?.steps.map(({ step }) => step)).toEqual(session.book.value.sheets.route.rows.map(({ id }) => id));
    expect(plan?.steps[0]?.numbers).toMatchObject({
      order: 1,
      loss: expect.any(Number),
      plan_entries: expect.any(Number),
    });
    expect(session.history.value.done).toHaveLength(1);
    session.undo();
    expect(heldPlan(session.book.value)).toBeUndefined();
    session.redo();
    expect(heldPlan(session.book.value)).toEqual(plan);
  });

  test("by what is typed on the sheet too, by a loss and by rows from a file; once, and never by what is no entry", async () => {
    const { session, settled } = await opened();
    const type = (column: string, is: string | number) =>
      session.commit({
        label: "typed",
        operations: [{ kind: "cell", sheet: "pieces", row: "p2", column, was: undefined, is }],
      });
    type("note", "greyish");
    expect(heldPlan(session.book.value)).toBeUndefined();
    type("cast.slip", 900);
    await settled();
    const first = heldPlan(session.book.value);
    expect(first?.why).toBe("run began");
    type("fettle.minutes", 9);
    expect(heldPlan(session.book.value)).toBe(first);
    while (session.undo());
    type("lost_at", "cast");
    expect(heldPlan(session.book.value)?.why).toBe("run began");
    while (session.undo());
    const row = { id: "p90", cells: { piece: "90", "cast.slip": 880 } };
    session.commit({ label: "from a file", operations: [{ kind: "add rows", sheet: "pieces", at: 0, rows: [row] }] });
    expect(heldPlan(session.book.value)?.why).toBe("run began");
  });

  test("not in a run that had begun before: it is kept when the maker says so, and then anew beside the first", async () => {
    const { session, settled } = openSession(afterTyping(smallEdition(), [["pieces", "p1", "cast.slip", "900"]]));
    await settled();
    recordPieces(session, ["p2"], { kind: "done", step: "cast", firings: {} });
    expect(heldPlan(session.book.value)).toBeUndefined();
    expect(keepPlanAnew(session)).toBe(true);
    const first = heldPlan(session.book.value);
    expect(first?.why).toBe("kept afterwards");
    session.commit({
      label: "wage",
      operations: [{ kind: "cell", sheet: "edition", row: "wage", column: "value", was: 20, is: 31 }],
    });
    await settled();
    keepPlanAnew(session);
    keepPlanAnew(session);
    const { plans } = session.book.value.lists;
    expect(plans.map(({ why, lines }) => [why, lines.wage])).toEqual([
      ["kept afterwards", first?.lines.wage],
      ["kept anew", 31],
    ]);
    session.undo();
    session.undo();
    expect(session.book.value.lists.plans).toEqual([first]);
  });

  test("and comes back from a file, does not go into the next edition, and is not missed in one from before", async () => {
    const { session } = await opened();
    recordPieces(session, ["p1"], { kind: "done", step: "cast", firings: {} });
    const book = session.book.value;
    expect(must(readDocument(writeDocument(book), "small")).lists.plans).toEqual(book.lists.plans);
    const answers = { title: "Next", wanted: 3, firstPiece: "1", started: "2026-12-01" };
    expect(nextEdition(book, answers, 4).book.lists.plans).toEqual([]);
    const stored = JSON.parse(writeDocument(book));
    delete stored.lists.plans;
    expect(must(readDocument(JSON.stringify(stored), "small")).lists.plans).toEqual([]);
  });
});

test("figures of a run are held against the kept plan, and say so", async () => {
  const { session, settled } = await opened();
  recordPieces(session, ["p1"], { kind: "done", step: "cast", firings: {} });
  await settled();
  const cost = () => figuresOf(session).find(({ id }) => id === "put_in");
  const before = cost();
  expect(before?.planWords).toContain("25 Nov 2026");
  session.commit({
    label: "wage",
    operations: [{ kind: "cell", sheet: "edition", row: "wage", column: "value", was: 20, is: 300 }],
  });
  await settled();
  expect(cost()?.plan).toBe(before?.plan);
  expect(cost()?.text).not.toBe(before?.text);
});
