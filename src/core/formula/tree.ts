// A formula as a tree. Everything that reads formulas walks it: linking, explanations, the check of units.
import type { TextSpan } from "../problem";
import type { Reference } from "./reference";

export type BinarySign = "+" | "-" | "*" | "/" | "^" | "&" | "=" | "<>" | "<" | ">" | "<=" | ">=";

/** Errors that may be written in a formula. */
export const ERROR_VALUES = ["#DIV/0!", "#N/A", "#NAME?", "#NUM!", "#REF!", "#VALUE!", "#CYCLE!", "#SPILL!"] as const;

type Kind =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "text"; readonly value: string }
  | { readonly kind: "boolean"; readonly value: boolean }
  | { readonly kind: "error"; readonly value: (typeof ERROR_VALUES)[number] }
  /** Constants in braces: rows of the same length. */
  | { readonly kind: "array"; readonly rows: readonly (readonly Expression[])[] }
  /** A bare word: an input of the Edition sheet. */
  | { readonly kind: "name"; readonly name: string }
  | { readonly kind: "reference"; readonly to: Reference }
  /** The cells from one to another, as in {a}:{b}. */
  | { readonly kind: "range"; readonly from: Expression; readonly to: Expression }
  /** An argument left out, as between two commas. */
  | { readonly kind: "nothing" }
  | { readonly kind: "call"; readonly name: string; readonly given: readonly Expression[] }
  | { readonly kind: "unary"; readonly sign: "+" | "-"; readonly of: Expression }
  | { readonly kind: "percent"; readonly of: Expression }
  | { readonly kind: "binary"; readonly sign: BinarySign; readonly left: Expression; readonly right: Expression };

/**
 * A node of the tree, with its position in the text: brackets round it are part of it, and noted. `step` is the step that it
 * stands for where the text goes through the steps of the route.
 */
export type Expression = TextSpan & { readonly bracketed?: true; readonly step?: string } & Kind;

/** The node of one kind. */
export type ExpressionOf<K extends Expression["kind"]> = Extract<Expression, { kind: K }>;

/** How tightly each sign between two values binds; a sign in front binds closer than all of them, a percent closest. */
export const TIGHTNESS: Readonly<Record<BinarySign, number>> = {
  "=": 1,
  "<>": 1,
  "<": 1,
  ">": 1,
  "<=": 1,
  ">=": 1,
  "&": 2,
  "+": 3,
  "-": 3,
  "*": 4,
  "/": 4,
  "^": 5,
};

/** The nodes directly inside one, in the order in which they are written. */
export function insideOf(node: Expression): readonly Expression[] {
  switch (node.kind) {
    case "call":
      return node.given;
    case "array":
      return node.rows.flat();
    case "range":
      return [node.from, node.to];
    case "unary":
    case "percent":
      return [node.of];
    case "binary":
      return [node.left, node.right];
    default:
      return [];
  }
}

/** Every node of a tree, itself first, in the order in which they are written. */
export function allNodes(node: Expression): readonly Expression[] {
  return [node, ...insideOf(node).flatMap(allNodes)];
}

/** A tree in which every node is replaced, the innermost first. */
export function mapTree(node: Expression, replace: (node: Expression) => Expression): Expression {
  const within = (inner: Expression) => mapTree(inner, replace);
  switch (node.kind) {
    case "call":
      return replace({ ...node, given: node.given.map(within) });
    case "array":
      return replace({ ...node, rows: node.rows.map((row) => row.map(within)) });
    case "range":
      return replace({ ...node, from: within(node.from), to: within(node.to) });
    case "unary":
    case "percent":
      return replace({ ...node, of: within(node.of) });
    case "binary":
      return replace({ ...node, left: within(node.left), right: within(node.right) });
    default:
      return replace(node);
  }
}
