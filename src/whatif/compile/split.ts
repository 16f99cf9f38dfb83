// Parts a filled column by what is known of each row before any case is answered: which branch of an IF it takes, and
// which of the cells it names depend on an input. A row that had no such step costs nothing when cases are answered.
import { looksThatVary } from "./compile-declared";
import { dayOfText } from "./date-text";
import { below, type Node } from "./formula-tree";
import { namesIn, type Rows } from "./grid";
import { anyOwnVaries, type CompilePosition, isSumOfCells, namesVarying, noteNamed, ownVaries } from "./place";
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
export function splitGroup(place: CompilePosition, node: Node): readonly FormulaPiece[] {
  const waiting: FormulaPiece[] = [{ node, rows: place.rows }];
  const done: FormulaPiece[] = [];
  for (let piece = waiting.pop(); piece; piece = waiting.pop()) {
    const parts = waiting.length + done.length < MOST_PIECES ? takeBranch(place, piece) : undefined;
    if (parts) waiting.push(...parts);
    else done.push(piece);
  }
  return done.flatMap((piece) => splitByDependence(place, piece));
}

/** Settles the outermost branch that is known for some rows; nothing where there is none. */
function takeBranch(place: CompilePosition, piece: FormulaPiece): readonly FormulaPiece[] | undefined {
  const { grid } = place.emitter;
  const found = findBranch(place, piece.node, piece.rows);
  if (!found) return undefined;
  const { branch, known } = found;
  if (known.length < piece.rows.places.length) {
    const isKnown = new Set(known);
    const rest = piece.rows.places.filter((row) => !isKnown.has(row));
    return [known, rest].map((places) => ({ node: piece.node, rows: grid.rows(places) }));
  }
  const at = { ...place, rows: piece.rows };
  for (const one of branch.decides) noteNamed(at, one);
  const taken = branch.take(at);
  return [...groupBy(piece.rows.places, (_, row) => taken[row])].map(([chosen, places]) => ({
    node: replaced(piece.node, branch.node, { is: "unary", sign: "()", of: chosen ?? { is: "empty" } }),
    rows: grid.rows(places),
  }));
}

interface Branch {
  readonly node: Node;
  /** What decides it. */
  readonly decides: readonly Node[];
  /** The rows in which it is known what stands for the node. */
  readonly knownIn: (rows: Int32Array) => Int32Array;
  /** What stands for it in every row of a place. */
  readonly take: (place: CompilePosition) => readonly Node[];
}

interface Found {
  readonly branch: Branch;
  readonly known: Int32Array;
}

function findBranch(place: CompilePosition, node: Node, rows: Rows): Found | undefined {
  const branch = branchAt(place, node);
  const known = branch?.knownIn(rows.places);
  if (branch && known && known.length > 0) return { branch, known };
  for (const one of below(node)) {
    const found = findBranch(place, one, rows);
    if (found) return found;
  }
  return undefined;
}

function branchAt(place: CompilePosition, node: Node): Branch | undefined {
  if (node.is === "binary") return place.emitter.assumes ? comparedWithText(place, node) : undefined;
  if (node.is !== "call") return undefined;
  const [first, second, third] = node.args;
  if (first === undefined || second === undefined || node.args.some((arg) => arg.is === "range")) return undefined;
  if (node.name === "IF" && node.args.length <= 3)
    return decidedBy(place, node, [first], ([condition = null]) => chosenByIf(first, condition, second, third));
  if (node.name === "IFERROR" && node.args.length === 2)
    return decidedBy(place, node, [first], ([value = null]) => (isScalarError(value) ? second : first));
  if (node.name === "SWITCH" && third !== undefined) return switchAt(place, node, node.args);
  return undefined;
}

/** A branch that is chosen by parts which no input changes. */
function decidedBy(
  place: CompilePosition,
  node: Node,
  decides: readonly Node[],
  choose: (values: readonly Scalar[]) => Node,
): Branch | undefined {
  if (decides.some((one) => namesVarying(place, one))) return undefined;
  return {
    node,
    decides,
    knownIn: (rows) => {
      const mayVary = decides.filter((one) => anyOwnVaries(place, one));
      return mayVary.length === 0 ? rows : rows.filter((row) => !mayVary.some((one) => ownVaries(place, one, row)));
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
  return Array.from(rows.places, (_, row) => {
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
function comparedWithText(place: CompilePosition, node: Extract<Node, { is: "binary" }>): Branch | undefined {
  const holds = HOLDS[node.sign];
  const [left, right] = [withoutBrackets(node.left), withoutBrackets(node.right)];
  const [cell, text, order] = right.is === "text" ? [left, right, -1] : [right, left, 1];
  if (!holds || text.is !== "text" || dayOfText(text.value) !== undefined) return undefined;
  if (cell.is !== "own" && cell.is !== "cell") return undefined;
  const { grid } = place.emitter;
  const column = cell.is === "own" ? grid.column(place.group.sheet, cell.column) : grid.column(cell.sheet, cell.column);
  const placeIn = (row: number) => (cell.is === "own" ? row : cell.row);
  const answer: Node = { is: "call", name: holds(order) ? "TRUE" : "FALSE", args: [] };
  return {
    node,
    decides: [cell],
    knownIn: (rows) =>
      rows.filter((row) => {
        const at = placeIn(row);
        return (column.partOf[at] ?? -1) >= 0 && typeof grid.valueAt(column, at) === "number";
      }),
    take: (at) => {
      at.emitter.assumeNumbers(column, [...new Set(Array.from(at.rows.places, placeIn))]);
      return Array.from(at.rows.places, () => answer);
    },
  };
}

function withoutBrackets(node: Node): Node {
  return node.is === "unary" && node.sign === "()" ? withoutBrackets(node.of) : node;
}

function chosenByIf(condition: Node, value: Scalar, whenTrue: Node, whenFalse: Node | undefined): Node {
  const truth = toTruth(value);
  if (isScalarError(truth)) return condition;
  if (truth === undefined) return errorOfType;
  return truth ? whenTrue : (whenFalse ?? { is: "call", name: "FALSE", args: [] });
}

const errorOfType: Node = { is: "error", type: "VALUE", message: "Wrong type of argument." };
const noDefault: Node = { is: "error", type: "NA", message: "No default option." };

function switchAt(place: CompilePosition, node: Node, [selector, ...rest]: readonly Node[]): Branch | undefined {
  const candidates = rest.filter((_, at) => at % 2 === 0 && at + 1 < rest.length);
  const otherwise = rest.length % 2 === 1 ? rest.at(-1) : undefined;
  const decides = selector ? [selector, ...candidates] : candidates;
  return decidedBy(place, node, decides, ([selected = null, ...values]) => {
    if (isScalarError(selected)) return selector ?? noDefault;
    const at = values.findIndex((value) => !isScalarError(value) && compare(selected, value) === 0);
    return (at < 0 ? otherwise : rest[2 * at + 1]) ?? noDefault;
  });
}

function replaced(node: Node, old: Node, now: Node): Node {
  if (node === old) return now;
  switch (node.is) {
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
function splitByDependence(place: CompilePosition, piece: FormulaPiece): readonly FormulaPiece[] {
  return splitByLooks(place, piece).flatMap((one) => splitByCells(place, one));
}

/** Rows that look up something which no input changes are kept apart from those that look up what one does. */
function splitByLooks(place: CompilePosition, { node, rows }: FormulaPiece): readonly FormulaPiece[] {
  if (rows.places.length === 1) return [{ node, rows }];
  const looks = looksThatVary({ ...place, rows }, node).filter((varies) => new Set(varies).size > 1);
  if (looks.length === 0) return [{ node, rows }];
  const classes = groupBy(rows.places, (_, at) => looks.map((varies) => varies[at]).join(" "));
  return [...classes.values()].map((places) => ({ node, rows: place.emitter.grid.rows(places) }));
}

function splitByCells(place: CompilePosition, { node, rows }: FormulaPiece): readonly FormulaPiece[] {
  const { grid } = place.emitter;
  const columns = namesIn(node).own.map((column) => grid.column(place.group.sheet, column).partOf);
  const mixed = columns.filter((partOf) => rows.places.some((row) => partOf[row] !== partOf[rows.places[0] ?? 0]));
  if (mixed.length === 0) return [{ node, rows }];
  let classes = groupBy(rows.places, (row) => mixed.map((partOf) => partOf[row]).join(" "));
  if (classes.size > MOST_CLASSES || isSumOfCells(withoutBrackets(node))) {
    const isFixed = namesVarying(place, node);
    classes = groupBy(rows.places, (row) => String(isFixed || ownVaries(place, node, row)));
  }
  return [...classes.values()].map((places) => ({ node, rows: grid.rows(places) }));
}

function groupBy<Name>(places: Int32Array, nameOf: (place: number, at: number) => Name): Map<Name, Int32Array> {
  const lists = new Map<Name, number[]>();
  let [last, lastName]: [number[] | undefined, Name | undefined] = [undefined, undefined];
  for (let at = 0; at < places.length; at += 1) {
    const place = places[at] as number;
    const name = nameOf(place, at);
    // Neighbours are often alike.
    if (last === undefined || name !== lastName) {
      last = lists.get(name) ?? [];
      lists.set(name, last);
      lastName = name;
    }
    last.push(place);
  }
  return new Map([...lists].map(([name, list]) => [name, Int32Array.from(list)]));
}
