// The tree of a formula as pieces of text. Names and references are handed on as they are, for whoever writes them in a way of his own.
import { type Expression, type ExpressionOf, TIGHTNESS } from "./tree";

const UNARY = 6;
const PERCENT = 7;
const VALUE = 8;

/** Text, and what the text names, in the order in which they are written. */
export type PrintedPiece = string | ExpressionOf<"name" | "reference">;

/** How constants are written. */
export interface Notation {
  readonly text: (value: string) => string;
  readonly boolean: (value: boolean) => string;
}

/** The pieces of a formula; brackets stand where they were typed and where the tree needs them. */
export function printPieces(tree: Expression, notation: Notation): readonly PrintedPiece[] {
  const pieces: PrintedPiece[] = [];
  for (const piece of piecesOf(tree, 0, notation)) {
    const last = pieces.at(-1);
    if (typeof piece === "string" && typeof last === "string") pieces[pieces.length - 1] = last + piece;
    else pieces.push(piece);
  }
  return pieces;
}

/** A node where only what binds at least so tightly may stand without brackets. */
function piecesOf(node: Expression, loosest: number, notation: Notation): readonly PrintedPiece[] {
  const pieces = bare(node, notation);
  return node.bracketed || tightnessOf(node) < loosest ? ["(", ...pieces, ")"] : pieces;
}

function bare(node: Expression, notation: Notation): readonly PrintedPiece[] {
  const within = (inner: Expression, loosest: number) => piecesOf(inner, loosest, notation);
  const list = (nodes: readonly Expression[]) =>
    nodes.flatMap((one, at) => [...(at === 0 ? [] : [","]), ...within(one, 0)]);
  switch (node.kind) {
    case "number":
      return [String(node.value)];
    case "text":
      return [notation.text(node.value)];
    case "boolean":
      return [notation.boolean(node.value)];
    case "error":
      // By itself it would take a division sign behind it for its own.
      return [node.value === "#N/A" && !node.bracketed ? "(#N/A)" : node.value];
    case "name":
    case "reference":
      return [node];
    case "nothing":
      return [];
    case "range":
      return [...within(node.from, VALUE), ":", ...within(node.to, VALUE)];
    case "array":
      return [...node.rows.flatMap((row, at) => [at === 0 ? "{" : ";", ...list(row)]), "}"];
    case "call":
      return [`${node.name}(`, ...list(node.given), ")"];
    case "unary":
      return [node.sign, ...within(node.of, UNARY)];
    case "percent":
      return [...within(node.of, VALUE), "%"];
    case "binary":
      return [...within(node.left, TIGHTNESS[node.sign]), node.sign, ...within(node.right, TIGHTNESS[node.sign] + 1)];
  }
}

function tightnessOf(node: Expression): number {
  if (node.kind === "binary") return TIGHTNESS[node.sign];
  if (node.kind === "unary") return UNARY;
  return node.kind === "percent" ? PERCENT : VALUE;
}
