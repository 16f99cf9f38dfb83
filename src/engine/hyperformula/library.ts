// What of the library's inside the patches replace and use. None of it is public: it holds for one version, which is
// pinned in package.json, and `patches.ts` looks for every member of it before anything is replaced.
import { type CellError, HyperFormula } from "hyperformula";

/** The version whose inside this folder knows. */
export const KNOWN_VERSION = "3.5.0";

/** A cell, a range or an array in the graph. */
export interface EngineNode {
  readonly idInGraph?: number;
}

export interface Sorted {
  readonly sorted: readonly EngineNode[];
  readonly cycled: readonly EngineNode[];
}

/** Who depends on whom; nodes go by their number. */
export interface Graph {
  readonly edgesSparseArray: (number | undefined)[][];
  readonly nodesSparseArray: (EngineNode | undefined)[];
  getNodeIdIfNotNumber(node: EngineNode | number): number | undefined;
  addEdge(from: EngineNode | number, to: EngineNode | number): void;
  removeEdge(from: EngineNode | number, to: EngineNode | number): void;
  removeEdgeIfExists(from: EngineNode | number, to: EngineNode | number): void;
  adjacentNodesCount(node: EngineNode): number;
  topSortWithScc(): Sorted;
  getTopSortedWithSccSubgraphFrom(
    changed: readonly EngineNode[],
    recompute: (node: EngineNode) => boolean,
    onCycle: (node: EngineNode) => void,
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

/** The cells of all sheets. */
interface CellTable {
  getCellValue(address: Address): unknown;
}

/** A range in the graph. What is kept with it is forgotten when one of its cells changes. */
export interface RangeNode extends EngineNode {
  getFunctionValue(name: string): unknown;
  setFunctionValue(name: string, value: unknown): void;
  getCriterionFunctionValues(key: string): Map<string, unknown>;
  setCriterionFunctionValues(key: string, values: Map<string, unknown>): void;
  /** What the other range keeps is forgotten with what this one keeps. */
  addDependentCacheRange(range: RangeNode): void;
}

export interface DependencyGraph {
  readonly graph: Graph;
  getRange(start: unknown, end: unknown): RangeNode | undefined;
  getScalarValue(address: Address): unknown;
  readonly addressMapping: CellTable;
  processCellDependencies(dependencies: readonly Dependency[], user: EngineNode): void;
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
export interface EngineChange {
  readonly address: Address;
  readonly value: unknown;
}

/** Values that moved. */
export interface Changes {
  changes: {
    readonly size: number;
    values(): Iterable<EngineChange>;
    forEach(each: (change: EngineChange) => void): void;
  };
  add(address: Address, change: EngineChange): void;
  addAll(others: Changes): Changes;
}

/** The objects whose members are replaced or used. */
export interface Parts {
  readonly graph: Graph;
  readonly dependencyGraph: DependencyGraph;
  readonly cells: CellTable;
  readonly range: RangeNode;
  readonly interpreter: Interpreter;
  readonly parser: Parser;
  readonly changes: Changes;
  readonly patterns: Interpreter["arithmeticHelper"];
  readonly evaluator: Evaluator;
  readonly arraySizes: ArraySizes;
  readonly exporter: Exporter;
}

/** Limits for a function's argument. */
export type ArgumentLimits = Readonly<Record<string, number>>;

/** The library as patches see it; a test may pass one in which something is missing. */
export interface Library {
  readonly version: string;
  readonly parts: Parts;
  hasFunction(name: string): boolean;
  /** How many arguments a function declares; as many as one likes where it is left out of this engine. */
  argumentCount(name: string): number;
  /** No engine built from now on has the function. */
  removeFunction(name: string): void;
  /** Adds limits to what a function takes, by the argument's index. */
  limitFunction(name: string, limits: readonly ArgumentLimits[]): void;
}

interface Engine {
  readonly graph: Graph;
  readonly dependencyGraph: DependencyGraph & { readonly changes: Changes };
  readonly evaluator: Evaluator;
  readonly _parser: Parser;
  readonly _exporter: Exporter;
}

const PROBE_RANGE = [
  { sheet: 0, col: 0, row: 1 },
  { sheet: 0, col: 0, row: 2 },
] as const;

/** The installed library. Its parts are those of a small engine that nobody calculates with. */
export function installedLibrary(): Library {
  const engine = HyperFormula.buildFromArray([["=SUM(A2:A3)"], [1], [2]], { licenseKey: "gpl-v3" });
  return {
    version: HyperFormula.version,
    parts: partsOf(engine as unknown as Engine),
    // By its name: an engine of the common functions has the names of all.
    hasFunction: isNamed,
    argumentCount: (name) => parametersOf(name)?.length ?? (isNamed(name) ? Number.POSITIVE_INFINITY : 0),
    removeFunction: (name) => HyperFormula.unregisterFunction(name),
    limitFunction(name, limits) {
      for (const [at, limit] of limits.entries()) Object.assign(parametersOf(name)?.[at] ?? {}, limit);
    },
  };
}

function partsOf({ graph, dependencyGraph, evaluator, _parser, _exporter }: Engine): Parts {
  const [start, end] = PROBE_RANGE;
  const range = dependencyGraph?.getRange(start, end);
  if (!range) throw new Error(`hyperformula ${HyperFormula.version} keeps no range where one is named: see library.ts`);
  const { interpreter } = evaluator;
  return {
    graph,
    dependencyGraph,
    range,
    interpreter,
    evaluator,
    cells: dependencyGraph.addressMapping,
    parser: _parser,
    changes: dependencyGraph.changes,
    patterns: interpreter.arithmeticHelper,
    arraySizes: interpreter.arraySizePredictor,
    exporter: _exporter,
  };
}

const isNamed = (name: string) => HyperFormula.getLanguage("enGB").isFunctionTranslated(name);

function parametersOf(name: string) {
  return HyperFormula.getFunctionPlugin(name)?.implementedFunctions[name]?.parameters;
}
