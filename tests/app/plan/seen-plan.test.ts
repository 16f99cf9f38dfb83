// What was seen, held against the plan, and taken over.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { seenNumbers, takeSeen } from "../../../src/app/plan/seen-plan";
import { planOf, type StartForm, startNext } from "../../../src/app/plan/start";
import { rawAt } from "../../../src/core/document/access";
import { isExample } from "../../../src/core/document/examples";
import type { SeenStep, Workbook } from "../../../src/core/document/workbook";
import { openSession } from "../../tools/open-session";

const FORM: StartForm = { title: "Eelgrass", wanted: "90", template: "id1", currency: "", firstPiece: "001" };

function next(from: Workbook = demoEdition(), form: Partial<StartForm> = {}): Workbook {
  const made = startNext({ ...FORM, ...form }, "2026-12-01", from);
  if (!made.ok) throw new Error(made.problems[0]?.message);
  return made.value.book;
}

async function opened(book: Workbook) {
  const open = openSession(book);
  await open.settled();
  return open.session;
}

/** An edition that knows of one step what some editions saw of it. */
function knowing(step: string, editions: readonly Partial<SeenStep>[]): Workbook {
  const book = next();
  const row = book.sheets.route.rows.find(({ id }) => id === step);
  const kind = row?.cells.kind as SeenStep["kind"];
  const total = (of: "entered" | "lost") => editions.reduce((sum, one) => sum + (one[of] ?? 0), 0);
  const counts = { seen_entered: total("entered"), seen_lost: total("lost") };
  const rows = book.sheets.route.rows.map(({ id, cells: { seen_entered: _, seen_lost: __, ...cells } }) => ({
    ...{ id, cells: id === step ? { ...cells, ...counts } : cells },
  }));
  const seen = editions.map((one, at) => ({
    ...{ title: `Edition ${at}`, started: "" },
    steps: [{ step, kind, title: step, entered: 0, lost: 0, amounts: {}, ...one }],
  }));
  return { ...book, seen, sheets: { ...book.sheets, route: { ...book.sheets.route, rows } } };
}

describe("the next edition from one", () => {
  test("starts as many as the planned losses of its way ask for, and its amounts are examples where it is invented", async () => {
    const book = next();
    const session = await opened(book);
    expect(session.value({ sheet: "edition", row: "starts", column: "value" })).toBe(book.sheets.pieces.rows.length);
    expect(planOf(FORM, demoEdition())?.starts).toBe(book.sheets.pieces.rows.length);
    expect(isExample(book, { sheet: "edition", row: "wage", column: "value" })).toBe(true);
    const real = next({ ...demoEdition(), meta: { ...demoEdition().meta, invented: false } });
    expect(isExample(real, { sheet: "edition", row: "wage", column: "value" })).toBe(false);
  });

  test("says what is wrong with its name, its number and its first piece", () => {
    const made = startNext({ ...FORM, title: " ", wanted: "a few", firstPiece: "" }, "2026-12-01", demoEdition());
    expect(!made.ok && made.problems.map(({ code }) => code)).toEqual(["start.title", "start.wanted", "start.first"]);
  });
});

describe("what was seen", () => {
  test("is told with how many pieces it was seen in, its interval, and what the plan says", async () => {
    const minutes = { count: 133, mean: 16.2, sd: 2.4 };
    const session = await opened(knowing("fettle", [{ entered: 133, lost: 3, amounts: { minutes } }]));
    const plan = Number(rawAt(session.book.value, { sheet: "route", row: "fettle", column: "minutes" }));
    const found = seenNumbers(session).find(({ cell }) => cell.column === "minutes");
    expect(found?.words).toBe(`Fettle took 16.2\u00a0min in 133 pieces; the plan says ${plan}\u00a0min.`);
    expect(found?.range).toBe("15.8\u00a0min to 16.6\u00a0min");
    expect(found?.stands).toBe("takes");
    const lost = seenNumbers(session).find(({ cell }) => cell.column === "loss");
    expect(lost?.words).toMatch(/^Fettle: 3 of 133 pieces were lost \(2[.\d]*.?%\); the plan says /);
    expect(lost?.stands).toBe("fits");
  });

  test("is planned by one press, and taken back by one undo; the others stay", async () => {
    const session = await opened(
      knowing("fettle", [{ entered: 133, lost: 40, amounts: { minutes: { count: 133, mean: 16.2, sd: 2.4 } } }]),
    );
    const at = (column: string) => rawAt(session.book.value, { sheet: "route", row: "fettle", column });
    const [was, wasLost] = [at("minutes"), at("loss")];
    const of = (column: string) => seenNumbers(session).filter(({ cell }) => cell.column === column);
    takeSeen(session, of("minutes"));
    expect([at("minutes"), at("loss")]).toEqual([16.2, wasLost]);
    expect(of("minutes").map(({ stands }) => stands)).toEqual(["same"]);
    session.undo();
    expect(at("minutes")).toBe(was);
    takeSeen(session, seenNumbers(session));
    expect([at("minutes"), at("loss")]).toEqual([16.2, 0.3008]);
    session.undo();
    expect([at("minutes"), at("loss")]).toEqual([was, wasLost]);
  });

  test("of editions that differ is less sure, and the plan may fit it", async () => {
    const amounts = (mean: number) => ({ amounts: { minutes: { count: 60, mean, sd: 2 } } });
    const stands = async (editions: readonly Partial<SeenStep>[]) =>
      seenNumbers(await opened(knowing("fettle", editions))).find(({ cell }) => cell.column === "minutes");
    const plan = Number(rawAt(demoEdition(), { sheet: "route", row: "fettle", column: "minutes" }));
    expect((await stands([amounts(plan + 2)]))?.stands).toBe("takes");
    const apart = await stands([amounts(plan - 5), amounts(plan + 9)]);
    expect([apart?.stands, apart?.editions]).toEqual(["fits", 2]);
  });

  test("of coats is planned in whole ones, and of a step where every piece was lost not at all", async () => {
    const session = await opened(
      knowing("glaze", [{ entered: 3, lost: 3, amounts: { coats: { count: 40, mean: 2.4, sd: 0.5 } } }]),
    );
    const coats = seenNumbers(session).find(({ cell }) => cell.column === "coats");
    expect(coats?.words).toContain("Glaze took 2.4 coats in 40 pieces");
    expect(coats?.value).toBe(2);
    expect(seenNumbers(session).find(({ cell }) => cell.column === "loss")?.stands).toBe("can't");
  });

  test("by weight is planned as what lands on the piece, and what stays in brush and dish", async () => {
    const usage = { count: 12, mean: 1.25, sd: 0.02 };
    const landed = seenNumbers(await opened(knowing("glaze", [{ amounts: { usage } }])));
    expect(landed.map(({ cell, value }) => [cell.column, value])).toEqual([["transfer", 0.8]]);
    const kept = seenNumbers(await opened(knowing("lustre", [{ amounts: { usage } }])));
    expect(kept.map(({ cell, value }) => [cell.column, value])).toEqual([["waste", 0.2]]);
    expect(kept[0]?.words).toContain("stayed in brush and dish, weighed for 12 pieces");
  });

  test("of a refire is the share that needed it", async () => {
    const session = await opened(knowing("refire", [{ entered: 9, lost: 1, needed: { came: 120, had: 9 } }]));
    const needed = seenNumbers(session).find(({ cell }) => cell.column === "needed");
    expect(needed?.words).toMatch(/: 9 of 120 pieces needed it \(7.5.?%\); the plan says /);
  });

  test("in an edition that nothing is known of is nothing", async () => {
    const book = knowing("fettle", []);
    expect(seenNumbers(await opened({ ...book, seen: [] }))).toEqual([]);
  });
});
