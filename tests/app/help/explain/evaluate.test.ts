// The small calculator against the engine: the same value for the same formula, or no value where the engine has an error.
import fc from "fast-check";
import { DetailedCellError, HyperFormula } from "hyperformula";
import { afterAll, describe, expect, test } from "vitest";
import { agrees, evaluate } from "../../../../src/app/help/explain/evaluate";
import { emptyMemory, type View } from "../../../../src/app/help/explain/view";
import { parseFormula } from "../../../../src/core/formula/formula";
import { isCellError, type Value } from "../../../../src/engine/values";
import { smallEdition } from "../../../tools/small-edition";

const engine = HyperFormula.buildFromArray([[null]], {
  licenseKey: "gpl-v3",
  precisionRounding: 14,
  dateFormats: ["YYYY-MM-DD"],
});
afterAll(() => engine.destroy());
const at = { sheet: 0, row: 0, col: 0 };

const view: View = { book: smallEdition(1), value: () => null, text: String, memory: emptyMemory() };
const here = { view, cell: { sheet: "pieces", row: "p1", column: "own" } } as const;

function byEngine(formula: string): unknown {
  engine.setCellContents(at, formula);
  const value = engine.getCellValue(at);
  return value instanceof DetailedCellError ? "error" : value;
}

function byUs(formula: string): Value | "error" | undefined {
  const tree = parseFormula(formula);
  if (!tree.ok) return "error";
  const value = evaluate(tree.value, here);
  return isCellError(value) ? "error" : value;
}

const leaf = fc.oneof(
  fc.constantFrom("0", "1", "2", "0.1", "0.2", "0.3", "7.5", "60", "1000000", "0.000000001"),
  fc.constantFrom('""', '"a"', '"A"', '"b"', '"12"', '"2026-02-03"', "TRUE()", "FALSE()", "15%"),
);
const grown = fc.letrec((tie) => ({
  any: fc.oneof({ depthSize: "small", withCrossShrink: true }, leaf, tie("signed"), tie("between"), tie("called")),
  signed: fc.tuple(fc.constantFrom("-", "+"), tie("any")).map(([sign, of]) => `${sign}(${of})`),
  between: fc
    .tuple(tie("any"), fc.constantFrom("+", "-", "*", "/", "^", "&", "=", "<>", "<", ">", "<=", ">="), tie("any"))
    .map(([left, sign, right]) => `(${left})${sign}(${right})`),
  called: fc
    .tuple(
      fc.constantFrom("IF#3", "IF#2", "AND#2", "OR#2", "NOT#1", "SUM#3", "MIN#2", "MAX#3", "PRODUCT#2"),
      fc.tuple(tie("any"), tie("any"), tie("any")),
    )
    .map(([name, given]) => {
      const [word, count] = name.split("#");
      return `${word}(${given.slice(0, Number(count)).join(",")})`;
    }),
}));

describe("evaluate", () => {
  test.each([
    "=-2^2",
    "=2^3^2",
    "=0.1+0.2-0.3",
    "=0.1+0.2=0.3",
    '="a"="A"',
    '=1<"a"',
    '="z"<TRUE()',
    "=ROUND(2.5,0)",
    "=ROUND(-2.5,0)",
    "=ROUNDUP(2.1,0)",
    "=ROUNDUP(-2.1,0)",
    "=ROUNDDOWN(2.19,1)",
    "=ABS(-3)",
    "=AVERAGE(1,2,6)",
    "=IFERROR(1/0,5)",
    "=IFERROR(4,5)",
    '=SWITCH("B","a",1,"b",2,3)',
    '=SWITCH("x","a",1,"b",2,3)',
    '=SWITCH("x","a",1)',
    '=IF("",1,2)',
    '=IF("x",1,2)',
    '=""+1',
    '="2"+1',
    '="15%"*2',
    '="2026-02-03"+0',
    "=50%^2",
    '=1&"a"&TRUE()',
    "=SUM(IF(TRUE(),,2),3)",
    '=COUNT("a","",1,TRUE())',
    "=COUNT(1/0,1)",
    "=COUNT(IF(TRUE(),,1))",
    '=MAX("",-1)',
    "=0^0",
    "=(-8)^(1/3)",
  ])("gives what the engine gives: %s", (formula) => {
    const [ours, theirs] = [byUs(formula), byEngine(formula)];
    expect([ours, theirs, typeof ours === "number" ? agrees(ours, theirs as number) : ours === theirs]).toEqual([
      ours,
      theirs,
      true,
    ]);
  });

  test("gives what the engine gives for formulas of any shape", () => {
    fc.assert(
      fc.property(grown.any, (text) => {
        const formula = `=${text}`;
        const [ours, theirs] = [byUs(formula), byEngine(formula)];
        const isSame = typeof theirs === "number" ? typeof ours === "number" && close(ours, theirs) : ours === theirs;
        expect(isSame, `${formula}: ${ours}, by the engine ${theirs}`).toBe(true);
      }),
      { seed: 2811, numRuns: 1500 },
    );
  });

  test("says that it does not know what it does not calculate", () => {
    expect(byUs("=SQRT(4)+1")).toBeUndefined();
    expect(byUs("=IF(SQRT(4)=2,1,2)")).toBeUndefined();
  });
});

const close = (a: number, b: number) => a === b || Math.abs(a - b) <= 1e-12 * Math.max(Math.abs(a), Math.abs(b));
