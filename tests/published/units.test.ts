// Conversions as published. SP 811: NIST Special Publication 811 (2008), appendix B.8 and B.9; HB 44: NIST Handbook 44,
// appendix C; SI: BIPM, SI brochure, 9th edition (2019).
import { describe, expect, it } from "vitest";
import { convert, isConvertible } from "../../src/core/units/convert";
import { parseUnit, type Unit } from "../../src/core/units/parse";
import { UNITS } from "../../src/core/units/table";

function unit(text: string): Unit {
  const found = parseUnit(text);
  if (!found) throw new Error(`no unit: ${text}`);
  return found;
}

const EXACT: readonly (readonly [number, string, number, string, string])[] = [
  [1, "in", 25.4, "mm", "SP 811: inch, 2.54 E+01 mm, exact"],
  [12, "in", 30.48, "cm", "SP 811: foot, 3.048 E-01 m, exact"],
  [1, "ft", 12, "in", "HB 44"],
  [1, "yd", 0.9144, "m", "SP 811: yard, exact"],
  [1, "lb", 0.45359237, "kg", "SP 811: pound (avoirdupois), exact"],
  [1, "lb", 16, "oz", "HB 44"],
  [1, "oz", 28.349523125, "g", "HB 44, exact"],
  [1, "oz t", 31.1034768, "g", "HB 44, exact"],
  [1, "oz t", 20, "dwt", "HB 44"],
  [1, "fl oz", 29.5735295625, "mL", "HB 44: 1/128 of 231 cubic inches, exact"],
  [1, "gal", 231, "in³", "HB 44, exact"],
  [1, "gal", 128, "fl oz", "HB 44"],
  [1, "gal", 3.785411784, "L", "HB 44, exact"],
  [1, "qt", 2, "pt", "HB 44"],
  [1, "cup", 8, "fl oz", "HB 44"],
  [1, "in²", 6.4516, "cm²", "SP 811: square inch, 6.4516 E-04 m², exact"],
  [1, "sq ft", 144, "sq in", "HB 44"],
  [1, "kWh", 3.6, "MJ", "SP 811: kilowatt hour, 3.6 E+06 J, exact"],
  [
    1,
    "Btu",
    1055.05585262,
    "J",
    "SP 811: British thermal unit (IT), 1.055056 E+03 J; exact by the International Table",
  ],
  [100, "°C", 212, "°F", "SI: t/°C = T/K − 273.15; water boils at 212 °F"],
  [32, "°F", 0, "°C", "SP 811, B.8: t/°C = (t/°F − 32)/1.8"],
  [-40, "°F", -40, "°C", "where both scales meet"],
  [1922, "°F", 1050, "°C", "SP 811, B.8"],
  [0, "°C", 273.15, "K", "SI"],
  [1.8, "Δ°F", 1, "Δ°C", "SP 811: temperature interval"],
  [108, "°F/h", 60, "°C/h", "SP 811: temperature interval"],
  [1, "h", 60, "min", "SI, table 8"],
  [1, "days", 24, "h", "SI, table 8"],
  [1, "t", 1000, "kg", "SI, table 8"],
  [1, "L", 1000, "cm³", "SI, table 8: litre, 1 dm³"],
];

describe("conversions are those of the tables", () => {
  it.each(EXACT)("%d %s is %d %s (%s)", (value, from, expected, to) => {
    expect(convert(value, unit(from), unit(to))).toBe(expected);
    expect(convert(expected, unit(to), unit(from))).toBe(value);
  });

  it("a cubic foot a minute is 4.719 474 E-04 m³/s (SP 811)", () => {
    expect(convert(1, unit("cfm"), unit("L/s"))).toBeCloseTo(0.4719474, 7);
  });

  it("an ounce on a square yard is 3.390 575 E-02 kg/m² (SP 811)", () => {
    expect(convert(1, unit("oz/yd²"), unit("kg/m²"))).toBeCloseTo(0.03390575, 8);
  });

  it("pounds a cubic foot: 1.601 846 E+01 kg/m³ (SP 811)", () => {
    expect(convert(1, unit("lb/ft³"), unit("kg/m³"))).toBeCloseTo(16.01846, 5);
  });
});

describe("what is no conversion", () => {
  it.each([
    ["oz", "fl oz"],
    ["g", "min"],
    ["°C", "Δ°C"],
    ["°F/h", "°F"],
    ["¤/kg", "¤"],
    ["kWh", "kW"],
  ])("%s into %s", (from, to) => {
    expect(isConvertible(unit(from), unit(to))).toBe(false);
  });
});

it("no two units answer to the same way of writing", () => {
  const ways = UNITS.flatMap(({ symbol, aliases }) => [symbol, ...aliases]);
  expect(ways.filter((way, at) => ways.indexOf(way) !== at)).toEqual([]);
});
