// A kind of step that the program does not have, put into the table and nowhere else: a piece goes through plan, record,
// bench sheet, card, settlement and what-ifs with it.
import { describe, expect, test, vi } from "vitest";
import { calendarStep } from "../../../src/app/calendar/calendar-steps";
import { benchSheet } from "../../../src/app/paper/bench-sheet";
import { pieceCards } from "../../../src/app/paper/piece-card";
import { firingRecords } from "../../../src/app/record/firing-sums";
import { ACT_TITLES } from "../../../src/app/record/run-log";
import { rescueTable, usualTerms } from "../../../src/app/rescue/rescue";
import { settle } from "../../../src/app/settle/settle";
import type { CalendarPiece } from "../../../src/ceramics/calendar/route-tasks";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, type Change } from "../../../src/core/document/change";
import { addRows } from "../../../src/core/document/edits";
import { readTemplate } from "../../../src/core/document/template";
import type { Workbook } from "../../../src/core/document/workbook";
import type { Result } from "../../../src/core/problem";
import { keepRecipe } from "../../../src/core/record/recipes";
import { planRecord, type Recording, recordChange } from "../../../src/core/record/record-edits";
import type { AmountColumn } from "../../../src/core/sheets/kinds/kind";
import { STEP_KINDS, type StepKind } from "../../../src/core/sheets/step-kinds";
import { planExtraSteps, repeatOf } from "../../../src/core/steps/extra-steps";
import { addStep } from "../../../src/core/steps/step-edits";
import { ACTS, askedOf, BLANK_FORM, stepsForAct } from "../../../src/ui/record/record-form";
import { evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { afterTyping, smallEdition } from "../../tools/small-edition";
import { compareCases } from "../../tools/whatif-compare";

vi.mock("../../../src/core/document/sheet-keys", async (original) => {
  const keys = await original<typeof import("../../../src/core/document/sheet-keys")>();
  return { ...keys, STEP_KINDS: keys.STEP_KINDS.toSpliced(4, 0, "decal" as never) };
});
vi.mock("../../../src/core/sheets/kinds/table", async (original) => {
  const { STEP_KIND_RULES } = await original<typeof import("../../../src/core/sheets/kinds/table")>();
  const { DECAL } = await import("../../tools/decal");
  return { STEP_KIND_RULES: { ...STEP_KIND_RULES, decal: DECAL } };
});

const DECAL = "decal" as StepKind;
const SHEETS = "sheets" as AmountColumn;
const AT = "2026-11-25T09:00:00.000Z";

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const apply = (book: Workbook, change: Result<Change>) => applyChange(book, must(change));
const recorded = (book: Workbook, ids: readonly string[], recording: Recording) =>
  applyChange(book, recordChange(book, must(planRecord(book, ids, recording)), AT));

/** The small edition with a decal step behind its band: two sheets of half a gram, at 0.20 a gram and 4 minutes a sheet. */
function withDecal(): Workbook {
  const rows = [{ id: "m9", cells: { id: "Transfers", sort: "other", pack_price: 20, pack_grams: 100 } }];
  const book = applyChange(smallEdition(), addRows(smallEdition(), "materials", rows, ""));
  const cells = { material: "Transfers", minutes: 4, sheets: 2, sheet_grams: 0.5, loss: 0.1 };
  return apply(book, addStep(book, { kind: DECAL, title: "Transfers on", cells }, "band"));
}

const book = withDecal();
const step = book.sheets.route.rows.at(-1)?.id ?? "";
const [FIRST, SECOND] = book.sheets.pieces.rows.map(({ id }) => id) as [string, string];

/** One piece with three sheets, and one with what is usual. */
function decalled(): Workbook {
  const three = recorded(book, [FIRST], { kind: SHEETS, step, amount: 3 });
  return recorded(three, [SECOND], { kind: "done", step, firings: {} });
}

const done = decalled();
const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");

test("the kind stands among the others and brings its columns", () => {
  expect(STEP_KINDS).toEqual(["cast", "hand", "coat", "metal", "decal", "firing"]);
  expect(book.sheets.route.columns.map(({ key }) => key)).toEqual(expect.arrayContaining(["sheets", "sheet_grams"]));
  expect(book.sheets.pieces.columns.filter((column) => column.step === step).map(({ key }) => key)).toEqual(
    ["sheets", "used", "material", "labour", "cost", "day"].map((key) => `${step}.${key}`),
  );
});

test("a template may have it", () => {
  const route = [{ id: "transfers", kind: "decal", title: "Transfers", cells: { sheets: 2 } }];
  const template = { id: "t", version: 1, title: "T", summary: "T", wanted: 5, inputs: {}, tariffs: [], route };
  const read = readTemplate(
    {
      ...template,
      materials: [],
      kilns: [{ id: "K", kw: 5, hours: 8, duty: 0.6, capacity: 10, wear: 4 }],
      programmes: [],
    },
    "t",
  );
  expect(read.ok ? [] : read.problems.map(({ message }) => message)).toEqual([]);
});

test("the plan prices it: two sheets of half a gram, eight minutes", () => {
  const read = evaluate(book);
  const line = (id: string) => Number(read("edition", id, "value"));
  const at = (column: string) => Number(read("route", step, column));
  expect(at("grams_each")).toBe(1);
  expect(at("hours_each")).toBeCloseTo(8 / 60, 12);
  expect(at("cost_each")).toBeCloseTo(0.2 + (8 / 60) * (line("wage") + line("overhead_normal")), 12);
  expect(at("plan_lost")).toBeCloseTo(at("plan_entries") * 0.1, 12);
  expect(at("plan_grams")).toBeCloseTo(at("plan_entries"), 12);
  expect(at("plan_cost")).toBeCloseTo(at("plan_entries") * at("cost_each"), 10);
});

describe("recorded", () => {
  test("by number, and with what is usual; both are in the run log in words", () => {
    expect(done.lists.log.map(({ label }) => label)).toEqual([
      "Transfers on, 3 sheets: 01",
      "Done up to Transfers on: 02",
    ]);
    const said = must(planRecord(book, [FIRST], { kind: SHEETS, step, amount: 3 })).says;
    expect(said).toEqual(["Transfers on: 3 sheets, for 1 piece"]);
    expect(ACT_TITLES.sheets).toBe("Sheets");
  });

  test("a number of sheets that can't be is refused", () => {
    const half = planRecord(book, [FIRST], { kind: SHEETS, step, amount: 2.5 });
    expect(half.ok ? "" : half.problems[0]?.message).toMatch(/Transfers on, sheets/);
    const coats = planRecord(book, [FIRST], { kind: "coats", step, amount: 2 });
    expect(coats.ok).toBe(false);
  });

  test("the Record page offers it", async () => {
    const { session, settled } = openSession(book);
    await settled();
    expect(ACTS.map(([, title]) => title)).toContain("Sheets");
    expect(stepsForAct(book, SHEETS).map(({ id }) => id)).toEqual([step]);
    expect(askedOf(session, { ...BLANK_FORM, act: SHEETS, amount: "" }, step)).toEqual({
      kind: SHEETS,
      step,
      amount: 2,
    });
  });

  test("and so does a piece that has it once more", () => {
    const again = repeatOf(done, step);
    if (!again) throw new Error("can't be repeated");
    const plan = must(
      planExtraSteps(done, [FIRST], { kind: "extra", title: "Again", steps: [{ ...again, amount: 5 }] }),
    );
    expect(plan.says).toEqual(["A new step, as needed: Transfers on 2", "Transfers on 2: 5 sheets, for 1 piece"]);
  });
});

test("the sheets cost what was entered: 3 sheets of half a gram at 0.20 a gram, 12 minutes", () => {
  const read = evaluate(done);
  const line = (id: string) => Number(read("edition", id, "value"));
  expect(read("pieces", FIRST, `${step}.used`)).toBe(1.5);
  expect(read("pieces", FIRST, `${step}.material`)).toBeCloseTo(0.3, 12);
  expect(read("pieces", FIRST, `${step}.labour`)).toBeCloseTo((12 / 60) * line("wage"), 12);
  expect(read("route", step, "grams_used")).toBe(2.5);
  expect(read("route", step, "hours")).toBeCloseTo(20 / 60, 12);
  expect(read("pieces", FIRST, "reached")).toBe(read("route", step, "order"));
});

test("the bench sheet says what is to be done and has room for what was", () => {
  const before = recorded(book, [FIRST], { kind: "done", step: "band", firings: {} });
  const bench = must(benchSheet({ book: before, read: evaluate(before), locale: "en-GB" }));
  const sheet = bench.find((one) => one.step === step);
  expect(sheet?.entry).toBe("sheets");
  expect(sheet?.pieces.map(({ label }) => label)).toEqual(["01"]);
  expect(sheet?.facts.map(({ label, text }) => `${label}: ${plain(text)}`)).toEqual([
    "Material: Transfers",
    "Sheets: 2",
    "Uses: 1 g a piece, 1 g for these 1",
    "Time: 4 min a sheet, 8 min for these 1",
  ]);
});

test("a piece card tells of it", () => {
  const cards = must(pieceCards({ book: done, read: evaluate(done), locale: "en-GB" }, new Set([FIRST])));
  expect(cards[0]?.steps.find((one) => one.step === step)?.what).toBe("3 sheets of Transfers");
});

test("settled, sheets and books agree, and the material is in the statement", () => {
  const settled = must(settle(done, evaluate(done)));
  const row = settled.statement.find(({ label }) => label === "Transfers");
  expect(row).toMatchObject({ grams: 2.5, minor: 50 });
  expect(settled.costs.pieces.find(({ id }) => id === "01")?.steps[step]).toMatchObject({
    gramsUsed: 1.5,
    minutes: 12,
  });
});

test("a rescue prices it", async () => {
  const again = repeatOf(done, step);
  const recipe = { title: "Cover", note: "", chance: 0.5, grade: "good" as const, failed: 0, days: 1 };
  const kept = apply(done, keepRecipe(done, { ...recipe, steps: again ? [again] : [] }));
  const { session, settled } = openSession(kept);
  await settled();
  const { columns } = must(rescueTable(session, [FIRST], usualTerms(session)));
  expect(columns.at(-1)?.takes).toMatchObject({ minutes: 8 });
});

test("what-ifs on it are compiled and answer as the engine does", () => {
  const inputs = [
    { sheet: "route", row: step, column: "loss" },
    { sheet: "route", row: step, column: "sheets" },
    { sheet: "materials", row: "m9", column: "pack_price" },
    { sheet: "pieces", row: FIRST, column: `${step}.sheets` },
  ] as const;
  const cases = [
    [0.1, 2, 20, 3],
    [0.3, 5, 80, 1],
    [0, 0, 0, Number.NaN],
  ];
  const compared = compareCases(done, inputs, cases);
  expect(compared.notes).toEqual([]);
  expect(compared.differences).toEqual([]);
  expect(compared.cells).toBeGreaterThan(100);
});

test("the calendar takes its minutes for each sheet", async () => {
  const { session, settled } = openSession(book);
  await settled();
  const row = rowOf(book, "route", step);
  const piece: CalendarPiece = { id: "01", ahead: [step] };
  if (!row) throw new Error("no step");
  expect(must(calendarStep(session, firingRecords(session), row, [piece], []))).toMatchObject({ minutesEach: 8 });
});

test("typing into a cell of it follows the rules of its column", () => {
  const typed = afterTyping(book, [["pieces", FIRST, `${step}.sheets`, "4"]]);
  expect(typed.sheets.pieces.rows[0]?.cells[`${step}.sheets`]).toBe(4);
});
