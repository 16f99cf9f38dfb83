// What must hold of the plan on the sheets, whatever the losses.
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Workbook } from "../../src/core/document/workbook";
import { evaluate } from "../tools/evaluate";
import { afterTyping, smallEdition, type Typed } from "../tools/small-edition";

const STEPS = ["cast", "fettle", "bisque", "glaze", "firing", "band"] as const;
const loss = fc.integer({ min: 0, max: 400 }).map((thousandths) => thousandths / 10);
const base = afterTyping(smallEdition(1), [["edition", "special_wanted", "value", "1"]]);

function planned(book: Workbook) {
  const read = evaluate(book);
  const line = (id: string) => Number(read("edition", id, "value"));
  const loads = STEPS.reduce((sum, step) => sum + (Number(read("route", step, "plan_loads")) || 0), 0);
  const last = Number(read("route", "band", "plan_entries")) - Number(read("route", "band", "plan_lost"));
  return { starts: line("starts"), perGood: line("plan_per_good"), good: line("plan_good"), loads, last };
}

test("lowering a loss never raises the starts, nor the cost of a good piece unless one more load must be fired", () => {
  fc.assert(
    fc.property(
      fc.array(loss, { minLength: 6, maxLength: 6 }),
      fc.nat({ max: 5 }),
      fc.integer({ min: 0, max: 10 }),
      fc.integer({ min: 1, max: 90 }),
      fc.boolean(),
      (losses, at, tenths, wanted, hasSpecial) => {
        const with_ = (all: readonly number[]) => {
          const typed = STEPS.map((step, k): Typed => ["route", step, "loss", String(all[k] ?? 0)]);
          const own: Typed[] = hasSpecial ? [["route", "band", "who", "special"]] : [];
          return planned(afterTyping(base, [...typed, ...own, ["edition", "wanted", "value", String(wanted)]]));
        };
        const before = with_(losses);
        const after = with_(losses.map((one, k) => (k === at ? (one * tenths) / 10 : one)));
        expect(after.starts).toBeLessThanOrEqual(before.starts);
        if (after.loads <= before.loads) expect(after.perGood).toBeLessThanOrEqual(before.perGood * (1 + 1e-12));
        // What comes out of the last step is what the Edition sheet expects; special pieces pass it on their own.
        if (!hasSpecial) expect(after.last).toBeCloseTo(after.good, 9);
      },
    ),
    { seed: 4101, numRuns: 40 },
  );
});
