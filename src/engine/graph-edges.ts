// The engine asks of every new edge whether it is there already by searching a list: quadratic in how many cells use one
// cell, and every piece uses the wage. Here the longer lists get a set beside them. This is internal API of
// hyperformula 3.5.0 (pinned): Graph.addEdge, removeEdge, removeEdgeIfExists, edgesSparseArray, getNodeIdIfNotNumber.
import type { HyperFormula } from "hyperformula";

type Node = unknown;
interface Graph {
  readonly edgesSparseArray: number[][];
  getNodeIdIfNotNumber(node: Node): number | undefined;
  addEdge(from: Node, to: Node): void;
  removeEdge(from: Node, to: Node): void;
  removeEdgeIfExists(from: Node, to: Node): void;
}

/** Lists up to this length are searched: a set would cost more than it saves. */
const SEARCHED = 64;

let isQuickened = false;

/** Gives the graph of every engine built from now on its sets; called once, with any engine. */
export function quickenGraph(engine: HyperFormula): void {
  if (isQuickened) return;
  isQuickened = true;
  const prototype = Object.getPrototypeOf((engine as unknown as { readonly graph: Graph }).graph) as Graph;
  const { addEdge, removeEdge, removeEdgeIfExists } = prototype;
  const sets = new WeakMap<number[], Set<number>>();

  prototype.addEdge = function addQuickly(this: Graph, from, to) {
    const fromId = this.getNodeIdIfNotNumber(from);
    const toId = this.getNodeIdIfNotNumber(to);
    const edges = fromId === undefined ? undefined : this.edgesSparseArray[fromId];
    if (edges === undefined || toId === undefined || edges.length <= SEARCHED) {
      addEdge.call(this, from, to);
      return;
    }
    let known = sets.get(edges);
    if (!known) {
      known = new Set(edges);
      sets.set(edges, known);
    }
    if (known.has(toId)) return;
    known.add(toId);
    edges.push(toId);
  };
  const forgetting = (remove: Graph["removeEdge"]) =>
    function removeAndForget(this: Graph, from: Node, to: Node) {
      const fromId = this.getNodeIdIfNotNumber(from);
      const toId = this.getNodeIdIfNotNumber(to);
      remove.call(this, from, to);
      const edges = fromId === undefined ? undefined : this.edgesSparseArray[fromId];
      if (edges && toId !== undefined) sets.get(edges)?.delete(toId);
    };
  prototype.removeEdge = forgetting(removeEdge);
  prototype.removeEdgeIfExists = forgetting(removeEdgeIfExists);
}
