// What the chains of functions are made of.
import { CellError } from "hyperformula";
import type { Ast, DependencyGraph, Interpreter, State } from "./library";

/** Evaluates one node of a formula. */
export type CompiledNode = (engine: Interpreter, state: State) => unknown;

/** A declared function for arguments that the engine need not change. */
export interface PlainCall {
  /** Whether each argument is a range, those the function reads by itself first. */
  readonly ranges: readonly boolean[];
  /** How many must be given. */
  readonly needed: number;
  /** Whether it only asks where its ranges lie, and reads their cells by itself. */
  readonly asksOnlyWhere: boolean;
  run(graph: DependencyGraph, given: readonly unknown[]): unknown;
}

/** What is needed to make a chain. */
export interface CompileContext {
  chainOf(ast: Ast): CompiledNode;
  /** The engine's own way. */
  asBefore(ast: Ast): CompiledNode;
  /** What the engine does to every value before it is passed on. */
  finish(engine: Interpreter, value: unknown, state: State): unknown;
  readonly declared: ReadonlyMap<string, PlainCall>;
}

/** A number, text, truth or blank (the engine's blank is a symbol): no error, no range, no number of a special kind. */
export function isPlain(value: unknown): boolean {
  return typeof value !== "object";
}

/** What the engine takes a plain value for where a truth is wanted; nothing for other texts and objects. */
export function truthOf(value: unknown): boolean | undefined {
  if (typeof value === "boolean") return value;
  if (typeof value === "number") return value !== 0;
  return typeof value === "symbol" || value === "" ? false : undefined;
}

export function isError(value: unknown): value is CellError {
  return value instanceof CellError;
}
