import { HyperFormula } from "hyperformula";
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { listTemplates } from "../../../src/app/plan/templates";
import { startEdition } from "../../../src/core/document/start-edition";
import { SHEET_KEYS, type Workbook } from "../../../src/core/document/workbook";
import { parseFormula } from "../../../src/core/formula/formula";
import { referenceText } from "../../../src/core/formula/reference";
import { tokensOf } from "../../../src/core/formula/tokens";
import { type Expression, insideOf } from "../../../src/core/formula/tree";
import { eachSteps } from "../../../src/core/sheets/each-step";
import { prepareFormula } from "../../../src/engine/link";
import { smallEdition } from "../../tools/small-edition";

function tree(formula: string): Expression {
  const parsed = parseFormula(formula);
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  return parsed.value;
}

/** A tree written with every bracket. */
function bracketed(of: Expression): string {
  switch (of.kind) {
    case "number":
    case "boolean":
      return String(of.value);
    case "text":
      return `"${of.value}"`;
    case "name":
      return of.name;
    case "reference":
      return referenceText(of.to);
    case "error":
      return of.value;
    case "array":
      return `{${of.rows.map((row) => row.map(bracketed).join(",")).join(";")}}`;
    case "range":
      return `(${bracketed(of.from)}:${bracketed(of.to)})`;
    case "nothing":
      return "";
    case "call":
      return `${of.name}(${of.given.map(bracketed).join(",")})`;
    case "unary":
      return `(${of.sign}${bracketed(of.of)})`;
    case "percent":
      return `(${bracketed(of.of)}%)`;
    case "binary":
      return `(${bracketed(of.left)}${of.sign}${bracketed(of.right)})`;
  }
}

describe("parseFormula", () => {
  test.each([
    ["=1+2*3", "(1+(2*3))"],
    ["=1-2-3", "((1-2)-3)"],
    ["=8/4/2", "((8/4)/2)"],
    ["=-2^2", "((-2)^2)"],
    ["=2^3^2", "((2^3)^2)"],
    ["=2^-2", "(2^(-2))"],
    ["=-5%", "(-(5%))"],
    ["=2^50%", "(2^(50%))"],
    ["=1&2+3", "(1&(2+3))"],
    ['="a"&"b"="ab"', '(("a"&"b")="ab")'],
    ["=1=1=TRUE()", "((1=1)=true)"],
    ["=1<=2", "(1<=2)"],
    ["=(1+2)*3", "((1+2)*3)"],
    ["=--2", "(-(-2))"],
    ["=.5+5.", "(0.5+5)"],
    ["=2E3", "2000"],
    ["=1.5e3", "1500"],
    ["= SUM ( {coats} , {pieces:own} ) ", "SUM({coats},{pieces:own})"],
    ["=IF({a}=true,,wage)", "IF(({a}=true),,wage)"],
    ["=PI()", "PI()"],
    ["={pieces:@.cost}+{route[glaze]:area}", "({pieces:@.cost}+{route[glaze]:area})"],
    ["wage/60", "(wage/60)"],
    ['="a,(b"', '"a,(b"'],
  ])("reads %s as %s", (formula, expected) => {
    expect(bracketed(tree(formula))).toBe(expected);
  });

  test("reads a reference as the formula's parts know it", () => {
    expect(tree("={pieces:@.cost}")).toEqual({
      kind: "reference",
      to: { kind: "column", sheet: "pieces", column: "@.cost" },
      start: 1,
      end: 16,
    });
  });

  test("says where each piece stands, brackets included", () => {
    const formula = "=(1+wage)*SUM({coats})";
    const product = tree(formula);
    expect(insideOf(product).map(({ start, end }) => formula.slice(start, end))).toEqual(["(1+wage)", "SUM({coats})"]);
    expect(
      insideOf(product)
        .flatMap(insideOf)
        .map(({ start, end }) => formula.slice(start, end)),
    ).toEqual(["1", "wage", "{coats}"]);
  });

  test.each([
    ["=1+", "The formula: found nothing, but it takes a value."],
    ["=(1", "The formula: found nothing, but it takes a closing bracket."],
    ["=1 2", "The formula: found “2”, but it takes a sign between two values, or its end."],
    ["=SUM(1", "The formula: found nothing, but it takes a comma or a closing bracket in SUM."],
    ["=2F3", "The formula: found “F3”, but it takes a sign between two values, or its end."],
    ["=1+#", "The formula: found “#”, but it takes numbers, texts in quotes, names, and signs between them."],
    [
      "={a b}",
      "The formula: found “{a b}”, but it takes a column such as {coats}, a whole column such as {pieces:own}, or one cell such as {route[glaze]:area}.",
    ],
    [
      `=${"(".repeat(300)}1`,
      "The formula: found “300 brackets within one another”, but it takes up to 64. Split it over several columns.",
    ],
    [
      `=${"-".repeat(300)}1`,
      `The formula: found “${"-".repeat(33)}”, but it takes up to 32 signs, powers or percents in a row. Split it over several columns.`,
    ],
    ["=", "The formula: found nothing, but it takes a value."],
  ])("refuses %s", (formula, message) => {
    const parsed = parseFormula(formula);
    expect(parsed.ok ? "read" : parsed.problems[0]?.message).toBe(message);
  });

  test("refuses what the engine can't read, and reads what it can; an E in capitals and a doubled quote it reads when linked", () => {
    const engine = HyperFormula.buildFromArray([[null]], { licenseKey: "gpl-v3" });
    const at = { sheet: 0, row: 0, col: 0 };
    const texts = [
      "2E-2",
      "2e-2",
      "5%%",
      '"say ""no"""',
      '"a\\"',
      '"a""\\b\\"',
      '"a"b"',
      "(1,2)",
      "1=1=1",
      "+-+1",
      "5 %",
      "1 & 2",
      "",
      "1;2",
    ];
    const isRead = (text: string) => {
      const { pieces } = prepareFormula(
        `=${text}`,
        () => true,
        () => undefined,
        eachSteps(smallEdition()),
      );
      engine.setCellContents(at, `=${pieces.join("") || text}`);
      const value = engine.getCellValue(at);
      return !(typeof value === "object" && value !== null && value.value === "#ERROR!");
    };
    expect(texts.map((text) => [text, parseFormula(text).ok])).toEqual(texts.map((text) => [text, isRead(text)]));
    engine.destroy();
  });

  test("reads every formula of the demo and the templates, and names in it what its parts name", () => {
    const formulas = [demoEdition(), ...templateEditions()].flatMap(formulasOf);
    expect(formulas.length).toBeGreaterThan(500);
    for (const formula of new Set(formulas)) expect(namesIn(tree(formula)), formula).toEqual(partNames(formula));
  });
});

function templateEditions(): Workbook[] {
  const answers = { title: "T", wanted: 3, currency: "EUR", firstPiece: "1", started: "2026-01-01" };
  return listTemplates().flatMap((entry) =>
    entry.template.ok ? [startEdition(entry.template.value, answers, 3)] : [],
  );
}

function formulasOf(book: Workbook): string[] {
  return SHEET_KEYS.flatMap((sheet) => [
    ...book.sheets[sheet].columns.map(({ formula }) => formula),
    ...book.sheets[sheet].rows.map(({ line }) => line?.formula),
  ]).filter((formula) => formula !== undefined);
}

function namesIn(of: Expression): string[] {
  const own = of.kind === "call" || of.kind === "name" ? [of.name] : of.kind === "reference" ? [bracketed(of)] : [];
  return [...own, ...insideOf(of).flatMap(namesIn)].sort();
}

/** What the words of a formula name, without its tree. */
function partNames(formula: string): string[] {
  return tokensOf(formula)
    .flatMap(({ kind, text }) => {
      if (/^(true|false)\b/i.test(text)) return [];
      if (kind === "call") return [text.slice(0, -1)];
      return kind === "name" || kind === "reference" ? [text] : [];
    })
    .sort();
}
