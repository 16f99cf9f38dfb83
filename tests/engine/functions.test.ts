// Every declared function: its examples through the engine and by itself, and what it says of bad arguments.
import { readFileSync } from "node:fs";
import { type DetailedCellError, HyperFormula } from "hyperformula";
import { describe, expect, test } from "vitest";
import { allowedArgument, checkArguments } from "../../src/engine/functions/arguments";
import type { Argument, FunctionDeclaration, Parameter } from "../../src/engine/functions/declare";
import { FUNCTIONS, functionNamed, implicitArguments } from "../../src/engine/functions/index";
import { registerFunctions } from "../../src/engine/hyperformula/plugin";

registerFunctions();
const engine = HyperFormula.buildFromSheets({ sheet: [] }, { licenseKey: "gpl-v3", precisionRounding: 14 });

function compute(formula: string): unknown {
  return engine.calculateFormula(`=${formula}`, 0);
}

/** The arguments of an example's text: numbers, texts in quotes, and lists in braces. */
function argumentsOf(formula: string): Argument[] {
  const inside = formula.slice(formula.indexOf("(") + 1, -1);
  const parts = inside.match(/\{[^}]*\}|"(?:[^"]|"")*"|[^,]+/g) ?? [];
  const scalar = (text: string) => (text.startsWith('"') ? text.slice(1, -1).replaceAll('""', '"') : Number(text));
  return parts.map((part) => (part.startsWith("{") ? part.slice(1, -1).split(";").map(scalar) : scalar(part.trim())));
}

function expectGives(found: unknown, gives: number | string, within: number | undefined): void {
  if (typeof gives === "string" || within === undefined) expect(found).toBe(gives);
  else expect(Math.abs(Number(found) - gives)).toBeLessThanOrEqual(within * Math.abs(gives));
}

const examples = FUNCTIONS.flatMap((declaration) =>
  declaration.examples.map((example) => [example.formula, example, declaration] as const),
);

describe("examples", () => {
  test.each(examples)("%s in a cell", (_, { formula, gives, within }) => {
    expectGives(compute(formula), gives, within);
  });

  test.each(examples.filter(([, , { run }]) => run))("%s by itself", (_, { formula, gives, within }, declaration) => {
    const checked = checkArguments(declaration, argumentsOf(formula));
    if (!checked.ok) throw new Error(checked.problems[0]?.message);
    const result = declaration.run?.(...checked.value);
    expectGives(result?.ok ? result.value : result?.problems, gives, within);
  });

  test("every function has one, unless it reads the sheets of an edition by itself", () => {
    const without = FUNCTIONS.filter(({ examples: own, reads }) => own.length === 0 && !reads);
    expect(without.map(({ name }) => name)).toEqual([]);
  });
});

describe("the tables", () => {
  test.each(FUNCTIONS.map((declaration) => [declaration.name, declaration] as const))("%s", (name, declaration) => {
    expect(name).toMatch(/^[A-Z][A-Z_]*$/);
    expect(declaration.summary).toMatch(/^[A-Z].*\.$/s);
    expect(declaration.source.length).toBeGreaterThan(5);
    // Whatever may be left out comes last.
    const optional = declaration.parameters.map((parameter) => parameter.default !== undefined);
    expect(optional).toEqual([...optional].sort((a, b) => Number(a) - Number(b)));
    for (const parameter of declaration.parameters)
      if (parameter.default !== undefined)
        expect(checkArguments({ ...declaration, parameters: [parameter] }, [parameter.default]).ok).toBe(true);
  });

  test("a look-up is known to everyone who calculates: engine, what-ifs, explanations", () => {
    const lookUps = FUNCTIONS.filter(({ run }) => run === undefined).map(({ name }) => name);
    const readers = [
      "src/engine/hyperformula/plugin.ts",
      "src/whatif/compile/declared.ts",
      "src/app/help/explain/evaluate.ts",
    ];
    for (const reader of readers) {
      const text = readFileSync(reader, "utf8");
      expect(
        lookUps.filter((name) => !text.includes(`case "${name}":`)),
        reader,
      ).toEqual([]);
    }
  });

  test("no name is there twice or stands for a function of the engine", () => {
    const names = FUNCTIONS.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(functionNamed("coat_grams")?.name).toBe("COAT_GRAMS");
    expect(functionNamed("SUM")).toBeUndefined();
    expect(implicitArguments("FIRING_SHARE")).toHaveLength(3);
    expect(implicitArguments("SUM")).toBeUndefined();
  });
});

/** A value for each parameter of a function, taken from its first example. */
function goodArguments(declaration: FunctionDeclaration): string[] {
  const formula = declaration.examples[0]?.formula ?? "";
  return formula.slice(formula.indexOf("(") + 1, -1).match(/\{[^}]*\}|"(?:[^"]|"")*"|[^,]+/g) ?? [];
}

/** Values a parameter does not take, as formula text, with what the message shows of them. */
function badValues(parameter: Parameter): (readonly [text: string, shown: string])[] {
  if (parameter.type !== "number") return [];
  const bad: (readonly [string, string])[] = [
    ['"much"', "“much”"],
    ["TRUE()", "true"],
  ];
  if (parameter.min !== undefined) bad.push([`${parameter.min - 1}`, `${parameter.min - 1}`]);
  if (parameter.max !== undefined) bad.push([`${parameter.max + 1}`, `${parameter.max + 1}`]);
  if (parameter.above !== undefined) bad.push([`${parameter.above}`, `${parameter.above}`]);
  if (parameter.below !== undefined) bad.push([`${parameter.below}`, `${parameter.below}`]);
  if (parameter.whole) bad.push([`${(parameter.min ?? 0) + 0.5}`, `${(parameter.min ?? 0) + 0.5}`]);
  if (parameter.default === undefined) bad.push(['""', "nothing"]);
  return bad;
}

const badCalls = FUNCTIONS.filter(({ run, examples: own }) => run && own.length > 0).flatMap((declaration) =>
  declaration.parameters.flatMap((parameter, at) =>
    badValues(parameter).flatMap(([text, shown]) => {
      const good = goodArguments(declaration);
      if (at > good.length) return [];
      const call = `${declaration.name}(${[...good.slice(0, at), text, ...good.slice(at + 1)].join(",")})`;
      const message = `${declaration.name}, ${parameter.name}: found ${shown}, but it takes ${allowedArgument(parameter)}.`;
      return [[call, message] as const];
    }),
  ),
);

describe("bad arguments say which, what was found and what is allowed", () => {
  test.each(badCalls)("%s", (call, message) => {
    expect((compute(call) as DetailedCellError).message).toBe(message);
  });

  // Written out, so that the wording itself is held too.
  test.each([
    ["COAT_GRAMS(1,-2,3)", "COAT_GRAMS, coats: found -2, but it takes a number, 0 or more."],
    ["COAT_GRAMS(1,2,3,0)", "COAT_GRAMS, transfer: found 0, but it takes a number, above 0 and 1 or less."],
    ["LUSTRE_GRAMS(1,2,3,1)", "LUSTRE_GRAMS, waste: found 1, but it takes a number, 0 or more and below 1."],
    [
      "STARTS_NEEDED(2.5,0.9)",
      "STARTS_NEEDED, good: found 2.5, but it takes a whole number, 0 or more and 1000000 or less.",
    ],
    ["BAND_AREA(-1,2,3)", "BAND_AREA, d1: found -1, but it takes a number in cm, 0 or more."],
  ])("%s", (call, message) => {
    expect((compute(call) as DetailedCellError).message).toBe(message);
  });

  test.each([
    ['YIELD_CHAIN({0.1;"x"})', "YIELD_CHAIN: losses: found “x”, but it takes numbers only."],
    ['PICK("paint",{"slip";"glaze"},{3;8})', "PICK: found “paint”, which is not in the list. Choose one that is."],
    ["PICK(7,{1;2},{3;8})", "PICK: found 7, which is not in the list. Choose one that is."],
    ['PICK("",{"slip";"glaze"},{3;8})', "PICK: found a blank, which is not in the list. Choose one that is."],
  ])("%s", (call, message) => {
    expect((compute(call) as DetailedCellError).message).toBe(message);
  });

  test("an error among the arguments is passed on, not described", () => {
    expect((compute("COAT_GRAMS(1/0,1,1)") as DetailedCellError).value).toBe("#DIV/0!");
    expect((compute("YIELD_CHAIN({0.1;0.2})*COAT_GRAMS(1,1,1/0)") as DetailedCellError).value).toBe("#DIV/0!");
  });

  test("what is left out takes its default, blank or not given", () => {
    expect(compute("COAT_GRAMS(100,2,0.05)")).toBe(10);
    expect(compute('COAT_GRAMS(100,2,0.05,"")')).toBe(10);
    expect(compute("MONEY(1.005,)")).toBe(1.01);
  });

  test("numbers written as text are read as numbers", () => {
    expect(compute('COAT_GRAMS("100",2,"0.05")')).toBe(10);
  });
});
