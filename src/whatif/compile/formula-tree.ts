// A formula as a tree. Cells are named by engine indices, sheets by their number in the order of the model.
import type { BinarySign } from "../../core/formula/tree";

export type Node =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "text"; readonly value: string }
  | { readonly kind: "error"; readonly type: string; readonly message: string }
  | { readonly kind: "empty" }
  /** The cell of that column in the row of the formula. */
  | { readonly kind: "own"; readonly column: number }
  | { readonly kind: "cell"; readonly sheet: number; readonly column: number; readonly row: number }
  /** A whole column. */
  | { readonly kind: "range"; readonly sheet: number; readonly column: number }
  | { readonly kind: "call"; readonly name: string; readonly args: readonly Node[] }
  | { readonly kind: "binary"; readonly sign: BinarySign; readonly left: Node; readonly right: Node }
  | { readonly kind: "unary"; readonly sign: "-" | "+" | "%" | "()"; readonly of: Node };

/** The nodes right below a node. */
export function below(node: Node): readonly Node[] {
  if (node.kind === "call") return node.args;
  if (node.kind === "binary") return [node.left, node.right];
  return node.kind === "unary" ? [node.of] : [];
}

/** Every node of a tree, itself first. */
export function allNodes(node: Node): readonly Node[] {
  const nodes: Node[] = [];
  const add = (one: Node) => {
    nodes.push(one);
    for (const inner of below(one)) add(inner);
  };
  add(node);
  return nodes;
}
