import { describe, expect, test } from "vitest";
import { eachSteps } from "../../../src/core/sheets/each-step";
import type { SheetModel } from "../../../src/engine/model";
import { nodeOf, Unread } from "../../../src/whatif/compile/formula-node";
import type { Node } from "../../../src/whatif/compile/formula-tree";
import { smallEdition } from "../../tools/small-edition";

const sheet = (key: SheetModel["sheet"], rows: readonly string[], columns: readonly string[]): SheetModel => ({
  sheet: key,
  height: 20,
  rows: new Map(rows.map((row, at) => [row, at])),
  columns: new Map(columns.map((column, at) => [column, at])),
  typed: [],
  formulas: [],
  covered: [],
});
const SHEETS = [
  sheet("edition", ["coats", "wage", "k2"], ["label", "value"]),
  sheet("pieces", ["p1", "p2"], ["piece", "own", "glaze.coats"]),
  sheet("firings", ["f1"], ["id", "cost", "weight"]),
];
const read = (formula: string, isFilled = true, row = "p2") =>
  nodeOf(formula, { sheets: SHEETS, steps: eachSteps(smallEdition()), sheet: 1, row, rowIndex: 1, isFilled });

/** A tree with its shape in brackets. */
function shape(node: Node): string {
  switch (node.kind) {
    case "number":
    case "text":
      return JSON.stringify(node.value);
    case "own":
      return `own ${node.column}`;
    case "cell":
      return `${node.sheet}:${node.column}:${node.row}`;
    case "range":
      return `all ${node.sheet}:${node.column}`;
    case "binary":
      return `(${shape(node.left)}${node.sign}${shape(node.right)})`;
    case "unary":
      return node.sign === "()" ? `[${shape(node.of)}]` : `(${node.sign}${shape(node.of)})`;
    case "call":
      return `${node.name}(${node.args.map(shape).join(",")})`;
    default:
      return node.kind === "error" ? node.type : "";
  }
}

describe("the nodes of formulas", () => {
  test.each([
    ["=1+2*3", "(1+(2*3))"],
    ["=-2^2", "((-2)^2)"],
    ["=2*-3%", "(2*(-(%3)))"],
    ["=(1+2)*3", "([(1+2)]*3)"],
    ['=IF({piece}="","",{own})', 'IF((own 0=""),"",own 1)'],
    ["=SUM({edition:value},,1.5e-3)", "SUM(all 0:1,,0.0015)"],
    ["=PI()", "PI()"],
    ["=wage+{edition[coats]:value}+{own}", "((0:1:1+0:1:0)+own 1)"],
    ["=k2", "0:1:2"],
    ["=true", "TRUE()"],
    ['="a ""quote"" and a \\"', '"a \\"quote\\" and a \\\\"'],
    // What a function reads by itself comes first.
    ["=FIRING_SHARE({piece},1)", "FIRING_SHARE(all 2:0,all 2:1,all 2:2,own 0,1)"],
  ])("%s", (text, expected) => {
    expect(shape(read(text))).toBe(expected);
  });

  test.each([
    ["={gone}+{pieces:gone}+{pieces[gone]:own}", "((REF+REF)+REF)"],
    ["=b9", "REF"],
    ["=wages", "NAME"],
    ["=#DIV/0!+1", "(DIV_BY_ZERO+1)"],
  ])("%s names nothing", (text, expected) => {
    expect(shape(read(text))).toBe(expected);
  });

  test("the column of a row's step, which reads as 0 where the step has none", () => {
    expect(shape(read("=SUM({pieces:@.coats})", false, "glaze"))).toBe("SUM(all 1:2)");
    expect(shape(read("=SUM({pieces:@.coats})", false, "cast"))).toBe("SUM(0)");
    expect(shape(read("={@.coats}", false, "glaze"))).toBe("1:2:1");
  });

  test.each([
    ["={own}:{piece}", "no whole column"],
    ["=(", "no formula"],
    ["=1 2", "no formula"],
    ["=SUM({1,2})", "an array"],
    ["=#SPILL!", "#SPILL! stands in it"],
  ])("%s is not compiled: %s", (text, why) => {
    expect(() => read(text)).toThrow(Unread);
    expect(() => read(text)).toThrow(why);
  });

  test("in a cell by itself every cell is where it says", () => {
    expect(shape(read("={piece}+{own}", false))).toBe("(1:0:1+1:1:1)");
  });
});
