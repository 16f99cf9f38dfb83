import { describe, expect, test } from "vitest";
import { applyChange } from "../../../src/core/document/change";
import { addOwnInput } from "../../../src/core/document/own-edits";
import type { SheetKey } from "../../../src/core/document/workbook";
import { checkTypedFormula, readableFormula } from "../../../src/core/formula/typed-formula";
import { smallEdition } from "../../tools/small-edition";

const book = smallEdition();

function kept(sheet: SheetKey, text: string): string {
  const checked = checkTypedFormula(book, sheet, text);
  if (!checked.ok) throw new Error(checked.problems[0]?.message);
  return checked.value;
}

function messages(sheet: SheetKey, text: string): string[] {
  const checked = checkTypedFormula(book, sheet, text);
  return checked.ok ? [] : checked.problems.map(({ message }) => message);
}

describe("checkTypedFormula keeps", () => {
  test.each([
    ["pieces", "={glaze.coats}*2", "={glaze.coats}*2"],
    ["pieces", "={Glaze: coats}*2", "={glaze.coats}*2"],
    ["pieces", "={glaze:COATS}*2", "={glaze.coats}*2"],
    ["pieces", "={own cost}+1", "={own}+1"],
    ["pieces", "={ slip kept }", "={cast.slip}"],
    ["kilns", "={room for}/2", "={capacity}/2"],
    ["pieces", "=wage/60", "=wage/60"],
    ["pieces", "=sum({pieces:own})", "=SUM({pieces:own})"],
    ["pieces", "={route[glaze]:area}", "={route[glaze]:area}"],
    ["pieces", "=IF(true,1,FALSE)", "=IF(true,1,FALSE)"],
    // A title in a text is a text, whatever stands before it.
    ["pieces", '={own cost}&"{own cost}"', '={own}&"{own cost}"'],
    ["pieces", '="a\\"&{own cost}', '="a\\"&{own}'],
    ["pieces", '="say ""{own cost}"""&{own cost}', '="say ""{own cost}"""&{own}'],
    ["pieces", "={ own } * sum( 2E3 , {1,2} )", "={own} * SUM( 2E3 , {1,2} )"],
  ] as const)("%s %s as %s", (sheet, text, expected) => {
    expect(kept(sheet, text)).toBe(expected);
  });
});

describe("checkTypedFormula refuses", () => {
  test.each([
    [
      "=wagee*2",
      "The formula: found “wagee”, but it takes the name of an input on the Edition sheet. Did you mean wage?",
    ],
    ["=zzzz", "The formula: found “zzzz”, but it takes the name of an input on the Edition sheet."],
    ["={glaze.coat}", "The formula: found “{glaze.coat}”, but it takes a column of Pieces. Did you mean glaze.coats?"],
    ["={route:coatz}", "The formula: found “{coatz}”, but it takes a column of Route. Did you mean coats?"],
    ["={route[glace]:area}", "The formula: found “{route[glace]…}”, but it takes a row of Route. Did you mean glaze?"],
    ["={route[glaze]:arean}", "The formula: found “{arean}”, but it takes a column of Route. Did you mean area?"],
    ["={coats}", "The formula: found “{coats}”, but it takes a column of Pieces."],
    [
      "={Coats of glaze}",
      "The formula: found “{Coats of glaze}”, but it takes a column such as {coats}, a whole column such as {pieces:own}, or one cell such as {route[glaze]:area}.",
    ],
  ])("%s", (text, message) => {
    expect(messages("pieces", text)).toEqual([message]);
  });

  test("and says everything that is wrong, not the first thing only", () => {
    expect(messages("pieces", "=wagee+tarif")).toHaveLength(2);
  });
});

test("an input of the maker's own can be named at once", () => {
  const added = addOwnInput(book, "Kiln rent", "¤");
  if (!added.ok) throw new Error(added.problems[0]?.message);
  const after = applyChange(book, added.value);
  expect(checkTypedFormula(after, "pieces", "=my_kiln_rent/10")).toEqual({ ok: true, value: "=my_kiln_rent/10" });
});

describe("readableFormula", () => {
  test.each([
    ["pieces", "={cast.slip}*{route[cast]:per_gram}", "slip kept × Cast › price"],
    ["pieces", "={own}/wage", "own cost ÷ Wage"],
    ["pieces", '={own}*LEN("a/b*{own}")', 'own cost × LEN("a/b*{own}")'],
    ["edition", "=wanted/chain_yield", "Pieces to deliver ÷ Yield over the whole route"],
    ["results", "=SUM({pieces:own})-{results[lost]:value}", "SUM(Pieces › own cost)-Lost"],
    ["pieces", "={gone}+{route[gone]:area}+gone", "gone+gone › area+gone"],
  ] as const)("%s %s reads %s", (sheet, formula, expected) => {
    expect(readableFormula(book, sheet, formula)).toBe(expected);
  });

  test("gives back what can't be read as it is", () => {
    expect(readableFormula(book, "pieces", "={{")).toBe("={{");
  });
});
