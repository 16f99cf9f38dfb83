import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readNumber } from "../../src/core/document/entry";
import { markEvidence, numberText, percentText, readDecimalMark } from "../../src/csv/number-text";

const seen = (...all: string[]) => all.map((found, at) => ({ line: at + 2, column: "slip", found }));
const anyNumber = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).filter((x) => !Object.is(x, -0)),
  fc.integer(),
  fc.integer({ min: -999_999, max: 999_999 }).map((x) => x / 1000),
);
const settings = { seed: 20261125, numRuns: 2000 };

describe("writing numbers", () => {
  it("uses the fewest digits that give the number back, with either mark", () => {
    for (const [value, text] of [
      [0.1, "0.1"],
      [0.1 + 0.2, "0.30000000000000004"],
      [-3, "-3"],
      [1 / 3, "0.3333333333333333"],
      [1e21, "1E+21"],
      [1e-7, "1E-7"],
      [20_000, "20000"],
    ] as const) {
      expect(numberText(value, ".")).toBe(text);
      expect(numberText(value, ",")).toBe(text.replace(".", ","));
    }
  });

  it("leaves no doubt about three decimals", () => {
    expect(numberText(1.234, ".")).toBe("1.2340");
    expect(numberText(-12.345, ",")).toBe("-12,3450");
    expect(numberText(0.125, ".")).toBe("0.125");
    expect(numberText(1234.567, ".")).toBe("1234.567");
  });

  it("any number comes back exactly and shows its own mark", () => {
    fc.assert(
      fc.property(anyNumber, fc.constantFrom(".", ",") as fc.Arbitrary<"." | ",">, (value, decimal) => {
        const text = numberText(value, decimal);
        expect(readNumber(text, { decimal })).toBe(value);
        expect([undefined, decimal]).toContain(markEvidence(text));
      }),
      settings,
    );
  });
});

describe("percentages", () => {
  it("are moved by digits", () => {
    for (const [fraction, text] of [
      [0.125, "12.5%"],
      [0.07, "7%"],
      [0.9, "90%"],
      [1, "100%"],
      [12.34, "1234%"],
      [-0.05, "-5%"],
      [0, "0%"],
      [0.0001, "0.01%"],
      [0.012345, "1.2345%"],
      [0.01234, "1.2340%"],
      [0.1234, "12.34%"],
      [1e-12, "1E-10%"],
    ] as const)
      expect(percentText(fraction, ".")).toBe(text);
    expect(percentText(0.125, ",")).toBe("12,5%");
  });

  it("are the double nearest to what is written", () => {
    // 0.57 × 100 = 56.99999999999999 in doubles, and 12.3456789012345 ÷ 100 is not the nearest either way.
    expect(readNumber("57%", { decimal: "." }, "percent")).toBe(0.57);
    expect(readNumber(" 12,5 % ", { decimal: "," }, "percent")).toBe(0.125);
    expect(readNumber("1.234,5", { decimal: "," }, "percent")).toBe(12.345);
    expect(readNumber("\u22125 %", { decimal: "." }, "percent")).toBe(-0.05);
    expect(readNumber("1,234", { decimal: "." }, "percent")).toBe("ambiguous");
    expect(readNumber("five", { decimal: "." }, "percent")).toBeUndefined();
  });

  it("any fraction comes back exactly", () => {
    fc.assert(
      fc.property(anyNumber, fc.constantFrom(".", ",") as fc.Arbitrary<"." | ",">, (fraction, decimal) => {
        fc.pre(Math.abs(fraction) < 1e300);
        const text = percentText(fraction, decimal);
        expect(text.endsWith("%")).toBe(true);
        expect(readNumber(text, { decimal }, "percent")).toBe(fraction);
        expect([undefined, decimal]).toContain(markEvidence(text));
      }),
      settings,
    );
  });
});

describe("finding the decimal mark", () => {
  it("hears only what can mean one thing", () => {
    for (const [text, evidence] of [
      ["1.5", "."],
      ["1,5", ","],
      ["0.125", "."],
      [".5", "."],
      ["12,", ","],
      ["1234.567", "."],
      ["1,234.5", "."],
      ["1.234,5", ","],
      ["1,234,567", "."],
      ["1.234.567", ","],
      ["-1 234,50", ","],
      ["12,5 %", ","],
      ["1.234e-5", "."],
      ["1,234", "either"],
      ["-1.234", "either"],
      ["999.000", "either"],
      ["1234", undefined],
      ["", undefined],
      [".", undefined],
      ["1.2.3", undefined],
      ["25.11.2026", undefined],
      // Lakh: one lakh and twenty-three thousand, four hundred and fifty-six.
      ["1,23,456", "."],
      ["1,2345", ","],
      ["12 34,5", undefined],
      ["1.5 kg", undefined],
      ["a,b", undefined],
    ] as const)
      expect([text, markEvidence(text)]).toEqual([text, evidence]);
  });

  it("says what the one reader of numbers makes of either mark", () => {
    const text = fc.string({ unit: fc.constantFrom(..."0123.,- e%"), maxLength: 9 });
    fc.assert(
      fc.property(text, (text) => {
        const [point, comma] = ([".", ","] as const).map((decimal) => readNumber(text, { decimal }) !== undefined);
        const said = !/[.,]/.test(text) ? undefined : point && comma ? "either" : point ? "." : comma ? "," : undefined;
        expect(markEvidence(text)).toBe(said);
      }),
      settings,
    );
  });

  it("is sure, has nothing to go by, or asks", () => {
    expect(readDecimalMark(seen("1,234", "7", "2.5"))).toMatchObject({ decimal: ".", why: "shown" });
    expect(readDecimalMark(seen("1,5", "x"))).toMatchObject({ decimal: ",", why: "shown" });
    expect(readDecimalMark(seen("7", "x", ""))).toEqual({ decimal: undefined, why: "none", examples: [] });
    expect(readDecimalMark(seen("7", "1,234"))).toEqual({
      decimal: undefined,
      why: "unclear",
      examples: [{ line: 3, column: "slip", found: "1,234" }],
    });
    expect(readDecimalMark(seen("1.5", "7", "2,5"))).toEqual({
      decimal: undefined,
      why: "mixed",
      examples: [
        { line: 2, column: "slip", found: "1.5" },
        { line: 4, column: "slip", found: "2,5" },
      ],
    });
  });

  it("takes the other mark for a thousands mark where it is told so, and stands right", () => {
    const point = { decimal: ".", isGrouped: true } as const;
    expect(readNumber("1,234", point)).toBe(1234);
    expect(readNumber("1.234%", { decimal: ",", isGrouped: true })).toBe(12.34);
    for (const text of ["12,34", "1,2345", "1,234.5.6", "a,bcd"]) expect(readNumber(text, point)).toBeUndefined();
  });
});
