// The grammar of formulas, example by example: OpenFormula v1.3, part 4, sections 5.2 to 5.9, as far as the engine implements
// it, with names in the place of addresses.
import fc from "fast-check";
import { HyperFormula } from "hyperformula";
import { describe, expect, test } from "vitest";
import { parseFormula } from "../../../src/core/formula/formula";
import type { Reference } from "../../../src/core/formula/reference";
import { ERROR_VALUES, type Expression, mapTree, TIGHTNESS } from "../../../src/core/formula/tree";
import { eachSteps } from "../../../src/core/sheets/each-step";
import { prepareFormula } from "../../../src/engine/link";
import { printFormula } from "../../tools/print-formula";
import { smallEdition } from "../../tools/small-edition";

/** A tree without its places in the text: what a formula says. */
function said(formula: string): unknown {
  const parsed = parseFormula(formula);
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  return bare(parsed.value);
}

/** A tree without places and without brackets that say nothing. */
function bare(tree: Expression): unknown {
  return mapTree(tree, ({ bracketed: _, ...node }) => ({ ...node, start: 0, end: 0 }));
}

const place = { start: 0, end: 0 };
const number = (value: number) => ({ kind: "number", value, ...place });
const text = (value: string) => ({ kind: "text", value, ...place });
const own = (column: string) => ({ kind: "reference", to: { kind: "own", column }, ...place });
const call = (name: string, ...given: unknown[]) => ({ kind: "call", name, given, ...place });
const binary = (sign: string, left: unknown, right: unknown) => ({ kind: "binary", sign, left, right, ...place });
const minus = (of: unknown) => ({ kind: "unary", sign: "-", of, ...place });
const percent = (of: unknown) => ({ kind: "percent", of, ...place });

describe("golden trees", () => {
  test.each<[string, unknown]>([
    // Texts: a quote inside is doubled; a backslash is a sign like any other, and braces in a text name nothing.
    ['="say ""no"""', text('say "no"')],
    ['=""""', text('"')],
    ['=""', text("")],
    ['="a\\"', text("a\\")],
    ['="a\\"&{own}', binary("&", text("a\\"), own("own"))],
    ['="{own}"', text("{own}")],
    ['="say ""{own}"""&{own}', binary("&", text('say "{own}"'), own("own"))],
    // Signs in front, percents and powers.
    ["=-2^2", binary("^", minus(number(2)), number(2))],
    ["=-{own}%", minus(percent(own("own")))],
    ["=2^-2%", binary("^", number(2), minus(percent(number(2))))],
    ["=1--2", binary("-", number(1), minus(number(2)))],
    ["=2%*3", binary("*", percent(number(2)), number(3))],
    // Whole columns, cells, and the cells from one to another.
    ["={pieces:own}", { kind: "reference", to: { kind: "column", sheet: "pieces", column: "own" }, ...place }],
    [
      "={ route[glaze]:@.cost }",
      { kind: "reference", to: { kind: "cell", sheet: "route", row: "glaze", column: "@.cost" }, ...place },
    ],
    ["=SUM({own}:{glaze.coats})", call("SUM", { kind: "range", from: own("own"), to: own("glaze.coats"), ...place })],
    [
      "=SUM(wage:tariff)",
      call("SUM", {
        kind: "range",
        from: { kind: "name", name: "wage", ...place },
        to: { kind: "name", name: "tariff", ...place },
        ...place,
      }),
    ],
    // Arrays of constants.
    [
      '=SUM({1,"a;b"; -2 ,true})',
      call("SUM", {
        kind: "array",
        rows: [
          [number(1), text("a;b")],
          [minus(number(2)), { kind: "boolean", value: true, ...place }],
        ],
        ...place,
      }),
    ],
    // Errors and numbers.
    [
      "=IFERROR(#n/a,#DIV/0!)",
      call("IFERROR", { kind: "error", value: "#N/A", ...place }, { kind: "error", value: "#DIV/0!", ...place }),
    ],
    ["=#N/A/2", binary("/", { kind: "error", value: "#N/A", ...place }, number(2))],
    ["=2E3+.5e-1", binary("+", number(2000), number(0.05))],
    ["=LOG10 (100)", call("LOG10", number(100))],
    ["=IF(,1,)", call("IF", { kind: "nothing", ...place }, number(1), { kind: "nothing", ...place })],
  ])("%s", (formula, tree) => {
    expect(said(formula)).toEqual(tree);
  });
});

describe("what is wrong, and where in the text", () => {
  test.each([
    ["=1+*2", 3, 4, "The formula: found “*”, but it takes a value."],
    ['=1+"open', 3, 4, 'The formula: found “"open”, but it takes quotes in pairs, as in “a text”.'],
    [
      "=SUM(1,B2)",
      7,
      9,
      "The formula: found “B2”, but it takes names, because rows move and names do not. Write the column in braces, as in {coats}, or the name of an input.",
    ],
    [
      "=1+{a b}",
      3,
      8,
      "The formula: found “{a b}”, but it takes a column such as {coats}, a whole column such as {pieces:own}, or one cell such as {route[glaze]:area}.",
    ],
    ["=SUM({a:{b})", 5, 6, "The formula: found “{”, but it takes braces in pairs, as in {coats}."],
    [
      "=#FOO!",
      1,
      2,
      "The formula: found “#FOO!”, but it takes numbers, texts in quotes, names, and signs between them.",
    ],
    ["=(1+2", 5, 5, "The formula: found nothing, but it takes a closing bracket."],
    ["=1+2)", 4, 5, "The formula: found “)”, but it takes a sign between two values, or its end."],
    ["=5%%", 3, 4, "The formula: found “%”, but it takes a sign between two values, or its end."],
    ["={1,2}", 1, 2, "The formula: found “{”, but it takes an array inside a function only, as in SUM({1,2})."],
    ["=SUM({1,2;3})", 5, 12, "The formula: found “{”, but it takes rows of the same length in an array."],
    [
      "=SUM({pieces:own}:{own})",
      18,
      23,
      "The formula: found “:”, but it takes a single cell on both sides of a colon.",
    ],
    ["=1e999", 1, 6, "The formula: found “1e999”, but it takes a number below 1.8e308."],
    ["==1", 1, 2, "The formula: found “=”, but it takes a value."],
  ])("%s", (formula, start, end, message) => {
    const parsed = parseFormula(formula, () => false);
    expect(parsed).toMatchObject({ ok: false, problems: [{ message, at: { start, end } }] });
  });
});

const name = fc.constantFrom("wage", "tariff", "k2", "firing_hours", "x.y");
const column = fc.constantFrom("own", "glaze.coats", "@.cost");
const reference = fc.oneof(
  column.map((key): Reference => ({ kind: "own", column: key })),
  column.map((key): Reference => ({ kind: "column", sheet: "pieces", column: key })),
  column.map((key): Reference => ({ kind: "cell", sheet: "route", row: "glaze", column: key })),
);
const words = fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom('"', "\\", "{", "}", "a", ",", "#", "(") }));
const positive = fc.oneof(fc.nat(1000), fc.double({ min: 0, noNaN: true, noDefaultInfinity: true }));
const node = (kind: object) => ({ ...kind, ...place }) as Expression;
const constant = fc.oneof(
  positive.map((value) => node({ kind: "number", value: value === 0 ? 0 : value })),
  words.map((value) => node({ kind: "text", value })),
  fc.boolean().map((value) => node({ kind: "boolean", value })),
  fc.constantFrom(...ERROR_VALUES).map((value) => node({ kind: "error", value })),
);
const cell = fc.oneof(
  name.map((one) => node({ kind: "name", name: one })),
  reference.filter(({ kind }) => kind !== "column").map((to) => node({ kind: "reference", to })),
);
const array = fc
  .tuple(fc.integer({ min: 2, max: 3 }), fc.integer({ min: 1, max: 3 }))
  .chain(([width, height]) =>
    fc.array(fc.array(constant, { minLength: width, maxLength: width }), { minLength: height, maxLength: height }),
  )
  .map((rows) =>
    node({
      kind: "array",
      rows: rows.map((row) => row.map((one) => (one.kind === "error" ? node({ kind: "number", value: 1 }) : one))),
    }),
  );
const { tree } = fc.letrec<{ tree: Expression; argument: Expression }>((tie) => ({
  tree: fc.oneof(
    { depthSize: "medium", withCrossShrink: true },
    constant,
    cell,
    reference.map((to) => node({ kind: "reference", to })),
    fc.tuple(cell, cell).map(([from, to]) => node({ kind: "range", from, to })),
    fc.tuple(fc.constantFrom("+", "-"), tie("tree")).map(([sign, of]) => node({ kind: "unary", sign, of })),
    tie("tree").map((of) => node({ kind: "percent", of })),
    fc
      .tuple(fc.constantFrom(...Object.keys(TIGHTNESS)), tie("tree"), tie("tree"))
      .map(([sign, left, right]) => node({ kind: "binary", sign, left, right })),
    fc
      .tuple(fc.constantFrom("SUM", "IF", "LOG10", "NEGBINOM.DIST"), fc.array(tie("argument"), { maxLength: 3 }))
      .map(([called, given]) =>
        // A single argument left out is none.
        node({ kind: "call", name: called, given: given.length === 1 && given[0]?.kind === "nothing" ? [] : given }),
      ),
  ),
  argument: fc.oneof({ weight: 6, arbitrary: tie("tree") }, array, fc.constant(node({ kind: "nothing" }))),
}));

describe("tree → text → tree", () => {
  test("gives the tree back, and its text word for word", () => {
    fc.assert(
      fc.property(tree, (made) => {
        const printed = printFormula(made);
        const parsed = parseFormula(`=${printed}`);
        if (!parsed.ok) {
          // Only what is too large is refused.
          expect(parsed.problems[0]?.code).toBe("formula.size");
          return;
        }
        expect(bare(parsed.value)).toEqual(made);
        expect(printFormula(parsed.value)).toBe(printed);
      }),
      { numRuns: 2000 },
    );
  });

  test("every node knows its own text", () => {
    fc.assert(
      fc.property(tree, (made) => {
        const formula = printFormula(made);
        const parsed = parseFormula(formula);
        if (!parsed.ok) return;
        mapTree(parsed.value, (inner) => {
          const own = parseFormula(formula.slice(inner.start, inner.end));
          if (inner.kind !== "nothing" && inner.kind !== "array")
            expect(own.ok && bare(own.value), formula).toEqual(bare(inner));
          return inner;
        });
      }),
      { numRuns: 500 },
    );
  });

  test("any text at all is read or refused with a reason and a place in it", () => {
    const piece = fc.constantFrom(
      ...'+-*/^&=<>%(),:;{}"\\#@.$ 1e',
      "{own}",
      "{1,2}",
      "wage",
      "SUM(",
      "#N/A",
      '""',
      "A1",
      "true",
    );
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 25 }).map((list) => list.join("")),
        (formula) => {
          const parsed = parseFormula(formula);
          if (parsed.ok) expect(bare(parsed.value)).toEqual(said(printFormula(parsed.value)));
          for (const { at, message } of parsed.ok ? [] : parsed.problems) {
            expect(message).toMatch(/\.$/);
            expect(at && at.start >= 0 && at.start <= at.end && at.end <= formula.length).toBe(true);
          }
        },
      ),
      { numRuns: 3000 },
    );
  });
});

test("the engine reads a text of any signs as it is when the formula is linked", () => {
  const engine = HyperFormula.buildFromArray([[null]], { licenseKey: "gpl-v3" });
  const cellAt = { sheet: 0, row: 0, col: 0 };
  fc.assert(
    fc.property(words, (value) => {
      const formula = `=${printFormula(node({ kind: "text", value }))}`;
      const { pieces } = prepareFormula(
        formula,
        () => true,
        () => undefined,
        eachSteps(smallEdition()),
      );
      engine.setCellContents(cellAt, `=${pieces.join("")}`);
      expect(engine.getCellValue(cellAt)).toBe(value);
    }),
  );
  engine.destroy();
});
