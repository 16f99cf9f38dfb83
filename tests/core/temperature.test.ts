import { describe, expect, it } from "vitest";
import { demoEdition } from "../../src/app/demo";
import { applyChange } from "../../src/core/change";
import { writeEntries } from "../../src/core/edits";
import { scaleOf } from "../../src/core/temperature";

const demo = demoEdition();
const inFahrenheit = { ...demo, meta: { ...demo.meta, temperature: "F" as const } };
const cell = { sheet: "programmes", row: "r1", column: "celsius" } as const;
const options = { label: "", marks: { decimal: "." }, override: false } as const;

describe("temperatures in °F", () => {
  it("water boils at 212 °F and freezes at 32 °F (definition)", () => {
    const scale = scaleOf(inFahrenheit, { unit: "°C" });
    expect(scale?.toShown(100)).toBe(212);
    expect(scale?.toKept(32)).toBe(0);
    expect(scaleOf(inFahrenheit, { unit: "°C/h" })?.toShown(60)).toBe(108);
    expect(scaleOf(demo, { unit: "°C" })).toBeUndefined();
    expect(scaleOf(inFahrenheit, { unit: "kg" })).toBeUndefined();
  });

  it("what is typed in °F is kept in °C and shown as it was typed", () => {
    const { change, refused } = writeEntries(inFahrenheit, [{ cell, typed: "1922" }], options);
    expect(refused).toEqual([]);
    const kept = applyChange(inFahrenheit, change).sheets.programmes.rows[0]?.cells.celsius;
    expect(kept).toBe(1050);
    expect(scaleOf(inFahrenheit, { unit: "°C" })?.toShown(Number(kept))).toBe(1922);
  });

  it("limits are told in °F", () => {
    const { refused } = writeEntries(inFahrenheit, [{ cell, typed: "3000" }], options);
    expect(refused[0]?.allowed).toBe("a number, 69.8 or more and 2732 or less");
  });
});
