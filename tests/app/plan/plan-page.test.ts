// The plan in one view: what is asked, what is still the template's, what is typed, and what it answers.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { figuresOf } from "../../../src/app/edition/figures";
import type { Session } from "../../../src/app/edition/session";
import { gapOf, startWords, tierAnswers } from "../../../src/app/plan/plan-answer";
import { allFields, examplesIn, planParts } from "../../../src/app/plan/plan-parts";
import { enterFormula, keep, typeInto } from "../../../src/app/plan/plan-typing";
import { readyOn } from "../../../src/app/plan/ready-on";
import { startFrom } from "../../../src/app/plan/start";
import { type CellName, rawAt } from "../../../src/core/document/access";
import { readDocument } from "../../../src/core/document/document-file";
import { isExample } from "../../../src/core/document/examples";
import type { Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import { openSession } from "../../tools/open-session";

const cell = (row: string): CellName => ({ sheet: "edition", row, column: "value" });
const WAGE = cell("wage");

function fresh(template = "tableware", wanted = "48"): Workbook {
  const form = { title: "Cups", wanted, template, currency: "EUR", firstPiece: "001" };
  const started = startFrom(form, "2026-11-25");
  if (!started.ok) throw new Error(started.problems[0]?.message);
  return started.value;
}

async function opened(book: Workbook): Promise<{ readonly session: Session; settled(): Promise<void> }> {
  const open = openSession(book);
  await open.settled();
  return open;
}

const leftIn = (book: Workbook) => examplesIn(book, allFields(planParts(book)));

describe("what is still the template's", () => {
  test("is every number that the page asks for, but how many to deliver", () => {
    const book = fresh();
    const left = leftIn(book);
    // All but the price of special pieces, which is asked for once there are any.
    expect(left.length).toBe(Object.keys(book.meta.examples ?? {}).length - 1);
    expect(left).toContainEqual(WAGE);
    expect(left).toContainEqual({ sheet: "route", row: "glaze", column: "area" });
    expect(left).not.toContainEqual(cell("wanted"));
  });

  test("is the maker's once it is another, and the template's again when that is undone", async () => {
    const { session } = await opened(fresh());
    const count = leftIn(session.book.value).length;
    typeInto(session, WAGE, "26.5", undefined);
    expect(leftIn(session.book.value).length).toBe(count - 1);
    session.undo();
    expect(leftIn(session.book.value).length).toBe(count);
  });

  test("can be kept as it is, one or all, each in one step that can be undone", async () => {
    const { session } = await opened(fresh());
    const left = leftIn(session.book.value);
    keep(session, [WAGE]);
    expect(isExample(session.book.value, WAGE)).toBe(false);
    expect(rawAt(session.book.value, WAGE)).toBe(20);
    expect(session.history.value.done.at(-1)?.label).toBe("Keep 1 amount");
    keep(session, left);
    expect(leftIn(session.book.value)).toEqual([]);
    typeInto(session, cell("special_wanted"), "6", undefined);
    expect(leftIn(session.book.value)).toEqual([cell("price_special")]);
    keep(session, [cell("price_special")]);
    expect(session.book.value.meta.examples).toBeUndefined();
    session.undo();
    session.undo();
    session.undo();
    expect(leftIn(session.book.value).length).toBe(left.length - 1);
  });

  test("is kept with the document, and editions from before have none of it", () => {
    const book = fresh();
    const read = readDocument(writeDocument(book), "cups");
    expect(read.ok && leftIn(read.value)).toEqual(leftIn(book));
    expect(leftIn(demoEdition())).toEqual([]);
  });

  test("goes with a step that is taken out", async () => {
    const { session } = await opened(fresh());
    const of = () => leftIn(session.book.value).filter(({ row }) => row === "band").length;
    expect(of()).toBeGreaterThan(3);
    const { removeRouteStep } = await import("../../../src/app/commands/step-commands");
    removeRouteStep(session, "band");
    expect(of()).toBe(0);
  });
});

describe("typing", () => {
  test("letter by letter is one step of the undo stack, and none where it came to what it was", async () => {
    const { session } = await opened(fresh());
    let step = typeInto(session, WAGE, "2", undefined).step;
    step = typeInto(session, WAGE, "27", step).step;
    step = typeInto(session, WAGE, "27.5", step).step;
    expect(rawAt(session.book.value, WAGE)).toBe(27.5);
    expect(session.history.value.done.length).toBe(1);
    session.undo();
    expect(rawAt(session.book.value, WAGE)).toBe(20);
    session.redo();
    typeInto(session, WAGE, "20", session.history.value.done.at(-1));
    expect(session.history.value.done.length).toBe(0);
    expect(rawAt(session.book.value, WAGE)).toBe(20);
  });

  test("in another field, or after something else was done, begins a step of its own", async () => {
    const { session } = await opened(fresh());
    const { step } = typeInto(session, WAGE, "27", undefined);
    typeInto(session, cell("tariff"), "0.35", undefined);
    typeInto(session, WAGE, "28", step);
    expect(session.history.value.done.length).toBe(3);
  });

  test("what can't be read is told beside the field, and the cell keeps what it had", async () => {
    const { session } = await opened(fresh());
    const said = typeInto(session, WAGE, "a lot", undefined);
    expect(said.refused).toContain("a lot");
    expect(said.step).toBeUndefined();
    expect(rawAt(session.book.value, WAGE)).toBe(20);
    expect(session.notices.value).toEqual([]);
    expect(typeInto(session, cell("piece_height"), "4 in", undefined).notice).toContain("10.16");
  });
});

describe("the answer", () => {
  test("parts add up to the piece, and pieces to what the plan costs less what comes back of the lost ones", async () => {
    const { session } = await opened(fresh("lustre"));
    typeInto(session, cell("special_wanted"), "12", undefined);
    for (let turn = 0; turn < 50; turn += 1) await Promise.resolve();
    const of = (row: string) => Number(session.value(cell(row)));
    for (const tier of ["standard", "special"] as const) {
      const parts = ["material", "labour", "overhead", "firing", "losses"].map((part) => of(`plan_${tier}_${part}`));
      expect(parts.reduce((sum, part) => sum + part, 0)).toBeCloseTo(of(`plan_${tier}`), 9);
    }
    const route = session.book.value.sheets.route.rows.map(({ id }) => id);
    const at = (row: string, column: string) => Number(session.value({ sheet: "route", row, column }));
    const comesBack = route.reduce(
      (sum, row) => sum + at(row, "plan_lost") * (at(row, "carried") - at(row, "loss_costs")),
      0,
    );
    const specials = route.reduce((left, row) => left * (1 - at(row, "loss")), of("starts") * of("special_share"));
    const standards = of("plan_good") - specials;
    const all = standards * of("plan_standard") + specials * of("plan_special");
    expect(all).toBeCloseTo(of("plan_cost") - comesBack, 6);
    expect(tierAnswers(session).map(({ tier }) => tier)).toEqual(["standard", "special"]);
  });

  test("one tier where nothing is special; the price leaves the margin that is wanted", async () => {
    const { session } = await opened(fresh());
    expect(tierAnswers(session).map(({ tier }) => tier)).toEqual(["standard"]);
    const of = (row: string) => Number(session.value(cell(row)));
    const price = of("plan_standard_price");
    const net = price / (1 + of("tax_rate"));
    const left = net - price * of("fee_rate") - of("fee_fixed") - of("packing") - of("plan_standard");
    expect(left / net).toBeCloseTo(of("wanted_margin"), 9);
  });

  test("says what wanted ÷ yield would risk, and when it is ready", async () => {
    const { session } = await opened(fresh());
    const words = startWords(session)
      .map((part) => (typeof part === "string" ? part : part.text))
      .join("");
    expect(words).toMatch(
      /^to be 85\u202f% sure of 48 good ones\. Wanted ÷ yield would be \d+ pieces, and those deliver only \d.* of the time\.$/,
    );
    expect(readyOn(session)?.text).toMatch(/\d{4}$/);
  });

  test("a shortfall of rows is said, a surplus only before the run", async () => {
    const { session, settled } = await opened(fresh());
    expect(gapOf(session)).toBeUndefined();
    typeInto(session, cell("wanted"), "60", undefined);
    await settled();
    for (let turn = 0; turn < 50; turn += 1) await Promise.resolve();
    const gap = gapOf(session);
    expect(gap?.add).toBeGreaterThan(10);
    expect(gap?.words).toMatch(/^Pieces has \d+ rows for \d+ starts\.$/);
    typeInto(session, cell("wanted"), "20", undefined);
    for (let turn = 0; turn < 50; turn += 1) await Promise.resolve();
    expect(gapOf(session)?.add).toBeLessThan(0);
  });
});

describe("key figures", () => {
  const ids = (session: Session) => figuresOf(session).map(({ id }) => id);

  test("before the run are the plan's", async () => {
    const { session } = await opened(fresh());
    expect(ids(session)).toEqual(["starts", "plan_standard", "plan_cost", "plan_pays"]);
  });

  test("during it stand against the plan", async () => {
    const { session } = await opened(demoEdition());
    expect(ids(session)).toEqual(["starts", "per_good", "own_lost", "lustre", "kwh", "put_in", "pays"]);
    expect(figuresOf(session).find(({ id }) => id === "put_in")?.plan).toMatch(/^\d/);
  });

  test("an error in every count does not turn a run back into a plan", async () => {
    const { session } = await opened(demoEdition());
    await enterFormula(session, cell("wage"), "=1/0");
    for (let turn = 0; turn < 50; turn += 1) await Promise.resolve();
    expect(figuresOf(session).find(({ id }) => id === "per_good")?.text).toBe("divides by nothing");
  });

  test("money below nothing has its sign before the currency, and is marked", async () => {
    const { session } = await opened(fresh());
    typeInto(session, cell("price_standard"), "1", undefined);
    for (let turn = 0; turn < 50; turn += 1) await Promise.resolve();
    const pays = figuresOf(session).find(({ id }) => id === "plan_pays");
    expect(pays?.text).toMatch(/^\u2212€\u00a0\d/);
    expect(pays?.isMinus).toBe(true);
  });
});
