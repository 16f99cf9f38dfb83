// Random workbooks, compiled, against the engine: every computed cell between inputs and results, to the last bit, with
// the same words for the same error and the same cell in which it began.
import { describe, expect, test } from "vitest";
import { formulaOf } from "../../src/core/document/access";
import { SHEET_KEYS } from "../../src/core/document/workbook";
import { NEAR, randomInputs, randomWorkbook, seeded } from "../tools/random-workbook";
import { compareCases } from "../tools/whatif-compare";

const SEEDS = 320;
const AT_ONCE = 40;

function compareSeed(seed: number, numbers?: readonly number[]) {
  const book = randomWorkbook(seed, numbers);
  const { inputs, cases } = randomInputs(seed, book, numbers);
  return compareCases(book, inputs, cases);
}

describe("compiled formulas give what the engine gives", () => {
  const starts = Array.from({ length: SEEDS / AT_ONCE }, (_, at) => at * AT_ONCE + 1);
  test.each(starts)(
    "forty random workbooks from seed %i",
    (start) => {
      let [cells, errors, refused] = [0, 0, 0];
      for (let seed = start; seed < start + AT_ONCE; seed += 1) {
        const found = compareSeed(seed);
        expect({ seed, differences: found.differences }).toEqual({ seed, differences: [] });
        // A formula that goes in a circle is the engine's; nothing else is refused.
        for (const note of found.notes) expect(`${seed}: ${note}`).toMatch(/depends on itself$/);
        refused += found.notes.length > 0 ? 1 : 0;
        cells += found.cells;
        errors += found.errors;
      }
      expect(refused).toBeLessThan(4);
      expect(cells).toBeGreaterThan(8000);
      expect(errors).toBeGreaterThan(1000);
      expect(errors).toBeLessThan(cells * 0.6);
    },
    240_000,
  );

  test("sixty workbooks of numbers that are nearly equal", () => {
    for (let seed = 1001; seed <= 1060; seed += 1) {
      const found = compareSeed(seed, NEAR);
      expect({ seed, differences: found.differences }).toEqual({ seed, differences: [] });
    }
  }, 240_000);

  test("forty random workbooks of which only three cells are asked for", () => {
    let [asked, all] = [0, 0];
    for (let seed = 2001; seed <= 2040; seed += 1) {
      const book = randomWorkbook(seed);
      const { inputs, cases } = randomInputs(seed, book);
      const computed = SHEET_KEYS.flatMap((sheet) => {
        const { rows, columns } = book.sheets[sheet];
        return rows.flatMap((row) =>
          columns.flatMap((column) =>
            formulaOf(column, row) === undefined ? [] : [{ sheet, row: row.id, column: column.key }],
          ),
        );
      });
      const random = seeded(seed);
      const three = [0, 1, 2].flatMap(() => computed[Math.floor(random() * computed.length)] ?? []);
      const found = compareCases(book, inputs, cases, three);
      expect({ seed, differences: found.differences }).toEqual({ seed, differences: [] });
      asked += found.cells;
      all += computed.length * cases.length;
    }
    expect(asked).toBeGreaterThan(500);
    // What leads to none of the three is not calculated.
    expect(asked).toBeLessThan(all / 2);
  }, 240_000);

  // Seeds that once failed, by what was wrong.
  test.each([
    [251, "a total of a key that does not occur, beside one that is an error, is 0"],
    [276, "an input with a formula of its own goes back to its column's when it is cleared"],
    [297, "values of a column that is shorter than its keys are blank"],
    [410, "the same in the arguments of a function"],
  ])("seed %i: %s", (seed) => {
    const found = compareSeed(seed);
    expect(found.notes).toEqual([]);
    expect(found.differences).toEqual([]);
    expect(found.cells).toBeGreaterThan(100);
  });
});
