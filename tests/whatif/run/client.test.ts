import { afterEach, describe, expect, test } from "vitest";
import type { CellName } from "../../../src/core/document/access";
import type { Workbook } from "../../../src/core/document/workbook";
import { Engine } from "../../../src/engine/engine";
import { afterTyping, smallEdition, typed } from "../../tools/small-edition";
import { caseChange } from "../../tools/whatif-compare";
import { whatIfHere } from "../../tools/whatif-here";

const WAGE: CellName = { sheet: "edition", row: "wage", column: "value" };
const LOSS: CellName = { sheet: "route", row: "firing", column: "loss" };
const PUT_IN: CellName = { sheet: "results", row: "put_in", column: "value" };
const PER_GOOD: CellName = { sheet: "results", row: "per_good", column: "value" };
const PLAN: CellName = { sheet: "edition", row: "plan_cost", column: "value" };

/** An edition with pieces made, fired and passed. */
function recorded(): Workbook {
  const entries = smallEdition(6).sheets.pieces.rows.flatMap(
    ({ id }) =>
      [
        ["pieces", id, "cast.slip", "900"],
        ["pieces", id, "fettle.minutes", "10"],
        ["pieces", id, "bisque.firing", "F1"],
        ["pieces", id, "glaze.coats", "2"],
        ["pieces", id, "grade", id === "p6" ? "second" : "good"],
      ] as const,
  );
  return afterTyping(smallEdition(6), entries);
}

let here: ReturnType<typeof whatIfHere>;
const open = (book = recorded()) => {
  here = whatIfHere(book);
  return here.client;
};
afterEach(() => here.close());

/** What an engine gives that is told each case in turn. */
function byEngine(
  book: Workbook,
  inputs: readonly CellName[],
  outputs: readonly CellName[],
  cases: number[][],
): number[] {
  const engine = new Engine(book);
  const answers = cases.flatMap((values) => {
    engine.apply(caseChange(book, inputs, values));
    return outputs.map((cell) => {
      const column = engine.values().columns.filter(({ sheet }) => sheet === cell.sheet);
      const at = book.sheets[cell.sheet].rows.findIndex(({ id }) => id === cell.row);
      const columnIndex = book.sheets[cell.sheet].columns.findIndex(({ key }) => key === cell.column);
      const list = column.find((one) => one.column === columnIndex)?.values;
      return list?.numbers[list.rows.indexOf(at)] ?? Number.NaN;
    });
  });
  engine.close();
  return answers;
}

const CASES = Array.from({ length: 300 }, (_, at) => [10 + at, (at % 40) / 50]);

describe("a question", () => {
  test("is compiled and answered as the engine answers it", async () => {
    const client = open();
    const [inputs, outputs] = [
      [WAGE, LOSS],
      [PUT_IN, PER_GOOD, PLAN],
    ];
    const prepared = await client.prepare(inputs, outputs);
    expect(prepared.how).toEqual({ kind: "compiled" });
    expect([...prepared.todayInputs]).toEqual([20, 0.04]);
    expect([...prepared.todayOutputs]).toEqual(byEngine(recorded(), inputs, outputs, [[20, 0.04]]));
    const seen: number[] = [];
    const answers = await client.run(prepared, Float64Array.from(CASES.flat()), {
      onProgress: (done, total) => seen.push(done / total),
    });
    expect(answers.outputs).toHaveLength(CASES.length * 3);
    for (const at of [0, 7, 150, 299])
      expect([...answers.outputs.slice(at * 3, at * 3 + 3)]).toEqual(
        byEngine(recorded(), inputs, outputs, [CASES[at] ?? []]),
      );
    expect(answers.failures).toEqual([]);
    expect(seen.length).toBeGreaterThan(3);
    expect(seen.at(-1)).toBe(1);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
  });

  test("tells why a result is no number, for the first case of each that failed", async () => {
    const client = open();
    const prepared = await client.prepare([LOSS, WAGE], [PLAN, PUT_IN, PER_GOOD]);
    const answers = await client.run(prepared, Float64Array.of(0.1, 20, 1, 20, 2, 20));
    expect(answers.outputs[3]).toBeNaN();
    expect(answers.outputs[1]).toBeGreaterThan(0);
    expect(answers.failures.map(({ output, case: at }) => [output, at])).toContainEqual([0, 1]);
    expect(answers.failures[0]?.message).toMatch(/YIELD_CHAIN|fraction|STARTS_NEEDED|KEPT_BEFORE/);
  });

  test("blank results say so, and blank inputs are NaN", async () => {
    const client = open(smallEdition(2));
    const meter: CellName = { sheet: "firings", row: "f1", column: "meter_before" };
    const prepared = await client.prepare([meter], [PER_GOOD]);
    expect(prepared.todayInputs[0]).toBeNaN();
    const answers = await client.run(prepared, Float64Array.of(Number.NaN, 5));
    expect(answers.failures).toEqual([{ output: 0, case: 0, message: "It is blank." }]);
  });

  test("the model is sent once, and again when the document has changed", async () => {
    const client = open();
    await client.prepare([WAGE], [PUT_IN]);
    await client.prepare([LOSS], [PUT_IN]);
    here.change(typed(recorded(), [["edition", "tariff", "value", "0.5"]]));
    const prepared = await client.prepare([WAGE], [PUT_IN]);
    const models = here.asked.flatMap((request) => (request.kind === "prepare" ? [request.model !== undefined] : []));
    expect(models).toEqual([true, false, true]);
    const changed = afterTyping(recorded(), [["edition", "tariff", "value", "0.5"]]);
    expect([...prepared.todayOutputs]).toEqual(byEngine(changed, [WAGE], [PUT_IN], [[20]]));
  });

  test("never touches the document or its engine", async () => {
    const client = open();
    const before = here.engine.values();
    const prepared = await client.prepare([WAGE], [PUT_IN]);
    await client.run(prepared, Float64Array.of(1, 2, 3));
    expect(here.engine.values()).toEqual(before);
    expect(here.engine.source().book).toEqual(recorded());
    expect(here.built).toHaveLength(0);
  });
});

describe("what can't be compiled", () => {
  /** The dates' difference is calculated by a function that only the engine knows. */
  const odd = () => afterTyping(recorded(), [["firings", "f1", "wear", "=LEN({id})*loading_minutes"]], false);

  test("is answered by a private engine, with the formula and cell named", async () => {
    const client = open(odd());
    const [inputs, outputs] = [
      [WAGE, LOSS],
      [PUT_IN, PLAN],
    ];
    const prepared = await client.prepare(inputs, outputs);
    expect(prepared.how.kind).toBe("engine");
    expect(prepared.how.kind === "engine" && prepared.how.notes.join()).toMatch(/firings f1 wear.*LEN/);
    expect([...prepared.todayInputs]).toEqual([20, 0.04]);
    expect([...prepared.todayOutputs]).toEqual(byEngine(odd(), inputs, outputs, [[20, 0.04]]));
    const cases = CASES.slice(0, 6);
    const answers = await client.run(prepared, Float64Array.from(cases.flat()));
    expect([...answers.outputs]).toEqual(byEngine(odd(), inputs, outputs, cases));
    expect(here.engine.source().book).toEqual(odd());
  });

  test("builds its engine once, and puts it back after every run", async () => {
    const client = open(odd());
    const first = await client.prepare([WAGE], [PUT_IN]);
    await client.run(first, Float64Array.of(100));
    const second = await client.prepare([LOSS], [PUT_IN]);
    expect(here.built).toHaveLength(1);
    expect(second.todayOutputs[0]).toBe(first.todayOutputs[0]);
    const [one, two] = await Promise.all([
      client.run(first, Float64Array.of(50, 60)),
      client.run(second, Float64Array.of(0.1, Number.NaN)),
    ]);
    expect([...one.outputs]).toEqual(byEngine(odd(), [WAGE], [PUT_IN], [[50], [60]]));
    expect([...two.outputs]).toEqual(byEngine(odd(), [LOSS], [PUT_IN], [[0.1], [Number.NaN]]));
  });
});

describe("giving up", () => {
  test("a run stops between blocks and rejects with the reason", async () => {
    const client = open();
    const prepared = await client.prepare([WAGE], [PUT_IN]);
    const stop = new AbortController();
    let seen = 0;
    const run = client.run(prepared, new Float64Array(100_000).fill(20), {
      signal: stop.signal,
      onProgress: (done) => {
        seen = done;
        stop.abort(new Error("enough"));
      },
    });
    await expect(run).rejects.toThrow("enough");
    const before = here.replies.length;
    for (let turn = 0; turn < 20; turn += 1) await new Promise((resolve) => setImmediate(resolve));
    expect(here.replies.length - before).toBeLessThan(6);
    expect(seen).toBeLessThan(50_000);
    const again = await client.run(prepared, Float64Array.of(20));
    expect(again.outputs[0]).toBe(prepared.todayOutputs[0]);
  });

  test("a prepare that was given up is let go of", async () => {
    const client = open();
    const stop = new AbortController();
    const prepare = client.prepare([WAGE], [PUT_IN], stop.signal);
    stop.abort(new Error("never mind"));
    await expect(prepare).rejects.toThrow("never mind");
    await expect(client.prepare([WAGE], [PUT_IN], AbortSignal.abort(new Error("late")))).rejects.toThrow("late");
  });

  test("a released question can't be run, and nothing can after closing", async () => {
    const client = open();
    const prepared = await client.prepare([WAGE], [PUT_IN]);
    client.release(prepared);
    await expect(client.run(prepared, Float64Array.of(1))).rejects.toThrow("released");
    const waiting = client.prepare([WAGE], [PUT_IN]);
    client.close();
    await expect(waiting).rejects.toThrow("closed");
    await expect(client.prepare([WAGE], [PUT_IN])).rejects.toThrow("closed");
  });
});
