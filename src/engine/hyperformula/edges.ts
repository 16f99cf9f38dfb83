// The engine looks for every edge by searching a list, and copies that list whenever it asks whether a cell is still used:
// quadratic in how many cells use one cell, and every piece uses the wage. Here it is known where in a longer list each is.
import type { EngineNode, Graph } from "./library";
import type { EnginePatch } from "./patch";

/** Lists up to this length are searched: to know every index would cost more than it saves. */
const SEARCHED = 64;

type Edges = (number | undefined)[];

export const EDGES: EnginePatch = {
  name: "edges",
  buys: "an edge of a long list is found without a search, and whether there is one without a copy",
  replaces: { graph: ["addEdge", "removeEdge", "removeEdgeIfExists", "adjacentNodesCount"] },
  uses: { graph: ["getNodeIdIfNotNumber", "edgesSparseArray", "nodesSparseArray"] },
  apply: ({ graph }) => quickenEdges(graph),
};

/** Where each edge stands in its list. */
const known = new WeakMap<Edges, Map<number, number>>();

function indicesIn(edges: Edges): Map<number, number> {
  let indices = known.get(edges);
  if (!indices) {
    indices = new Map();
    for (const [at, to] of edges.entries()) if (to !== undefined) indices.set(to, at);
    known.set(edges, indices);
  }
  return indices;
}

/** The list of a node's edges; without its gaps, once they are more than half of it. */
function edgesOf(graph: Graph, from: number | undefined): Edges | undefined {
  const edges = from === undefined ? undefined : graph.edgesSparseArray[from];
  if (from === undefined || !isLong(edges) || edges.length <= 2 * indicesIn(edges).size + SEARCHED) return edges;
  const kept = edges.filter((to) => to !== undefined);
  graph.edgesSparseArray[from] = kept;
  return kept;
}

const isLong = (edges: Edges | undefined): edges is Edges => edges !== undefined && edges.length > SEARCHED;

/** Gives the lists of every graph that has this prototype their indices. */
function quickenEdges(prototype: Graph): void {
  const { addEdge, removeEdge, removeEdgeIfExists, adjacentNodesCount } = prototype;

  prototype.addEdge = function addQuickly(this: Graph, from, to) {
    const toId = this.getNodeIdIfNotNumber(to);
    const edges = edgesOf(this, this.getNodeIdIfNotNumber(from));
    if (!isLong(edges) || toId === undefined) {
      addEdge.call(this, from, to);
      return;
    }
    const indices = indicesIn(edges);
    if (indices.has(toId)) return;
    indices.set(toId, edges.length);
    edges.push(toId);
  };
  const removing = (remove: Graph["removeEdge"]) =>
    function removeQuickly(this: Graph, from: EngineNode | number, to: EngineNode | number) {
      const fromId = this.getNodeIdIfNotNumber(from);
      const toId = this.getNodeIdIfNotNumber(to);
      const edges = fromId === undefined ? undefined : this.edgesSparseArray[fromId];
      const indices = isLong(edges) ? indicesIn(edges) : undefined;
      const at = toId === undefined ? undefined : indices?.get(toId);
      if (edges === undefined || toId === undefined || at === undefined) {
        remove.call(this, from, to);
        return;
      }
      edges[at] = undefined;
      indices?.delete(toId);
    };
  prototype.removeEdge = removing(removeEdge);
  prototype.removeEdgeIfExists = removing(removeEdgeIfExists);

  // Asked only whether it is 0, so a long list is looked through as far as the first that is there.
  prototype.adjacentNodesCount = function countQuickly(this: Graph, node) {
    const edges = node.idInGraph === undefined ? undefined : this.edgesSparseArray[node.idInGraph];
    if (!isLong(edges)) return adjacentNodesCount.call(this, node);
    const isThere = (to: number | undefined) => to !== undefined && this.nodesSparseArray[to] !== undefined;
    return edges.findLast(isThere) === undefined ? 0 : edges.length;
  };
}
