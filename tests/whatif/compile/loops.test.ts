// The quick loops against the rules for one value at a time, in every shape in which they are run.
import { describe, expect, test } from "vitest";
import type { BinarySign } from "../../../src/core/formula/tree";
import { BUILT_INS } from "../../../src/whatif/compile/built-in";
import type { Instruction } from "../../../src/whatif/compile/instructions";
import { load, makeRegister, type Operand, Pool, type Register, store } from "../../../src/whatif/compile/registers";
import { combine, roundToZero, type Scalar, scalarError } from "../../../src/whatif/compile/scalar";
import { bindInstruction } from "../../../src/whatif/run/execute";
import { NEAR, seeded } from "../../tools/random-workbook";

const ROWS = 37;
const CASES = 6;
const SIGNS: readonly BinarySign[] = ["+", "-", "*", "/", "^", "&", "=", "<>", "<", "<=", ">", ">="];
const plain = [0, 1, -1, 3.25, 1e-9, 1e12, -7.5, 0.1, 0.2, 0.3];
const huge = [1e308, -1e308, 9e307, 1e-308, 1e200];
const other: readonly Scalar[] = [null, "", "12", "x", true, false, scalarError("NA", "gone"), "5%"];
/** What a column is made of: nothing special in it, or a little of everything. */
const MIXTURES: readonly (readonly [string, readonly Scalar[]])[] = [
  ["plain numbers", plain],
  ["nearly equal numbers", NEAR],
  ["very large numbers", [...plain, ...huge]],
  ["a little of everything", [...plain, ...plain, ...NEAR, ...huge, ...other]],
];

const pool = new Pool();

function filled(random: () => number, from: readonly Scalar[], width: number, isPerCase: boolean): Register {
  const register = makeRegister(width, isPerCase ? CASES : undefined);
  for (let at = 0; at < register.values.length; at += 1)
    store(pool, register, at, from[Math.floor(random() * from.length)] ?? null);
  return register;
}

/** Operands of every shape: a value a row and case, a value a row, one a case, one at all, and part of a longer column. */
function operands(random: () => number, from: readonly Scalar[]): readonly (readonly [string, Operand])[] {
  return [
    ["rows and cases", { register: filled(random, from, ROWS, true), start: 0, step: 1 }],
    ["rows", { register: filled(random, from, ROWS, false), start: 0, step: 1 }],
    ["cases", { register: filled(random, from, 1, true), start: 0, step: 0 }],
    ["one", { register: filled(random, from, 1, false), start: 0, step: 0 }],
    ["part of a column", { register: filled(random, from, ROWS + 9, true), start: 4, step: 1 }],
  ];
}

const valueIn = (operand: Operand, inCase: number, row: number) =>
  load(
    pool,
    operand.register,
    operand.start + (operand.register.isPerCase ? inCase * operand.register.width : 0) + row * operand.step,
  );

function run(instruction: Instruction): void {
  bindInstruction(pool, instruction)({ cases: CASES, inputs: undefined, inputCount: 0 });
}

describe("a sign over whole columns gives what it gives value by value", () => {
  test.each(MIXTURES)("%s", (_, mixture) => {
    const random = seeded(4);
    for (const [leftShape, left] of operands(random, mixture))
      for (const [rightShape, right] of operands(random, mixture))
        for (const sign of SIGNS) {
          const rows = left.step + right.step === 0 ? 1 : ROWS;
          const out = { register: makeRegister(rows, CASES), start: 0, step: rows === 1 ? 0 : 1 };
          run({ kind: "combine", sign, out, left, right, rows });
          for (let inCase = 0; inCase < CASES; inCase += 1)
            for (let row = 0; row < rows; row += 1) {
              const expected = roundToZero(combine(sign, valueIn(left, inCase, row), valueIn(right, inCase, row)));
              const where = `${leftShape} ${sign} ${rightShape}, case ${inCase}, row ${row}`;
              expect({ where, is: valueIn(out, inCase, row) }).toEqual({ where, is: expected });
            }
        }
  });

  test("numbers that are said to be all there are", () => {
    const random = seeded(9);
    for (const [, mixture] of MIXTURES)
      for (const [, left] of operands(random, mixture)) {
        const out = { register: makeRegister(ROWS, CASES), start: 0, step: 1 };
        const [, right] = operands(random, mixture)[0] ?? ["", left];
        run({ kind: "combine", sign: "*", out, left, right, rows: ROWS });
        const areAll = Array.from(out.register.values).every((value) => !Number.isNaN(value));
        if (out.register.areNumbers) expect(areAll).toBe(true);
      }
  });
});

describe("sums and the like over columns and cells", () => {
  test.each(MIXTURES)("a whole column: %s", (_, mixture) => {
    const random = seeded(5);
    for (const isPerCase of [true, false])
      for (const fold of ["SUM", "PRODUCT", "MIN", "MAX", "COUNT", "COUNTA"]) {
        const list = filled(random, mixture, ROWS, isPerCase);
        const out = { register: makeRegister(1, CASES), start: 0, step: 0 };
        const last = { register: makeRegister(1, CASES), start: 0, step: 0 };
        run({ kind: "fold list", fold, out, list, rows: undefined });
        run({ kind: "fold", fold, out: last, soFar: undefined, next: out, nature: "list", isLast: true, rows: 1 });
        for (let inCase = 0; inCase < CASES; inCase += 1) {
          const values = Array.from({ length: ROWS }, (__, row) =>
            valueIn({ register: list, start: 0, step: 1 }, inCase, row),
          );
          const expected = roundToZero(BUILT_INS[fold]?.run([values], [false]) ?? null);
          expect({ fold, inCase, is: valueIn(last, inCase, 0) }).toEqual({ fold, inCase, is: expected });
        }
      }
  });

  test.each(MIXTURES)("one argument after the other: %s", (_, mixture) => {
    const random = seeded(6);
    for (const fold of ["SUM", "PRODUCT", "MIN", "MAX", "COUNT"])
      for (const nature of ["cell", "value", "list"] as const) {
        const [first, second] = [operands(random, mixture)[0], operands(random, mixture)[1]];
        if (!first || !second) throw new Error("no operands");
        // A column has been folded by itself before it is joined: a number, or the error in it.
        const next =
          nature === "list"
            ? { register: filled(random, [...plain, ...NEAR], ROWS, true), start: 0, step: 1 }
            : second[1];
        const out = { register: makeRegister(ROWS, CASES), start: 0, step: 1 };
        const soFar = { register: makeRegister(ROWS, CASES), start: 0, step: 1 };
        run({
          kind: "fold",
          fold,
          out: soFar,
          soFar: undefined,
          next: first[1],
          nature: "cell",
          isLast: false,
          rows: ROWS,
        });
        run({ kind: "fold", fold, out, soFar, next, nature, isLast: true, rows: ROWS });
        for (let inCase = 0; inCase < CASES; inCase += 1)
          for (let row = 0; row < ROWS; row += 1) {
            const [one, two] = [valueIn(first[1], inCase, row), valueIn(next, inCase, row)];
            if (nature === "list" && fold === "COUNT") continue;
            const given = nature === "list" ? [two] : two;
            const expected = roundToZero(BUILT_INS[fold]?.run([one, given], [true, nature === "cell"]) ?? null);
            const where = `${fold} ${nature} ${inCase} ${row}`;
            expect({ where, is: valueIn(out, inCase, row) }).toEqual({ where, is: expected });
          }
      }
  });

  test.each(MIXTURES)("cells of a row, column by column: %s", (_, mixture) => {
    const random = seeded(7);
    const columns = Array.from({ length: 5 }, (__, at) => filled(random, mixture, ROWS, at % 2 === 0));
    const rows = Int32Array.from({ length: ROWS }, (__, row) => row);
    const odd = rows.filter((row) => row % 3 !== 1);
    const addends = columns.map((from, at) => {
      const indices = at === 3 ? odd : rows;
      return { from, indices, rows: indices, isInOrder: at !== 3 };
    });
    const out = { register: makeRegister(ROWS, CASES), start: 0, step: 1 };
    run({ kind: "sum cells", out, addends, rows: ROWS });
    for (let inCase = 0; inCase < CASES; inCase += 1)
      for (let row = 0; row < ROWS; row += 1) {
        const values = columns.flatMap((register, at) =>
          at === 3 && row % 3 === 1 ? [] : [valueIn({ register, start: 0, step: 1 }, inCase, row)],
        );
        const expected = roundToZero(
          BUILT_INS.SUM?.run(
            values,
            values.map(() => true),
          ) ?? null,
        );
        expect({ inCase, row, is: valueIn(out, inCase, row) }).toEqual({ inCase, row, is: expected });
      }
  });
});
