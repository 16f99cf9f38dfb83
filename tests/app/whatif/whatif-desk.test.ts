// The desk of what-ifs over a small edition: every answer is held against typing the same into the edition.
import { describe, expect, test } from "vitest";
import type { Session } from "../../../src/app/edition/session";
import type { Answer, AnswerOf } from "../../../src/app/whatif/whatif-answers";
import { dropCase, keepCase, setChance, setRange, useCase } from "../../../src/app/whatif/whatif-apply";
import { type AskCell, askCell, lineCell, lossCell } from "../../../src/app/whatif/whatif-cells";
import { WhatIfDesk } from "../../../src/app/whatif/whatif-desk";
import { plausibleRange, sweepRange } from "../../../src/app/whatif/whatif-ranges";
import { QUESTIONS } from "../../../src/app/whatif/whatif-settings";
import { type CellName, rawAt } from "../../../src/core/document/access";
import type { WhatIfClient } from "../../../src/whatif/run/client-port";
import { evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { askByEngine } from "../../tools/set-and-read";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";
import { answerHere } from "../../tools/worker-here";

const breathe = () => new Promise<void>((resolve) => setImmediate(resolve));
const edition = (more: readonly Typed[] = []) =>
  afterTyping(smallEdition(), [
    ["edition", "wanted", "value", "40"],
    ["edition", "fixed_costs", "value", "300"],
    ...more,
  ]);

interface Open {
  readonly session: Session;
  readonly desk: WhatIfDesk;
  readonly prepared: string[];
  readonly runs: number[];
  settled(): Promise<void>;
  answered<K extends Answer["kind"]>(is: K): Promise<AnswerOf<K>>;
}

const byWorker = (session: Session) => answerHere(session.engineClient);
const bySetting = (session: Session) => askByEngine(() => session.book.value, breathe);

async function open(book = edition(), clientOf: (session: Session) => WhatIfClient = byWorker): Promise<Open> {
  const { session, settled } = openSession(book);
  await settled();
  const prepared: string[] = [];
  const runs: number[] = [];
  const startClient = (of: Session): WhatIfClient => {
    const client = clientOf(of);
    return {
      ...client,
      prepare: (inputs, outputs, signal) => {
        prepared.push(inputs.map(({ row }) => row).join(" "));
        return client.prepare(inputs, outputs, signal);
      },
      run: (of, cases, options) => {
        runs.push(of.inputs.length === 0 ? 1 : cases.length / of.inputs.length);
        return client.run(of, cases, options);
      },
    };
  };
  const desk = new WhatIfDesk(session, { startClient, breathe });
  desk.open();
  const answered = async <K extends Answer["kind"]>(is: K) => {
    for (
      let turn = 0;
      turn < 4000 && (desk.state.value.kind === "working" || session.engineState.value !== "ready");
      turn += 1
    )
      await new Promise((resolve) => setTimeout(resolve, 1));
    const found = desk.answer.value;
    if (found?.kind !== is) throw new Error(`${JSON.stringify(desk.state.value)}, not answered: ${is}`);
    return found as AnswerOf<K>;
  };
  return { session, desk, prepared, runs, settled, answered };
}

const must = (session: Session, cell: CellName): AskCell => {
  const of = askCell(session.book.value, cell);
  if (!of) throw new Error(`no ${cell.row}`);
  return of;
};

/** The number of a cell in an edition in which other cells were typed. */
function typedOver(
  book: ReturnType<typeof edition>,
  typed: readonly Typed[],
  cell: CellName,
  override = false,
): number {
  return Number(evaluate(afterTyping(book, typed, override))(cell.sheet, cell.row, cell.column));
}

const PER_GOOD = lineCell("edition", "plan_per_good");
const STARTS = lineCell("edition", "starts");

describe("the losses of each firing", () => {
  test("move cost, margin and starts as typing them would", async () => {
    const { desk, session, answered } = await open();
    const found = await answered("losses");
    expect(found.lines.map(({ of }) => of.title)).toEqual(["Bisque: planned loss", "Glaze firing: planned loss"]);
    expect(found.results.map(({ title }) => title)).toEqual([
      "Planned cost of a good piece",
      "Planned margin",
      "Pieces to start",
    ]);
    const [, glaze] = found.lines;
    const at = glaze?.sweep.values.findIndex((value) => value >= 0.1) ?? -1;
    const loss = glaze?.sweep.values[at] ?? 0;
    const typed: Typed[] = [["route", "firing", "loss", String(loss * 100)]];
    found.results.forEach(({ cell }, result) => {
      expect(glaze?.sweep.outputs[result]?.[at]).toBeCloseTo(typedOver(session.book.value, typed, cell), 9);
    });
    expect(glaze?.today).toBe(0.04);
    expect(found.how.kind).toBe("compiled");
    desk.close();
  });

  test("stand on what the other sliders say, and nothing in the edition moves", async () => {
    const { desk, session, answered, runs } = await open();
    const before = await answered("losses");
    const book = session.book.value;
    desk.try(lossCell("cast"), 0.2);
    const found = await answered("losses");
    const typed: Typed[] = [["route", "cast", "loss", "20"]];
    expect(found.tried[0]).toBeCloseTo(typedOver(book, typed, PER_GOOD), 9);
    expect([...found.today]).toEqual([...before.today]);
    const both: Typed[] = [...typed, ["route", "firing", "loss", "0"]];
    expect(found.lines[1]?.sweep.outputs[0]?.[0]).toBeCloseTo(typedOver(book, both, PER_GOOD), 9);
    expect(session.book.value).toBe(book);
    expect(session.history.value.done).toEqual([]);
    expect(runs.length).toBeGreaterThan(1);
    desk.close();
  });

  test("follow a slider: the first place and the last are answered, those between may be left out", async () => {
    const { desk, answered, prepared, runs } = await open();
    await answered("losses");
    const [once, before] = [prepared.length, runs.length];
    for (let percent = 5; percent <= 60; percent += 1) desk.try(lossCell("firing"), percent / 100);
    const found = await answered("losses");
    expect(found.lines[1]?.tried).toBe(0.6);
    // Two answers of two runs each at most: the one that was under way and the newest.
    expect(runs.length - before).toBeLessThanOrEqual(4);
    expect(prepared.length).toBe(once);
    desk.close();
  });

  test("are answered again and again while the slider still moves", async () => {
    const { desk, answered } = await open();
    await answered("losses");
    const seen = new Set<unknown>();
    for (let at = 0; at < 200 && seen.size < 4; at += 1) {
      desk.try(lossCell("firing"), 0.1 + at / 1000);
      seen.add(desk.answer.value);
      await new Promise((resolve) => setTimeout(resolve, 3));
    }
    expect(seen.size).toBeGreaterThanOrEqual(4);
    desk.close();
  });

  test("are back to today when the slider is, or when it is given back", async () => {
    const { desk } = await open();
    desk.try(lossCell("firing"), 0.3);
    desk.try(lossCell("firing"), 0.04);
    expect(desk.tried.value).toEqual([]);
    desk.try(lossCell("firing"), 0.3);
    desk.try(lossCell("firing"), undefined);
    // Glazing has no planned loss: nothing and blank are the same there.
    desk.try(lossCell("glaze"), 0);
    expect(desk.tried.value).toEqual([]);
    desk.close();
  });
});

describe("a case", () => {
  const gold: CellName = { sheet: "materials", row: "m3", column: "pack_price" };

  test("used is one step of the history, and undone in one", async () => {
    const { desk, session, answered, settled } = await open();
    await answered("losses");
    const book = session.book.value;
    desk.tryAll([
      { cell: lossCell("firing"), value: 0.12 },
      { cell: gold, value: 120 },
      { cell: STARTS, value: 60 },
    ]);
    const tried = [...(await answered("losses")).tried];
    expect(useCase(session, desk.tried.value)).toBe(true);
    await settled();
    expect(session.history.value.done.map(({ label }) => label)).toEqual([
      "Use the case: Glaze firing: planned loss 12\u202f%, Gold: pack price €\u00a0120.00 and Pieces to start 60\u00a0pieces",
    ]);
    expect([rawAt(session.book.value, lossCell("firing")), rawAt(session.book.value, STARTS)]).toEqual([0.12, 60]);
    const found = await answered("losses");
    expect(desk.tried.value).toEqual([]);
    for (const [at, value] of found.today.entries()) expect(value).toBeCloseTo(tried[at] ?? 0, 9);
    session.undo();
    expect(session.book.value).toEqual(book);
    desk.close();
  });

  test("that its cells do not take is refused, and nothing of it is used", async () => {
    const { session, desk } = await open();
    expect(
      useCase(session, [
        { cell: lineCell("edition", "wage"), value: 30 },
        { cell: lossCell("firing"), value: 1 },
      ]),
    ).toBe(false);
    expect(useCase(session, [{ cell: STARTS, value: 60.5 }])).toBe(false);
    expect(useCase(session, [{ cell: lossCell("firing"), value: 0.04 }])).toBe(false);
    expect(session.history.value.done).toEqual([]);
    expect(session.notices.value.map(({ text }) => text)).toEqual([
      "Glaze firing: planned loss: found “100\u202f%”, but it takes what its cell takes.",
      "Pieces to start: found “61\u00a0pieces”, but it takes what its cell takes.",
      "This case is what the edition has already.",
    ]);
    desk.close();
  });

  test("kept stands beside today and the one being tried; what it does not set follows the sheets", async () => {
    const { session, desk, answered, settled } = await open();
    const book = session.book.value;
    expect(keepCase(session, " Dear gold ", [{ cell: gold, value: 120 }])).toBe(true);
    expect(keepCase(session, "Start fifty-five", [{ cell: STARTS, value: 55 }])).toBe(true);
    expect(keepCase(session, "dear GOLD", [{ cell: gold, value: 130 }])).toBe(false);
    expect(keepCase(session, "", [{ cell: gold, value: 130 }])).toBe(false);
    expect(keepCase(session, "Nothing", [])).toBe(false);
    await settled();
    desk.change({ question: "cases" });
    desk.try(lossCell("firing"), 0.2);
    const { cases, today } = await answered("cases");
    expect(cases.map(({ title }) => title)).toEqual(["Dear gold", "Start fifty-five", "Being tried"]);
    const [goldCase, fifty, tried] = cases;
    expect(goldCase?.values[0]).toBeCloseTo(typedOver(book, [["materials", "m3", "pack_price", "120"]], PER_GOOD), 9);
    // The starts of the first case are calculated, though another case sets them.
    expect(goldCase?.values[2]).toBe(today[2]);
    expect(fifty?.values[2]).toBe(55);
    expect(fifty?.values[0]).toBeCloseTo(typedOver(book, [["edition", "starts", "value", "55"]], PER_GOOD, true), 9);
    expect(tried?.values[0]).toBeCloseTo(typedOver(book, [["route", "firing", "loss", "20"]], PER_GOOD), 9);
    const [first] = session.book.value.lists.cases;
    if (first) dropCase(session, first);
    expect(session.book.value.lists.cases.map(({ title }) => title)).toEqual(["Start fifty-five"]);
    desk.close();
  });
});

describe("the other questions", () => {
  test("one input over its range, today's own value among those looked at", async () => {
    const { session, desk, answered } = await open();
    desk.change({ question: "sweep", sweep: { input: STARTS, low: 40, high: 60 } });
    const { line } = await answered("sweep");
    expect(line.sweep.values.every(Number.isInteger)).toBe(true);
    expect([line.sweep.values[0], line.sweep.values.at(-1)]).toEqual([40, 60]);
    expect([...line.sweep.values]).toContain(line.today);
    const typed: Typed[] = [["edition", "starts", "value", "60"]];
    expect(line.sweep.outputs[0]?.at(-1)).toBeCloseTo(typedOver(session.book.value, typed, PER_GOOD, true), 9);
    desk.close();
  });

  test("two inputs, with the line where the plan leaves nothing", async () => {
    const { session, desk, answered } = await open();
    desk.change({ question: "table" });
    const { aim, across, down, table, line } = await answered("table");
    expect([aim.title, across.title, down.title]).toEqual([
      "Plan leaves",
      "Glaze firing: planned loss",
      "Price, standard",
    ]);
    const last = table.cells.length - 1;
    const typed: Typed[] = [
      ["route", "firing", "loss", String((table.across.values.at(-1) ?? 0) * 100)],
      ["edition", "price_standard", "value", String(table.down.values.at(-1))],
    ];
    expect(table.cells[last]).toBeCloseTo(typedOver(session.book.value, typed, aim.cell), 6);
    expect(line.length).toBeGreaterThan(3);
    desk.close();
  });

  test("what matters most, by the ranges kept in the edition", async () => {
    const { session, desk, answered, settled } = await open();
    const wage = must(session, lineCell("edition", "wage"));
    expect(setRange(session, wage, { low: 30, high: 10 })).toBe(false);
    expect(setRange(session, wage, { low: 10, high: 40 })).toBe(true);
    setRange(session, must(session, lossCell("firing")), { low: 0.01, high: 0.25 });
    await settled();
    desk.change({ question: "ranking" });
    const { ranking, aim } = await answered("ranking");
    const of = ranking.ranked.find(({ input }) => input.row === "wage");
    expect([of?.low, of?.high]).toEqual([10, 40]);
    expect(of?.atHigh).toBeCloseTo(typedOver(session.book.value, [["edition", "wage", "value", "40"]], aim.cell), 6);
    // A loss moves the starts with it, though the starts are ranked too.
    const loss = ranking.ranked.find(({ input }) => input.row === "firing");
    const typed: Typed[] = [["route", "firing", "loss", String((loss?.high ?? 0) * 100)]];
    expect(loss?.atHigh).toBeCloseTo(typedOver(session.book.value, typed, aim.cell), 6);
    const effects = ranking.ranked.map(({ effect }) => effect);
    expect(effects).toEqual([...effects].sort((a, b) => b - a));
    setRange(session, wage, undefined);
    expect(session.book.value.lists.ranges.map(({ row }) => row)).toEqual(["firing"]);
    desk.close();
  });

  test("what it must be: the price at which the plan leaves nothing, and no answer said plainly", async () => {
    const { session, desk, answered } = await open();
    desk.change({ question: "breakEven" });
    const { found, aim } = await answered("breakEven");
    expect(found.crossings).toHaveLength(1);
    const [met] = found.crossings;
    const price = met?.kind === "met" ? met.at.x : 0;
    const typed: Typed[] = [["edition", "price_standard", "value", String(price)]];
    expect(Math.abs(typedOver(session.book.value, typed, aim.cell))).toBeLessThan(1e-6);
    desk.change({ target: 1e9 });
    const never = await answered("breakEven");
    expect(never.found.crossings).toEqual([]);
    expect(never.found.nearest?.x).toBe(sweepRange(session, must(session, lineCell("edition", "price_standard"))).high);
    desk.close();
  });

  test("chance: exact pieces, drawn money, and starts that are worth most", async () => {
    const { session, desk, answered, settled } = await open();
    setChance(session, { draws: 200, shortfall: 20 });
    const lustre = must(session, gold());
    setRange(session, lustre, { low: 80, high: 150 });
    await settled();
    desk.change({ question: "chance" });
    const { chance } = await answered("chance");
    expect(chance.starts).toBe(session.value(STARTS));
    expect(chance.wanted).toBe(40);
    expect(1 - chance.chance.short).toBeGreaterThanOrEqual(0.9);
    expect(chance.chance.profits).toHaveLength(200);
    expect(chance.drawn).toEqual(["Gold: pack price"]);
    // Losses of the plan on average: the plan's own money lies within what was drawn.
    const plan = Number(session.value(lineCell("edition", "plan_pays")));
    expect(chance.chance.profits[0]).toBeLessThan(plan);
    expect(chance.best && chance.best.profit >= Math.max(...chance.weighed.map(({ profit }) => profit)) - 1e-6).toBe(
      true,
    );
    expect(chance.isBestAtEnd).toBe(false);
    expect(chance.sure).toBeGreaterThan(0.5);
    desk.close();
  });

  test("chance without losses is the plan itself; with two tiers there is no one certainty", async () => {
    const none = ["cast", "fettle", "bisque", "firing"].map((step): Typed => ["route", step, "loss", "0"]);
    const { session, desk, answered, settled } = await open(
      edition([...none, ["edition", "special_wanted", "value", "10"]]),
    );
    setChance(session, { draws: 100 });
    await settled();
    desk.change({ question: "chance" });
    const { chance } = await answered("chance");
    const plan = Number(session.value(lineCell("edition", "plan_pays")));
    expect([chance.starts, chance.chance.short, chance.chance.losing]).toEqual([40, 0, 0]);
    expect(chance.best?.starts).toBe(40);
    expect(chance.best?.profit).toBeCloseTo(plan, 6);
    expect(chance.chance.profit.low).toBeCloseTo(plan, 6);
    expect(chance.sure).toBeNaN();
    desk.close();
  });

  const gold = (): CellName => ({ sheet: "materials", row: "m3", column: "pack_price" });
});

describe("the desk", () => {
  test("asks anew when the edition changes, and drops what is no longer there", async () => {
    const { session, desk, answered, settled, prepared } = await open();
    await answered("losses");
    const before = prepared.length;
    const change = afterTyping(session.book.value, [["edition", "wage", "value", "44"]]);
    session.commit({
      label: "Wage",
      operations: [{ kind: "cell", ...lineCell("edition", "wage"), was: 20, is: 44 }],
    });
    await settled();
    const found = await answered("losses");
    expect(prepared.length).toBe(before + 1);
    expect(found.today[0]).toBeCloseTo(Number(evaluate(change)("edition", "plan_per_good", "value")), 9);
    desk.close();
  });

  test("stops, keeps the answer before, and asks again when told", async () => {
    const { desk, answered } = await open();
    const first = await answered("losses");
    desk.change({ question: "table" });
    await new Promise((resolve) => setTimeout(resolve, 5));
    desk.stop();
    expect(desk.state.value).toEqual({ kind: "stopped" });
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(desk.state.value).toEqual({ kind: "stopped" });
    expect(desk.answer.value).toBe(first);
    desk.again();
    await answered("table");
    desk.close();
  });

  test("says why there is no answer", async () => {
    const { session, settled } = openSession(edition());
    await settled();
    const startClient = (): WhatIfClient => ({
      ...bySetting(session),
      prepare: () => Promise.reject(new Error("the worker did not start")),
    });
    const desk = new WhatIfDesk(session, { startClient, breathe });
    desk.open();
    await new Promise((resolve) => setTimeout(resolve, 5));
    expect(desk.state.value).toEqual({ kind: "failed", message: "the worker did not start" });
    desk.close();
  });

  test("has seven questions, each of which answers", async () => {
    const { session, desk, answered, settled } = await open();
    setChance(session, { draws: 100 });
    await settled();
    for (const { id } of QUESTIONS) {
      desk.change({ question: id });
      expect((await answered(id)).results.length).toBeGreaterThan(0);
    }
    desk.close();
  });
});

test("answers are the same, to the last digit, from an engine that is set and read case by case", async () => {
  const fast = await open();
  const slow = await open(edition(), bySetting);
  for (const { session } of [fast, slow]) setChance(session, { draws: 100 });
  for (const { desk, settled } of [fast, slow]) {
    await settled();
    desk.change({ question: "ranking" });
  }
  expect((await slow.answered("ranking")).how.kind).toBe("engine");
  expect((await fast.answered("ranking")).ranking).toEqual((await slow.answered("ranking")).ranking);
  for (const { desk } of [fast, slow]) desk.change({ question: "chance" });
  expect((await fast.answered("chance")).chance).toEqual((await slow.answered("chance")).chance);
  for (const { desk } of [fast, slow]) desk.close();
});

describe("ranges", () => {
  test("of a loss come from its counts, of the rest from a tenth, and keep to what a cell takes", async () => {
    const { session, desk } = await open(
      edition([
        ["route", "firing", "seen_entered", "263"],
        ["route", "firing", "seen_lost", "81"],
      ]),
    );
    // Wilson for 81 of 263 (Newcombe 1998): 0.2553 to 0.3662.
    const loss = plausibleRange(session, must(session, lossCell("firing")));
    expect(loss.from).toBe("counts");
    expect(loss.low).toBeCloseTo(0.2553, 4);
    expect(loss.high).toBeCloseTo(0.3662, 4);
    expect(plausibleRange(session, must(session, lineCell("edition", "wage")))).toEqual({
      low: 18,
      high: 22,
      from: "usual",
    });
    expect(plausibleRange(session, must(session, lineCell("edition", "wanted")))).toEqual({
      low: 36,
      high: 44,
      from: "usual",
    });
    expect(plausibleRange(session, must(session, lineCell("edition", "confidence"))).high).toBe(0.99);
    expect(plausibleRange(session, must(session, lossCell("glaze")))).toEqual({ low: 0, high: 0.05, from: "usual" });
    expect(sweepRange(session, must(session, lossCell("firing")))).toEqual({ low: 0, high: 0.4 });
    desk.close();
  });
});
