import { describe, expect, test } from "vitest";
import { columnOf, specOf } from "../../../src/core/document/access";
import { allowedFor, choicesOf, isAllowed, readEntry, readNumber } from "../../../src/core/document/entry";
import type { CellSpec } from "../../../src/core/document/workbook";
import { afterTyping, refusal, smallEdition, type Typed, typing } from "../../tools/small-edition";

const book = smallEdition();
const point = { decimal: "." } as const;
const comma = { decimal: "," } as const;

describe("readNumber", () => {
  test.each([
    ["12", 12],
    [" 1 234.5 ", 1234.5],
    ["1\u202f234.5", 1234.5],
    ["1'234.5", 1234.5],
    ["+3", 3],
    ["-3.5", -3.5],
    ["\u22123", -3],
    [".5", 0.5],
    ["5.", 5],
    ["1e3", 1000],
    ["1,234,567", 1_234_567],
    ["1,234.5", 1234.5],
    ["1,234", "ambiguous"],
    ["12,34", undefined],
    ["1,5", undefined],
    ["three", undefined],
    ["", undefined],
    ["1.2.3", undefined],
    ["0x10", undefined],
    ["1e999", undefined],
    ["Infinity", undefined],
    ["5 kg", undefined],
    ["€5", undefined],
    ["--5", undefined],
    ["1e", undefined],
  ])("with a decimal point: %j → %s", (text, expected) => {
    expect(readNumber(text, point)).toBe(expected);
  });

  test.each([
    ["1,5", 1.5],
    ["1.234,5", 1234.5],
    ["1.234.567", 1_234_567],
    ["1.234", "ambiguous"],
    ["1.5", undefined],
    ["1,234,5", undefined],
    [",5", 0.5],
  ])("with a decimal comma: %j → %s", (text, expected) => {
    expect(readNumber(text, comma)).toBe(expected);
  });

  test.each([
    ["12.5", "percent", 0.125],
    ["12.5 %", "percent", 0.125],
    ["12.5%", "number", 0.125],
    ["99.999", "percent", 0.99999],
    ["0.7", "percent", 0.007],
    ["29", "percent", 0.29],
    ["1e1", "percent", 0.1],
    ["%", "number", undefined],
  ] as const)("percent: %j in a %s cell → %s", (text, as, expected) => {
    expect(readNumber(text, point, as)).toBe(expected);
  });

  test("minus nothing is nothing", () => {
    expect(Object.is(readNumber("-0", point), 0)).toBe(true);
  });
});

describe("a refused entry says where, what was found, what is allowed", () => {
  const cases: readonly (readonly [Typed, string])[] = [
    [
      ["pieces", "p1", "glaze.coats", "three"],
      "Pieces 01, Glaze: coats: found “three”, but it takes a whole number, 0 or more and 50 or less.",
    ],
    [
      ["pieces", "p1", "glaze.coats", "-1"],
      "Pieces 01, Glaze: coats: found “-1”, but it takes a whole number, 0 or more and 50 or less.",
    ],
    [
      ["pieces", "p1", "glaze.coats", "2.5"],
      "Pieces 01, Glaze: coats: found “2.5”, but it takes a whole number, 0 or more and 50 or less.",
    ],
    [
      ["pieces", "p1", "cast.slip", "1,900"],
      "Pieces 01, Cast: slip kept: found “1,900”, but it takes a number, 0 or more. Leave the thousands mark out, so that it can mean only one thing.",
    ],
    [["pieces", "p1", "bisque.firing", "F9"], "Pieces 01, Bisque: firing: found “F9”, but it takes one of F1, F2."],
    [["pieces", "p1", "tier", "gold"], "Pieces 01, tier: found “gold”, but it takes one of standard, special."],
    [
      ["pieces", "p1", "lost_at", "kitchen"],
      "Pieces 01, lost at: found “kitchen”, but it takes one of Cast, Fettle, Bisque, Glaze, Glaze firing, Band.",
    ],
    [["pieces", "p1", "piece", ""], "Pieces 01, Piece: found nothing, but it takes text."],
    [
      ["route", "cast", "loss", "100"],
      "Route Cast, planned loss: found “100”, but it takes a percentage, 0 % or more and below 100 %.",
    ],
    [
      ["route", "cast", "loss", "-2"],
      "Route Cast, planned loss: found “-2”, but it takes a percentage, 0 % or more and below 100 %.",
    ],
    [
      ["route", "cast", "minutes", "1441"],
      "Route Cast, time: found “1441”, but it takes a number, 0 or more and 1440 or less.",
    ],
    [
      ["firings", "f1", "date", "3.2.2026"],
      "Firings F1, date: found “3.2.2026”, but it takes a date such as 2026-11-25. Write the year first, as in 2026-11-25.",
    ],
    [
      ["firings", "f1", "date", "2026-02-29"],
      "Firings F1, date: found “2026-02-29”, but it takes a date such as 2026-11-25. Write the year first, as in 2026-11-25.",
    ],
    [["firings", "f1", "kiln", ""], "Firings F1, kiln: found nothing, but it takes one of Small, Large."],
    [
      ["kilns", "k1", "duty", "101"],
      "Kilns Small, duty: found “101”, but it takes a percentage, 1 % or more and 100 % or less.",
    ],
    [
      ["materials", "m1", "pack_grams", "0"],
      "Materials Slip, pack holds: found “0”, but it takes a number, 0.001 or more.",
    ],
    [
      ["edition", "confidence", "value", "100"],
      "Edition, How sure to be of delivering them: found “100”, but it takes a percentage, 1 % or more and below 100 %.",
    ],
    [
      ["edition", "wage", "value", "=wagee"],
      "Edition, Wage: The formula: found “wagee”, but it takes the name of an input on the Edition sheet. Did you mean wage?",
    ],
    [
      ["edition", "wage", "value", "=A1"],
      "Edition, Wage: The formula: found “A1”, but it takes names, because rows move and names do not. Write the column in braces, as in {coats}, or the name of an input.",
    ],
  ];
  test.each(cases)("%j", (entry, message) => {
    expect(refusal(book, entry)).toBe(message);
  });

  test("text that is too long", () => {
    expect(refusal(book, ["pieces", "p1", "note", "x".repeat(5001)])).toMatch(
      /^Pieces 01, note: found “x+…, but it takes text\. Shorten it to 5000 characters or fewer\.$/,
    );
  });
});

describe("readEntry keeps", () => {
  const value = (entry: Typed) => {
    const operation = typing(book, [entry]).change.operations[0];
    return operation?.kind === "cell" ? operation.is : undefined;
  };
  test.each([
    [["pieces", "p1", "note", "=1+1"], "=1+1"],
    [["pieces", "p1", "note", "007"], "007"],
    [["pieces", "p1", "cast.mould", "1e3"], "1e3"],
    [["pieces", "p1", "piece", "  M-007 "], "M-007"],
    [["pieces", "p1", "lost_at", "Glaze Firing"], "firing"],
    [["pieces", "p1", "bisque.firing", "f2"], "F2"],
    [["route", "cast", "loss", "12.5"], 0.125],
    [["firings", "f1", "date", "2024-02-29"], "2024-02-29"],
    [["pieces", "p1", "glaze.area", "={Glaze: coats}*10"], { f: "={glaze.coats}*10" }],
  ] as const)("%j as %j", (entry, expected) => {
    expect(value(entry)).toEqual(expected);
  });

  test("whatever it keeps may stand in a file", () => {
    const after = afterTyping(book, [
      ["pieces", "p1", "glaze.area", "=1+1"],
      ["firings", "f1", "date", "=1+1"],
      ["route", "cast", "loss", "99.9"],
    ]);
    for (const [sheet, row, key] of [
      ["pieces", "p1", "glaze.area"],
      ["firings", "f1", "date"],
      ["route", "cast", "loss"],
    ] as const) {
      const column = columnOf(after, sheet, key);
      const held = after.sheets[sheet].rows.find(({ id }) => id === row);
      expect(column && held && isAllowed(after, specOf(column, held), held.cells[key] ?? "")).toBe(true);
    }
  });

  test("a cell that is not there is our own mistake and throws", () => {
    expect(() => readEntry(book, { sheet: "pieces", row: "p99", column: "note" }, "x", point)).toThrow("no such cell");
  });
});

describe("isAllowed", () => {
  const whole: CellSpec = { kind: "input", type: "number", whole: true, min: 0, max: 50 };
  const plain: CellSpec = { kind: "input", type: "number" };
  const date: CellSpec = { kind: "input", type: "date" };
  const tier: CellSpec = { kind: "input", type: "choice", choices: ["standard", "special"] };
  const text: CellSpec = { kind: "input", type: "text" };
  test.each([
    [whole, 3, true],
    [whole, 51, false],
    [whole, 2.5, false],
    [whole, Number.NaN, false],
    [plain, Number.NaN, false],
    [plain, Number.POSITIVE_INFINITY, false],
    [plain, -1.5, true],
    [whole, "3", false],
    [whole, true, false],
    [whole, { f: "=1" }, true],
    [date, "2026-02-28", true],
    [date, "2026-02-30", false],
    [date, { f: "=1" }, true],
    [tier, "special", true],
    [tier, "Special", false],
    [tier, { f: "=1" }, false],
    [text, "=1+1", true],
    [text, 7, false],
    [text, { f: "=1" }, false],
  ] as const)("%j takes %j: %s", (spec, raw, expected) => {
    expect(isAllowed(book, spec, raw)).toBe(expected);
  });
});

test("choices of another sheet follow it", () => {
  const spec: CellSpec = { kind: "input", type: "choice", from: "firings:id" };
  expect(choicesOf(book, spec).map(({ value }) => value)).toEqual(["F1", "F2"]);
  expect(choicesOf(afterTyping(book, [["firings", "f1", "id", "B1"]]), spec).map(({ value }) => value)).toEqual([
    "B1",
    "F2",
  ]);
});

test("allowedFor names twelve choices and counts the rest", () => {
  const choices = Array.from({ length: 14 }, (_, at) => `F${at + 1}`);
  expect(allowedFor(book, { kind: "input", type: "choice", choices })).toBe(
    "one of F1, F2, F3, F4, F5, F6, F7, F8, F9, F10, F11, F12, … (14 in all)",
  );
  expect(allowedFor(book, { kind: "input", type: "choice", choices: [] })).toBe(
    "a choice, of which there are none yet",
  );
  expect(allowedFor(book, { kind: "input", type: "number" })).toBe("a number");
});
