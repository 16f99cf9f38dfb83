// One bad formula must never take the others down. What throws inside the engine becomes an error of the cell it stands in,
// what is no finite number never leaves a cell as one, and whoever watches hears that the calculation moves on.
import { CellError, ErrorType } from "hyperformula";
import type { ArraySizes, Ast, Evaluator, Exporter, Interpreter, Parser } from "./library";
import type { EnginePatch } from "./patch";
import { MESSAGES } from "./words";

export const GUARD: EnginePatch = {
  name: "guard",
  buys: "safety: what throws is an error of its cell, no NaN leaves one, and the calculation is heard to move on",
  replaces: {
    parser: ["parse"],
    arraySizes: ["checkArraySize"],
    interpreter: ["evaluateAstWithoutPostprocessing"],
    evaluator: ["evaluateAstToCellValue"],
    exporter: ["cellValueRounding", "exportValue"],
  },
  uses: {},
  apply(prototypes) {
    guardParser(prototypes.parser);
    guardArraySizes(prototypes.arraySizes);
    guardFunctions(prototypes.interpreter);
    guardCells(prototypes.evaluator);
    guardValues(prototypes.exporter);
  },
};

let beat = () => {};

/** Has `hear` called for every formula that is read or evaluated: it must be quick, and must not throw. */
export function onEveryFormula(listener: () => void): void {
  beat = listener;
}

/** A formula the parser throws on is one that can't be read. */
function guardParser(prototype: Parser): void {
  const { parse } = prototype;
  prototype.parse = function parseGuarded(this: Parser, text, at) {
    beat();
    try {
      return parse.call(this, text, at);
    } catch {
      return parse.call(this, "=(", at);
    }
  };
}

/** A formula whose result has an unknown size has one cell, like one with an error. */
function guardArraySizes(prototype: ArraySizes): void {
  const { checkArraySize } = prototype;
  prototype.checkArraySize = function checkGuarded(this: ArraySizes, ast, at) {
    try {
      return checkArraySize.call(this, ast, at);
    } catch {
      return checkArraySize.call(this, { type: "ERROR" }, at);
    }
  };
}

/** A function that throws, or gives nothing at all, gives an error; so the formula around it can still handle it. */
function guardFunctions(prototype: Interpreter): void {
  const { evaluateAstWithoutPostprocessing } = prototype;
  prototype.evaluateAstWithoutPostprocessing = function evaluateGuarded(this: Interpreter, ast, state) {
    if (ast.type !== "FUNCTION_CALL") return evaluateAstWithoutPostprocessing.call(this, ast, state);
    try {
      return evaluateAstWithoutPostprocessing.call(this, ast, state) ?? brokenOff(ast);
    } catch {
      return brokenOff(ast);
    }
  };
}

function brokenOff({ procedureName }: Ast): CellError {
  return new CellError(
    ErrorType.VALUE,
    `${procedureName}: it can't be calculated from what it is given. Check its arguments in the list of functions.`,
  );
}

/** Whatever else throws while a formula is evaluated is an error of its cell. */
function guardCells(prototype: Evaluator): void {
  const { evaluateAstToCellValue } = prototype;
  prototype.evaluateAstToCellValue = function evaluateGuarded(this: Evaluator, ast, state) {
    beat();
    try {
      return evaluateAstToCellValue.call(this, ast, state);
    } catch {
      return new CellError(
        ErrorType.VALUE,
        "FORMULA: it can't be calculated. Write it another way.",
        state.formulaVertex,
      );
    }
  };
}

/** The engine rounds to so many digits by a power of ten that is infinite for the smallest numbers; those stay as they are. */
function guardValues(prototype: Exporter): void {
  const { cellValueRounding, exportValue } = prototype;
  prototype.cellValueRounding = function roundGuarded(this: Exporter, value) {
    const rounded = cellValueRounding.call(this, value);
    return Number.isFinite(rounded) ? rounded : value;
  };
  prototype.exportValue = function exportGuarded(this: Exporter, value) {
    const given = exportValue.call(this, value);
    const isValue = typeof given === "number" ? Number.isFinite(given) : given !== undefined;
    return isValue ? given : exportValue.call(this, new CellError(ErrorType.NUM, MESSAGES.noFiniteNumber));
  };
}
