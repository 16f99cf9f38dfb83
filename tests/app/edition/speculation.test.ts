// The calculator beside the engine: what is shown when, what makes it useless, and that the engine has the last word.
import { afterEach, describe, expect, test } from "vitest";
import type { Speculator } from "../../../src/app/edition/calculation";
import { Session } from "../../../src/app/edition/session";
import { Speculation } from "../../../src/app/edition/speculation";
import type { Change } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { addPieces } from "../../../src/core/record/piece-edits";
import type { EngineClient } from "../../../src/engine/client";
import { Engine } from "../../../src/engine/engine";
import type { Patch } from "../../../src/engine/values";
import type { CalculatorClient } from "../../../src/whatif/run/calculator-client";
import type { CalculatorRequest } from "../../../src/whatif/run/messages";
import { calculatorHere } from "../../tools/calculator-here";
import { afterTyping, smallEdition, typed } from "../../tools/small-edition";

/** An engine that answers changes only when it is let. */
function heldEngine(book: Workbook, holdsOpening = false) {
  const engines: Engine[] = [];
  const applied: Change[] = [];
  const open: (() => void)[] = [];
  const opened: Workbook[] = [];
  const client = (): EngineClient => {
    const engine = new Engine(book);
    engines.push(engine);
    const held = <T>(answer: () => T) => new Promise<T>((done) => open.push(() => done(answer())));
    return {
      open: () => {
        opened.push(book);
        return holdsOpening ? held(() => engine.values()) : Promise.resolve(engine.values());
      },
      apply: (change) => {
        applied.push(change);
        const patch = engine.apply(change);
        return held(() => patch);
      },
      model: async (known) => structuredClone(engine.model(known)),
      calculate: async (formula) => engine.calculate(formula),
      source: async () => engine.source(),
      close: () => undefined,
    };
  };
  return { client, applied, answerNext: () => open.shift()?.(), engines, opened };
}

const turn = () => new Promise((done) => setImmediate(done));
async function turns(count = 30): Promise<void> {
  for (let at = 0; at < count; at += 1) await turn();
}

function worked(): Workbook {
  return afterTyping(
    smallEdition(6),
    smallEdition(6).sheets.pieces.rows.map(({ id }) => ["pieces", id, "fettle.minutes", "10"] as const),
  );
}

let closing: (() => void)[] = [];
afterEach(() => {
  for (const close of closing) close();
  closing = [];
});

/** A session whose engine answers when it is let, with a calculator beside it; time passes when it is said. */
function open(
  book = worked(),
  change: (client: CalculatorClient) => CalculatorClient = (client) => client,
  largeFrom?: number,
) {
  const engine = heldEngine(book, largeFrom !== undefined);
  const session = new Session(book, {
    startEngine: engine.client,
    keep: () => undefined,
    locale: "en-GB",
    now: () => new Date("2026-11-25T09:00:00Z"),
  });
  const timers = new Map<number, { readonly run: () => void; readonly ms: number }>();
  let next = 0;
  const asked: CalculatorRequest[] = [];
  const speculation = new Speculation(session, {
    startCalculator: async () => {
      const here = calculatorHere();
      const push = here.asked.push.bind(here.asked);
      here.asked.push = (...requests) => {
        asked.push(...requests);
        return push(...requests);
      };
      return change(here.client);
    },
    setTimer: (run, ms) => {
      next += 1;
      timers.set(next, { run, ms });
      return next;
    },
    clearTimer: (timer) => timers.delete(timer),
    ...(largeFrom === undefined ? {} : { largeFrom }),
  });
  session.speculateWith(speculation);
  closing.push(() => {
    session.close();
    for (const one of engine.engines) one.close();
  });
  /** Lets all timers run that are due within so many milliseconds. */
  const pass = async (ms: number) => {
    for (const [timer, { run, ms: due }] of [...timers]) if (due <= ms && timers.delete(timer)) run();
    await turns();
  };
  const type = (entries: Parameters<typeof typed>[1]) => session.commit(typed(session.book.value, entries));
  return { session, engine, asked, pass, type, asks: () => asked.map(({ kind }) => kind) };
}

/** The same with the edition's numbers in view and made ready. */
async function ready(...given: Parameters<typeof open>) {
  const opened = open(...given);
  opened.session.sheet.value = "edition";
  await turns();
  await opened.pass(200);
  expect(opened.asks()).toEqual(["open", "prepare inputs"]);
  return opened;
}

const labour = (session: Session) => session.result("in_labour");
/** 6 pieces fettled for 10 minutes each. */
const paid = (wage: number) => wage;

describe("while the numbers of the edition are in view", () => {
  test("a change is shown before the engine has answered, and stays when it has", async () => {
    const { session, engine, type } = await ready();
    const before = labour(session);
    type([["edition", "wage", "value", "33"]]);
    expect(labour(session)).toBe(before);
    await turns();
    expect(labour(session)).toBe(paid(33));
    expect(session.engineState.value).toBe("checking");
    const version = session.valuesVersion.value;
    engine.answerNext();
    await turns();
    expect(session.engineState.value).toBe("ready");
    expect(labour(session)).toBe(paid(33));
    // Nothing has moved that was not shown: the page need not be drawn again.
    expect(session.valuesVersion.value).toBe(version);
  });

  test("the engine is told after the pending answer is there, and of one change after the other", async () => {
    const { engine, type } = await ready();
    type([["edition", "wage", "value", "33"]]);
    type([["edition", "wage", "value", "34"]]);
    expect(engine.applied).toHaveLength(0);
    await turns();
    expect(engine.applied.map(({ operations }) => operations[0])).toMatchObject([{ is: 33 }, { is: 34 }]);
  });

  test("the engine is told all the same when no pending answer comes", async () => {
    const never = (client: CalculatorClient): CalculatorClient => ({
      ...client,
      apply: () => new Promise(() => undefined),
    });
    const { session, engine, type, pass } = await ready(worked(), never);
    type([["edition", "wage", "value", "33"]]);
    await turns();
    expect(engine.applied).toHaveLength(0);
    await pass(60);
    expect(engine.applied).toHaveLength(1);
    engine.answerNext();
    await turns();
    expect(labour(session)).toBe(paid(33));
    expect(session.engineState.value).toBe("ready");
  });

  test("changes in quick succession, undone and done again", async () => {
    const { session, engine, type, asks } = await ready();
    type([["edition", "wage", "value", "33"]]);
    type([["edition", "overhead_rate", "value", "9"]]);
    session.undo();
    session.undo();
    session.redo();
    await turns();
    expect(asks().filter((kind) => kind === "apply")).toHaveLength(5);
    expect(labour(session)).toBe(paid(33));
    for (let at = 0; at < 4; at += 1) {
      engine.answerNext();
      await turns();
      expect(labour(session)).toBe(paid(33));
    }
    engine.answerNext();
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(33), "ready"]);
  });

  test("a number that is cleared is answered too", async () => {
    const { session, engine, type } = await ready();
    type([["edition", "wage", "value", ""]]);
    await turns();
    const pending = labour(session);
    engine.answerNext();
    await turns();
    expect(labour(session)).toEqual(pending);
    expect(session.engineState.value).toBe("ready");
  });
});

describe("while a large edition is being opened", () => {
  const openLarge = async (...given: [Workbook?, ((client: CalculatorClient) => CalculatorClient)?]) => {
    const opened = open(given[0] ?? worked(), given[1] ?? ((client) => client), 1);
    await turns();
    return opened;
  };

  test("every number is shown before the engine has said anything, and stays when it has", async () => {
    const { session, engine } = await openLarge();
    expect(session.engineState.value).toBe("checking");
    expect(labour(session)).toBe(paid(20));
    const version = session.valuesVersion.value;
    engine.answerNext();
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(20), "ready"]);
    expect(session.valuesVersion.value).toBe(version);
    expect(session.notices.value).toEqual([]);
  });

  test("the engine is given it once those are there, or can't be had, and every change after that", async () => {
    let answer: () => void = () => undefined;
    const { session, engine, type } = await openLarge(worked(), (client) => ({
      ...client,
      prepare: (inputs) => new Promise((done) => (answer = () => done(client.prepare(inputs)))),
    }));
    type([["edition", "wage", "value", "30"]]);
    await turns();
    expect([engine.opened.length, engine.applied.length, session.engineState.value]).toEqual([0, 0, "checking"]);
    answer();
    await turns();
    expect([engine.opened.length, engine.applied.length]).toEqual([1, 1]);
    engine.answerNext();
    engine.answerNext();
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(30), "ready"]);
    expect(session.notices.value).toEqual([]);

    const failing = await openLarge(worked(), (client) => ({
      ...client,
      prepare: () => Promise.reject(new Error("x")),
    }));
    expect(failing.engine.opened).toHaveLength(1);
  });

  test("a wage, a piece and a piece more are answered at once", async () => {
    const { session, engine, type, pass } = await openLarge();
    type([["edition", "wage", "value", "30"]]);
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(30), "checking"]);
    type([["pieces", "p1", "fettle.minutes", "70"]]);
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([60, "checking"]);
    const added = addPieces(session.book.value, 1);
    if (!added.ok) throw new Error("no piece");
    session.commit(added.value);
    type([["pieces", "p7", "fettle.minutes", "20"]]);
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([70, "checking"]);
    await pass(60);
    for (let at = 0; at < 5; at += 1) {
      engine.answerNext();
      await turns();
      expect(labour(session)).toBe(70);
    }
    expect(session.engineState.value).toBe("ready");
    expect(session.notices.value).toEqual([]);
  });

  test("with a number that is typed those around it are made ready: what hangs on them is all that is calculated", async () => {
    const cells: (number | undefined)[] = [];
    const { session, type } = await openLarge(worked(), (client) => ({
      ...client,
      apply: async (change, inputs) => {
        const patch = await client.apply(change, inputs);
        cells.push(patch?.columns.reduce((sum, { values }) => sum + values.numbers.length, 0));
        return patch;
      },
    }));
    type([["pieces", "p1", "fettle.minutes", "70"]]);
    await turns();
    type([["pieces", "p4", "fettle.minutes", "40"]]);
    await turns();
    expect(labour(session)).toBe((70 + 40 + 4 * 10) / 3);
    type([["pieces", "p1", "cast.slip", "1200"]]);
    await turns();
    const [everything = 0, another = 0, beside = 0] = cells;
    expect(Math.min(another, beside)).toBeGreaterThan(0);
    expect(Math.max(another, beside)).toBeLessThan(everything / 2);
  });

  test("numbers around the selected one are made ready before they are typed, and the edition's with them", async () => {
    const { session, engine, type, pass, asks } = await openLarge();
    const select = (row: string, column: string) => {
      session.selection.value = { sheet: "pieces", anchor: { row, column }, rows: [row], columns: [column] };
    };
    session.sheet.value = "pieces";
    select("p1", "note");
    await pass(200);
    expect(asks()).toEqual(["open", "prepare inputs"]);
    select("p1", "fettle.minutes");
    await pass(200);
    expect(asks()).toEqual(["open", "prepare inputs", "prepare inputs"]);
    for (const row of ["p2", "p3"]) {
      select(row, "fettle.minutes");
      await pass(200);
    }
    session.sheet.value = "edition";
    await pass(200);
    expect(asks()).toHaveLength(3);
    type([["pieces", "p1", "fettle.minutes", "70"]]);
    await turns();
    type([["edition", "wage", "value", "30"]]);
    await turns();
    expect(labour(session)).toBe(paid((30 * (70 + 5 * 10)) / 60));
    expect(asks()).toEqual(["open", "prepare inputs", "prepare inputs", "apply", "apply"]);
    await pass(60);
    for (let at = 0; at < 3; at += 1) {
      engine.answerNext();
      await turns();
    }
    expect([session.engineState.value, session.notices.value]).toEqual(["ready", []]);
    // The engine is there: it is quick enough with a piece.
    session.sheet.value = "pieces";
    select("p6", "cast.slip");
    await pass(200);
    expect(asks()).toHaveLength(5);
  });

  test("changes in quick succession are compiled once, for the last of them", async () => {
    const patches: boolean[] = [];
    const { session, type } = await openLarge(worked(), (client) => ({
      ...client,
      apply: async (change, inputs) => {
        const patch = await client.apply(change, inputs);
        patches.push(patch !== undefined);
        return patch;
      },
    }));
    type([["pieces", "p1", "fettle.minutes", "70"]]);
    type([["pieces", "p2", "fettle.minutes", "40"]]);
    await turns();
    expect(patches).toEqual([false, true]);
    expect(labour(session)).toBe((70 + 40 + 4 * 10) / 3);
    type([["pieces", "p3", "fettle.minutes", "40"]]);
    await turns();
    expect(patches).toEqual([false, true, true]);
    expect(labour(session)).toBe((70 + 40 + 40 + 3 * 10) / 3);
  });

  test("a number that is not the engine's is told with its cell, and the engine's is shown", async () => {
    const { session, engine } = await openLarge(worked(), (client) => ({
      ...client,
      prepare: async (inputs) => {
        const opened = await client.prepare(inputs);
        if (!opened.ok) return opened;
        const book = worked();
        const column = book.sheets.results.columns.findIndex(({ key }) => key === "value");
        const row = book.sheets.results.rows.findIndex(({ id }) => id === "in_labour");
        for (const { sheet, column: at, values } of opened.patch.columns)
          if (sheet === "results" && at === column) values.numbers[values.rows.indexOf(row)] = 999;
        return opened;
      },
    }));
    expect(labour(session)).toBe(999);
    engine.answerNext();
    await turns();
    expect(labour(session)).toBe(paid(20));
    const [notice] = session.notices.value;
    expect(notice?.text).toMatch(/labour.*the quick calculation says 999, the careful one 20\b/i);
  });

  test("a formula that only the engine knows: the engine is waited for", async () => {
    const book = afterTyping(worked(), [["pieces", "p1", "own", "=SUMSQ(1;2)"]], true);
    const { session, engine } = await openLarge(book);
    expect([labour(session), session.engineState.value]).toEqual([undefined, "starting"]);
    engine.answerNext();
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(20), "ready"]);
  });
});

describe("what makes it useless", () => {
  test("another kind of change waits for the engine, and then it is made ready anew", async () => {
    const { session, engine, type, asks, pass } = await ready();
    type([["pieces", "p1", "fettle.minutes", "70"]]);
    expect(engine.applied).toHaveLength(1);
    type([["edition", "wage", "value", "30"]]);
    expect(engine.applied).toHaveLength(2);
    engine.answerNext();
    engine.answerNext();
    await turns();
    expect(labour(session)).toBe(60);
    expect(asks()).toEqual(["open", "prepare inputs", "apply", "apply"]);
    await pass(200);
    expect(asks()).toEqual(["open", "prepare inputs", "apply", "apply", "prepare inputs"]);
    type([["edition", "wage", "value", "60"]]);
    await turns();
    expect(labour(session)).toBe(120);
  });

  test("an edition that changes while it is made ready is made ready once more", async () => {
    const opened = open();
    opened.session.sheet.value = "edition";
    await turns();
    const passed = opened.pass(200);
    opened.type([["pieces", "p1", "fettle.minutes", "70"]]);
    opened.engine.answerNext();
    await passed;
    await opened.pass(200);
    expect(opened.asks().filter((kind) => kind === "prepare inputs").length).toBe(2);
    opened.type([["edition", "wage", "value", "60"]]);
    await turns();
    expect(labour(opened.session)).toBe(120);
  });

  test("rows that come while the engine is waited for: pending values are not shown in their places", async () => {
    const { session, engine, type } = await ready();
    type([["edition", "wage", "value", "33"]]);
    await turns();
    const added = addPieces(session.book.value, 3);
    if (!added.ok) throw new Error("no pieces");
    session.commit(added.value);
    expect(session.value({ sheet: "pieces", row: "p7", column: "own" })).toBeUndefined();
    engine.answerNext();
    engine.answerNext();
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(33), "ready"]);
  });

  test("a number that only the engine can calculate with is left to it, and then it is made ready anew", async () => {
    const { session, engine, type, pass, asks } = await ready();
    session.sheet.value = "route";
    session.selection.value = {
      sheet: "route",
      anchor: { row: "cast", column: "loss" },
      rows: ["cast"],
      columns: ["loss"],
    };
    await pass(200);
    // More is lost than there is, which can't be typed: cells that are numbers become errors.
    const cell = { kind: "cell", sheet: "route", row: "cast", column: "loss" } as const;
    session.commit({ label: "", operations: [{ ...cell, was: 0.05, is: 2 }] });
    await turns();
    engine.answerNext();
    await turns();
    expect(session.engineState.value).toBe("ready");
    const error = session.result("starts", "edition");
    expect(error).toMatchObject({ title: expect.any(String) });
    await pass(200);
    expect(asks()).toEqual(["open", "prepare inputs", "prepare inputs", "apply", "prepare inputs"]);
    type([["route", "cast", "loss", "10"]]);
    await turns();
    const pending = session.result("starts", "edition");
    engine.answerNext();
    await turns();
    expect(session.result("starts", "edition")).toBe(pending);
    expect(asks().at(-1)).toBe("apply");
  });

  test("an edition put in the place of this one while it is made ready is made ready in its turn", async () => {
    const { session, pass, type } = open(worked(), (client) => client, 1);
    session.replace(worked());
    await turns();
    session.sheet.value = "edition";
    await pass(200);
    type([["edition", "wage", "value", "60"]]);
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(60), "checking"]);
  });

  test("an edition put in the place of this one is not taken for it", async () => {
    const { session, engine, type, asks } = await ready();
    session.replace(worked());
    await turns();
    type([["edition", "wage", "value", "60"]]);
    expect(asks()).toEqual(["open", "prepare inputs"]);
    expect(engine.applied).toHaveLength(1);
  });

  test("a worker that fails is not asked again, and nothing is lost", async () => {
    const broken = (client: CalculatorClient): CalculatorClient => ({
      ...client,
      apply: () => Promise.reject(new Error("broken")),
    });
    const { session, engine, type, asks, pass } = await ready(worked(), broken);
    type([["edition", "wage", "value", "33"]]);
    await turns();
    engine.answerNext();
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(33), "ready"]);
    await pass(200);
    expect(asks()).toEqual(["open", "prepare inputs"]);
  });

  test("a column whose formulas can't all be compiled is asked about once", async () => {
    const book = afterTyping(worked(), [["pieces", "p1", "own", "=SUMSQ(1;2)"]], true);
    const { session, type, engine, pass, asks } = await ready(book);
    session.sheet.value = "pieces";
    session.sheet.value = "edition";
    await pass(200);
    expect(asks()).toEqual(["open", "prepare inputs"]);
    type([["edition", "wage", "value", "33"]]);
    expect(engine.applied).toHaveLength(1);
  });

  test("the sheet of pieces, a page in the place of a sheet and texts ask for nothing", async () => {
    const { session, pass, asks } = open();
    await turns();
    await pass(200);
    session.page.value = "record";
    session.sheet.value = "edition";
    await pass(200);
    session.page.value = undefined;
    session.sheet.value = "materials";
    session.selection.value = {
      sheet: "materials",
      anchor: { row: session.book.value.sheets.materials.rows[0]?.id ?? "", column: "label" },
      rows: [],
      columns: [],
    };
    await pass(200);
    expect(asks()).toEqual([]);
  });
});

describe("the engine has the last word", () => {
  /** Somebody who says a wrong number of every change. */
  function wrong(session: Session, values: () => Patch) {
    let wrongs = 0;
    const speculator: Speculator = {
      open: () => undefined,
      apply: () => ({ values: Promise.resolve(values()), soon: Promise.resolve() }),
      distrust: () => {
        wrongs += 1;
      },
      close: () => undefined,
    };
    session.speculateWith(speculator);
    return () => wrongs;
  }

  function wrongLabour(book: Workbook): Patch {
    const column = book.sheets.results.columns.findIndex(({ key }) => key === "value");
    const row = book.sheets.results.rows.findIndex(({ id }) => id === "in_labour");
    const values = { rows: Int32Array.of(row), numbers: Float64Array.of(999), others: Int32Array.of(-1) };
    return { columns: [{ sheet: "results", column, values }], others: [] };
  }

  test("a wrong number is put right, and it is told that it was wrong", async () => {
    const { session, engine, type } = open();
    await turns();
    const wrongs = wrong(session, () => wrongLabour(session.book.value));
    type([["edition", "wage", "value", "33"]]);
    await turns();
    expect(labour(session)).toBe(999);
    const version = session.valuesVersion.value;
    engine.answerNext();
    await turns();
    expect(labour(session)).toBe(paid(33));
    expect(session.valuesVersion.value).toBeGreaterThan(version);
    expect(wrongs()).toBe(1);
    expect(session.notices.value.at(-1)?.text).toMatch(/In labour|Labour.*999.*33/i);
  });

  test("what is said too late is not shown", async () => {
    const { session, engine, type } = open();
    await turns();
    let tell: (patch: Patch) => void = () => undefined;
    session.speculateWith({
      open: () => undefined,
      apply: () => ({ values: new Promise((done) => (tell = done)), soon: Promise.resolve() }),
      distrust: () => undefined,
      close: () => undefined,
    });
    type([["edition", "wage", "value", "33"]]);
    await turns();
    engine.answerNext();
    await turns();
    tell(wrongLabour(session.book.value));
    await turns();
    expect(labour(session)).toBe(paid(33));
  });
});
