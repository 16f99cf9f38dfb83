// The functions that stand in the cells of pieces, evaluated without the engine's general way of calling. Conditions
// evaluate only the branch they take: the engine evaluates all and throws the others away.
import { SimpleRangeValue } from "hyperformula";
import { plus } from "../closeness";
import { type CompileContext, type CompiledNode, isError, isPlain, type PlainCall, truthOf } from "./compiled-node";
import type { Ast } from "./library";
import { orderOf } from "./read-operator";

interface Call {
  readonly asts: readonly Ast[];
  readonly args: readonly CompiledNode[];
  readonly slow: CompiledNode;
  readonly context: CompileContext;
}

const KINDS: ReadonlyMap<string, (call: Call) => CompiledNode | undefined> = new Map([
  ["IF", readIf],
  ["OR", (call: Call) => readTruths(call, { decides: true })],
  ["AND", (call: Call) => readTruths(call, { decides: false })],
  ["SWITCH", readSwitch],
  ["SUM", (call: Call) => readSum(call, 0, plus)],
  ["MIN", (call: Call) => readSum(call, Number.POSITIVE_INFINITY, Math.min)],
  ["MAX", (call: Call) => readSum(call, Number.NEGATIVE_INFINITY, Math.max)],
]);

/** The chain of a function call; nothing for those left to the engine. */
export function readFunction(ast: Ast, context: CompileContext): CompiledNode | undefined {
  const { procedureName = "", args = [] } = ast;
  const call = { asts: args, args: args.map(context.chainOf), slow: context.asBefore(ast), context };
  const declared = context.declared.get(procedureName);
  return declared ? readDeclared(call, declared) : KINDS.get(procedureName)?.(call);
}

/** Whether a node can't give a range. */
function givesOne(ast: Ast, context: CompileContext): boolean {
  switch (ast.type) {
    case "NUMBER":
    case "STRING":
    case "CELL_REFERENCE":
      return true;
    case "PARENTHESES":
      return ast.expression !== undefined && givesOne(ast.expression, context);
    case "FUNCTION_CALL":
      return context.declared.has(ast.procedureName ?? "") || KINDS.has(ast.procedureName ?? "");
    default:
      return ast.type === "MINUS_UNARY_OP" || (ast.left !== undefined && ast.right !== undefined);
  }
}

function readIf({ asts, args, slow, context }: Call): CompiledNode | undefined {
  const [test, yes, no = () => false] = args;
  if (!test || !yes || args.length > 3 || !asts.every((one) => givesOne(one, context))) return undefined;
  return (engine, state) => {
    const tested = test(engine, state);
    const truth = truthOf(tested);
    if (truth === undefined) return isError(tested) ? context.finish(engine, tested, state) : slow(engine, state);
    const value = (truth ? yes : no)(engine, state);
    return isPlain(value) ? value : context.finish(engine, value, state);
  };
}

/** OR where one truth decides, AND where one untruth does; all are looked at, since an error comes before either. */
function readTruths(
  { asts, args, slow, context }: Call,
  { decides }: { readonly decides: boolean },
): CompiledNode | undefined {
  if (args.length === 0 || !asts.every((one) => givesOne(one, context))) return undefined;
  return (engine, state) => {
    let result = !decides;
    for (let at = 0; at < args.length; at += 1) {
      const value = args[at]?.(engine, state);
      const truth = truthOf(value);
      if (truth === undefined) return isError(value) ? context.finish(engine, value, state) : slow(engine, state);
      if (truth === decides) result = decides;
    }
    return result;
  };
}

function readSwitch({ asts, args, slow, context }: Call): CompiledNode | undefined {
  const [choice, ...ways] = args;
  if (!choice || ways.length < 2 || !asts.every((one) => givesOne(one, context))) return undefined;
  return (engine, state) => {
    const chosen = choice(engine, state);
    if (!isPlain(chosen)) return isError(chosen) ? context.finish(engine, chosen, state) : slow(engine, state);
    for (let at = 0; at + 1 < ways.length; at += 2) {
      const candidate = ways[at]?.(engine, state);
      if (isError(candidate)) continue;
      if (!isPlain(candidate)) return slow(engine, state);
      const order = orderOf(engine, chosen, candidate) ?? engine.arithmeticHelper.compare(chosen, candidate);
      if (order === 0) return finished(ways[at + 1]);
    }
    return ways.length % 2 === 1 ? finished(ways.at(-1)) : slow(engine, state);

    function finished(way: CompiledNode | undefined): unknown {
      const value = way?.(engine, state);
      return isPlain(value) ? value : context.finish(engine, value, state);
    }
  };
}

/** Sums and their like over single cells and numbers; whole columns are kept by the engine. */
function readSum(
  { asts, args, slow, context }: Call,
  start: number,
  together: (sofar: number, value: number) => number,
): CompiledNode | undefined {
  if (args.length === 0 || !asts.every((one) => givesOne(one, context))) return undefined;
  const isCell = asts.map(({ type }) => type === "CELL_REFERENCE");
  return (engine, state) => {
    let sofar = start;
    for (let at = 0; at < args.length; at += 1) {
      const value = args[at]?.(engine, state);
      if (typeof value === "number") sofar = together(sofar, value);
      else if (isError(value)) return context.finish(engine, value, state);
      // Texts, truths and blanks in cells are passed over; anywhere else they are read as numbers.
      else if (!isCell[at] || !isPlain(value)) return slow(engine, state);
    }
    return Number.isFinite(sofar) ? sofar + 0 : slow(engine, state);
  };
}

/** A range of fixed cells is the same range every time; what it holds is not kept. */
function readRange(ast: Ast, chain: CompiledNode): CompiledNode {
  const isFixed = [ast.start, ast.end].every(
    (end) => end?.type === "CELL_REFERENCE_ABSOLUTE" && end.sheet !== undefined,
  );
  if (ast.type !== "CELL_RANGE" || !isFixed) return chain;
  let kept: unknown;
  return (engine, state) => {
    if (kept !== undefined) return kept;
    const range = chain(engine, state);
    if (range instanceof SimpleRangeValue && range.range !== undefined) kept = range;
    return range;
  };
}

function readDeclared({ asts, args: chains, slow, context }: Call, declared: PlainCall): CompiledNode | undefined {
  const { ranges, needed, asksOnlyWhere } = declared;
  const args = chains.map((chain, at) => {
    const ast = asts[at];
    return ast && asksOnlyWhere && ranges[at] ? readRange(ast, chain) : chain;
  });
  if (args.length < needed || args.length > ranges.length) return undefined;
  return (engine, state) => {
    const given: unknown[] = new Array(ranges.length).fill(undefined);
    for (let at = 0; at < args.length; at += 1) {
      const value = args[at]?.(engine, state);
      if (isError(value)) return context.finish(engine, value, state);
      if (ranges[at] ? !(value instanceof SimpleRangeValue) : !isPlain(value)) return slow(engine, state);
      given[at] = value;
    }
    const result = declared.run(engine.dependencyGraph, given);
    if (typeof result === "number" && Number.isFinite(result)) return result + 0;
    return typeof result === "string" ? result : context.finish(engine, result, state);
  };
}
