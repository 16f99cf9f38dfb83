import { describe, expect, test } from "vitest";
import { askRanking } from "../../../src/whatif/questions/ranking";
import { askCases } from "../../../src/whatif/questions/side-by-side";
import { askSweep, askSweeps, curveOf } from "../../../src/whatif/questions/sweep";
import { askTable, levelLine, type TwoWay } from "../../../src/whatif/questions/table";
import { baseWith, gapsOf, indexOfCell, stepsBetween } from "../../../src/whatif/run/case-matrix";
import { asking, formulaClient, named } from "../../tools/formula-client";

const today = { a: 2, b: 3 };
const client = () =>
  formulaClient(today, ({ a = 0, b = 0 }) => ({ sum: a + b, product: a * b, root: a < 0 ? Number.NaN : Math.sqrt(a) }));

describe("cases", () => {
  test("hold today's numbers, and leave to the sheets what nobody typed", async () => {
    const { prepared } = await asking(client(), ["a", "b"], ["sum"]);
    const set = [{ cell: named("b"), value: 7 }];
    expect([...baseWith(prepared, set, () => true)]).toEqual([2, 7]);
    expect([...baseWith(prepared, set, () => false)]).toEqual([Number.NaN, 7]);
    expect([...baseWith(prepared, [], ({ row }) => row === "a")]).toEqual([2, Number.NaN]);
    expect(() => indexOfCell(prepared.inputs, named("c"))).toThrow("not prepared with edition c value");
  });

  test("steps have both ends and what is asked for besides, each once, without the dust of fractions", () => {
    expect([...stepsBetween(0, 0.3, 4, false)]).toEqual([0, 0.1, 0.2, 0.3]);
    expect([...stepsBetween(0, 0.3, 4, false, 0.25)]).toEqual([0, 0.1, 0.2, 0.25, 0.3]);
    expect([...stepsBetween(0, 0.3, 4, false, 0.5)]).toEqual([0, 0.1, 0.2, 0.3]);
    expect([...stepsBetween(3, 6, 10, true)]).toEqual([3, 4, 5, 6]);
    expect([...stepsBetween(120, 160, 5, true, 141)]).toEqual([120, 130, 140, 141, 150, 160]);
    expect([...stepsBetween(5, 5, 10, false)]).toEqual([5]);
    expect([...stepsBetween(1e-7, 3e-7, 3, false)]).toEqual([1e-7, 2e-7, 3e-7]);
  });

  test("gaps are counted and told once a result", async () => {
    const ready = await asking(client(), ["a"], ["root", "sum"]);
    const answers = await ready.client.run(ready.prepared, Float64Array.of(4, -1, -2));
    expect(gapsOf(answers, ready.prepared)).toEqual([{ output: 0, count: 2, message: "no root there" }]);
  });
});

describe("a sweep", () => {
  test("gives every result at every value, others left where they are", async () => {
    const found = await askSweep(await asking(client(), ["a"], ["sum", "product"]), named("a"), Float64Array.of(0, 5));
    expect(found.outputs.map((one) => [...one])).toEqual([
      [3, 8],
      [0, 15],
    ]);
    expect(found.gaps).toEqual([]);
  });

  test("stands on the case that is tried", async () => {
    const ready = await asking(client(), ["a", "b"], ["product"], [{ cell: named("b"), value: 10 }]);
    const found = await askSweep(ready, named("a"), Float64Array.of(1, 2));
    expect([...(found.outputs[0] ?? [])]).toEqual([10, 20]);
  });

  test("of several inputs varies one at a time, in one run, and tells gaps where they are", async () => {
    const answering = client();
    const found = await askSweeps(await asking(answering, ["a", "b"], ["sum", "root"]), [
      { input: named("a"), values: Float64Array.of(-1, 9) },
      { input: named("b"), values: Float64Array.of(10, 20, 30) },
    ]);
    expect(answering.runs).toEqual([5]);
    expect(found.map((one) => [...(one.outputs[0] ?? [])])).toEqual([
      [2, 12],
      [12, 22, 32],
    ]);
    expect(found.map((one) => one.gaps.length)).toEqual([1, 0]);
    expect([...(found[0]?.outputs[1] ?? [])]).toEqual([Number.NaN, 3]);
  });
});

describe("a curve", () => {
  const xs = Float64Array.from({ length: 41 }, (_, at) => at / 40);
  const runsOf = (of: (x: number) => number) =>
    new Set(curveOf(xs, Float64Array.from(xs, of)).points.map(({ run }) => run)).size;

  test("is one run where it is smooth, however steep its end", () => {
    expect(runsOf((x) => 3 * x)).toBe(1);
    expect(runsOf((x) => 1 / (1.05 - x))).toBe(1);
    expect(runsOf(() => 5)).toBe(1);
  });

  test("is broken where it jumps, and where it is no number", () => {
    expect(runsOf((x) => x + (x > 0.51 ? 1 : 0))).toBe(2);
    expect(runsOf((x) => x + Math.floor(x * 3.9) * 0.5)).toBe(4);
    const gap = curveOf(Float64Array.of(0, 1, 2), Float64Array.of(4, Number.NaN, 6));
    expect(gap.points).toEqual([
      { x: 0, y: 4, run: 0 },
      // Two further, so that nothing is drawn across.
      { x: 2, y: 6, run: 2 },
    ]);
  });

  test("goes in steps where it mostly stays, and where it counts whole pieces", () => {
    const loads = Float64Array.from(xs, (x) => Math.ceil(x * 3));
    expect(curveOf(xs, loads).isStepped).toBe(true);
    expect(
      curveOf(
        xs,
        Float64Array.from(xs, (x) => Math.ceil(x * 60)),
      ).isStepped,
    ).toBe(false);
    expect(
      curveOf(
        xs,
        Float64Array.from(xs, (x) => Math.ceil(x * 60)),
        true,
      ).isStepped,
    ).toBe(true);
    expect(
      curveOf(
        xs,
        Float64Array.from(xs, () => 5),
      ).isStepped,
    ).toBe(false);
  });
});

describe("a table", () => {
  test("holds down by across", async () => {
    const ready = await asking(client(), ["a", "b"], ["product", "sum"]);
    const across = { input: named("a"), values: Float64Array.of(1, 2, 3) };
    const down = { input: named("b"), values: Float64Array.of(10, 20) };
    expect([...(await askTable(ready, across, down, 0)).cells]).toEqual([10, 20, 30, 20, 40, 60]);
    expect([...(await askTable(ready, across, down, 1)).cells]).toEqual([11, 12, 13, 21, 22, 23]);
  });

  const tableOf = (of: (x: number, y: number) => number, count = 21): TwoWay => {
    const values = Float64Array.from({ length: count }, (_, at) => -1 + (2 * at) / (count - 1));
    const cells = Float64Array.from({ length: count * count }, (_, at) =>
      of(values[at % count] ?? 0, values[Math.floor(at / count)] ?? 0),
    );
    return { across: { input: named("a"), values }, down: { input: named("b"), values }, cells, gaps: [] };
  };
  const ends = (table: TwoWay, level: number) => levelLine(table, level).flatMap(({ from, to }) => [from, to]);

  test("has its line exactly where a plane has the value", () => {
    const found = ends(
      tableOf((x, y) => 2 * x - y + 0.3),
      0,
    );
    expect(found.length).toBeGreaterThan(20);
    for (const [x, y] of found) expect(2 * x - y + 0.3).toBeCloseTo(0, 12);
  });

  test("has a closed line round a hill, as long as its circumference", () => {
    const found = levelLine(
      tableOf((x, y) => 1 - x * x - y * y, 81),
      0.36,
    );
    const length = found.reduce((sum, { from, to }) => sum + Math.hypot(to[0] - from[0], to[1] - from[1]), 0);
    // Radius 0.8; straight pieces are a little short.
    expect(Math.abs(length - 2 * Math.PI * 0.8)).toBeLessThan(0.01);
    for (const [x, y] of found.flatMap(({ from, to }) => [from, to])) expect(Math.hypot(x, y)).toBeCloseTo(0.8, 2);
  });

  test("keeps the two sides of a saddle apart, and draws nothing at a gap", () => {
    const saddle = tableOf((x, y) => x * y, 2);
    expect(levelLine(saddle, 0.1)).toHaveLength(2);
    for (const { from, to } of levelLine(saddle, 0.1))
      expect(Math.sign(from[0] + to[0])).toBe(Math.sign(from[1] + to[1]));
    for (const { from, to } of levelLine(saddle, -0.1))
      expect(Math.sign(from[0] + to[0])).toBe(-Math.sign(from[1] + to[1]));
    const negated = tableOf((x, y) => -x * y, 2);
    for (const { from, to } of levelLine(negated, 0.1))
      expect(Math.sign(from[0] + to[0])).toBe(-Math.sign(from[1] + to[1]));
    expect(
      levelLine(
        tableOf((x, y) => (x > 0.5 ? Number.NaN : x + y)),
        0,
      ).every(({ to }) => to[0] <= 0.5),
    ).toBe(true);
    expect(
      levelLine(
        tableOf(() => 3),
        0,
      ),
    ).toEqual([]);
  });
});

describe("a ranking", () => {
  test("puts the largest effect first, with each end where its input has it", async () => {
    const ready = await asking(client(), ["a", "b"], ["product"]);
    const found = await askRanking(
      ready,
      [
        { input: named("a"), low: 1.5, high: 2.5 },
        { input: named("b"), low: 1, high: 4 },
      ],
      0,
    );
    expect(found.now).toBe(6);
    expect(found.ranked.map(({ input, atLow, atHigh, effect }) => [input.row, atLow, atHigh, effect])).toEqual([
      ["b", 2, 8, 6],
      ["a", 4.5, 7.5, 3],
    ]);
  });

  test("counts today's value in, so that a valley is not taken for nothing", async () => {
    const valley = formulaClient({ a: 0, b: 0 }, ({ a = 0, b = 0 }) => ({ cost: a * a + b }));
    const ready = await asking(valley, ["a", "b"], ["cost"]);
    const ranges = [
      { input: named("b"), low: 0, high: 3 },
      { input: named("a"), low: -2, high: 2 },
    ];
    expect((await askRanking(ready, ranges, 0)).ranked.map(({ effect }) => effect)).toEqual([4, 3]);
  });

  test("goes by the ends that are numbers, and tells of the others", async () => {
    const ready = await asking(client(), ["a"], ["root"]);
    const found = await askRanking(ready, [{ input: named("a"), low: -1, high: 9 }], 0);
    expect(found.ranked[0]).toMatchObject({ atLow: Number.NaN, atHigh: 3, effect: 3 - Math.SQRT2 });
    expect(found.gaps).toEqual([{ output: 0, count: 1, message: "no root there" }]);
  });
});

test("cases side by side stand each on today", async () => {
  const ready = await asking(client(), ["a", "b"], ["sum", "product"]);
  const found = await askCases(ready, [
    [{ cell: named("a"), value: 10 }],
    [
      { cell: named("a"), value: 0 },
      { cell: named("b"), value: 0 },
    ],
    [],
  ]);
  expect(found.today).toEqual([5, 6]);
  expect(found.results).toEqual([
    [13, 30],
    [0, 0],
    [5, 6],
  ]);
});

test("progress and a stop are passed on", async () => {
  const answering = client();
  const stopping = new AbortController();
  const ready = {
    ...(await asking(answering, ["a"], ["sum"])),
    options: { signal: stopping.signal, onProgress: () => undefined },
  };
  await askSweep(ready, named("a"), Float64Array.of(1, 2));
  expect(answering.lastOptions?.signal).toBe(stopping.signal);
  stopping.abort(new Error("stopped"));
  await expect(askSweep(ready, named("a"), Float64Array.of(1, 2))).rejects.toThrow("stopped");
});
