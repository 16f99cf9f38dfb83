// A number is one number: in a cell and in a file it is read by one rule.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readEntry, readTyped } from "../../../src/core/document/entry";
import { type NumberMarks, readNumber } from "../../../src/core/units/number-text";
import { readOwnUnit } from "../../../src/core/units/own-unit";
import { parseUnit } from "../../../src/core/units/parse";
import { dateEvidence, readDate } from "../../../src/csv/date-text";
import { planImport } from "../../../src/csv/plan";
import { readSheetCsv } from "../../../src/csv/read";
import { smallEdition } from "../../tools/small-edition";

const POINT: NumberMarks = { decimal: "." };
const COMMA: NumberMarks = { decimal: "," };
const book = smallEdition();
const slip = { sheet: "pieces", row: "p1", column: "cast.slip" } as const;

/** What a cell of grams and a line of a file make of the same text. */
function both(text: string, marks: NumberMarks) {
  const typed = readTyped(book, slip, text, marks);
  const filed = readEntry(book, slip, text, marks);
  const outcome = (read: typeof typed | typeof filed) => (read.ok ? read.value : read.problems[0]?.fix);
  const cell = typed.ok ? typed.value.value : typed.problems[0]?.fix;
  return [cell, outcome(filed)];
}

describe("marks and spaces inside a number", () => {
  it.each([
    ["1 234 567", POINT, 1234567],
    ["1\u202f234,5", COMMA, 1234.5],
    ["1\u2009234", POINT, 1234],
    ["1'234'567.25", POINT, 1234567.25],
    ["1’234", POINT, 1234],
    ["1,234,567", POINT, 1234567],
    ["12,34,567", POINT, 1234567],
    ["1,00,000.5", POINT, 100000.5],
    ["1 00 000", POINT, 100000],
    ["1.234.567,8", COMMA, 1234567.8],
    ["+ 12", POINT, 12],
    [".5", POINT, 0.5],
    ["5.", POINT, 5],
    ["1.5e3", POINT, 1500],
    ["1e2", COMMA, 100],
  ] as const)("count between whole groups: %j", (text, marks, value) => {
    expect(both(text, marks)).toEqual([value, value]);
  });

  const GROUPS = "Marks and spaces inside a number part whole groups only, as in 1 234 567 or 12,34,567.";
  it.each([
    ["1 2", POINT, GROUPS],
    ["12 34", POINT, GROUPS],
    ["1 2345", POINT, GROUPS],
    ["1 234 56", POINT, GROUPS],
    ["1 234'567", POINT, GROUPS],
    ["0 123", POINT, GROUPS],
    ["1,23,45", POINT, GROUPS],
    ["12,34,56,7", POINT, GROUPS],
    ["1.234 567", POINT, GROUPS],
    ["1-2", POINT, GROUPS],
    ["12,5", POINT, "The decimal mark here is a point, not a comma: write 12.5."],
    ["1.234,5", POINT, "The decimal mark here is a point, not a comma: write 1234.5."],
    ["12.5", COMMA, "The decimal mark here is a comma, not a point: write 12,5."],
    ["50 %", POINT, "A percentage is a share of something, and this is a weight."],
  ] as const)("and are refused with the reason elsewhere: %j", (text, marks, reason) => {
    expect(both(text, marks)).toEqual([reason, reason]);
  });

  it("are asked where one mark could be either", () => {
    const asked = "Leave the thousands mark out, so that it can mean only one thing.";
    expect(both("1,234", POINT)).toEqual([asked, asked]);
    expect(both("1.234", COMMA)).toEqual([asked, asked]);
  });

  it("never make one number of two, or of feet and inches", () => {
    const [typed, filed] = both("5'6\"", POINT);
    expect(typed).toBe("ft is a unit of length, and this is a weight.");
    expect(filed).toBe("Numbers in a file are in their column's unit and have none beside them.");
    for (const text of ["5'6", "5' 6", "5 6", "5'6''"])
      for (const read of both(text, POINT)) expect(read, text).toBeTypeOf("string");
    const height = { sheet: "edition", row: "piece_height", column: "value" } as const;
    expect(readTyped(book, height, "5'6\"", POINT)).toMatchObject({ ok: true, value: { value: 167.64 } });
    expect(readEntry(book, height, "5'6", POINT).ok).toBe(false);
  });

  it("any number written with groups comes back, and with one digit less in a group does not", () => {
    const whole = fc.integer({ min: 1000, max: 2_000_000_000 });
    const mark = fc.constantFrom(" ", "\u00a0", "\u202f", "'", ",");
    fc.assert(
      fc.property(whole, mark, (value, by) => {
        const text = String(value).replace(/\B(?=(\d{3})+$)/g, by);
        const marks = { ...POINT, isGrouped: true };
        expect(readNumber(text, marks)).toBe(value);
        expect(readNumber(text.slice(0, -1), marks)).toBeUndefined();
        expect(readNumber(`${text}0`, marks)).toBeUndefined();
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });
});

describe("text of any length", () => {
  const LONG = 1_000_000;
  const texts = [
    ...["1", " ", "1 ", "1,", "1.", "1'", "12 in ", "(", "5' ", " per ", "3/4 ", "²", "%", "e9", "A", "{", "2026-"],
    ..."=-\t¤½".split(""),
  ].map((part) => part.repeat(Math.ceil(LONG / part.length)));
  // A pattern that goes back and forth over a million characters takes hours; these take milliseconds.
  it("is read once, by every reader", () => {
    for (const text of [...texts, ...texts.map((text) => `1${text}x`)]) {
      expect(readNumber(text, POINT)).toBeUndefined();
      readTyped(book, slip, text, POINT);
      readEntry(book, slip, text, COMMA);
      parseUnit(text);
      readOwnUnit(text, "EUR", "x");
      readDate(text, undefined);
      dateEvidence(text);
      const quoted = `Piece;Cast: slip kept (g);"${text}"\n001;"${text}";"${text}"\n`;
      expect(planImport(book, "pieces", readSheetCsv(quoted)).change.operations).toEqual([]);
    }
  });
});
