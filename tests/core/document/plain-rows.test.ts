// Rows that are set aside before the checker would have passed it; all others stay for it to look at.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { setAsidePlainRows } from "../../../src/core/document/plain-rows";
import { rowSchema } from "../../../src/core/document/workbook-schema";
import { smallEdition } from "../../tools/small-edition";

const book = smallEdition();
const withRows = (rows: readonly unknown[]) => ({
  ...book,
  sheets: { ...book.sheets, pieces: { ...book.sheets.pieces, rows } },
});
const restOf = (rows: readonly unknown[], most = 100) => {
  const { rest } = setAsidePlainRows(withRows(rows), most);
  return (rest as typeof book).sheets.pieces.rows;
};

const name = fc.oneof(
  fc.constantFrom(
    "piece",
    "cast.slip",
    "__proto__",
    "constructor",
    "toString",
    "A",
    "a b",
    "",
    "a.b.c",
    "x".repeat(61),
  ),
  fc.string({ maxLength: 8 }),
);
const value = fc.oneof(
  fc.constantFrom<unknown>(
    "x",
    "y",
    2,
    0.5,
    "x".repeat(20_001),
    1,
    Number.NaN,
    Number.POSITIVE_INFINITY,
    true,
    null,
    undefined,
    [],
  ),
  fc.constantFrom<unknown>({ f: "=1" }, { f: "1" }, { f: 1 }, { f: "=1", g: 2 }, { f: `=${"1".repeat(8000)}` }, {}),
);
const cells = fc.array(fc.tuple(name, value), { maxLength: 3 }).map((entries) => {
  const made: Record<string, unknown> = {};
  for (const [key, given] of entries)
    Object.defineProperty(made, key, { value: given, enumerable: true, configurable: true });
  return made;
});
const row = fc.oneof(
  fc.record({ id: fc.constantFrom<unknown>("p1", "p2", "p3", "q_1", "P1", "", 1, "p".repeat(41)), cells }),
  fc.record({ id: fc.constant("p1"), cells, own: fc.boolean() }),
  fc.constantFrom<unknown>(null, 1, [], "row", { id: "p1" }, { id: "p1", cells: [] }, { id: "p1", cells: null }),
);

describe("plain rows", () => {
  test("are set aside only where the checker has nothing against them", () => {
    let aside = 0;
    fc.assert(
      fc.property(row, (one) => {
        if (restOf([one]).length > 0) return;
        aside += 1;
        expect(rowSchema.safeParse(one).success).toBe(true);
      }),
      { numRuns: 3000, seed: 7 },
    );
    expect(aside).toBeGreaterThan(100);
  });

  test("are set aside all or none, and only up to the most a sheet may hold", () => {
    const [first, second] = book.sheets.pieces.rows;
    expect(restOf([first, second])).toEqual([]);
    expect(restOf([first, { ...second, odd: 1 }])).toHaveLength(2);
    expect(restOf([first, second], 1)).toHaveLength(2);
  });

  test("come back as they were", () => {
    const { rest, restore } = setAsidePlainRows(book, 100);
    expect(restore(rest as typeof book)).toEqual(book);
  });

  test.each([null, 1, [], {}, { sheets: null }, { sheets: [] }, { sheets: { pieces: 1 } }])(
    "leave alone what is no edition: %j",
    (data) => {
      expect(setAsidePlainRows(data, 100).rest).toEqual(data);
    },
  );
});
