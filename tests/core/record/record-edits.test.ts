import { describe, expect, test } from "vitest";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, invert } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { namePieces } from "../../../src/core/record/choose-pieces";
import { planRecord, type Recording, record, recordChange } from "../../../src/core/record/record-edits";
import type { RecordPlan } from "../../../src/core/record/record-plan";
import { must } from "../../accounts/results";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const AT = "2026-03-01T10:00:00.000Z";
// Five pieces; the band is for special ones, and 02 is special.
const book = afterTyping(smallEdition(), [
  ["route", "band", "who", "special"],
  ["pieces", "p2", "tier", "special"],
]);
const all = ["p1", "p2", "p3", "p4", "p5"];
const plan = (of: Workbook, ids: readonly string[], recording: Recording): RecordPlan =>
  must(planRecord(of, ids, recording));
const done = (step: string, firings = {}): Recording => ({ kind: "done", step, firings });
const cells = (of: Workbook, id: string) => rowOf(of, "pieces", id)?.cells ?? {};
const run = (of: Workbook, ids: readonly string[], recording: Recording) => must(record(of, ids, recording, AT));
const notes = (of: readonly { readonly says: string; readonly pieces: readonly string[] }[]) =>
  of.map(({ says, pieces }) => `${says} [${pieces.join(" ")}]`);

describe("done to a step", () => {
  test("fills slip, minutes and coats as the Route says is usual, and nothing that is there", () => {
    const started = afterTyping(book, [["pieces", "p1", "fettle.minutes", "17"]]);
    const after = run(started, ["p1", "p3"], done("fettle"));
    expect(cells(after, "p1")).toMatchObject({ "cast.slip": 900, "fettle.minutes": 17 });
    expect(cells(after, "p3")).toMatchObject({ "cast.slip": 900, "fettle.minutes": 10 });
    expect(cells(after, "p2")["cast.slip"]).toBeUndefined();
  });

  test("leaves a firing step blank unless a firing is chosen, and says so", () => {
    const made = plan(book, ["p1"], done("glaze"));
    expect(notes(made.warnings)).toEqual(["stays blank. Bisque: no firing is chosen [p1]"]);
    expect(cells(run(book, ["p1"], done("glaze")), "p1")["bisque.firing"]).toBeUndefined();
    const fired = run(book, ["p1"], done("glaze", { bisque: { kind: "there", name: "F1" } }));
    expect(cells(fired, "p1")).toMatchObject({ "bisque.firing": "F1", "glaze.coats": 2 });
  });

  test("makes a new firing once for two steps that are fired together, with the programme and kiln of its step", () => {
    const wish = { kind: "new", name: "F3", kiln: "Large", date: "2026-03-01" } as const;
    const after = run(book, all, done("firing", { bisque: wish, firing: wish }));
    expect(after.sheets.firings.rows.map((row) => row.cells.id)).toEqual(["F1", "F2", "F3"]);
    expect(after.sheets.firings.rows[2]?.cells).toEqual({
      id: "F3",
      kiln: "Large",
      date: "2026-03-01",
      basis: "count",
      ware: "raw",
    });
  });

  test("leaves out lost pieces, those that have had it all, and those it is not for", () => {
    const lost = run(run(book, ["p4"], { kind: "lost", step: "cast", reason: "tore" }), ["p5"], done("fettle"));
    const made = plan(lost, ["p3", "p4", "p5"], done("fettle"));
    expect(made.takes).toEqual(["p3"]);
    expect(notes(made.leftOut)).toEqual(["lost at Cast [p4]", "done already [p5]"]);
    expect(notes(plan(book, all, done("band", ALL_FIRED)).leftOut)).toEqual([
      "Band is for special pieces [p1 p3 p4 p5]",
    ]);
  });

  test("makes no firing that no piece goes into", () => {
    const wish = { kind: "new", name: "F3", kiln: "Large" } as const;
    const fired = run(book, all, done("bisque", { bisque: { kind: "there", name: "F1" } }));
    expect(plan(fired, all, done("bisque", { bisque: wish })).operations).toEqual([]);
    expect(plan(fired, all, done("glaze", { bisque: wish })).says).toEqual(["Glaze: 2 coats, for 5 pieces"]);
  });
});

const ALL_FIRED = { bisque: { kind: "there", name: "F1" }, firing: { kind: "there", name: "F2" } } as const;

describe("one thing at a step", () => {
  test("says what will happen, to how many, and how many had another value", () => {
    const three = run(run(book, all, done("bisque", ALL_FIRED)), ["p1", "p2"], {
      kind: "coats",
      step: "glaze",
      amount: 3,
    });
    const made = plan(three, all, { kind: "coats", step: "glaze", amount: 2 });
    expect(made.says).toEqual(["Glaze: 2 coats, for 5 pieces; 2 had another value"]);
    expect(made.label).toBe("Glaze, 2 coats: 01–05");
    expect(made.warnings).toEqual([]);
  });

  test("out of order is warned of and can be done all the same", () => {
    const cast = run(book, all, done("fettle"));
    const made = plan(cast, ["p1"], { kind: "coats", step: "glaze", amount: 2 });
    expect(notes(made.warnings)).toEqual(["out of order: has not had Bisque yet [p1]"]);
    expect(cells(applyChange(cast, recordChange(cast, made, AT)), "p1")["glaze.coats"]).toBe(2);
    const late = plan(cast, ["p1"], { kind: "firing", step: "firing", firing: { kind: "there", name: "F2" } });
    expect(notes(late.warnings)).toEqual(["out of order: has not had Bisque and Glaze yet [p1]"]);
  });

  test("one firing at two steps of a piece is asked about, whichever way it gets there", () => {
    const fired = run(book, ["p1", "p3"], done("glaze", { bisque: { kind: "there", name: "F1" } }));
    const twice = plan(fired, ["p1"], { kind: "firing", step: "firing", firing: { kind: "there", name: "F1" } });
    expect(notes(twice.warnings)).toContain("would be in F1 twice, at Glaze firing and at Bisque: is that so? [p1]");
    const other = plan(fired, ["p1"], { kind: "firing", step: "firing", firing: { kind: "there", name: "F2" } });
    expect(notes(other.warnings).join()).not.toContain("twice");
    const wish = { kind: "there", name: "F2" } as const;
    const together = plan(book, ["p3"], done("firing", { bisque: wish, firing: wish }));
    expect(notes(together.warnings)).toContain("would be in F2 twice, at Bisque and at Glaze firing: is that so? [p3]");
  });

  test("a piece that was lost before the step is left out; one lost at it can still be put into its firing", () => {
    const lost = run(run(book, ["p1"], { kind: "lost", step: "fettle", reason: "" }), ["p2"], {
      kind: "lost",
      step: "bisque",
      reason: "",
    });
    const made = plan(lost, ["p1", "p2"], { kind: "firing", step: "bisque", firing: { kind: "there", name: "F1" } });
    expect(made.takes).toEqual(["p2"]);
    expect(notes(made.leftOut)).toEqual(["lost at Fettle [p1]"]);
  });

  test.each<[Recording, string]>([
    [{ kind: "coats", step: "glaze", amount: 1.5 }, "record.amount"],
    [{ kind: "coats", step: "glaze", amount: Number.NaN }, "record.amount"],
    [{ kind: "minutes", step: "fettle", amount: Number.NaN }, "record.amount"],
    [{ kind: "slip", step: "cast", amount: Number.NaN }, "record.amount"],
    [{ kind: "minutes", step: "glaze", amount: 3 }, "record.step"],
    [{ kind: "firing", step: "bisque", firing: { kind: "there", name: "F9" } }, "firing.none"],
    [{ kind: "firing", step: "bisque", firing: { kind: "new", name: "f1", kiln: "Large" } }, "firing.name"],
    [{ kind: "firing", step: "bisque", firing: { kind: "new", name: "F3", kiln: "None" } }, "firing.kiln"],
    [{ kind: "note", note: " " }, "record.note"],
  ])("refuses %o", (recording, code) => {
    const planned = planRecord(book, all, recording);
    expect(planned.ok ? [] : planned.problems.map((one) => one.code)).toEqual([code]);
  });
});

describe("lost, passed, tier and note", () => {
  test("a loss keeps the reason, takes the grade away and says so; it is undone by “not lost”", () => {
    const passed = run(book, ["p1"], { kind: "passed", grade: "good" });
    const made = plan(passed, ["p1"], { kind: "lost", step: "bisque", reason: " dunted " });
    expect(notes(made.warnings)[0]).toBe("passed as good already; that is taken away [p1]");
    const lost = run(passed, ["p1"], { kind: "lost", step: "bisque", reason: " dunted " });
    expect(cells(lost, "p1")).toMatchObject({ lost_at: "bisque", reason: "dunted" });
    expect(cells(lost, "p1").grade).toBeUndefined();
    const back = run(lost, all, { kind: "not lost" });
    expect(cells(back, "p1").lost_at).toBeUndefined();
    expect(cells(back, "p1").reason).toBeUndefined();
  });

  test("a loss at a firing says which pieces are in no firing there, and which have gone further", () => {
    const further = run(book, ["p1"], done("glaze", ALL_FIRED));
    const made = plan(further, ["p1", "p2"], { kind: "lost", step: "bisque", reason: "" });
    expect(notes(made.warnings)).toEqual([
      "has had later steps, and no longer bears them: Glaze [p1]",
      "out of order: has not had Cast and Fettle yet [p2]",
      "is in no firing at Bisque, and bears none of it; put it in first if it was there [p2]",
    ]);
  });

  test("lost pieces are never passed; those with steps to come are passed after a warning", () => {
    const lost = run(book, ["p1"], { kind: "lost", step: "cast", reason: "" });
    const made = plan(lost, ["p1", "p3"], { kind: "passed", grade: "good" });
    expect(notes(made.leftOut)).toEqual(["lost at Cast [p1]"]);
    expect(notes(made.warnings)).toEqual(["still to come: Cast, Fettle, Bisque, Glaze and Glaze firing [p3]"]);
  });

  test("a note is added to what is there", () => {
    const once = run(book, ["p1"], { kind: "note", note: "pinholes" });
    const twice = run(once, ["p1", "p2"], { kind: "note", note: "at the rim" });
    expect([cells(twice, "p1").note, cells(twice, "p2").note]).toEqual(["pinholes; at the rim", "at the rim"]);
    expect(plan(twice, ["p1"], { kind: "note", note: "at the rim" }).takes).toEqual([]);
  });

  test("a tier is set for those that have another", () => {
    expect(plan(book, all, { kind: "tier", tier: "special" }).takes).toEqual(["p1", "p3", "p4", "p5"]);
  });
});

describe("the run log", () => {
  test("gets one line in the same change: what, when, which pieces, and what each cell was and is", () => {
    const change = recordChange(
      book,
      plan(book, ["p1", "p2"], { kind: "lost", step: "cast", reason: "tore" }),
      AT,
      "wet",
    );
    const after = applyChange(book, change);
    expect(after.lists.log).toEqual([
      {
        id: "l1",
        at: AT,
        act: "lost",
        label: "Lost at Cast: 01, 02",
        note: "wet",
        pieces: ["p1", "p2"],
        writes: [
          { sheet: "pieces", row: "p1", column: "lost_at", is: "cast" },
          { sheet: "pieces", row: "p1", column: "reason", is: "tore" },
          { sheet: "pieces", row: "p2", column: "lost_at", is: "cast" },
          { sheet: "pieces", row: "p2", column: "reason", is: "tore" },
          { sheet: "pieces", row: "p1", column: "lost_on", is: AT.slice(0, 10) },
          { sheet: "pieces", row: "p2", column: "lost_on", is: AT.slice(0, 10) },
        ],
      },
    ]);
    expect(applyChange(after, invert(change))).toEqual(book);
  });

  test("gets no line where nothing happens", () => {
    expect(recordChange(book, plan(book, all, { kind: "not lost" }), AT).operations).toEqual([]);
  });

  test("names long lists shortly", () => {
    expect(namePieces(book, ["p1", "p3", "p5"])).toBe("01, 03, 05");
  });
});
