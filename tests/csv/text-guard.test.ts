import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { guardText, unguardText } from "../../src/csv/text-guard";

describe("texts that could run as a formula", () => {
  // First characters: OWASP, “CSV Injection” (from memory).
  it("are written with an apostrophe before them", () => {
    for (const text of ["=1+1", "+49 30 1234", "-3", "@home", "\tx", "\rx", "\nx", "＝1", "＋1", "－1", "＠x"])
      expect(guardText(text)).toBe(`'${text}`);
  });

  it("and so are those that begin with an apostrophe, or with or end in a space", () => {
    for (const text of ["'tis", "'", "''", " x", "x ", "\u00a0x"]) expect(guardText(text)).toBe(`'${text}`);
  });

  it("wherever a program that takes another mark between columns would begin a cell", () => {
    for (const [text, written] of [
      ["a;=1+1", "a;'=1+1"],
      ["a,=1", "a,'=1"],
      ["a\t+1|@x", "a\t'+1|'@x"],
      ["a\n=1\r\n-2", "a\n'=1\r\n'-2"],
      ['a;"=1"', 'a;\'"=1"'],
      ["a; \u0000\u200b＝1", "a;' \u0000\u200b＝1"],
      [' "=1', "' \"=1"],
      ['"=1"', '\'"=1"'],
      ["=IF(a,-1,2)", "'=IF(a,'-1,2)"],
      ["a;'=1", "a;''=1"],
    ] as const) {
      expect(guardText(text)).toBe(written);
      expect(unguardText(written).text).toBe(text);
    }
  });

  it("others are left alone", () => {
    for (const text of [
      "wet, then dry; 5-6 days",
      "a,b;c|d\te",
      "007",
      "M-9",
      "a=b",
      "x'",
      "1,5",
      "🏺",
      "שלום",
      '"quoted"',
      "a\nb",
    ])
      expect(guardText(text)).toBe(text);
  });

  it("an apostrophe that another program wrote as an apostrophe stays", () => {
    expect(unguardText("'tis glaze")).toEqual({ text: "'tis glaze", isLiteral: false });
    expect(unguardText("'")).toEqual({ text: "'", isLiteral: false });
    expect(unguardText("'=1")).toEqual({ text: "=1", isLiteral: true });
  });

  it("any text comes back as it was, and never begins with a mark that runs", () => {
    const marks = fc.constantFrom(..."=+-@'\t\r\n ,;|\"\u0000\u200ba＝🏺");
    const texts = fc.oneof(fc.string({ unit: marks, maxLength: 6 }), fc.string({ unit: "grapheme" }));
    fc.assert(
      fc.property(texts, (text) => {
        const written = guardText(text);
        expect(unguardText(written).text).toBe(text);
        for (const part of written.split(/[,;|\t\r\n]/))
          expect(/^[=+\-@＝＋－＠]/.test(part.replace(/^[\s\p{Cc}\p{Cf}"]+/u, ""))).toBe(false);
        expect(/^[\t\r\n]/.test(written)).toBe(false);
      }),
      { seed: 20261125, numRuns: 2000 },
    );
  });
});
