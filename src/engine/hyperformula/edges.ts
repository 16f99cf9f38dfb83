// The engine asks of every new edge whether it is there already by searching a list: quadratic in how many cells use one
// cell, and every piece uses the wage. Here the longer lists get a set beside them.
import type { EngineNode, Graph } from "./library";
import type { EnginePatch } from "./patch";

/** Lists up to this length are searched: a set would cost more than it saves. */
const SEARCHED = 64;

export const EDGES: EnginePatch = {
  name: "edges",
  buys: "a new edge is looked for in a set, not in a list",
  replaces: { graph: ["addEdge", "removeEdge", "removeEdgeIfExists"] },
  uses: { graph: ["getNodeIdIfNotNumber", "edgesSparseArray"] },
  apply: ({ graph }) => quickenEdges(graph),
};

/** Gives the lists of every graph that has this prototype their sets. */
function quickenEdges(prototype: Graph): void {
  const { addEdge, removeEdge, removeEdgeIfExists } = prototype;
  const sets = new WeakMap<(number | undefined)[], Set<number | undefined>>();

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
    function removeAndForget(this: Graph, from: EngineNode | number, to: EngineNode | number) {
      const fromId = this.getNodeIdIfNotNumber(from);
      const toId = this.getNodeIdIfNotNumber(to);
      remove.call(this, from, to);
      const edges = fromId === undefined ? undefined : this.edgesSparseArray[fromId];
      if (edges && toId !== undefined) sets.get(edges)?.delete(toId);
    };
  prototype.removeEdge = forgetting(removeEdge);
  prototype.removeEdgeIfExists = forgetting(removeEdgeIfExists);
}
