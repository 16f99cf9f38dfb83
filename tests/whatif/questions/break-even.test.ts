import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type BreakEven, findBreakEven, MOST_CROSSINGS } from "../../../src/whatif/questions/break-even";

interface Asked {
  readonly target?: number;
  readonly isWhole?: boolean;
  readonly scanned?: number;
}

let calls = 0;
const find = (of: (x: number) => number, low: number, high: number, asked: Asked = {}): Promise<BreakEven> => {
  calls = 0;
  const evaluate = async (values: Float64Array) => {
    calls += 1;
    return values.map(of);
  };
  return findBreakEven(evaluate, { low, high, target: 0, isWhole: false, ...asked });
};
const metAt = ({ crossings }: BreakEven) => crossings.map((one) => (one.kind === "met" ? one.at.x : Number.NaN));

describe("where a result is met", () => {
  test("once: to the last digits, in few rounds", async () => {
    const found = await find((x) => x * x - 2, 0, 2);
    expect(metAt(found)).toHaveLength(1);
    expect(Math.abs((metAt(found)[0] ?? 0) - Math.SQRT2)).toBeLessThan(1e-12);
    expect(calls).toBeLessThan(15);
    expect(found.hasMore).toBe(false);
  });

  test("several times, all of them, rising", async () => {
    const found = await find(Math.sin, 0.5, 13, {});
    expect(metAt(found).map((x) => Number((x / Math.PI).toFixed(10)))).toEqual([1, 2, 3, 4]);
  });

  test("at either end of the range", async () => {
    expect(metAt(await find((x) => x, 0, 1))).toEqual([0]);
    expect(metAt(await find((x) => x - 1, 0, 1))).toEqual([1]);
  });

  test("never: the nearest is told", async () => {
    const found = await find((x) => x * x + 1, -3, 2);
    expect(found.crossings).toEqual([]);
    expect(Math.abs(found.nearest?.x ?? 9)).toBeLessThan(1e-6);
    expect(found.nearest?.y).toBeCloseTo(1, 10);
    expect((await find((x) => 5 + x, 0, 1)).nearest).toEqual({ x: 0, y: 5 });
    // So far off that the distances of neighbours are the same number.
    expect((await find((x) => 5 + x, 0, 1, { target: 1e17 })).nearest).toEqual({ x: 1, y: 6 });
  });

  test("touched, without crossing, between two values of the scan", async () => {
    const found = await find((x) => (x - 0.123_456) ** 2, 0, 1, { scanned: 11 });
    expect(found.crossings.length).toBeLessThanOrEqual(1);
    expect(Math.abs((found.nearest?.x ?? 0) - 0.123_456)).toBeLessThan(1e-5);
  });

  test("skipped by a step: both sides of it, and no value in between", async () => {
    const loads = (x: number) => Math.ceil(x * 7) * 10 - 35;
    const found = await find(loads, 0.1, 1);
    expect(found.crossings).toHaveLength(1);
    const [step] = found.crossings;
    if (step?.kind !== "step") throw new Error("no step");
    expect([step.before.y, step.after.y]).toEqual([-5, 5]);
    expect(step.before.x).toBeCloseTo(3 / 7, 11);
    expect(step.after.x - step.before.x).toBeLessThan(1e-11);
    expect(loads(step.before.x)).toBe(-5);
  });

  test("held over a stretch, with its ends", async () => {
    const found = await find((x) => Math.ceil(x * 7) - 4, 0.1, 1);
    expect(found.crossings).toHaveLength(1);
    const [stretch] = found.crossings;
    if (stretch?.kind !== "stretch") throw new Error("no stretch");
    expect(stretch.from.x).toBeCloseTo(3 / 7, 11);
    expect(stretch.to.x).toBeCloseTo(4 / 7, 11);
  });

  test("of a whole-number input: met, or stepped over between two neighbours", async () => {
    const met = await find((n) => 3 * n - 42, 0, 100, { isWhole: true });
    expect(met.crossings).toEqual([{ kind: "met", at: { x: 14, y: 0 } }]);
    const stepped = await find((n) => 3 * n - 43, 0, 1000, { isWhole: true });
    expect(stepped.crossings).toEqual([{ kind: "step", before: { x: 14, y: -1 }, after: { x: 15, y: 2 } }]);
    expect(stepped.tried.every(({ x }) => Number.isInteger(x))).toBe(true);
  });

  test("a value that misses by the last binary digit is met", async () => {
    // 0.1 × 3 is 0.30000000000000004.
    const found = await find((n) => 0.1 * n, 0, 10, { isWhole: true, target: 0.3 });
    expect(found.crossings).toEqual([{ kind: "met", at: { x: 3, y: 0.1 * 3 } }]);
  });

  test("beyond a gap: nothing is claimed across it", async () => {
    const found = await find((x) => (Math.abs(x) < 0.3 ? Number.NaN : x), -1, 1);
    expect(found.crossings).toEqual([]);
    expect(Math.abs(found.nearest?.x ?? 0)).toBeGreaterThanOrEqual(0.3);
    const none = await find(() => Number.NaN, 0, 1);
    expect([none.crossings, none.nearest]).toEqual([[], undefined]);
  });

  test("through a pole: a step, not a value", async () => {
    const found = await find((x) => 1 / (x - 0.3333), 0, 1);
    expect(found.crossings.map(({ kind }) => kind)).toEqual(["step"]);
  });

  test("too often to list: some, and that there are more", async () => {
    const found = await find((x) => Math.sin(200 * x), 0.001, 1, { scanned: 1001 });
    expect(found.crossings).toHaveLength(MOST_CROSSINGS);
    expect(found.hasMore).toBe(true);
  });

  test("a single value is looked at by itself", async () => {
    expect((await find((x) => x - 3, 3, 3)).crossings).toEqual([{ kind: "met", at: { x: 3, y: 0 } }]);
    expect((await find((x) => x - 3, 4, 4)).nearest).toEqual({ x: 4, y: 1 });
  });

  test("finds every root of a cubic whose roots lie apart", async () => {
    const root = fc.double({ min: -0.95, max: 0.95, noNaN: true });
    const apart = (roots: readonly number[]) => roots.every((r, at) => at === 0 || r - (roots[at - 1] ?? 0) > 0.05);
    await fc.assert(
      fc.asyncProperty(
        fc
          .tuple(root, root, root)
          .map((roots) => [...roots].sort((a, b) => a - b))
          .filter(apart),
        fc.double({ min: 0.01, max: 1000, noNaN: true }),
        async (roots, scale) => {
          const found = await find((x) => scale * roots.reduce((all, r) => all * (x - r), 1), -1, 1);
          expect(found.crossings).toHaveLength(3);
          metAt(found).forEach((x, at) => {
            expect(Math.abs(x - (roots[at] ?? 9))).toBeLessThan(1e-9);
          });
        },
      ),
      { seed: 20_261_125, numRuns: 200 },
    );
  });
});
