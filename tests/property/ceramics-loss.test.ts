// What must hold of yields, starts and intervals, whatever the numbers.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { goodDistribution } from "../../src/ceramics/good-distribution";
import { clopperPearson, wilson } from "../../src/ceramics/intervals";
import { beliefAfter, betaBinomialSplit, startsUnderUncertainYield } from "../../src/ceramics/uncertain-yield";
import { chanceOf, startsNeeded, yieldChain } from "../../src/ceramics/yields";
import { exactStarts } from "../ceramics/exact-chance";
import { valueIn } from "../ceramics/read-reference";

const loss = fc.double({ min: 0, max: 0.6, noNaN: true });
const losses = fc.array(loss, { minLength: 1, maxLength: 8 });
const someYield = fc.double({ min: 0.05, max: 1, noNaN: true });
const confidence = fc.double({ min: 0.01, max: 0.999, noNaN: true });
const good = fc.integer({ min: 1, max: 2000 });
const thousandth = fc.integer({ min: 1, max: 999 }).map((parts) => (parts / 1000).toFixed(3));

describe("starts", () => {
  it("never rise when a loss is lowered", () => {
    fc.assert(
      fc.property(
        losses,
        fc.nat(),
        fc.double({ min: 0, max: 1, noNaN: true }),
        good,
        confidence,
        (all, at, part, n, p) => {
          const lowered = all.map((one, i) => (i === at % all.length ? one * part : one));
          const before = valueIn(yieldChain(all));
          const after = valueIn(yieldChain(lowered));
          expect(after).toBeGreaterThanOrEqual(before);
          expect(valueIn(startsNeeded(n, after, p))).toBeLessThanOrEqual(valueIn(startsNeeded(n, before, p)));
        },
      ),
      { seed: 1601, numRuns: 400 },
    );
  });

  it("never fall when more good pieces or more confidence are asked for", () => {
    fc.assert(
      fc.property(good, good, someYield, confidence, confidence, (n, m, y, p, q) => {
        const few = valueIn(startsNeeded(Math.min(n, m), y, Math.min(p, q)));
        expect(few).toBeLessThanOrEqual(valueIn(startsNeeded(Math.max(n, m), y, Math.min(p, q))));
        expect(few).toBeLessThanOrEqual(valueIn(startsNeeded(Math.min(n, m), y, Math.max(p, q))));
      }),
      { seed: 1602, numRuns: 400 },
    );
  });

  it("reach the confidence, and one fewer does not", () => {
    fc.assert(
      fc.property(good, someYield, confidence, (n, y, p) => {
        const starts = valueIn(startsNeeded(n, y, p));
        expect(valueIn(chanceOf(n, starts, y))).toBeGreaterThanOrEqual(p - 1e-11);
        if (starts > n) expect(valueIn(chanceOf(n, starts - 1, y))).toBeLessThan(p);
      }),
      { seed: 1603, numRuns: 500 },
    );
  });

  it("are those of whole-number arithmetic, for yields and confidences written with three decimals", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), thousandth, thousandth, (n, y, p) => {
        fc.pre(Number(y) > 0.1);
        expect(valueIn(startsNeeded(n, Number(y), Number(p)))).toBe(exactStarts(n, y, p));
      }),
      { seed: 1604, numRuns: 300 },
    );
  });

  it("at an uncertain yield reach the confidence, one fewer does not, and never fall with more confidence", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 300 }),
        fc.integer({ min: 5, max: 200 }),
        fc.double({ min: 0.6, max: 1, noNaN: true }),
        fc.double({ min: 0.1, max: 0.95, noNaN: true }),
        fc.constantFrom("Jeffreys" as const, "uniform" as const),
        (n, seen, share, p, prior) => {
          const seenGood = Math.round(seen * share);
          const starts = valueIn(startsUnderUncertainYield(n, seenGood, seen, p, prior));
          const belief = beliefAfter(seenGood, seen, prior);
          const chance = (count: number) => betaBinomialSplit(n, count, belief).atLeast;
          expect(chance(starts)).toBeGreaterThanOrEqual(p - 1e-11);
          if (starts > n) expect(chance(starts - 1)).toBeLessThan(p);
          expect(valueIn(startsUnderUncertainYield(n, seenGood, seen, p / 2, prior))).toBeLessThanOrEqual(starts);
        },
      ),
      { seed: 1605, numRuns: 300 },
    );
  });
});

describe("chances", () => {
  it("rise with starts and with the yield, and lie between 0 and 1", () => {
    fc.assert(
      fc.property(good, fc.nat(3000), someYield, someYield, (n, more, y, z) => {
        const low = valueIn(chanceOf(n, more, Math.min(y, z)));
        expect(low).toBeGreaterThanOrEqual(0);
        expect(low).toBeLessThanOrEqual(valueIn(chanceOf(n, more, Math.max(y, z))) + 1e-12);
        expect(low).toBeLessThanOrEqual(valueIn(chanceOf(n, more + 1, Math.min(y, z))) + 1e-12);
        expect(valueIn(chanceOf(n, more, 1))).toBe(more >= n ? 1 : 0);
      }),
      { seed: 1606, numRuns: 400 },
    );
  });

  it("are the upper tail of the spread", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), losses, fc.nat(400), (starts, all, wanted) => {
        const spread = valueIn(goodDistribution(starts, all));
        const least = wanted % (starts + 1);
        const tail = spread.slice(least).reduce((sum, one) => sum + one, 0);
        expect(valueIn(chanceOf(least, starts, valueIn(yieldChain(all))))).toBeCloseTo(tail, 11);
      }),
      { seed: 1607, numRuns: 300 },
    );
  });
});

describe("intervals", () => {
  const counts = fc
    .tuple(fc.integer({ min: 1, max: 600 }), fc.double({ min: 0, max: 1, noNaN: true }))
    .map(([entered, share]) => [Math.round(entered * share), entered] as const);

  it.each([wilson, clopperPearson])("hold the counted rate, widen with confidence, and mirror: %s", (interval) => {
    fc.assert(
      fc.property(counts, confidence, confidence, ([lost, entered], p, q) => {
        const narrow = valueIn(interval(lost, entered, Math.min(p, q)));
        const wide = valueIn(interval(lost, entered, Math.max(p, q)));
        expect(narrow.low).toBeLessThanOrEqual(lost / entered + 1e-12);
        expect(narrow.high).toBeGreaterThanOrEqual(lost / entered - 1e-12);
        expect(wide.low).toBeLessThanOrEqual(narrow.low + 1e-12);
        expect(wide.high).toBeGreaterThanOrEqual(narrow.high - 1e-12);
        const mirrored = valueIn(interval(entered - lost, entered, Math.min(p, q)));
        expect(mirrored.low).toBeCloseTo(1 - narrow.high, 11);
        for (const end of [wide.low, wide.high]) expect(end >= 0 && end <= 1).toBe(true);
      }),
      { seed: 1608, numRuns: 200 },
    );
  });

  it("the exact one holds the true rate at least as often as it says", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (entered, rate) => {
          const spread = valueIn(goodDistribution(entered, [1 - rate]));
          const covered = spread.reduce((sum, chance, lost) => {
            const { low, high } = valueIn(clopperPearson(lost, entered, 0.9));
            return low <= rate && rate <= high ? sum + chance : sum;
          }, 0);
          expect(covered).toBeGreaterThanOrEqual(0.9 - 1e-9);
        },
      ),
      { seed: 1609, numRuns: 60 },
    );
  });
});
