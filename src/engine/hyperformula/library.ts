// What is patched in the engine, and what of its inside the patches use: internal API of hyperformula 3.5.0 (pinned).
import { type CellError, HyperFormula } from "hyperformula";

/** A cell, a range or an array in the graph. */
export interface Node {
  readonly idInGraph?: number;
}

export interface Sorted {
  readonly sorted: readonly Node[];
  readonly cycled: readonly Node[];
}

/** Who depends on whom; nodes go by their number. */
export interface Graph {
  readonly edgesSparseArray: (number | undefined)[][];
  readonly nodesSparseArray: (Node | undefined)[];
  getNodeIdIfNotNumber(node: Node | number): number | undefined;
  addEdge(from: Node | number, to: Node | number): void;
  removeEdge(from: Node | number, to: Node | number): void;
  removeEdgeIfExists(from: Node | number, to: Node | number): void;
  topSortWithScc(): Sorted;
  getTopSortedWithSccSubgraphFrom(
    changed: readonly Node[],
    recompute: (node: Node) => boolean,
    onCycle: (node: Node) => void,
  ): Sorted;
}

/** What a formula reads: a cell, or a range with its ends. */
export interface Dependency {
  readonly start?: unknown;
  readonly end?: unknown;
  isFinite?(): boolean;
}

interface Address {
  readonly sheet: number;
  readonly col: number;
  readonly row: number;
}

export interface DependencyGraph {
  readonly graph: Graph;
  getRange(start: unknown, end: unknown): Node | undefined;
  readonly addressMapping: { getCellValue(address: Address): unknown };
  processCellDependencies(dependencies: readonly Dependency[], user: Node): void;
}

/** A cell as a formula names it; numbers count from the formula's own cell where the type is not absolute. */
interface Reference {
  readonly type: string;
  readonly sheet?: number;
  readonly col: number;
  readonly row: number;
  toSimpleCellAddress(from: Address): Address;
}

/** A formula as a tree; which of the parts are there depends on the type. */
export interface Ast {
  readonly type: string;
  /** A constant; of a sign before a term, the term. */
  readonly value?: unknown;
  readonly reference?: Reference;
  readonly left?: Ast;
  readonly right?: Ast;
  readonly expression?: Ast;
  /** Of a range. */
  readonly start?: Reference;
  readonly end?: Reference;
  readonly procedureName?: string;
  readonly args?: readonly Ast[];
}

/** Where a formula stands while it is evaluated. */
export interface State {
  readonly formulaAddress: Address;
  readonly formulaVertex?: ConstructorParameters<typeof CellError>[2];
  readonly arraysFlag: boolean;
}

/** An operator on two values that are no ranges. */
export type Operator = (left: unknown, right: unknown) => unknown;

/** What a pattern with * and ? is matched with. */
export interface Matcher {
  test(text: string): boolean;
  exec(text: string): { readonly index: number } | null;
}

export interface PatternMaker {
  buildRegex(pattern: string, isWhole?: boolean): Matcher;
  normalizeString(text: string): string;
}

export interface Interpreter {
  readonly dependencyGraph: DependencyGraph;
  readonly arithmeticHelper: PatternMaker & {
    compare(left: unknown, right: unknown): number;
  };
  readonly plusOp: Operator;
  readonly minusOp: Operator;
  readonly timesOp: Operator;
  readonly divOp: Operator;
  readonly powerOp: Operator;
  readonly concatOp: Operator;
  readonly equalOp: Operator;
  readonly notEqualOp: Operator;
  readonly lessThanOp: Operator;
  readonly lessThanOrEqualOp: Operator;
  readonly greaterThanOp: Operator;
  readonly greaterThanOrEqualOp: Operator;
  readonly unaryMinusOp: (value: unknown) => unknown;
  unaryRangeWrapper(operator: (value: unknown) => unknown, value: unknown, state: State): unknown;
  evaluateAst(ast: Ast, state: State): unknown;
  evaluateAstWithoutPostprocessing(ast: Ast, state: State): unknown;
  binaryRangeWrapper(operator: Operator, left: unknown, right: unknown, state: State): unknown;
}

/** A formula that was read. */
export interface Parsed {
  readonly ast: Ast;
  readonly errors: readonly unknown[];
}

export interface Parser {
  parse(text: string, at: Address): Parsed;
}

/** How many cells a formula's result takes. */
export interface ArraySizes {
  checkArraySize(ast: Ast, at: Address): unknown;
}

/** Evaluates the formulas of cells. */
export interface Evaluator {
  readonly interpreter: Interpreter & { readonly arraySizePredictor: ArraySizes };
  evaluateAstToCellValue(ast: Ast, state: State): unknown;
}

/** Makes public values of those inside. */
export interface Exporter {
  cellValueRounding(value: number): number;
  exportValue(value: unknown): unknown;
}

/** A cell's new value. */
export interface Change {
  readonly address: Address;
  readonly value: unknown;
}

/** Values that moved. */
export interface Changes {
  changes: { readonly size: number; values(): Iterable<Change>; forEach(each: (change: Change) => void): void };
  add(address: Address, change: Change): void;
  addAll(others: Changes): Changes;
}

interface Engine {
  readonly graph: Graph;
  readonly dependencyGraph: DependencyGraph & { readonly changes: Changes };
  readonly evaluator: Evaluator;
  readonly _parser: Parser;
  readonly _exporter: Exporter;
}

export interface Prototypes {
  readonly graph: Graph;
  readonly dependencyGraph: DependencyGraph;
  readonly interpreter: Interpreter;
  readonly parser: Parser;
  readonly changes: Changes;
  readonly patterns: PatternMaker;
  readonly evaluator: Evaluator;
  readonly arraySizes: ArraySizes;
  readonly exporter: Exporter;
}

/** The prototypes that are patched, reached through an engine that is otherwise of no use. */
export function enginePrototypes(): Prototypes {
  const probe = HyperFormula.buildEmpty({ licenseKey: "gpl-v3" });
  const engine = probe as unknown as Engine;
  const prototypes: Prototypes = {
    graph: Object.getPrototypeOf(engine.graph),
    dependencyGraph: Object.getPrototypeOf(engine.dependencyGraph),
    interpreter: Object.getPrototypeOf(engine.evaluator.interpreter),
    parser: Object.getPrototypeOf(engine._parser),
    changes: Object.getPrototypeOf(engine.dependencyGraph.changes),
    patterns: Object.getPrototypeOf(engine.evaluator.interpreter.arithmeticHelper),
    evaluator: Object.getPrototypeOf(engine.evaluator),
    arraySizes: Object.getPrototypeOf(engine.evaluator.interpreter.arraySizePredictor),
    exporter: Object.getPrototypeOf(engine._exporter),
  };
  probe.destroy();
  return prototypes;
}
