// What is shown and typed again is what was kept, whichever units an edition is shown in.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { writeEntries } from "../../src/core/document/edits";
import type { Workbook } from "../../src/core/document/workbook";
import { convert, isConvertible } from "../../src/core/units/convert";
import { parseUnit, type Unit } from "../../src/core/units/parse";
import { readQuantity } from "../../src/core/units/quantity";
import { scaleOfUnit } from "../../src/core/units/shown";
import { UNITS } from "../../src/core/units/table";
import { smallEdition } from "../tools/small-edition";

const KEPT = ["cm", "cm²", "mm", "m", "g", "kg", "L", "mL", "L/s", "g/cm²", "¤/g", "¤/kg", "g/L", "cm³", "°C", "°C/h"];
const us = { units: "US", temperature: "F" } as const;
/** Numbers as people write them: up to twelve digits, of any size that a studio meets. */
const written = fc
  .tuple(fc.integer({ min: 0, max: 999_999_999_999 }), fc.integer({ min: -9, max: 0 }))
  .map(([digits, places]) => Number(`${digits}e${places}`));
const seeded = { seed: 29, numRuns: 500 };

describe("scales", () => {
  it.each(KEPT)("%s: typed, kept and shown is the same number", (unit) => {
    const scale = scaleOfUnit(unit, us);
    if (!scale) throw new Error(`${unit} is shown as it is kept`);
    fc.assert(
      fc.property(written, (typed) => {
        const kept = scale.toKept(typed);
        expect(scale.toKept(scale.toShown(kept))).toBe(kept);
        expect(scale.toShown(kept)).toBeCloseTo(typed, 9);
      }),
      seeded,
    );
  });

  it.each(KEPT)("%s: kept, shown and typed again is the same number", (unit) => {
    const scale = scaleOfUnit(unit, us);
    if (!scale) throw new Error(`${unit} is shown as it is kept`);
    fc.assert(
      fc.property(written, (kept) => {
        expect(scale.toKept(scale.toShown(kept))).toBe(kept);
      }),
      seeded,
    );
  });
});

it("opening a cell and pressing Enter changes nothing, however long its number is", () => {
  const metric = smallEdition();
  const cells = [
    ["piece_height", "cm"],
    ["piece_kg", "kg"],
    ["piece_foot", "cm²"],
  ] as const;
  fc.assert(
    fc.property(fc.constantFrom(...cells), fc.double({ min: 0, max: 1e6, noNaN: true }), ([row, unit], held) => {
      const cell = { sheet: "edition", row, column: "value" } as const;
      const book: Workbook = { ...metric, meta: { ...metric.meta, ...us } };
      const was = book.sheets.edition.rows.find(({ id }) => id === row)?.cells.value;
      const holding = applyChange(book, { label: "", operations: [{ kind: "cell", ...cell, was, is: held }] });
      const typed = String(scaleOfUnit(unit, us)?.toShown(held));
      const options = { label: "", marks: { decimal: "." }, override: false } as const;
      const { change, refused } = writeEntries(holding, [{ cell, typed }], options);
      expect([refused, change.operations]).toEqual([[], []]);
    }),
    seeded,
  );
});

const known = UNITS.map(({ symbol }) => parseUnit(symbol)).filter((unit) => unit !== undefined);
const pairs = known.flatMap((from) => known.filter((to) => isConvertible(from, to)).map((to) => [from, to] as const));

it("there and back is where one began, through any third unit too", () => {
  fc.assert(
    fc.property(fc.constantFrom(...pairs), written, ([from, to], value) => {
      const back = convert(convert(value, from, to), to, from);
      // A reading near its zero keeps the grain of absolute zero.
      const grain = 1e-12 * (Math.abs(value) + (from.zero ? 1000 : 0));
      expect(Math.abs(back - value)).toBeLessThanOrEqual(grain);
    }),
    { ...seeded, numRuns: 3000 },
  );
});

it("an amount is read with each way of writing its unit", () => {
  const ways = UNITS.flatMap(({ symbol, aliases }) => [symbol, ...aliases].map((way) => [symbol, way] as const)).filter(
    ([symbol]) => symbol !== "%" && symbol !== "×",
  );
  fc.assert(
    fc.property(fc.constantFrom(...ways), fc.integer({ min: 0, max: 9999 }), ([symbol, way], count) => {
      const unit: Unit | undefined = parseUnit(symbol);
      if (!unit) throw new Error(symbol);
      const read = readQuantity(`${count} ${way}`, { decimal: "." }, unit, { assumed: unit, currency: "EUR" });
      expect(read).toEqual({ kind: "amount", value: count });
    }),
    { ...seeded, numRuns: 2000 },
  );
});

it("no text whatever makes the reading of amounts fail", () => {
  const kept = parseUnit("kg");
  if (!kept) throw new Error("kg");
  const alphabet = [..."0123456789 ./,'\"½lbozgcmin°F²^-·€kg"];
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom(...alphabet), maxLength: 24 }), (text) => {
      const read = readQuantity(text, { decimal: "." }, kept, { assumed: kept, currency: "EUR" });
      if (read.kind === "amount") expect(Number.isFinite(read.value)).toBe(true);
    }),
    { ...seeded, numRuns: 5000 },
  );
});
