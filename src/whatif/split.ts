// Parts a filled column by what is known of each row before any case is answered: which branch of an IF it takes, and
// which of the cells it names depend on an input. A row that had no such step costs nothing when cases are answered.
import { below, type Node } from "./formula-tree";
import { namesIn, type Rows } from "./grid";
import { namesVarying, ownVaries, type Place } from "./place";
import { load } from "./registers";
import { compare, isFault, type Scalar, toTruth } from "./scalar";

/** Some rows of a group, and what is left of their formula. */
export interface Piece {
  readonly node: Node;
  readonly rows: Rows;
}

/** A group is not parted into more pieces than this by its branches, nor a piece by what its cells depend on. */
const MOST_PIECES = 48;
const MOST_CLASSES = 8;

/** The pieces of a group, together all of its rows. */
export function splitGroup(place: Place, node: Node): readonly Piece[] {
  const waiting: Piece[] = [{ node, rows: place.rows }];
  const done: Piece[] = [];
  for (let piece = waiting.pop(); piece; piece = waiting.pop()) {
    const parts = waiting.length + done.length < MOST_PIECES ? takeBranch(place, piece) : undefined;
    if (parts) waiting.push(...parts);
    else done.push(piece);
  }
  return done.flatMap((piece) => splitByDependence(place, piece));
}

/** Settles the outermost branch that is known for some rows; nothing where there is none. */
function takeBranch(place: Place, piece: Piece): readonly Piece[] | undefined {
  const branch = findBranch(place, piece.node, piece.rows);
  if (!branch) return undefined;
  const known = piece.rows.places.filter((row) => !branch.decides.some((node) => ownVaries(place, node, row)));
  if (known.length < piece.rows.places.length) {
    const rest = piece.rows.places.filter((row) => branch.decides.some((node) => ownVaries(place, node, row)));
    return [known, rest].map((places) => ({ node: piece.node, rows: place.emitter.grid.rows(places) }));
  }
  const taken = branchesTaken(place, piece.rows, branch);
  return [...groupBy(piece.rows.places, (_, at) => taken[at])].map(([chosen, places]) => ({
    node: replaced(piece.node, branch.node, { is: "unary", sign: "()", of: chosen ?? { is: "empty" } }),
    rows: place.emitter.grid.rows(places),
  }));
}

interface Branch {
  readonly node: Node;
  /** The parts on which it depends which branch is taken. */
  readonly decides: readonly Node[];
  readonly choose: (values: readonly Scalar[]) => Node;
}

function findBranch(place: Place, node: Node, rows: Rows): Branch | undefined {
  const branch = branchAt(node);
  if (branch && isKnownSomewhere(place, branch.decides, rows)) return branch;
  for (const one of below(node)) {
    const found = findBranch(place, one, rows);
    if (found) return found;
  }
  return undefined;
}

function isKnownSomewhere(place: Place, decides: readonly Node[], rows: Rows): boolean {
  if (decides.some((node) => namesVarying(place, node))) return false;
  return rows.places.some((row) => !decides.some((node) => ownVaries(place, node, row)));
}

function branchAt(node: Node): Branch | undefined {
  if (node.is !== "call") return undefined;
  const [first, second, third] = node.args;
  if (first === undefined || second === undefined || node.args.some((arg) => arg.is === "range")) return undefined;
  if (node.name === "IF" && node.args.length <= 3)
    return { node, decides: [first], choose: ([condition = null]) => chosenByIf(first, condition, second, third) };
  if (node.name === "IFERROR" && node.args.length === 2)
    return { node, decides: [first], choose: ([value = null]) => (isFault(value) ? second : first) };
  if (node.name === "SWITCH" && third !== undefined) return switchAt(node, node.args);
  return undefined;
}

function chosenByIf(condition: Node, value: Scalar, whenTrue: Node, whenFalse: Node | undefined): Node {
  const truth = toTruth(value);
  if (isFault(truth)) return condition;
  if (truth === undefined) return errorOfType;
  return truth ? whenTrue : (whenFalse ?? { is: "call", name: "FALSE", args: [] });
}

const errorOfType: Node = { is: "error", type: "VALUE", message: "Wrong type of argument." };
const noDefault: Node = { is: "error", type: "NA", message: "No default option." };

function switchAt(node: Node, [selector, ...rest]: readonly Node[]): Branch {
  const candidates = rest.filter((_, at) => at % 2 === 0 && at + 1 < rest.length);
  const otherwise = rest.length % 2 === 1 ? rest.at(-1) : undefined;
  const decides = selector ? [selector, ...candidates] : candidates;
  return {
    node,
    decides,
    choose: ([selected = null, ...values]) => {
      if (isFault(selected)) return selector ?? noDefault;
      const at = values.findIndex((value) => !isFault(value) && compare(selected, value) === 0);
      return (at < 0 ? otherwise : rest[2 * at + 1]) ?? noDefault;
    },
  };
}

/** The branch each row takes. */
function branchesTaken(place: Place, rows: Rows, branch: Branch): readonly Node[] {
  const at = { ...place, rows };
  const decided = branch.decides.map((node) => place.compile(at, node));
  const { pool } = place.emitter;
  return Array.from(rows.places, (_, row) =>
    branch.choose(decided.map(({ register, start, step }) => load(pool, register, start + row * step))),
  );
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
function splitByDependence(place: Place, { node, rows }: Piece): readonly Piece[] {
  const { grid } = place.emitter;
  const columns = namesIn(node).own.map((column) => grid.column(place.group.sheet, column).partOf);
  const mixed = columns.filter((partOf) => rows.places.some((row) => partOf[row] !== partOf[rows.places[0] ?? 0]));
  if (mixed.length === 0) return [{ node, rows }];
  let classes = groupBy(rows.places, (row) => mixed.map((partOf) => partOf[row]).join(" "));
  if (classes.size > MOST_CLASSES) {
    const isFixed = namesVarying(place, node);
    classes = groupBy(rows.places, (row) => String(isFixed || ownVaries(place, node, row)));
  }
  return [...classes.values()].map((places) => ({ node, rows: grid.rows(places) }));
}

function groupBy<Name>(places: Int32Array, nameOf: (place: number, at: number) => Name): Map<Name, Int32Array> {
  const lists = new Map<Name, number[]>();
  for (const [at, place] of places.entries()) {
    const name = nameOf(place, at);
    const list = lists.get(name);
    if (list) list.push(place);
    else lists.set(name, [place]);
  }
  return new Map([...lists].map(([name, list]) => [name, Int32Array.from(list)]));
}
