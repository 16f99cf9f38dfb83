import { describe, expect, test } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import type { Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";
import { columnLetters } from "../../src/engine/layout";
import type { Node } from "../../src/whatif/compile/formula-tree";
import { readFormula, Unread } from "../../src/whatif/compile/read-formula";

const SHEETS = ["edition", "pieces"];
const read = (text: string, isFilled = true) =>
  readFormula(text, {
    sheet: 1,
    row: 4,
    height: () => 20,
    sheetNamed: (name) => (SHEETS.includes(name) ? SHEETS.indexOf(name) : undefined),
    isFilled,
  });

/** A tree with its shape in brackets. */
function shape(node: Node): string {
  switch (node.is) {
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
      return node.is === "error" ? node.type : "";
  }
}

describe("the grammar of linked formulas", () => {
  // The engine's own precedence: −2^2 is 4 and 2^3^2 is 64 in hyperformula 3.5.0; tests/property/whatif.test.ts computes them.
  test.each([
    ["=1+2*3", "(1+(2*3))"],
    ["=1-2-3", "((1-2)-3)"],
    ["=-2^2", "((-2)^2)"],
    ["=2^3^2", "((2^3)^2)"],
    ["=2*-3%", "(2*(-(%3)))"],
    ["=1+2&3=4", `(((1+2)&3)=4)`],
    ["=(1+2)*3", "([(1+2)]*3)"],
    ['=IF(A5="","",B5)', 'IF((own 0=""),"",own 1)'],
    ["=SUM(edition!$A$1:$A$20,,1.5e-3)", "SUM(all 0:0,,0.0015)"],
    ["=PI()", "PI()"],
    ["=edition!$B$3+$B$3+AA5", "((0:1:2+1:1:2)+own 26)"],
    ["=#REF!+1", "(REF+1)"],
    ["=wages", "NAME"],
    ["= A5  <> 2 ", "(own 0<>2)"],
  ])("%s", (text, expected) => {
    expect(shape(read(text))).toBe(expected);
  });

  test.each([
    ["=A5:B9", "no single column"],
    ["=SUM($A$1:$A$9)", "no whole column"],
    ["=A6", "another row"],
    ["=(", "ends too soon"],
    ["=1 2", "left over"],
    ["=IF(1", "not closed"],
    ["=Sheet9!$A$1", "no sheet Sheet9"],
    ["={1;2}", "can't be read"],
    ["12", "no formula"],
  ])("%s is not read: %s", (text, why) => {
    expect(() => read(text)).toThrow(Unread);
    expect(() => read(text)).toThrow(why);
  });

  test("in a cell by itself every cell is where it says", () => {
    expect(shape(read("=A5+A6", false))).toBe("(1:0:4+1:0:5)");
  });
});

describe("one text for a filled column", () => {
  /** Every cell's own text, from that of its group: only the row of unanchored cells differs. */
  function disagreements(book: Workbook): string[] {
    const engine = new Engine(book);
    const wrong = (engine.model()?.sheets ?? []).flatMap(({ sheet, rows, columns, formulas }) => {
      const ids = new Map([...rows].map(([id, place]) => [place, id]));
      const keys = new Map([...columns].map(([key, place]) => [place, key]));
      return formulas.flatMap(({ column, text, values: { places } }) =>
        [...places].flatMap((place) => {
          const expected = text.replace(
            new RegExp(`(?<![A-Za-z0-9$!"])([A-Z]{1,3})${(places[0] ?? 0) + 1}(?![0-9(])`, "g"),
            `$1${place + 1}`,
          );
          const own = engine.linked(sheet, ids.get(place) ?? "", keys.get(column) ?? "");
          return own === expected ? [] : [`${sheet} ${columnLetters(column)}${place + 1}: ${own}, not ${expected}`];
        }),
      );
    });
    engine.close();
    return wrong;
  }

  test("is the engine's text of every one of its cells", () => {
    expect(disagreements(demoEdition()).slice(0, 3)).toEqual([]);
  });
});
