// From formulas to instructions. Cells are taken in the order in which they depend on one another; what depends on no
// input is calculated at once, row by row, and decides which branches of the rest are ever taken.

import type { BinarySign } from "../../core/formula/tree";
import { functionNamed } from "../../engine/functions/index";
import { BUILT_INS, FOLDS, WRONG_COUNT, WRONG_TYPE } from "./built-in";
import { compileDeclared } from "./compile-declared";
import type { EmittedValue, Emitter } from "./emitter";
import { Unread } from "./formula-node";
import type { Node } from "./formula-tree";
import { type FormulaGroup, indexIn, type ModelColumn, type Rows, Unsupported } from "./grid";
import type { Addend, CallArgument } from "./instructions";
import { type CompilePosition, isSumOfCells, noteNamed } from "./position";
import { load, type Register } from "./registers";
import { isScalarError, scalarError } from "./scalar";
import { splitGroup } from "./split";

const SCALAR_EXPECTED = "Cell range not allowed.";

/** Compiles a group of cells: constants are kept, the rest becomes instructions. */
export function compileGroup(emitter: Emitter, group: FormulaGroup): void {
  if (group.node instanceof Unread) throw new Unsupported(group.node.message);
  if (group.node.kind === "range") throw new Unsupported("a whole column stands where one value is needed");
  const column = emitter.grid.column(group.sheet, group.column);
  const whole: CompilePosition = { emitter, group, rows: emitter.grid.rows(group.rows), compile };
  for (const { node, rows } of splitGroup(whole, group.node)) {
    const position = { ...whole, rows };
    noteNamed(position, node);
    const isBracketed = node.kind === "unary" && node.sign === "()";
    emitter.settle(column, rows, compile(position, isBracketed ? node.of : node), isBracketed || isCell(node));
  }
}

/** Compiles a formula of an input's cell; its value, with errors marked. */
export function compileInput(emitter: Emitter, group: FormulaGroup, node: Node | Unread): EmittedValue {
  if (node instanceof Unread) throw new Unsupported(node.message);
  const rows = emitter.grid.rows(group.rows);
  const position = { emitter, group, rows, compile };
  noteNamed(position, node);
  const value = compile(position, node);
  const out = { register: emitter.register(1, value.register.inputMask), start: 0, step: 0 };
  const cells = rows.indices.map((row) => emitter.grid.cellNumber(group.sheet, group.column, row));
  const isEnd = node.kind !== "unary" && !isCell(node);
  emitter.add(out.register, { kind: "sign", sign: "()", out, of: value, rows: 1 });
  emitter.add(out.register, { kind: "mark", register: out.register, cells, marksOverflow: !isEnd });
  return { ...out, isVarying: value.isVarying, isTemporary: false };
}

/** Whether a formula is nothing but a cell named outright. */
function isCell(node: Node): boolean {
  return node.kind === "own" || node.kind === "cell";
}

/** The value of a formula, or of a part of one, for every row. */
function compile(position: CompilePosition, node: Node): EmittedValue {
  const { emitter, group, rows } = position;
  switch (node.kind) {
    case "number":
    case "text":
      return emitter.literal(node.value);
    case "error":
      return emitter.literal(scalarError(node.type, node.message));
    case "empty":
      return emitter.literal(null);
    case "own":
      return emitter.own(emitter.grid.column(group.sheet, node.column), rows);
    case "cell":
      return emitter.cell(emitter.grid.column(node.sheet, node.column), node.row);
    case "range":
      return oneOf(position, node, SCALAR_EXPECTED);
    case "binary": {
      const [left, right] = sidesOf(position, node);
      return emitter.emit([left, right], rows.indices.length, (out, count) => ({
        kind: "combine",
        sign: node.sign,
        out,
        left,
        right,
        rows: count,
      }));
    }
    case "unary":
      return compileSign(position, node);
    case "call":
      return compileCall(position, node);
  }
}

const SUMS: readonly BinarySign[] = ["+", "-", "*", "/", "^"];

/** Both sides of a sign. Constants beside what varies are read as numbers now, not in every case anew. */
function sidesOf(
  position: CompilePosition,
  node: Extract<Node, { kind: "binary" }>,
): readonly [EmittedValue, EmittedValue] {
  const { emitter, rows } = position;
  const [left, right] = [compile(position, node.left), compile(position, node.right)];
  if (left.isVarying === right.isVarying || !SUMS.includes(node.sign)) return [left, right];
  const count = rows.indices.length;
  return [emitter.numbersOf(left, count), emitter.numbersOf(right, count)];
}

/** The cell of a column in the row of the formula, as the engine takes it where one value is needed. */
function oneOf(
  { emitter, group, rows }: CompilePosition,
  node: Extract<Node, { kind: "range" }>,
  otherwise: string,
): EmittedValue {
  if (node.sheet !== group.sheet) return emitter.literal(scalarError("VALUE", otherwise));
  return emitter.own(emitter.grid.column(node.sheet, node.column), rows);
}

function compileSign(position: CompilePosition, node: Extract<Node, { kind: "unary" }>): EmittedValue {
  const of = compile(position, node.of);
  // Brackets matter to an overflow only at the very end of a formula.
  if (node.sign === "()") return of;
  return position.emitter.emit([of], position.rows.indices.length, (out, count) => ({
    kind: "sign",
    sign: node.sign,
    out,
    of,
    rows: count,
  }));
}

type Call = Extract<Node, { kind: "call" }>;

function compileCall(position: CompilePosition, node: Call): EmittedValue {
  const declaration = functionNamed(node.name);
  if (declaration) return compileDeclared(position, node, declaration, compileGiven);
  const builtIn = BUILT_INS[node.name];
  if (!builtIn) throw new Unsupported(`${node.name} is not calculated here`);
  if (node.args.length < builtIn.least || node.args.length > builtIn.most)
    return position.emitter.literal(scalarError("NA", WRONG_COUNT));
  if (node.name === "IF") return compileChoice(position, node);
  if (FOLDS[node.name]) return compileFold(position, node);
  return compileGiven(position, node, () => builtIn.takesLists);
}

function compileChoice(position: CompilePosition, node: Call): EmittedValue {
  const { emitter } = position;
  const [first, second, third] = node.args;
  if (!first || !second) return emitter.literal(scalarError("NA", WRONG_COUNT));
  const rows = position.rows.indices.length;
  const condition = scalarArgument(position, first);
  const from = [
    condition,
    emitter.branch({ condition, when: true }, rows, () => scalarArgument(position, second)),
    third
      ? emitter.branch({ condition, when: false }, rows, () => scalarArgument(position, third))
      : emitter.literal(false),
  ] as const;
  return emitter.emit(from, rows, (out, count) => ({ kind: "choose", out, from, rows: count }));
}

function scalarArgument(position: CompilePosition, node: Node): EmittedValue {
  return node.kind === "range" ? oneOf(position, node, WRONG_TYPE) : compile(position, node);
}

/** A call of a function that is carried out value by value. `takesList` says which arguments may be whole columns. */
function compileGiven(position: CompilePosition, node: Call, takesList: (at: number) => boolean): EmittedValue {
  const { emitter, rows } = position;
  const values: EmittedValue[] = [];
  const lists: Register[] = [];
  const args = node.args.map((arg, at): CallArgument => {
    if (arg.kind === "range" && takesList(at)) {
      const list = emitter.list(emitter.grid.column(arg.sheet, arg.column));
      lists.push(list);
      return { kind: "list", list };
    }
    const value = scalarArgument(position, arg);
    values.push(value);
    return { kind: "value", value, isCell: isCell(arg) };
  });
  return emitter.emitWith(lists, values, rows.indices.length, (out, count) => ({
    kind: "call",
    name: node.name,
    out,
    args,
    rows: count,
  }));
}

/** SUM and its like: one argument after the other is joined to what there is. */
function compileFold(position: CompilePosition, node: Call): EmittedValue {
  const { emitter, rows } = position;
  if (isSumOfCells(node)) return compileSumOfCells(position, node);
  let soFar: EmittedValue | undefined;
  for (const [at, arg] of node.args.entries()) {
    const isLast = at === node.args.length - 1;
    const isList = arg.kind === "range";
    const next = isList
      ? foldColumn(emitter, node.name, emitter.grid.column(arg.sheet, arg.column))
      : compile(position, arg);
    const before: EmittedValue | undefined = soFar;
    soFar = emitter.emit(before ? [before, next] : [next], rows.indices.length, (out, count) => ({
      kind: "fold",
      fold: node.name,
      out,
      soFar: before,
      next,
      nature: isList ? "list" : isCell(arg) ? "cell" : "value",
      isLast,
      rows: count,
    }));
  }
  return soFar ?? emitter.literal(scalarError("NA", WRONG_COUNT));
}

/** Sums over the cells of a row, of each column by itself: only cells that vary or are numbers count. */
function compileSumOfCells(position: CompilePosition, node: Call): EmittedValue {
  const { emitter, group, rows } = position;
  const addends = node.args.flatMap((arg) =>
    arg.kind === "own" ? addendsOf(emitter, emitter.grid.column(group.sheet, arg.column), rows) : [],
  );
  const lists = addends.map(({ from }) => from);
  return emitter.emitRows(lists, [], rows.indices.length, (out, count) => ({
    kind: "sum cells",
    out,
    addends,
    rows: count,
  }));
}

/** The cells of a column that may count in a sum, by the parts they belong to. */
function addendsOf({ pool }: Emitter, column: ModelColumn, { indices }: Rows): readonly Addend[] {
  const lists = new Map<Register, { readonly indices: number[]; readonly rows: number[] }>();
  for (const [at, row] of indices.entries()) {
    const part = column.parts[column.partOf[row] ?? -1];
    const constant = part ? 0 : load(pool, column.constants, row);
    if (typeof constant !== "number" && !isScalarError(constant)) continue;
    const from = part ? part.register : column.constants;
    const list = lists.get(from) ?? { indices: [], rows: [] };
    lists.set(from, list);
    list.indices.push(part ? indexIn(part.rows, row) : row);
    list.rows.push(at);
  }
  return [...lists].map(([from, list]) => ({
    from,
    indices: Int32Array.from(list.indices),
    rows: Int32Array.from(list.rows),
    isInOrder: list.indices.every((one, at) => one === (list.indices[0] ?? 0) + at),
  }));
}

/** How many numbers a column holds as long as what varies in it stays a number; nothing where some of it is none today. */
function countNow(emitter: Emitter, column: ModelColumn): number | undefined {
  const { grid, pool } = emitter;
  const rows = Array.from(column.partOf.keys());
  const varying = rows.filter((row) => (column.partOf[row] ?? -1) >= 0);
  if (varying.length === 0 || !varying.every((row) => typeof grid.valueAt(column, row) === "number")) return undefined;
  emitter.assumeNumbers(column, varying);
  return rows.filter((row) => {
    const isVarying = (column.partOf[row] ?? -1) >= 0;
    return isVarying || typeof load(pool, column.constants, row) === "number";
  }).length;
}

function foldColumn(emitter: Emitter, name: string, column: ModelColumn): EmittedValue {
  return emitter.shared(`${name} ${column.sheet} ${column.column}`, () => {
    const counted = name === "COUNT" && emitter.assumes ? countNow(emitter, column) : undefined;
    return counted === undefined ? foldedColumn(emitter, name, column) : emitter.literal(counted);
  });
}

function foldedColumn(emitter: Emitter, name: string, column: ModelColumn): EmittedValue {
  const fold = FOLDS[name];
  const isNeutral = (one: Parameters<NonNullable<typeof fold>["read"]>[0]) => {
    const read = fold?.read(one);
    return read === undefined || (read === 0 && fold?.from === 0);
  };
  const part = emitter.onlyPart(column, isNeutral);
  const list = part ? part.register : emitter.list(column);
  const counting = Int32Array.from(column.partOf.keys()).filter(
    (row) => (column.partOf[row] ?? -1) >= 0 || !isNeutral(load(emitter.pool, column.constants, row)),
  );
  const rows = part || counting.length === column.height ? undefined : counting;
  return {
    ...emitter.emitWith([list], [], 1, (out) => ({ kind: "fold list", fold: name, out, list, rows })),
    isTemporary: false,
  };
}
