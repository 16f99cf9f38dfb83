// The engine walks a formula's tree for every cell, by general rules for ranges, types and errors. Here a tree becomes a
// chain of functions once: numbers, texts and blanks go straight through, branches that are not taken are not evaluated,
// and everything else is handed to the engine's own rules with the values at hand. The results are the same.

import { type CompileContext, type CompiledNode, isPlain, type PlainCall } from "./compiled-node";
import type { Ast, Interpreter, State } from "./library";
import type { EnginePatch } from "./patch";
import { PLAIN_CALLS } from "./plugin";
import { readFunction } from "./read-function";
import { readOperator } from "./read-operator";

export const EVALUATE: EnginePatch = {
  name: "evaluate",
  buys: "formulas are chains of functions, not trees that are walked; only the branch taken is evaluated",
  replaces: { interpreter: ["evaluateAst"] },
  uses: {
    interpreter: [
      ...(["dependencyGraph", "arithmeticHelper", "evaluateAstWithoutPostprocessing"] as const),
      ...(["binaryRangeWrapper", "unaryRangeWrapper", "unaryMinusOp"] as const),
      ...(["plusOp", "minusOp", "timesOp", "divOp", "equalOp", "notEqualOp"] as const),
      ...(["lessThanOp", "lessThanOrEqualOp", "greaterThanOp", "greaterThanOrEqualOp"] as const),
    ],
    dependencyGraph: ["addressMapping"],
    cells: ["getCellValue"],
    patterns: ["compare"],
  },
  apply: ({ interpreter }) => evaluateByChains(interpreter, PLAIN_CALLS),
};

/** Makes every interpreter that has this prototype evaluate through chains; `declared` are our own functions by name. */
function evaluateByChains(prototype: Interpreter, declared: ReadonlyMap<string, PlainCall>): void {
  const { evaluateAst } = prototype;
  const chains = new WeakMap<Ast, CompiledNode>();
  const finishers = new WeakMap<Interpreter, Interpreter>();

  const chainOf = (ast: Ast): CompiledNode => {
    let chain = chains.get(ast);
    if (!chain) {
      chain = readNode(ast, context);
      chains.set(ast, chain);
    }
    return chain;
  };
  const context: CompileContext = {
    chainOf,
    asBefore: (ast) => (engine, state) => evaluateAst.call(engine, ast, state),
    // The engine finishes every value of a tree: too large a number is an error, an error gets the cell it began in.
    finish: (engine, value, state) => {
      let finisher = finishers.get(engine);
      if (!finisher) {
        finisher = Object.create(engine, {
          evaluateAstWithoutPostprocessing: { value: (given: unknown) => given },
        }) as Interpreter;
        finishers.set(engine, finisher);
      }
      return evaluateAst.call(finisher, value as Ast, state);
    },
    declared,
  };

  prototype.evaluateAst = function evaluateChain(this: Interpreter, ast, state) {
    // Within functions of arrays operators work on whole ranges: that is left to the engine.
    return state.arraysFlag ? evaluateAst.call(this, ast, state) : chainOf(ast)(this, state);
  };
}

function readNode(ast: Ast, context: CompileContext): CompiledNode {
  switch (ast.type) {
    case "NUMBER":
    case "STRING":
      return isPlain(ast.value) ? () => ast.value : context.asBefore(ast);
    case "PARENTHESES":
      return ast.expression ? readInner(ast.expression, context) : context.asBefore(ast);
    case "CELL_REFERENCE":
      return readCell(ast, context);
    case "FUNCTION_CALL":
      return readFunction(ast, context) ?? context.asBefore(ast);
    default:
      return readOperator(ast, context) ?? context.asBefore(ast);
  }
}

/** An error that has no origin yet gets this cell for it at every node. */
function readInner(ast: Ast, { chainOf, finish }: CompileContext): CompiledNode {
  const inner = chainOf(ast);
  return (engine, state) => {
    const value = inner(engine, state);
    return isPlain(value) ? value : finish(engine, value, state);
  };
}

/**
 * No sheet of ours ever goes, and rows and columns keep their indexes: only the address need be looked at. One address is
 * used again and again; what reads it keeps nothing of it.
 */
function readCell(ast: Ast, { asBefore, finish }: CompileContext): CompiledNode {
  const { reference } = ast;
  const slow = asBefore(ast);
  if (!reference) return slow;
  const isColumnFixed =
    reference.type === "CELL_REFERENCE_ABSOLUTE" || reference.type === "CELL_REFERENCE_ABSOLUTE_COL";
  const isRowFixed = reference.type === "CELL_REFERENCE_ABSOLUTE" || reference.type === "CELL_REFERENCE_ABSOLUTE_ROW";
  const at = { sheet: 0, col: 0, row: 0 };
  return (engine: Interpreter, state: State) => {
    const from = state.formulaAddress;
    at.sheet = reference.sheet ?? from.sheet;
    at.col = isColumnFixed ? reference.col : from.col + reference.col;
    at.row = isRowFixed ? reference.row : from.row + reference.row;
    if (at.row < 0 || at.col < 0) return slow(engine, state);
    const value = engine.dependencyGraph.addressMapping.getCellValue(at);
    // −0 becomes 0.
    if (typeof value === "number") return value + 0;
    return isPlain(value) ? value : finish(engine, value, state);
  };
}
