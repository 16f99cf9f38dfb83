// What a maker may write, through to the value in the cell.
import { describe, expect, test } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { checkTypedFormula } from "../../src/core/formula/typed-formula";
import { isCellError } from "../../src/engine/values";
import { evaluate } from "../tools/evaluate";
import { smallEdition } from "../tools/small-edition";

const book = smallEdition();
const cell = { kind: "cell", sheet: "pieces", row: "p1", column: "note", was: undefined } as const;

function valuesWith(formula: string) {
  return evaluate(applyChange(book, { label: "x", operations: [{ ...cell, is: { f: formula } }] }));
}

describe("the value of", () => {
  test.each([
    ['="say ""no"""', 'say "no"'],
    ['="C:\\"&"x"', "C:\\x"],
    ['=LEN("{own}")', 5],
    ["=SUM({1,2;3,4})", 10],
    ["=2E3+2e-1", 2000.2],
    ["=IFERROR(#N/A,5)", 5],
    ["=IFERROR(#N/A/2,5)", 5],
    ["=-2^2", 4],
    ["=IF(TRUE,1,2)", 1],
  ])("%s", (formula, value) => {
    expect(checkTypedFormula(book, "pieces", formula)).toEqual({ ok: true, value: formula });
    expect(valuesWith(formula)("pieces", "p1", "note")).toBe(value);
  });
});

test("an array by itself fills no cell beside it", () => {
  const values = valuesWith("={1,2;3,4}");
  const own = values("pieces", "p1", "note");
  expect(isCellError(own) && own.title).toBe("no formula");
  expect(values("pieces", "p2", "note")).toEqual(evaluate(book)("pieces", "p2", "note"));
});
