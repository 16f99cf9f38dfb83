// The stock of a material: what is not there, what is counted, what comes back, and days that nobody knows.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Movement, type Stock, type StockMethod, stockOf } from "../../src/accounts/stock";
import { STOCK_METHODS } from "../../src/core/document/sheet-keys";
import { codesOf, must } from "./results";

const bought = (day: string, grams: number, paid: number): Movement => ({
  ...{ kind: "bought", day, grams, paid, name: `bought ${day}` },
});
const used = (day: string, grams: number): Movement => ({ kind: "used", day, grams, by: "Marram" });
const back = (day: string, grams: number): Movement => ({ kind: "back", day, grams, by: "Marram" });
const counted = (day: string, grams: number): Movement => ({ kind: "counted", day, grams, name: "count" });
const card = (method: StockMethod, ...movements: readonly Movement[]): Stock =>
  must(stockOf(movements, method, { usual: 0.5, digits: 2 }));

describe("use beyond what there was", () => {
  const short = [bought("2026-01-01", 100, 100), used("2026-01-05", 130)];

  test.each(STOCK_METHODS)("is said and stands below nothing (%s)", (method) => {
    const { lines, leftGrams, leftMinor } = card(method, ...short);
    expect(lines.map((line) => line.short)).toEqual([0, 30]);
    expect([leftGrams, leftMinor]).toEqual([-30, -3000]);
  });

  test.each(STOCK_METHODS)("is made up for by the next purchase, at what that cost (%s)", (method) => {
    const { lines, leftGrams, leftMinor, perGram } = card(method, ...short, bought("2026-01-09", 50, 100));
    expect(lines.at(-1)).toMatchObject({ minor: 10_000, correctedMinor: 3000, grams: 50 });
    expect([leftGrams, leftMinor, perGram]).toEqual([20, 4000, 2]);
  });

  test("of which nothing was ever bought has the usual price", () => {
    const { lines } = card("average", used("2026-01-05", 10));
    expect(lines[0]).toMatchObject({ minor: -500, short: 10, perGram: 0.5, from: [] });
  });
});

describe("a stock-take", () => {
  test("says what is less, at the price of the method, and what is more", () => {
    const layers = [bought("2026-01-01", 100, 100), bought("2026-02-01", 100, 200)];
    const first = card("first in first out", ...layers, counted("2026-03-01", 190));
    expect(first.lines.at(-1)).toMatchObject({ grams: -10, minor: -1000, leftGrams: 190 });
    const mean = card("average", ...layers, counted("2026-03-01", 190));
    expect(mean.lines.at(-1)).toMatchObject({ grams: -10, minor: -1500, leftGrams: 190, leftMinor: 28_500 });
    const more = card("average", ...layers, counted("2026-03-01", 220));
    expect(more.lines.at(-1)).toMatchObject({ grams: 20, minor: 3000, leftGrams: 220 });
  });
  test("that finds what there should be moves nothing, and comes after what else was done on its day", () => {
    const { lines } = card("average", counted("2026-01-01", 60), used("2026-01-01", 40), bought("2026-01-01", 100, 10));
    expect(lines.map(({ movement }) => movement.kind)).toEqual(["bought", "used", "counted"]);
    expect(lines[2]).toMatchObject({ grams: 0, minor: 0, perGram: undefined });
  });
});

test("clay comes back at what it was charged at", () => {
  const { lines } = card("average", bought("2026-01-01", 100, 100), used("2026-01-02", 50), back("2026-01-03", 10));
  expect(lines.at(-1)).toMatchObject({ grams: 10, minor: 1000, leftGrams: 60, leftMinor: 6000 });
});

test("use of no known day comes last; a purchase of none is refused", () => {
  const { lines } = card("average", used("", 10), bought("2026-06-01", 100, 100));
  expect(lines.map(({ short }) => short)).toEqual([0, 0]);
  const wrong = stockOf([bought("", 0, -1)], "average", { usual: -1, digits: 2 });
  expect(codesOf(wrong)).toEqual(["number.range", "number.range", "number.range", "number.range"]);
});

// What must hold whatever happens, to the cent.
const day = fc.integer({ min: 1, max: 28 }).map((of) => `2026-02-${String(of).padStart(2, "0")}`);
const grams = fc.integer({ min: 1, max: 400_000 }).map((of) => of / 100);
const movement = fc.oneof(
  fc.tuple(day, grams, fc.integer({ min: 0, max: 90_000 })).map(([of, g, cents]) => bought(of, g, cents / 100)),
  fc.tuple(day, grams).map(([of, g]) => used(of, g)),
  fc.tuple(day, grams).map(([of, g]) => back(of, g)),
  fc.tuple(day, grams).map(([of, g]) => counted(of, g)),
);

test("what came in less what went out is what is left, in grams and to the cent; purchases are what was paid", () => {
  fc.assert(
    fc.property(fc.array(movement, { maxLength: 25 }), fc.constantFrom(...STOCK_METHODS), (movements, method) => {
      const { lines, leftGrams, leftMinor } = card(method, ...movements);
      const sum = (of: (line: (typeof lines)[number]) => number) => lines.reduce((all, line) => all + of(line), 0);
      expect(sum((line) => line.grams)).toBeCloseTo(leftGrams, 4);
      expect(sum((line) => line.minor - line.correctedMinor)).toBe(leftMinor);
      for (const { movement: of, minor } of lines)
        if (of.kind === "bought") expect(minor).toBe(Math.round(of.paid * 100));
      if (leftGrams > 0.01) expect(leftMinor).toBeGreaterThanOrEqual(-1);
    }),
    { numRuns: 300 },
  );
});

test("both methods move the same grams, and agree where every purchase cost the same", () => {
  const same = fc.oneof(
    fc.tuple(day, grams).map(([of, g]) => bought(of, g, g * 2)),
    fc.tuple(day, grams).map(([of, g]) => used(of, g)),
  );
  fc.assert(
    fc.property(fc.array(same, { maxLength: 20 }), (movements) => {
      const start = [bought("2026-01-01", 1, 2), ...movements];
      const [mean, first] = STOCK_METHODS.map((method) => card(method, ...start));
      expect(mean?.leftGrams).toBeCloseTo(first?.leftGrams ?? 0, 6);
      expect(Math.abs((mean?.leftMinor ?? 0) - (first?.leftMinor ?? 0))).toBeLessThanOrEqual(1);
    }),
  );
});

test("a later purchase never moves what was used before", () => {
  fc.assert(
    fc.property(
      fc.array(movement, { maxLength: 15 }),
      grams,
      fc.constantFrom(...STOCK_METHODS),
      (movements, more, method) => {
        const before = card(method, ...movements);
        const after = card(method, ...movements, bought("2026-03-01", more, more * 9));
        expect(after.lines.slice(0, -1)).toEqual(before.lines);
      },
    ),
  );
});
