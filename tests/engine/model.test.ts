// A filled column is one group with one formula; every cell of it is linked alike but for its own row.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import type { Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";
import { columnLetters } from "../../src/engine/layout";

describe("one formula for a filled column", () => {
  /** Every cell's own text, from that of the first of its group: only the row of unanchored cells differs. */
  function disagreements(book: Workbook): string[] {
    const engine = new Engine(book);
    const wrong = (engine.model()?.sheets ?? []).flatMap(({ sheet, rows, columns, formulas }) => {
      const ids = new Map([...rows].map(([id, index]) => [index, id]));
      const keys = new Map([...columns].map(([key, index]) => [index, key]));
      const linked = (row: number, column: number) => engine.linked(sheet, ids.get(row) ?? "", keys.get(column) ?? "");
      return formulas.flatMap(({ column, rows: filled }) => {
        const [first = 0] = filled;
        const text = linked(first, column);
        return [...filled].flatMap((row) => {
          const expected = text?.replace(
            new RegExp(`(?<![A-Za-z0-9$!"])([A-Z]{1,3})${first + 1}(?![0-9(])`, "g"),
            `$1${row + 1}`,
          );
          const own = linked(row, column);
          return own === expected ? [] : [`${sheet} ${columnLetters(column)}${row + 1}: ${own}, not ${expected}`];
        });
      });
    });
    engine.close();
    return wrong;
  }

  test("is linked alike in every one of its cells", () => {
    expect(disagreements(demoEdition()).slice(0, 3)).toEqual([]);
  });
});
