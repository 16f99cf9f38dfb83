// Formulas that never end: they are found, named and left out, and everything else goes on.
import { describe, expect, test } from "vitest";
import { writeChecked } from "../../../src/app/commands/commands";
import { Session } from "../../../src/app/edition/session";
import { applyChange } from "../../../src/core/document/change";
import { addOwnColumn } from "../../../src/core/document/own-edits";
import type { Workbook } from "../../../src/core/document/workbook";
import {
  connectEngine,
  type EngineClient,
  EngineSilent,
  type Reply,
  type WorkerPort,
} from "../../../src/engine/client";
import { Engine } from "../../../src/engine/engine";
import { findGuilty, formulasIn } from "../../../src/engine/suspects";
import { isCellError } from "../../../src/engine/values";
import { smallEdition } from "../../tools/small-edition";

const ENDLESS = "=ASINH(1)";
const turn = () => new Promise((done) => setImmediate(done));

/** An engine that says nothing while the document holds an endless formula that is not left out. */
function fragile(endless: readonly string[], opened: string[][]): EngineClient {
  let engine: Engine | undefined;
  let left: readonly string[] = [];
  const hangs = (book: Workbook) => formulasIn(book).own.some((one) => endless.includes(one) && !left.includes(one));
  const answer = <T>(book: Workbook, give: () => T): Promise<T> =>
    hangs(book) ? Promise.reject(new EngineSilent("a formula takes too long")) : Promise.resolve(give());
  return {
    open: (book, excluded = []) => {
      left = excluded;
      opened.push([...excluded]);
      return answer(book, () => {
        engine = new Engine(book, excluded);
        return engine.values();
      });
    },
    apply: (change) => {
      const book = applyChange(engine?.source().book ?? smallEdition(), change);
      return answer(book, () => engine?.apply(change) ?? { columns: [], others: [] });
    },
    calculate: (formula) => (endless.includes(formula) ? Promise.reject(new EngineSilent("")) : Promise.resolve(1)),
    model: async () => undefined,
    source: async () => ({ book: smallEdition(), excluded: [] }),
    close: () => undefined,
  };
}

function sessionOf(book: Workbook, endless: readonly string[], mayTry = true) {
  const opened: string[][] = [];
  const session = new Session(book, {
    // A trial is given its patience; where it must not see anything, it ends at once.
    startEngine: (patience) => fragile(patience !== undefined && !mayTry ? [] : endless, opened),
    keep: () => undefined,
    locale: "en-GB",
    now: () => new Date("2026-11-25T09:00:00Z"),
  });
  const settled = async () => {
    // Fetched when a formula is looked for: here it is there already.
    await import("../../../src/app/edition/formulas-to-blame");
    for (let at = 0; at < 300 && !["ready", "failed"].includes(session.engineState.value); at += 1) await turn();
  };
  return { session, settled, opened };
}

const cell = (row: string, column = "cast.slip") => ({ sheet: "pieces", row, column }) as const;

function holding(formulas: readonly string[]): Workbook {
  const operations = formulas.map((f, at) => ({
    kind: "cell" as const,
    ...cell(`p${at + 1}`),
    was: undefined,
    is: { f },
  }));
  return applyChange(smallEdition(Math.max(5, formulas.length)), { label: "x", operations });
}

describe("an edition that is opened with a formula that never ends", () => {
  test("shows the error in that cell, names it, and calculates all others", async () => {
    const formulas = Array.from({ length: 9 }, (_, at) => (at === 6 ? ENDLESS : `=${at}+1`));
    const { session, settled } = sessionOf(holding(formulas), [ENDLESS]);
    await settled();
    expect(session.engineState.value).toBe("ready");
    const own = session.value(cell("p7"));
    expect(isCellError(own) && own.title).toBe("took too long");
    expect(session.value(cell("p6"))).toBe(6);
    expect(typeof session.value(cell("p6", "own"))).toBe("number");
    expect(session.notices.value.at(-1)?.text).toMatch(/^Pieces 07, Cast: .*takes too long and was set aside/);
  });

  test("also where several are to blame, or one in a column of the maker's own", async () => {
    const column = addOwnColumn(holding(["=1+1", ENDLESS, "=ASINH(2)"]), "pieces", {
      title: "Slow",
      unit: "",
      type: "number",
      formula: "=ASINH({kg})",
    });
    if (!column.ok) throw new Error(column.problems[0]?.message);
    const book = applyChange(holding(["=1+1", ENDLESS, "=ASINH(2)"]), column.value);
    const { session, settled } = sessionOf(book, [ENDLESS, "=ASINH(2)", "=ASINH({kg})"]);
    await settled();
    expect(session.engineState.value).toBe("ready");
    expect(session.value(cell("p1"))).toBe(2);
    for (const row of ["p2", "p3"]) expect(isCellError(session.value(cell(row)) ?? null)).toBe(true);
    expect(session.notices.value.at(-1)?.text).toContain("Pieces, column Slow");
  });

  test("where none is to blame the calculation stops, and says so", async () => {
    const { session, settled } = sessionOf(holding(["=1+1"]), []);
    await settled();
    const client: EngineClient = { ...session.engineClient, open: () => Promise.reject(new EngineSilent("x")) };
    const lost = new Session(holding(["=1+1"]), {
      startEngine: () => client,
      keep: () => undefined,
      locale: "en-GB",
      now: () => new Date("2026-11-25T09:00:00Z"),
    });
    for (let at = 0; at < 300 && lost.engineState.value !== "failed"; at += 1) await turn();
    expect(lost.notices.value.at(-1)?.text).toMatch(/^The calculation stopped/);
  });
});

describe("a formula that never ends, typed", () => {
  test("is tried alone, refused, and never comes near the edition", async () => {
    const { session, settled } = sessionOf(smallEdition(5), [ENDLESS]);
    await settled();
    const before = session.book.value;
    expect(await writeChecked(session, [{ cell: cell("p1"), typed: ENDLESS }], "typed")).toBe(false);
    expect(session.book.value).toBe(before);
    expect(session.notices.value.at(-1)?.text).toMatch(/Pieces 01.*ASINH.*within 5 seconds/);
    const pasted = [ENDLESS, "=2+3", "4"].map((typed, at) => ({ cell: cell(`p${at + 1}`), typed }));
    expect(await writeChecked(session, pasted, "pasted")).toBe(false);
    await settled();
    expect(["p1", "p2", "p3"].map((row) => session.value(cell(row)))).toEqual([null, 5, 4]);
  });

  test("should it come in all the same, it is the first to be suspected, and Undo brings everything back", async () => {
    const { session, settled, opened } = sessionOf(holding(["=1+1", "=2+2"]), [ENDLESS], false);
    await settled();
    opened.length = 0;
    await writeChecked(session, [{ cell: cell("p4"), typed: ENDLESS }], "typed");
    expect(session.engineState.value).not.toBe("ready");
    await settled();
    expect(opened.slice(1)).toEqual([[ENDLESS], [ENDLESS]]);
    const own = session.value(cell("p4"));
    expect(isCellError(own) && own.title).toBe("took too long");
    expect(session.value(cell("p2"))).toBe(4);
    session.undo();
    await settled();
    expect([session.engineState.value, session.value(cell("p4"))]).toEqual(["ready", null]);
  });

  test("in the help it is told of, and the edition goes on", async () => {
    const { session, settled } = sessionOf(smallEdition(5), [ENDLESS]);
    await settled();
    const value = await session.calculate(ENDLESS);
    expect(isCellError(value) && value.title).toBe("took too long");
    await settled();
    expect(session.engineState.value).toBe("ready");
  });
});

describe("looking for the guilty by halves", () => {
  const all = Array.from({ length: 60 }, (_, at) => `=${at}`);
  test.each([[["=0"]], [["=59"]], [["=3", "=40"]], [["=1", "=2", "=3"]], [["=29", "=30"]]])("%j", async (guilty) => {
    let calls = 0;
    const isSound = async (leftOut: readonly string[]) => {
      calls += 1;
      return guilty.every((one) => leftOut.includes(one));
    };
    expect(await findGuilty(all, isSound)).toEqual(guilty);
    expect(calls).toBeLessThan(40);
  });
});

describe("the page's end of an engine that says nothing", () => {
  function watched() {
    const timers: (() => void)[] = [];
    let isEnded = false;
    const port: WorkerPort = {
      postMessage: () => undefined,
      onmessage: null,
      onerror: null,
      terminate: () => {
        isEnded = true;
      },
    };
    const client = connectEngine(() => port, {
      patience: 10,
      setTimer: (run) => timers.push(run),
      clearTimer: () => undefined,
    });
    const say = (data: Reply) => port.onmessage?.({ data } as MessageEvent<Reply>);
    return { client, say, pass: () => timers.shift()?.(), hasEnded: () => isEnded };
  }

  test("stops it, and fails what it was asked", async () => {
    const { client, pass, hasEnded } = watched();
    const asked = client.calculate("=1");
    for (let at = 0; at < 5; at += 1) pass();
    await expect(asked).rejects.toBeInstanceOf(EngineSilent);
    expect(hasEnded()).toBe(true);
  });

  test("waits as long as it moves on, and does not watch one that has nothing to do", async () => {
    const { client, say, pass, hasEnded } = watched();
    const asked = client.calculate("=1");
    for (let at = 0; at < 30; at += 1) {
      pass();
      if (at % 3 === 0) say("beat");
    }
    say({ kind: "answer", id: 2, answer: 7 });
    await expect(asked).resolves.toBe(7);
    for (let at = 0; at < 30; at += 1) pass();
    expect(hasEnded()).toBe(false);
  });
});
