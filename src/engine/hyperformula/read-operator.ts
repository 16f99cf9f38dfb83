// Operators on two numbers, and comparisons of numbers and texts, without the engine's detours.
import { compareNumbers, minus, plus } from "../closeness";
import type { CompileContext, CompiledNode } from "./compiled-node";
import type { Ast, Interpreter, Operator } from "./library";

type Sum = (left: number, right: number) => number;

const SUMS: Readonly<Record<string, { readonly of: Sum; readonly own: (engine: Interpreter) => Operator }>> = {
  PLUS_OP: { of: plus, own: (engine) => engine.plusOp },
  MINUS_OP: { of: minus, own: (engine) => engine.minusOp },
  TIMES_OP: { of: (left, right) => left * right, own: (engine) => engine.timesOp },
  DIV_OP: { of: (left, right) => left / right, own: (engine) => engine.divOp },
};

type Test = (order: number) => boolean;

const TESTS: Readonly<Record<string, { readonly of: Test; readonly own: (engine: Interpreter) => Operator }>> = {
  EQUALS_OP: { of: (order) => order === 0, own: (engine) => engine.equalOp },
  NOT_EQUAL_OP: { of: (order) => order !== 0, own: (engine) => engine.notEqualOp },
  LESS_THAN_OP: { of: (order) => order < 0, own: (engine) => engine.lessThanOp },
  LESS_THAN_OR_EQUAL_OP: { of: (order) => order <= 0, own: (engine) => engine.lessThanOrEqualOp },
  GREATER_THAN_OP: { of: (order) => order > 0, own: (engine) => engine.greaterThanOp },
  GREATER_THAN_OR_EQUAL_OP: { of: (order) => order >= 0, own: (engine) => engine.greaterThanOrEqualOp },
};

/** The chain of an operator; nothing for those left to the engine. */
export function readOperator(ast: Ast, context: CompileContext): CompiledNode | undefined {
  if (ast.type === "MINUS_UNARY_OP") return readMinus(ast.value as Ast, context);
  if (!ast.left || !ast.right) return undefined;
  const left = context.chainOf(ast.left);
  const right = context.chainOf(ast.right);
  const sum = SUMS[ast.type];
  if (sum)
    return (engine, state) => {
      const a = left(engine, state);
      const b = right(engine, state);
      if (typeof a === "number" && typeof b === "number") {
        const result = sum.of(a, b);
        // −0 becomes 0; a division by nothing and what is too large are the engine's errors.
        if (Number.isFinite(result)) return result + 0;
      }
      return context.finish(engine, engine.binaryRangeWrapper(sum.own(engine), a, b, state), state);
    };
  const test = TESTS[ast.type];
  if (test)
    return (engine, state) => {
      const a = left(engine, state);
      const b = right(engine, state);
      const order = orderOf(engine, a, b);
      if (order !== undefined) return test.of(order);
      return context.finish(engine, engine.binaryRangeWrapper(test.own(engine), a, b, state), state);
    };
  return undefined;
}

function readMinus(of: Ast, context: CompileContext): CompiledNode {
  const chain = context.chainOf(of);
  return (engine, state) => {
    const value = chain(engine, state);
    if (typeof value === "number") return 0 - value;
    return context.finish(engine, engine.unaryRangeWrapper(engine.unaryMinusOp, value, state), state);
  };
}

/** How two plain values compare: below, equal or above 0; nothing where the engine must say. */
export function orderOf(engine: Interpreter, left: unknown, right: unknown): number | undefined {
  if (typeof left === "number") {
    if (typeof right === "number") return compareNumbers(left, right);
    // A number stands before a text, and no text is a blank one.
    return right === "" ? -1 : undefined;
  }
  // A blank beside a text is an empty text.
  const text = typeof left === "symbol" ? "" : left;
  return typeof text === "string" && typeof right === "string" ? textOrder(engine, text, right) : undefined;
}

const MOST_TEXTS = 5000;
const orders = new Map<string, Map<string, number>>();
let orderCount = 0;

/** Texts are compared by the rules of a language, and as days where they are days: the same pairs come again and again. */
function textOrder(engine: Interpreter, left: string, right: string): number {
  if (left === right) return 0;
  const known = orders.get(left)?.get(right);
  if (known !== undefined) return known;
  if (orderCount >= MOST_TEXTS) {
    orders.clear();
    orderCount = 0;
  }
  const order = engine.arithmeticHelper.compare(left, right);
  const row = orders.get(left);
  if (row) row.set(right, order);
  else orders.set(left, new Map([[right, order]]));
  orderCount += 1;
  return order;
}
