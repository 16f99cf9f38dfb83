// The quickened engine gives what the engine gives as it comes: random sheets, read by the library untouched first, then
// by the same library with our patches, at the opening and after edits and added rows.
import fc from "fast-check";
import { HyperFormula, type RawCellContent } from "hyperformula";
import { describe, expect, test } from "vitest";
import { ENGINE_CONFIG } from "../../src/engine/engine";
import { installedLibrary } from "../../src/engine/hyperformula/library";
import { applyPatches, type EnginePatch, prototypesOf } from "../../src/engine/hyperformula/patch";
import { PATCHES, prepareEngine } from "../../src/engine/hyperformula/patches";
import { registerFunctions } from "../../src/engine/hyperformula/plugin";

const ROWS = 12;
const TYPED = ["A", "B", "C"];
const REACHED = [...TYPED, "D", "E"];

const raw = (...list: RawCellContent[]) => fc.constantFrom<RawCellContent>(...list);
const ALMOST = 1 + 4e-15;
const numberCell = raw(0, 1, 2, 3, 0.1, 0.2, 0.3, 0.1 + 0.2, -0, -1.5, 40, ALMOST, 1 - 4e-15, 1e-14, 1e308, 1e9);
const textCell = raw("'", "'good", "'Good", "'lost", "'é", "'5", "'TRUE", "'a b");
const oddCell = fc.oneof(
  raw(true, false),
  raw("2026-11-25", "2025-01-02", "'2026-11-25", "12%"),
  raw("=1/0", "=NA()", "=(", "=#REF!"),
);
const cell = (numbers: number, texts: number, odd: number): fc.Arbitrary<RawCellContent> =>
  fc.oneof(
    { weight: numbers, arbitrary: numberCell },
    { weight: texts, arbitrary: textCell },
    { weight: odd, arbitrary: oddCell },
    { weight: 2, arbitrary: fc.constant<RawCellContent>(null) },
  );
/** A column of names, one of numbers, one of everything. */
const rowOfCells = fc.tuple(cell(3, 12, 1), cell(20, 1, 0), cell(6, 4, 2));

/** A term over the cells of one row, a fixed cell, constants and whole columns. */
const term = fc.letrec<{ term: string }>((tie) => ({
  term: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    fc.constantFrom(
      "1",
      "0",
      "2.5",
      "-3",
      "0.3",
      "1.000000000000004",
      '""',
      '"good"',
      '"lost"',
      '"5"',
      "1E+308",
      "5%",
      "TRUE()",
      '"2026-11-25"',
    ),
    fc.constantFrom(...REACHED, "B", "B").map((column) => `${column}#`),
    fc.constantFrom("$A$1", "$B$2", "D$3", "$C#"),
    fc
      .tuple(fc.constantFrom(..."+-*/^&=<>", "<>", "<=", ">="), tie("term"), tie("term"))
      .map(([sign, a, b]) => `(${a}${sign}${b})`),
    fc
      .tuple(
        fc.constantFrom(...REACHED),
        fc.constantFrom("=", "<>", "<", ">="),
        fc.constantFrom('""', "1", "0.3", '"good"', "B#", "C#"),
      )
      .map(([column, sign, other]) => `(${column}#${sign}${other})`),
    tie("term").map((a) => `-${a}`),
    tie("term").map((a) => `((${a}*1E+200)*1E+200)`),
    fc
      .tuple(fc.constantFrom("IF(@,1,2)", "OR(@,1)", "SUM(@,1)", "SWITCH(@,1,2)", "MONEY(@,2)"), tie("term"))
      .map(([call, a]) => call.replace("@", `${a}*1E+300*1E+300`)),
    tie("term").map((a) => `(${a})%`),
    fc.tuple(tie("term"), tie("term"), tie("term")).map(([a, b, c]) => `IF(${a},${b},${c})`),
    fc.tuple(tie("term"), tie("term")).map(([a, b]) => `IF(${a},${b})`),
    fc.tuple(tie("term"), tie("term"), tie("term")).map(([a, b, c]) => `IF(${a}="",${b},${c})`),
    fc
      .tuple(
        fc.constantFrom("OR", "AND", "SUM", "MIN", "MAX", "NOT", "ABS", "ROUNDUP"),
        fc.array(tie("term"), { minLength: 1, maxLength: 3 }),
      )
      .map(([name, args]) => `${name}(${args.join(",")})`),
    fc
      .tuple(tie("term"), fc.array(tie("term"), { minLength: 1, maxLength: 5 }))
      .map(([chosen, ways]) => `SWITCH(${[chosen, ...ways].join(",")})`),
    fc
      .tuple(fc.constantFrom("SUM", "MIN", "MAX", "COUNT"), fc.constantFrom(...TYPED))
      .map(([name, c]) => `${name}($${c}$1:$${c}$${ROWS})`),
    fc.tuple(tie("term"), fc.constantFrom(...TYPED)).map(([a, c]) => `IF(${a},$${c}$1:$${c}$${ROWS},1)`),
    fc.tuple(tie("term"), tie("term"), tie("term")).map(([a, b, c]) => `COAT_GRAMS(${a},${b},${c},0.65)`),
    fc.tuple(tie("term"), tie("term")).map(([a, b]) => `MONEY(${a},${b})`),
    fc
      .tuple(tie("term"), fc.constantFrom(...TYPED))
      .map(([a, c]) => `PICK(${a},$A$1:$A$${ROWS},$${c}$1:$${c}$${ROWS})`),
    fc
      .tuple(tie("term"), fc.constantFrom(...TYPED))
      .map(([a, c]) => `TOTAL_BY(${a},$A$1:$A$${ROWS},$${c}$1:$${c}$${ROWS})`),
    fc.tuple(tie("term")).map(([a]) => `COUNT_BY(${a},$B$1:$B$${ROWS})`),
    fc
      .tuple(tie("term"), tie("term"))
      .map(([a, b]) => `FIRING_SHARE(${a},${b},$A$1:$A$${ROWS},$B$1:$B$${ROWS},$C$1:$C$${ROWS})`),
    fc
      .tuple(fc.constantFrom(...TYPED), fc.constantFrom(...TYPED))
      .map(([a, b]) => `SUMPRODUCT(($${a}$1:$${a}$${ROWS}=1)*($${b}$1:$${b}$${ROWS}=1))`),
  ),
})).term;

interface Case {
  readonly cells: readonly (readonly RawCellContent[])[];
  readonly formulas: readonly [string, string, string];
  readonly edits: readonly { readonly row: number; readonly column: number; readonly content: RawCellContent }[];
}

const cases: fc.Arbitrary<Case> = fc.record({
  cells: fc.array(rowOfCells, { minLength: ROWS, maxLength: ROWS }),
  formulas: fc.tuple(term, term, term),
  edits: fc.array(fc.record({ row: fc.nat(ROWS - 1), column: fc.nat(TYPED.length - 1), content: cell(4, 4, 1) }), {
    minLength: 2,
    maxLength: 4,
  }),
});

const blankRows = new Array(ROWS).fill([null, 0.3, null]);
/** Sums that are nearly nothing, and what is least and most below nothing. */
const TRAPS: readonly Case[] = (
  [
    ["0.3-0.1-0.2", "0.1+0.2-0.3", "SUM(B#,-0.1,-0.2)"],
    ["MAX(-1,-2)", "MIN(5,7)", "MAX(D#,-3)"],
    ['IF(A#="",IF(1>2,1/0,4),5)', 'SWITCH("b","a",1/0,"b",2)', "OR(D#=4,1/0)"],
  ] as const
).map((formulas) => ({ cells: blankRows, formulas, edits: [{ row: 0, column: 1, content: 0.4 }] }));

const valuesOf = (engine: HyperFormula) =>
  JSON.stringify(engine.getSheetValues(0), (_, value) => (Object.is(value, -0) ? "−0" : value));

/** D reads typed cells only, E also D, F everything; an edit may be told in one step with others. */
function run({ cells, formulas, edits }: Case): string[] {
  const at = (formula: string, row: number) => `=${formula.replaceAll("#", String(row + 1))}`;
  const [d, e, f] = formulas;
  const below = (formula: string, columns: RegExp) => formula.replace(columns, "A");
  const rows = cells.map((row, index) => [
    ...row,
    at(below(d, /\$?[DE](?=[#$])/g), index),
    at(below(e, /\$?E(?=[#$])/g), index),
    at(f, index),
  ]);
  const engine = HyperFormula.buildFromSheets({ sheet: rows }, ENGINE_CONFIG);
  const seen = [valuesOf(engine)];
  for (const { row, column, content } of edits) {
    engine.setCellContents({ sheet: 0, row, col: column }, content);
    seen.push(valuesOf(engine));
  }
  engine.addRows(0, [ROWS - 1, 2]);
  engine.setCellContents({ sheet: 0, row: ROWS - 1, col: 0 }, 7);
  seen.push(valuesOf(engine));
  engine.destroy();
  return seen;
}

/** Signs of patterns and of texts, line ends and tildes among them. */
const pattern = fc.string({ unit: fc.constantFrom("a", "b", "*", "?", "~", "é", ".", "\n", "A"), maxLength: 7 });
const text = fc.string({ unit: fc.constantFrom("a", "b", "*", "?", "~", "e", ".", "\n", "B"), maxLength: 9 });
const quoted = (given: string) => `"${given}"`;

function matches(samples: readonly (readonly [string, readonly string[]])[]): string[] {
  return samples.map(([given, texts]) => {
    const rows = texts.map((one) => [
      `'${one}`,
      `=SEARCH(${quoted(given)},${quoted(one)})`,
      `=COUNTIF($A$1:$A$${texts.length},${quoted(given)})`,
      `=COUNTIF($A$1:$A$${texts.length},${quoted(`<>${given}`)})`,
    ]);
    const engine = HyperFormula.buildFromSheets({ sheet: rows }, ENGINE_CONFIG);
    const values = valuesOf(engine);
    engine.destroy();
    return values;
  });
}

/** The values of samples with some patches only; afterwards the library is as it was. */
function withPatches(patches: readonly EnginePatch[], samples: readonly Case[]): string[][] {
  const library = installedLibrary();
  const before = Object.values(prototypesOf(library.parts)).map((one: object) => ({
    prototype: one,
    members: Object.getOwnPropertyDescriptors(one),
  }));
  applyPatches(library, patches);
  const seen = samples.map(run);
  for (const { prototype, members } of before) Object.defineProperties(prototype, members);
  return seen;
}

describe("the engine with its patches", () => {
  test("gives the same values and errors with each of them left off", () => {
    registerFunctions();
    const samples = [...TRAPS, ...fc.sample(cases, { numRuns: 9, seed: 7 })];
    const untouched = samples.map(run);
    // Functions that are taken out can't be put back; no sample names one.
    const reversible = PATCHES.filter(({ removes }) => removes === undefined);
    for (const { name } of reversible) {
      const others = reversible.filter((patch) => patch.name !== name);
      expect({ without: name, seen: withPatches(others, samples) }).toEqual({ without: name, seen: untouched });
    }
    expect(samples.map(run)).toEqual(untouched);
  });

  test("gives the same values and errors as without them", () => {
    registerFunctions();
    const samples = [...TRAPS, ...fc.sample(cases, { numRuns: 100, seed: 20261125 })];
    const untouched = samples.map(run);
    const patterns = fc.sample(fc.tuple(pattern, fc.array(text, { minLength: 2, maxLength: 4 })), {
      numRuns: 250,
      seed: 41,
    });
    const matchedUntouched = matches(patterns);
    prepareEngine();
    expect(matches(patterns)).toEqual(matchedUntouched);
    for (const [at, sample] of samples.entries())
      expect({ formulas: sample.formulas, seen: run(sample) }).toEqual({
        formulas: sample.formulas,
        seen: untouched[at],
      });
  });
});
