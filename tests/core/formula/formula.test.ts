import { describe, expect, test } from "vitest";
import { didYouMean } from "../../../src/core/formula/did-you-mean";
import { parseFormula } from "../../../src/core/formula/formula";
import { columnFor, parseReference, type Reference } from "../../../src/core/formula/reference";
import { tokensOf } from "../../../src/core/formula/tokens";
import { printFormula } from "../../tools/print-formula";

const noInputs = () => false;

type Part = Reference | { kind: "text"; text: string } | { kind: "name" | "function"; name: string };

/** What a formula names, and the text in between. */
function parts(text: string, isName?: (word: string) => boolean): readonly Part[] {
  const found: Part[] = [];
  const add = (more: string) => {
    const last = found.at(-1);
    if (last?.kind === "text" && !last.text.endsWith("(")) last.text += more;
    else found.push({ kind: "text", text: more });
  };
  for (const token of tokensOf(text, isName)) {
    const reference = token.kind === "reference" ? parseReference(token.text) : undefined;
    if (reference) found.push(reference);
    else if (token.kind === "name") found.push({ kind: "name", name: token.text });
    else if (token.kind === "call") {
      found.push({ kind: "function", name: token.text.slice(0, -1) });
      add("(");
    } else if (token.kind !== "end") add(token.text);
  }
  return found;
}

function formulaText(text: string): string {
  const parsed = parseFormula(text);
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  return printFormula(parsed.value);
}

function messageOf(text: string, isName: (word: string) => boolean = noInputs): string {
  const parsed = parseFormula(text, isName);
  return parsed.ok ? "" : (parsed.problems[0]?.message ?? "");
}

describe("parseFormula", () => {
  test("tells own columns, whole columns, single cells, inputs and functions apart", () => {
    expect(parts("SUM({coats},{pieces:own})*{route[glaze]:area}/wage")).toEqual([
      { kind: "function", name: "SUM" },
      { kind: "text", text: "(" },
      { kind: "own", column: "coats" },
      { kind: "text", text: "," },
      { kind: "column", sheet: "pieces", column: "own" },
      { kind: "text", text: ")*" },
      { kind: "cell", sheet: "route", row: "glaze", column: "area" },
      { kind: "text", text: "/" },
      { kind: "name", name: "wage" },
    ]);
  });

  test("reads columns of a step, of this row's step, and spaces in braces", () => {
    expect(parts("{glaze.cost}")).toEqual([{ kind: "own", column: "glaze.cost" }]);
    expect(parts("{pieces:@.cost}")).toEqual([{ kind: "column", sheet: "pieces", column: "@.cost" }]);
    expect(parts("{ pieces:own }")).toEqual([{ kind: "column", sheet: "pieces", column: "own" }]);
    expect(columnFor("@.cost", "glaze")).toBe("glaze.cost");
    expect(columnFor("own", "glaze")).toBe("own");
  });

  test("leaves what stands in quotes alone", () => {
    expect(parts('IF({kind}="A1 {x} wage(",1,"say ""no""")')).toEqual([
      { kind: "function", name: "IF" },
      { kind: "text", text: "(" },
      { kind: "own", column: "kind" },
      { kind: "text", text: '="A1 {x} wage(",1,"say ""no"""' + ")" },
    ]);
  });

  test("reads numbers with exponents as numbers, not as names or addresses", () => {
    expect(parts("1.5e3+2E-2+.5")).toEqual([{ kind: "text", text: "1.5e3+2E-2+.5" }]);
  });

  test("writes function names in capitals and takes spaces before the bracket", () => {
    expect(formulaText("sum ({coats})")).toBe("SUM({coats})");
  });

  test("puts every formula back together as it was", () => {
    const texts = [
      'IF({a}="","",{b}*2)',
      "{route[glaze]:area}",
      "-wage^2%",
      "TOTAL_BY({id},{pieces:x.load},{pieces:kg})",
    ];
    for (const text of texts) expect(formulaText(text)).toBe(text);
  });

  test.each([
    ["A1+1", "A1"],
    ["SUM(B2)", "B2"],
    ["$C$3", "$C$3"],
    ["pieces!D4", "D4"],
    ["abc12", "abc12"],
  ])("refuses the address in %s", (text, found) => {
    expect(messageOf(text)).toBe(
      `The formula: found “${found}”, but it takes names, because rows move and names do not. Write the column in braces, as in {coats}, or the name of an input.`,
    );
  });

  test("an input called like an address is an input, and functions with digits are functions", () => {
    expect(parts("k2*3", (word) => word === "k2")).toEqual([
      { kind: "name", name: "k2" },
      { kind: "text", text: "*3" },
    ]);
    expect(parts("LOG10(100)", noInputs)[0]).toEqual({ kind: "function", name: "LOG10" });
  });

  test.each([
    ["{}", "{}"],
    ["{Glaze coats}", "{Glaze coats}"],
    ["{attic:own}", "{attic:own}"],
    ["{pieces[1]:own}", "{pieces[1]:own}"],
    ["{a.b.c}", "{a.b.c}"],
    ["{__proto__}", "{__proto__}"],
  ])("refuses %s as a reference", (text, found) => {
    expect(messageOf(text)).toBe(
      `The formula: found “${found}”, but it takes a column such as {coats}, a whole column such as {pieces:own}, or one cell such as {route[glaze]:area}.`,
    );
  });

  test.each(["{coats", "coats}", "{{coats}", "{1;2"])("refuses the single brace in %s", (text) => {
    expect(messageOf(text, () => true)).toMatch(
      /^The formula: found “[{}]”, but it takes braces in pairs, as in \{coats\}\.$/,
    );
  });
});

describe("didYouMean", () => {
  const names = ["wage", "tariff", "tax_rate", "fee_rate", "overhead_rate"];
  test.each([
    ["wagee", "wage"],
    ["TARIF", "tariff"],
    ["tax_rat", "tax_rate"],
    ["overheadrate", "overhead_rate"],
    ["glaze", undefined],
    ["", undefined],
  ])("%s → %s", (word, expected) => {
    expect(didYouMean(word, names)).toBe(expected);
  });

  test("takes the closest of several", () => {
    expect(didYouMean("fee_rat", ["tax_rate", "fee_rate"])).toBe("fee_rate");
  });
});
