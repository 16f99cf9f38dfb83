// Parts a filled column by what is known of each row before any case is answered: which branch of an IF it takes, and
// which of the cells it names depend on an input. A row that had no such step costs nothing when cases are answered.
import { varyingLookUps } from "./compile-declared";
import { dayOfText } from "./date-text";
import { below, type Node } from "./formula-tree";
import { namesIn, type Rows } from "./grid";
import { anyOwnVaries, type CompilePosition, isSumOfCells, namesVarying, noteNamed, ownVaries } from "./position";
import { load, type Operand, PLAIN_KINDS } from "./registers";
import { compare, HOLDS, isScalarError, type Scalar, toTruth } from "./scalar";

/** Some rows of a group, and what is left of their formula. */
export interface FormulaPiece {
  readonly node: Node;
  readonly rows: Rows;
}

/** A group is not parted into more pieces than this by its branches, nor a piece by what its cells depend on. */
const MOST_PIECES = 48;
const MOST_CLASSES = 8;

/** The pieces of a group, together all of its rows. */
export function splitGroup(position: CompilePosition, node: Node): readonly FormulaPiece[] {
  const waiting: FormulaPiece[] = [{ node, rows: position.rows }];
  const done: FormulaPiece[] = [];
  for (let piece = waiting.pop(); piece; piece = waiting.pop()) {
    const parts = waiting.length + done.length < MOST_PIECES ? takeBranch(position, piece) : undefined;
    if (parts) waiting.push(...parts);
    else done.push(piece);
  }
  return done.flatMap((piece) => splitByDependence(position, piece));
}

/** Settles the outermost branch that is known for some rows; nothing where there is none. */
function takeBranch(position: CompilePosition, piece: FormulaPiece): readonly FormulaPiece[] | undefined {
  const { grid } = position.emitter;
  const found = findBranch(position, piece.node, piece.rows);
  if (!found) return undefined;
  const { branch, known } = found;
  if (known.length < piece.rows.indices.length) {
    const isKnown = new Set(known);
    const rest = piece.rows.indices.filter((row) => !isKnown.has(row));
    return [known, rest].map((indices) => ({ node: piece.node, rows: grid.rows(indices) }));
  }
  const at = { ...position, rows: piece.rows };
  for (const one of branch.decides) noteNamed(at, one);
  const taken = branch.take(at);
  return [...groupBy(piece.rows.indices, (_, row) => taken[row])].map(([chosen, indices]) => ({
    node: replaced(piece.node, branch.node, { kind: "unary", sign: "()", of: chosen ?? { kind: "empty" } }),
    rows: grid.rows(indices),
  }));
}

interface Branch {
  readonly node: Node;
  /** What decides it. */
  readonly decides: readonly Node[];
  /** The rows in which it is known what stands for the node. */
  readonly knownIn: (rows: Int32Array) => Int32Array;
  /** What stands for it in every row of a position. */
  readonly take: (position: CompilePosition) => readonly Node[];
}

interface Found {
  readonly branch: Branch;
  readonly known: Int32Array;
}

function findBranch(position: CompilePosition, node: Node, rows: Rows): Found | undefined {
  const branch = branchAt(position, node);
  const known = branch?.knownIn(rows.indices);
  if (branch && known && known.length > 0) return { branch, known };
  for (const one of below(node)) {
    const found = findBranch(position, one, rows);
    if (found) return found;
  }
  return undefined;
}

function branchAt(position: CompilePosition, node: Node): Branch | undefined {
  if (node.kind === "binary") return position.emitter.assumes ? comparedWithText(position, node) : undefined;
  if (node.kind !== "call") return undefined;
  const [first, second, third] = node.args;
  if (first === undefined || second === undefined || node.args.some((arg) => arg.kind === "range")) return undefined;
  if (node.name === "IF" && node.args.length <= 3)
    return decidedBy(position, node, [first], ([condition = null]) => chosenByIf(first, condition, second, third));
  if (node.name === "IFERROR" && node.args.length === 2)
    return decidedBy(position, node, [first], ([value = null]) => (isScalarError(value) ? second : first));
  if (node.name === "SWITCH" && third !== undefined) return switchAt(position, node, node.args);
  return undefined;
}

/** A branch that is chosen by parts which no input changes. */
function decidedBy(
  position: CompilePosition,
  node: Node,
  decides: readonly Node[],
  choose: (values: readonly Scalar[]) => Node,
): Branch | undefined {
  if (decides.some((one) => namesVarying(position, one))) return undefined;
  return {
    node,
    decides,
    knownIn: (rows) => {
      const mayVary = decides.filter((one) => anyOwnVaries(position, one));
      return mayVary.length === 0 ? rows : rows.filter((row) => !mayVary.some((one) => ownVaries(position, one, row)));
    },
    take: (at) => {
      const decided = decides.map((one) => at.compile(at, one));
      return chosenIn(at, decided, choose);
    },
  };
}

/** What is chosen in every row: once for all rows in which the parts that decide are the same truths, texts or blanks. */
function chosenIn(
  { emitter: { pool }, rows }: CompilePosition,
  decided: readonly Operand[],
  choose: (values: readonly Scalar[]) => Node,
): readonly Node[] {
  const known = new Map<number, Node>();
  const base = decided.length === 1 ? pool.kinds : PLAIN_KINDS;
  const isNamed = base ** decided.length < Number.MAX_SAFE_INTEGER;
  const chosenAt = (row: number) =>
    choose(decided.map(({ register, start, step }) => load(pool, register, start + row * step)));
  return Array.from(rows.indices, (_, row) => {
    const name = isNamed ? nameOf(decided, row, base) : -1;
    const node = known.get(name) ?? chosenAt(row);
    if (name >= 0) known.set(name, node);
    return node;
  });
}

/** A number for the kinds that decide in a row; −1 where there is a number among them, or a kind that is too large. */
function nameOf(decided: readonly Operand[], row: number, base: number): number {
  let name = 0;
  for (const { register, start, step } of decided) {
    const kind = register.kinds[start + row * step] as number;
    if (kind >= base || !Number.isNaN(register.values[start + row * step] as number)) return -1;
    name = name * base + kind;
  }
  return name;
}

/** A cell compared with a text. While the cell is a number, as it is today, it comes before any text. */
function comparedWithText(position: CompilePosition, node: Extract<Node, { kind: "binary" }>): Branch | undefined {
  const holds = HOLDS[node.sign];
  const [left, right] = [withoutBrackets(node.left), withoutBrackets(node.right)];
  const [cell, text, order] = right.kind === "text" ? [left, right, -1] : [right, left, 1];
  if (!holds || text.kind !== "text" || dayOfText(text.value) !== undefined) return undefined;
  if (cell.kind !== "own" && cell.kind !== "cell") return undefined;
  const { grid } = position.emitter;
  const column =
    cell.kind === "own" ? grid.column(position.group.sheet, cell.column) : grid.column(cell.sheet, cell.column);
  const rowOf = (row: number) => (cell.kind === "own" ? row : cell.row);
  const answer: Node = { kind: "call", name: holds(order) ? "TRUE" : "FALSE", args: [] };
  return {
    node,
    decides: [cell],
    knownIn: (rows) =>
      rows.filter((row) => {
        const at = rowOf(row);
        return (column.partOf[at] ?? -1) >= 0 && typeof grid.valueAt(column, at) === "number";
      }),
    take: (at) => {
      at.emitter.assumeNumbers(column, [...new Set(Array.from(at.rows.indices, rowOf))]);
      return Array.from(at.rows.indices, () => answer);
    },
  };
}

function withoutBrackets(node: Node): Node {
  return node.kind === "unary" && node.sign === "()" ? withoutBrackets(node.of) : node;
}

function chosenByIf(condition: Node, value: Scalar, whenTrue: Node, whenFalse: Node | undefined): Node {
  const truth = toTruth(value);
  if (isScalarError(truth)) return condition;
  if (truth === undefined) return errorOfType;
  return truth ? whenTrue : (whenFalse ?? { kind: "call", name: "FALSE", args: [] });
}

const errorOfType: Node = { kind: "error", type: "VALUE", message: "Wrong type of argument." };
const noDefault: Node = { kind: "error", type: "NA", message: "No default option." };

function switchAt(position: CompilePosition, node: Node, [selector, ...rest]: readonly Node[]): Branch | undefined {
  const candidates = rest.filter((_, at) => at % 2 === 0 && at + 1 < rest.length);
  const otherwise = rest.length % 2 === 1 ? rest.at(-1) : undefined;
  const decides = selector ? [selector, ...candidates] : candidates;
  return decidedBy(position, node, decides, ([selected = null, ...values]) => {
    if (isScalarError(selected)) return selector ?? noDefault;
    const at = values.findIndex((value) => !isScalarError(value) && compare(selected, value) === 0);
    return (at < 0 ? otherwise : rest[2 * at + 1]) ?? noDefault;
  });
}

function replaced(node: Node, old: Node, now: Node): Node {
  if (node === old) return now;
  switch (node.kind) {
    case "call":
      return { ...node, args: node.args.map((arg) => replaced(arg, old, now)) };
    case "binary":
      return { ...node, left: replaced(node.left, old, now), right: replaced(node.right, old, now) };
    case "unary":
      return { ...node, of: replaced(node.of, old, now) };
    default:
      return node;
  }
}

/** Parts rows by which of the cells they name depend on an input, and on which part of their column. */
function splitByDependence(position: CompilePosition, piece: FormulaPiece): readonly FormulaPiece[] {
  return splitByLookUps(position, piece).flatMap((one) => splitByCells(position, one));
}

/** Rows that look up something which no input changes are kept apart from those that look up what one does. */
function splitByLookUps(position: CompilePosition, { node, rows }: FormulaPiece): readonly FormulaPiece[] {
  if (rows.indices.length === 1) return [{ node, rows }];
  const lookUps = varyingLookUps({ ...position, rows }, node).filter((varies) => new Set(varies).size > 1);
  if (lookUps.length === 0) return [{ node, rows }];
  const classes = groupBy(rows.indices, (_, at) => lookUps.map((varies) => varies[at]).join(" "));
  return [...classes.values()].map((indices) => ({ node, rows: position.emitter.grid.rows(indices) }));
}

function splitByCells(position: CompilePosition, { node, rows }: FormulaPiece): readonly FormulaPiece[] {
  const { grid } = position.emitter;
  const columns = namesIn(node).own.map((column) => grid.column(position.group.sheet, column).partOf);
  const mixed = columns.filter((partOf) => rows.indices.some((row) => partOf[row] !== partOf[rows.indices[0] ?? 0]));
  if (mixed.length === 0) return [{ node, rows }];
  let classes = groupBy(rows.indices, (row) => mixed.map((partOf) => partOf[row]).join(" "));
  if (classes.size > MOST_CLASSES || isSumOfCells(withoutBrackets(node))) {
    const isFixed = namesVarying(position, node);
    classes = groupBy(rows.indices, (row) => String(isFixed || ownVaries(position, node, row)));
  }
  return [...classes.values()].map((indices) => ({ node, rows: grid.rows(indices) }));
}

function groupBy<Name>(rows: Int32Array, nameOf: (row: number, at: number) => Name): Map<Name, Int32Array> {
  const lists = new Map<Name, number[]>();
  let [last, lastName]: [number[] | undefined, Name | undefined] = [undefined, undefined];
  for (let at = 0; at < rows.length; at += 1) {
    const row = rows[at] as number;
    const name = nameOf(row, at);
    // Neighbours are often alike.
    if (last === undefined || name !== lastName) {
      last = lists.get(name) ?? [];
      lists.set(name, last);
      lastName = name;
    }
    last.push(row);
  }
  return new Map([...lists].map(([name, list]) => [name, Int32Array.from(list)]));
}
