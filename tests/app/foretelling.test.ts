// Looking ahead of the engine: what is shown when, what makes it useless, and that the engine always has the last word.
import { afterEach, describe, expect, test } from "vitest";
import { Foretelling } from "../../src/app/edition/foretelling";
import type { Foreteller } from "../../src/app/edition/reckoning";
import { Session } from "../../src/app/edition/session";
import type { Change } from "../../src/core/document/change";
import type { Workbook } from "../../src/core/document/workbook";
import { addPieces } from "../../src/core/record/piece-edits";
import type { EngineClient } from "../../src/engine/client";
import { Engine } from "../../src/engine/engine";
import type { Patch } from "../../src/engine/values";
import type { AheadClient } from "../../src/whatif/run/ahead-client";
import type { AheadRequest } from "../../src/whatif/run/messages";
import { aheadHere } from "../tools/ahead-here";
import { afterTyping, smallEdition, typed } from "../tools/small-edition";

/** An engine that answers changes only when it is let. */
function heldEngine(book: Workbook) {
  const engines: Engine[] = [];
  const told: Change[] = [];
  const open: (() => void)[] = [];
  const client = (): EngineClient => {
    const engine = new Engine(book);
    engines.push(engine);
    const held = <T>(answer: () => T) => new Promise<T>((done) => open.push(() => done(answer())));
    return {
      open: async () => engine.values(),
      apply: (change) => {
        told.push(change);
        const patch = engine.apply(change);
        return held(() => patch);
      },
      model: async (known) => structuredClone(engine.model(known)),
      reckon: async (formula) => engine.reckon(formula),
      source: async () => engine.source(),
      close: () => undefined,
    };
  };
  return { client, told, answerNext: () => open.shift()?.(), engines };
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

/** A session whose engine answers when it is let, with somebody who looks ahead; time passes when it is said. */
function open(book = worked(), change: (client: AheadClient) => AheadClient = (client) => client) {
  const engine = heldEngine(book);
  const session = new Session(book, {
    startEngine: engine.client,
    keep: () => undefined,
    locale: "en-GB",
    now: () => new Date("2026-11-25T09:00:00Z"),
  });
  const timers = new Map<number, { readonly run: () => void; readonly ms: number }>();
  let next = 0;
  const asked: AheadRequest[] = [];
  const foretelling = new Foretelling(session, {
    startAhead: async (of) => {
      const here = aheadHere(of);
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
  });
  session.listenTo(foretelling);
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
  expect(opened.asks()).toEqual(["foresee"]);
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
    expect(session.engineState.value).toBe("working");
    const version = session.valuesVersion.value;
    engine.answerNext();
    await turns();
    expect(session.engineState.value).toBe("ready");
    expect(labour(session)).toBe(paid(33));
    // Nothing has moved that was not shown: the page need not be drawn again.
    expect(session.valuesVersion.value).toBe(version);
  });

  test("the engine is told after what is foretold is there, and of one change after the other", async () => {
    const { engine, type } = await ready();
    type([["edition", "wage", "value", "33"]]);
    type([["edition", "wage", "value", "34"]]);
    expect(engine.told).toHaveLength(0);
    await turns();
    expect(engine.told.map(({ operations }) => operations[0])).toMatchObject([{ is: 33 }, { is: 34 }]);
  });

  test("the engine is told all the same when what is foretold does not come", async () => {
    const never = (client: AheadClient): AheadClient => ({ ...client, foretell: () => new Promise(() => undefined) });
    const { session, engine, type, pass } = await ready(worked(), never);
    type([["edition", "wage", "value", "33"]]);
    await turns();
    expect(engine.told).toHaveLength(0);
    await pass(60);
    expect(engine.told).toHaveLength(1);
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
    expect(asks().filter((ask) => ask === "foretell")).toHaveLength(5);
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

  test("a number that is cleared is foretold too", async () => {
    const { session, engine, type } = await ready();
    type([["edition", "wage", "value", ""]]);
    await turns();
    const foretold = labour(session);
    engine.answerNext();
    await turns();
    expect(labour(session)).toEqual(foretold);
    expect(session.engineState.value).toBe("ready");
  });
});

describe("what makes it useless", () => {
  test("another kind of change waits for the engine, and then it is made ready anew", async () => {
    const { session, engine, type, asks, pass } = await ready();
    type([["pieces", "p1", "fettle.minutes", "70"]]);
    expect(engine.told).toHaveLength(1);
    type([["edition", "wage", "value", "30"]]);
    expect(engine.told).toHaveLength(2);
    engine.answerNext();
    engine.answerNext();
    await turns();
    expect(labour(session)).toBe(60);
    expect(asks()).toEqual(["foresee"]);
    await pass(200);
    expect(asks()).toEqual(["foresee", "foresee"]);
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
    expect(opened.asks()).toEqual(["foresee", "foresee"]);
    opened.type([["edition", "wage", "value", "60"]]);
    await turns();
    expect(labour(opened.session)).toBe(120);
  });

  test("rows that come while the engine is waited for: what was foretold is not shown in their places", async () => {
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

  test("a number that only the engine can reckon with is left to it, and then it is made ready anew", async () => {
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
    const trouble = session.result("starts", "edition");
    expect(trouble).toMatchObject({ trouble: expect.any(String) });
    await pass(200);
    expect(asks()).toEqual(["foresee", "foresee", "foretell", "foresee"]);
    type([["route", "cast", "loss", "10"]]);
    await turns();
    const foretold = session.result("starts", "edition");
    engine.answerNext();
    await turns();
    expect(session.result("starts", "edition")).toBe(foretold);
    expect(asks().at(-1)).toBe("foretell");
  });

  test("an edition put in the place of this one is not taken for it", async () => {
    const { session, engine, type, asks } = await ready();
    session.replace(worked());
    await turns();
    type([["edition", "wage", "value", "60"]]);
    expect(asks()).toEqual(["foresee"]);
    expect(engine.told).toHaveLength(1);
  });

  test("a worker that fails is not asked again, and nothing is lost", async () => {
    const broken = (client: AheadClient): AheadClient => ({
      ...client,
      foretell: () => Promise.reject(new Error("broken")),
    });
    const { session, engine, type, asks, pass } = await ready(worked(), broken);
    type([["edition", "wage", "value", "33"]]);
    await turns();
    engine.answerNext();
    await turns();
    expect([labour(session), session.engineState.value]).toEqual([paid(33), "ready"]);
    await pass(200);
    expect(asks()).toEqual(["foresee"]);
  });

  test("a column whose formulas can't all be compiled is asked about once", async () => {
    const book = afterTyping(worked(), [["pieces", "p1", "own", "=SUMSQ(1;2)"]], true);
    const { session, type, engine, pass, asks } = await ready(book);
    session.sheet.value = "pieces";
    session.sheet.value = "edition";
    await pass(200);
    expect(asks()).toEqual(["foresee"]);
    type([["edition", "wage", "value", "33"]]);
    expect(engine.told).toHaveLength(1);
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
  /** Somebody who foretells a wrong number for every cell. */
  function wrong(session: Session, values: () => Patch) {
    let wrongs = 0;
    const foreteller: Foreteller = {
      foretell: () => ({ values: Promise.resolve(values()), soon: Promise.resolve() }),
      forget: () => undefined,
      wasWrong: () => {
        wrongs += 1;
      },
      close: () => undefined,
    };
    session.listenTo(foreteller);
    return () => wrongs;
  }

  function wrongLabour(book: Workbook): Patch {
    const column = book.sheets.results.columns.findIndex(({ key }) => key === "value");
    const place = book.sheets.results.rows.findIndex(({ id }) => id === "in_labour");
    const values = { places: Int32Array.of(place), numbers: Float64Array.of(999), others: Int32Array.of(-1) };
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
  });

  test("what is foretold too late is not shown", async () => {
    const { session, engine, type } = open();
    await turns();
    let tell: (patch: Patch) => void = () => undefined;
    session.listenTo({
      foretell: () => ({ values: new Promise((done) => (tell = done)), soon: Promise.resolve() }),
      forget: () => undefined,
      wasWrong: () => undefined,
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
