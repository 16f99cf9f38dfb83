import { describe, expect, it } from "vitest";
import { coneTable } from "../../src/ceramics/cone-table";
import { type ConeSeries, coneTemperature, toFahrenheit } from "../../src/ceramics/cones";
import { messagesOf, problemsOf, valueIn } from "./read-reference";

describe("the temperature of a cone", () => {
  it("gives the printed values exactly at the printed rates", () => {
    for (const row of coneTable) {
      expect(coneTemperature(row.cone, 60)).toEqual({ ok: true, value: row.selfSupporting60 });
      expect(coneTemperature(row.cone, 150)).toEqual({ ok: true, value: row.selfSupporting150 });
      if (row.large60 !== undefined) expect(valueIn(coneTemperature(row.cone, 60, "large"))).toBe(row.large60);
      if (row.large150 !== undefined) expect(valueIn(coneTemperature(row.cone, 150, "large"))).toBe(row.large150);
      if (row.small300 !== undefined) expect(valueIn(coneTemperature(row.cone, 300, "small"))).toBe(row.small300);
    }
  });

  it("of a half cone lies midway between its neighbours, however it is written", () => {
    // 5 and 6 at 60 °C/h: (1186 + 1222) / 2; 05 and 06: (1031 + 998) / 2.
    for (const cone of ["5½", "5 ½", "5 1/2", "5-1/2", "5.5", "5,5", "cone 5½", 5.5])
      expect(valueIn(coneTemperature(cone, 60))).toBe(1204);
    expect(valueIn(coneTemperature("05½", 60))).toBe(1014.5);
    expect(valueIn(coneTemperature("5½", 150, "large"))).toBe(1223);
    for (const cone of ["14½", "½", "022½", "5.25"]) expect(coneTemperature(cone, 60).ok).toBe(false);
    expect(messagesOf(coneTemperature("x", 60)).join()).toContain("Half cones");
  });

  it("is a straight line in the logarithm of the rate", () => {
    // The geometric mean of two rates lies half-way: √(60 × 150) = 94.868 °C/h gives (1222 + 1243) / 2 for cone 6.
    expect(valueIn(coneTemperature("6", Math.sqrt(60 * 150)))).toBeCloseTo(1232.5, 9);
    expect(valueIn(coneTemperature("04", Math.sqrt(60 * 150)))).toBeCloseTo(1070, 9);
    // 30 lies as far below 60 as 120 lies above it.
    const at120 = valueIn(coneTemperature("6", 120)) - 1222;
    expect(1222 - valueIn(coneTemperature("6", 30))).toBeCloseTo(at120, 9);
  });

  it("stays near a line in 1/T, the stricter law: 0.25 °C between the printed rates, 1.25 °C from 30 to 300 °C/h", () => {
    for (const { cone, selfSupporting60, selfSupporting150 } of coneTable)
      for (let rate = 30; rate <= 300; rate += 10) {
        const share = Math.log(rate / 60) / Math.log(150 / 60);
        const inverse =
          1 / (selfSupporting60 + 273.15) +
          share * (1 / (selfSupporting150 + 273.15) - 1 / (selfSupporting60 + 273.15));
        const apart = Math.abs(valueIn(coneTemperature(cone, rate)) - (1 / inverse - 273.15));
        expect(apart).toBeLessThan(rate >= 60 && rate <= 150 ? 0.25 : 1.25);
      }
  });

  it("keeps 06 and 6 apart, and takes a number as the cone without a leading 0", () => {
    expect(valueIn(coneTemperature("06", 150))).toBe(1013);
    expect(valueIn(coneTemperature("6", 150))).toBe(1243);
    expect(valueIn(coneTemperature(6, 150))).toBe(1243);
    expect(valueIn(coneTemperature(" Cone 06 ", 150))).toBe(1013);
  });

  it("keeps the three series apart", () => {
    const at = (series: ConeSeries, rate: number) => valueIn(coneTemperature("04", rate, series));
    expect([at("self-supporting", 150), at("large", 150), at("small", 300)]).toEqual([1077, 1070, 1098]);
    expect(valueIn(coneTemperature("6", 60, "large"))).toBe(1220);
  });

  it.each(["", "0", "00", "023", "15", "6.25", "06b", "x", -6, 0, 6.25, Number.NaN])("refuses cone %s", (cone) => {
    const [first] = problemsOf(coneTemperature(cone, 150));
    expect(first?.code).toBe("cone.unknown");
    expect(first?.allowed).toContain("from 022 (coolest) to 14 (hottest)");
  });

  it("says which cones there are", () => {
    expect(messagesOf(coneTemperature("O6", 150))).toEqual([
      "cone: found “O6”, but it takes a self-supporting cone from 022 (coolest) to 14 (hottest): 022, 021, 020, 019, 018, 017, 016, 015, 014, 013, 012, 011, 010, 09, 08, 07, 06, 05, 04, 03, 02, 01, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14. Write the leading 0 of the cooler cones: 06 and 6 are different cones. Half cones, such as 5½, lie midway between two of them.",
    ]);
    expect(problemsOf(coneTemperature("022", 60, "large"))[0]?.allowed).toContain("a large cone from 019");
    expect(problemsOf(coneTemperature("13", 300, "small"))[0]?.allowed).toContain("to 12 (hottest)");
  });

  it.each([0, -60, 29.9, 300.1, Number.NaN, Number.POSITIVE_INFINITY])("refuses a rate of %s °C/h", (rate) => {
    const [first] = problemsOf(coneTemperature("6", rate));
    expect(first?.where).toBe("rate");
    expect(first?.allowed).toBe("a number from 30 to 300, in °C per hour");
  });

  it("takes the edges of the rates, and small cones at 300 °C/h only", () => {
    expect(coneTemperature("6", 30).ok).toBe(true);
    expect(coneTemperature("6", 300).ok).toBe(true);
    expect(messagesOf(coneTemperature("6", 150, "small"))).toEqual([
      "rate: found 150, but it takes 300, in °C per hour. The table has small cones at that rate only.",
    ]);
  });

  it("names both a wrong cone and a wrong rate", () => {
    expect(problemsOf(coneTemperature("66", -1)).map((one) => one.where)).toEqual(["cone", "rate"]);
  });
});

describe("degrees", () => {
  it("go from °C to °F", () => {
    expect([toFahrenheit(0), toFahrenheit(100), toFahrenheit(-40)]).toEqual([32, 212, -40]);
  });
});
