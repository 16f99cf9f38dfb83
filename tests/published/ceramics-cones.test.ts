// Cone temperatures against what was printed, each with its source. The letters are those of the chart that was seen:
//   A  Orton "Temperature Equivalents for Orton Pyrometric Cones (°C) Cone Numbers 022-14", 2016 (022–014 visible)
//   B  another issue of the same chart, formsbank.com/template/288043 (022–08 visible)
//   C  °F table 022–10 at 108 and 270 °F/h, noveltyhorse.tech and ghostwriters.site (one text)
//   D  Orton large-cone chart 012–12, ccg.co.nz/craft/product/10930
import { describe, expect, it } from "vitest";
import { coneTable } from "../../src/ceramics/cone-table";
import { coneTemperature, toFahrenheit } from "../../src/ceramics/cones";
import { readReference, valueIn } from "../ceramics/read-reference";

const printed = readReference("cones");

const toCelsius = (fahrenheit: number) => (fahrenheit - 32) / 1.8;

function number(text: string | undefined): number | undefined {
  return text === undefined || text === "" ? undefined : Number(text);
}

describe("the cone table", () => {
  it("has the rows of the reference table, in the order of heat", () => {
    expect(coneTable.map((row) => row.cone)).toEqual(printed.map((row) => row.cone));
    expect(coneTable).toHaveLength(36);
  });

  // A, B for 022–08 (self-supporting); D for the large cones 012–12. The rest is from memory, and `evidence` says so.
  it.each(printed.map((row) => [row.cone ?? "", row] as const))("cone %s as printed", (cone, row) => {
    const ours = coneTable.find((one) => one.cone === cone);
    const slow = number(row.self_supporting_c_60_per_h);
    const fast = number(row.self_supporting_c_150_per_h);
    expect(valueIn(coneTemperature(cone, 60))).toBe(slow);
    expect(valueIn(coneTemperature(cone, 150))).toBe(fast);
    expect(ours?.large60).toBe(number(row.large_c_60_per_h));
    expect(ours?.large150).toBe(number(row.large_c_150_per_h));
    expect(ours?.small300).toBe(number(row.small_c_300_per_h));
    const status = row.celsius_status ?? "";
    expect(ours?.evidence).toBe(status.includes("equals") ? "converted" : status);
  });

  // C for 022–10; 11, 12, 14 from memory. 108 and 270 °F/h are 60 and 150 °C/h.
  it.each(printed.map((row) => [row.cone ?? "", row] as const))("cone %s in °F", (cone, row) => {
    const fahrenheit = [row.self_supporting_f_108_per_h, row.self_supporting_f_270_per_h].map(Number);
    const celsius = [60, 150].map((rate) => valueIn(coneTemperature(cone, rate)));
    for (const at of [0, 1]) {
      // Each chart is rounded by itself: cones 022–014 were converted the other way, °C to °F.
      expect(Math.abs((celsius[at] ?? 0) - toCelsius(fahrenheit[at] ?? 0))).toBeLessThan(0.56);
      expect(Math.abs((fahrenheit[at] ?? 0) - toFahrenheit(celsius[at] ?? 0))).toBeLessThanOrEqual(1);
    }
    if (row.celsius_status?.includes("equals"))
      expect(fahrenheit.map((one) => Math.round(toCelsius(one)))).toEqual(celsius);
  });

  it.each([
    // cone, °C per hour, series, °C, source
    ["13", 60, "self-supporting", 1331, "cebex.se"],
    ["13", 150, "self-supporting", 1348, "cebex.se"],
    ["06", 150, "self-supporting", 1013, "hot-clay.com/orton-cones"],
    ["6", 150, "self-supporting", 1243, "hot-clay.com/orton-cones"],
    ["04", 60, "self-supporting", 1063, "Bartlett 700-series manual app. A"],
    ["6", 60, "self-supporting", 1222, "Bartlett 700-series manual app. A"],
    ["06", 300, "small", 1023, "freeartdictionary.com, quoting Orton: 1873 °F"],
    ["04", 300, "small", 1098, "freeartdictionary.com, quoting Orton: 2008 °F"],
    ["04", 150, "large", 1070, "Orton large-cone chart, ccg.co.nz"],
    ["6", 60, "large", 1220, "Orton large-cone chart, ccg.co.nz"],
  ] as const)("cone %s at %i °C/h, %s: %i °C (%s)", (cone, rate, series, celsius, _source) => {
    expect(valueIn(coneTemperature(cone, rate, series))).toBe(celsius);
  });

  it("agrees with the °F figures quoted beside them", () => {
    // Bartlett 700-series manual: 1945 and 2232 °F; freeartdictionary.com: 1873 and 2008 °F.
    expect([1945, 2232, 1873, 2008].map((one) => Math.round(toCelsius(one)))).toEqual([1063, 1222, 1023, 1098]);
  });

  it("is not the older 150 °C/h chart that still circulates", () => {
    // mauipotter.com and potterystore.co.nz: cone 6 1222, cone 022 600, cones 019/018/017 683/717/747 at 150 °C/h.
    const older = { "6": 1222, "022": 600, "019": 683, "018": 717, "017": 747 };
    const apart = Object.entries(older).map(([cone, celsius]) => celsius - valueIn(coneTemperature(cone, 150)));
    // Object keys that are whole numbers come first.
    expect(apart).toEqual([-21, 10, -12, -17, -16]);
  });

  it("rises from cone to cone in every series and at both rates", () => {
    for (const column of ["selfSupporting60", "selfSupporting150", "large60", "large150", "small300"] as const) {
      const celsius = coneTable.flatMap((row) => row[column] ?? []);
      for (let at = 1; at < celsius.length; at += 1) expect(celsius[at]).toBeGreaterThan(celsius[at - 1] ?? 0);
    }
  });

  it("puts the lustre firing where the metal makers put it", () => {
    // Studio lustre: cone 019–018 (highwaterclays.com), 018 (ccg.co.nz). Heraeus 13185519: earthenware 650–740 °C.
    for (const cone of ["019", "018"])
      for (const rate of [60, 150]) {
        expect(valueIn(coneTemperature(cone, rate))).toBeGreaterThan(650);
        expect(valueIn(coneTemperature(cone, rate))).toBeLessThan(740);
      }
    // Heraeus 13185519: porcelain 780–880 °C, which is cone 016–012 at 150 °C/h.
    const nearest = (celsius: number) => {
      const apart = coneTable.map(({ cone }) => Math.abs(valueIn(coneTemperature(cone, 150)) - celsius));
      return coneTable[apart.indexOf(Math.min(...apart))]?.cone;
    };
    expect([nearest(790), nearest(880)]).toEqual(["016", "012"]);
    expect(valueIn(coneTemperature("018", 60))).toBeGreaterThan(valueIn(coneTemperature("022", 60)));
  });
});
