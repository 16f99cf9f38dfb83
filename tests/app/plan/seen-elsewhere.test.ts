// What other kept editions saw of the same steps joins what this one knows.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { othersKept, putEdition } from "../../../src/app/keeping/studio-editions";
import { elsewhereOf, readElsewhere, seenFor, withElsewhere } from "../../../src/app/plan/seen-elsewhere";
import { seenNumbers } from "../../../src/app/plan/seen-plan";
import { startNext } from "../../../src/app/plan/start";
import type { Raw, Workbook } from "../../../src/core/document/workbook";
import { seenIn } from "../../../src/core/steps/seen";
import { Device } from "../../tools/open-studio";

const demo = demoEdition();
const real: Workbook = { ...demo, meta: { ...demo.meta, title: "Tide", invented: false, started: "2026-01-01" } };
const withRoute = (book: Workbook, row: string, cells: Readonly<Record<string, Raw>>): Workbook => {
  const rows = book.sheets.route.rows.map((one) =>
    one.id === row ? { ...one, cells: { ...one.cells, ...cells } } : one,
  );
  return { ...book, sheets: { ...book.sheets, route: { ...book.sheets.route, rows } } };
};
const fresh = (from: Workbook, id = ""): Workbook => {
  const form = { title: "Eelgrass", wanted: "60", template: id, currency: "", firstPiece: "001" };
  const made = startNext(form, "2026-12-01", from);
  if (!made.ok) throw new Error(made.problems[0]?.message);
  return made.value.book;
};

describe("another edition", () => {
  const seen = seenFor(demo, real);
  const stepOf = (book: Workbook, id: string) => seenFor(demo, book).steps.find(({ step }) => step === id);

  test("says its losses, minutes and coats, but no slip and no area: those are the piece's", () => {
    const own = seenIn(real).steps.find(({ step }) => step === "cast");
    expect(seen.steps.find(({ step }) => step === "cast")).toEqual({ ...own, amounts: {} });
    expect(Object.keys(stepOf(real, "fettle")?.amounts ?? {})).toEqual(["minutes"]);
    expect(Object.keys(stepOf(real, "glaze")?.amounts ?? {})).toEqual(["coats"]);
  });

  test("is asked by the kind and the name of the step, not by its id", () => {
    expect(stepOf(withRoute(real, "fettle", { title: "  FETTLE " }), "fettle")).toBeDefined();
    expect(stepOf(withRoute(real, "fettle", { title: "Scrape" }), "fettle")).toBeUndefined();
  });

  test("says how much landed of the same material only", () => {
    const piece = real.sheets.pieces.rows.find(({ cells }) => cells["glaze.coats"] !== undefined);
    const rows = real.sheets.pieces.rows.map((row) =>
      row.id === piece?.id ? { ...row, cells: { ...row.cells, "glaze.used": 90 } } : row,
    );
    const weighed: Workbook = { ...real, sheets: { ...real.sheets, pieces: { ...real.sheets.pieces, rows } } };
    expect(stepOf(weighed, "glaze")?.amounts.usage).toBeDefined();
    expect(stepOf(withRoute(weighed, "glaze", { material: "Other glaze" }), "glaze")?.amounts.usage).toBeUndefined();
  });

  test("stands in the place of what was noted of it when this one was started", () => {
    const noted = [
      { ...seen, steps: [] },
      { title: "Counted before", started: "", steps: [] },
    ];
    expect(withElsewhere(noted, [seen]).map(({ title }) => title)).toEqual(["Counted before", "Tide"]);
    expect(withElsewhere(noted, []).length).toBe(2);
  });
});

describe("all kept editions", () => {
  test("are looked at by one press; templates, deleted ones and the shelf are not, and none counts twice", async () => {
    const { studio } = new Device().openTab();
    await studio.openNew(real);
    const tide = studio.editionId.value ?? "";
    const other = { ...real, meta: { ...real.meta, title: "Ebb", started: "2026-03-01" } };
    const [first, ...rest] = other.sheets.pieces.rows;
    const slow = first ? [{ ...first, cells: { ...first.cells, "fettle.minutes": 30 } }] : [];
    const pieces = { ...other.sheets.pieces, rows: [...slow, ...rest] };
    await studio.openNew({ ...other, sheets: { ...other.sheets, pieces } });
    const ebb = studio.editionId.value ?? "";
    // A copy to the last digit counts nothing twice.
    await studio.openNew({ ...real, meta: { ...real.meta, title: "Tide (copy)" } });
    await studio.openNew(fresh(real));
    const session = studio.session.value;
    if (!session) throw new Error("nothing is open");
    const fettled = () => seenNumbers(session).find(({ cell }) => cell.row === "fettle" && cell.column === "minutes");
    expect(fettled()?.editions).toBe(1);
    await readElsewhere(studio, session);
    expect(elsewhereOf(session).value).toMatchObject({ done: 3, of: 3 });
    // Tide was noted when the open one was started from it.
    expect(fettled()?.editions).toBe(2);
    expect(fettled()?.words).toContain("in 278 pieces");
    await putEdition(studio, ebb, "deleted");
    await putEdition(studio, tide, "template");
    expect(othersKept(studio).length).toBe(1);
  });

  test("the edition this one comes from is known by its id, though it was renamed and went on since", async () => {
    const { studio } = new Device().openTab();
    await studio.openNew(real);
    const id = studio.editionId.value ?? "";
    const [first, ...rest] = real.sheets.pieces.rows;
    const slow = first ? [{ ...first, cells: { ...first.cells, "fettle.minutes": 30 } }] : [];
    const rows = [...slow, ...rest];
    await studio.openNew(fresh(real, id));
    const stored = await studio.home.editions.read(id);
    if (!stored.ok) throw new Error("not stored");
    const later = { ...real, meta: { ...real.meta, title: "Tide, blue", started: "2026-01-02" } };
    const book = { ...later, sheets: { ...later.sheets, pieces: { ...later.sheets.pieces, rows } } };
    await studio.home.editions.write(id, { book, updatedAt: "2026-12-01T08:00:00.000Z" }, stored.value.revision);
    const session = studio.session.value;
    if (!session) throw new Error("nothing is open");
    await readElsewhere(studio, session);
    const fettled = seenNumbers(session).find(({ cell }) => cell.row === "fettle" && cell.column === "minutes");
    expect([fettled?.editions, fettled?.words]).toEqual([1, expect.stringContaining("in 139 pieces")]);
  });

  test("an invented one says nothing to a real one", async () => {
    const { studio } = new Device().openTab();
    await studio.openNew(demo);
    await studio.openNew({ ...real, meta: { ...real.meta, title: "Ebb" } });
    const session = studio.session.value;
    if (!session) throw new Error("nothing is open");
    await readElsewhere(studio, session);
    expect(elsewhereOf(session).value?.seen).toEqual([]);
  });
});
