// A reading is never lost: what a metered firing costs in energy hangs on nothing that only the model or the rule asks for.
import { afterAll, describe, expect, test } from "vitest";
import { applyChange, type Operation } from "../../src/core/document/change";
import { addRows } from "../../src/core/document/edits";
import type { Raw } from "../../src/core/document/workbook";
import { LiveEdition } from "../tools/live-edition";
import { afterTyping, smallEdition, type Typed } from "../tools/small-edition";

const BUILD: readonly Typed[] = [
  ["kilns", "k2", "shape", "round"],
  ["kilns", "k2", "width", "50"],
  ["kilns", "k2", "height", "50"],
  ["kilns", "k2", "brick", "brick-1260"],
  ["kilns", "k2", "brick_mm", "114"],
  ["kilns", "k2", "furniture", "8"],
];

/** Two metered firings at night, one with its hours, and one that is not metered. */
function edition() {
  const small = smallEdition(4);
  const kiln = small.sheets.kilns.rows.map(({ id }) => id);
  const built = afterTyping(
    small,
    BUILD.map(([sheet, , column, typed]): Typed => [sheet, kiln[1] ?? "", column, typed]),
  );
  const banded = applyChange(
    built,
    addRows(
      built,
      "tariffs",
      [{ id: "t1", cells: { id: "Night", days: "every day", from: "22:00", to: "06:00", price: 0.1 } }],
      "",
    ),
  );
  const more = applyChange(
    banded,
    addRows(banded, "firings", [{ id: "f3", cells: { id: "F3", kiln: "Large", basis: "count" } }], ""),
  );
  const common = (row: string): Typed[] => [
    ["firings", row, "kiln", "Large"],
    ["firings", row, "programme", "slow"],
    ["firings", row, "date", "2026-03-02"],
    ["firings", row, "start", "20:00"],
  ];
  return afterTyping(more, [
    ...["f1", "f2", "f3"].flatMap(common),
    ["firings", "f1", "meter", "60"],
    ["firings", "f1", "hours", "8"],
    ["firings", "f2", "meter_before", "100"],
    ["firings", "f2", "meter_after", "155"],
    ...["p1", "p2", "p3", "p4"].map((piece): Typed => ["pieces", piece, "bisque.firing", "F1"]),
  ]);
}

const live = new LiveEdition(edition());
afterAll(() => live.close());
const read = (row: string, column: string) => live.read("firings", row, column);
const energyOf = (rows: readonly string[]) =>
  rows.flatMap((row) => ["kwh", "tariff", "energy", "priced"].map((key) => read(row, key)));

describe("a metered firing", () => {
  test("is priced over the hours typed with it, and by the flat price where there are none, said in words", () => {
    // From 20:00 for eight hours: two at 0.30, six at 0.10.
    expect(read("f1", "tariff")).toBeCloseTo((2 * 0.3 + 6 * 0.1) / 8, 12);
    expect(read("f1", "energy")).toBeCloseTo(60 * 0.15, 12);
    expect(read("f1", "priced")).toBe("bands, even over its hours");
    expect(read("f2", "tariff")).toBe(0.3);
    expect(read("f2", "priced")).toBe("flat price: its hours are not typed");
    expect(read("f3", "priced")).toBe("bands, hour by hour of the model");
  });

  test("costs the same energy whatever becomes of any cell of kilns and programmes", () => {
    const before = energyOf(["f1", "f2"]);
    const unmetered = energyOf(["f3"]);
    const moved = new Set<string>();
    const odd: readonly (Raw | undefined)[] = [undefined, 0.5, 1450, "none"];
    for (const sheet of ["kilns", "programmes"] as const)
      for (const row of live.book.sheets[sheet].rows)
        for (const { key, kind } of live.book.sheets[sheet].columns) {
          // The name by which firings find the kiln is no part of its build.
          if (kind !== "input" || key === "id") continue;
          for (const is of odd) {
            const operation: Operation = { kind: "cell", sheet, row: row.id, column: key, was: row.cells[key], is };
            const change = { label: "", operations: [operation] };
            live.run(change);
            expect([sheet, row.id, key, is, ...energyOf(["f1", "f2"])]).toEqual([sheet, row.id, key, is, ...before]);
            if (JSON.stringify(energyOf(["f3"])) !== JSON.stringify(unmetered)) moved.add(`${sheet} ${key}`);
            live.undo(change);
          }
        }
    // The changes do reach the firing that is not metered.
    expect(moved.size).toBeGreaterThan(12);
  });

  test("a firing the model can't follow is priced by its hours too", () => {
    const kiln = live.book.sheets.kilns.rows[1];
    const change = live.type(["kilns", kiln?.id ?? "", "height", ""], ["firings", "f3", "hours", "2"]);
    expect(read("f3", "tariff")).toBeCloseTo(0.3, 12);
    expect(read("f3", "priced")).toBe("bands, even over its hours");
    live.undo(change);
  });
});
