// A formula as a tree. Cells are named by engine indices, sheets by their number in the order of the model.
import type { BinarySign } from "../../core/formula/tree";

export type Node =
  | { readonly is: "number"; readonly value: number }
  | { readonly is: "text"; readonly value: string }
  | { readonly is: "error"; readonly type: string; readonly message: string }
  | { readonly is: "empty" }
  /** The cell of that column in the row of the formula. */
  | { readonly is: "own"; readonly column: number }
  | { readonly is: "cell"; readonly sheet: number; readonly column: number; readonly row: number }
  /** A whole column. */
  | { readonly is: "range"; readonly sheet: number; readonly column: number }
  | { readonly is: "call"; readonly name: string; readonly args: readonly Node[] }
  | { readonly is: "binary"; readonly sign: BinarySign; readonly left: Node; readonly right: Node }
  | { readonly is: "unary"; readonly sign: "-" | "+" | "%" | "()"; readonly of: Node };

/** The nodes right below a node. */
export function below(node: Node): readonly Node[] {
  if (node.is === "call") return node.args;
  if (node.is === "binary") return [node.left, node.right];
  return node.is === "unary" ? [node.of] : [];
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
