// The engine sorts everything that a change could reach before it recalculates, and a change of one piece can reach every
// piece, by way of the share of losses: at 10 000 pieces the sorting takes most of the time. Here every node keeps a
// level, one more at least than those of all it depends on. A change is then followed level by level, and only as far as
// values really move. Levels only ever rise; an edge that goes upwards already costs nothing, and removals never matter.
import type { EngineNode, Graph, Sorted } from "./library";
import type { EnginePatch } from "./patch";

/** Levels by node id; a new node is at 0. Without levels (a circle somewhere) the engine's own sorting is used. */
const levelsOf = new WeakMap<Graph, number[]>();
const NOTHING: Sorted = { sorted: [], cycled: [] };

export const LEVELS: EnginePatch = {
  name: "levels",
  buys: "a change is followed only as far as values move",
  replaces: { graph: ["addEdge", "topSortWithScc", "getTopSortedWithSccSubgraphFrom"] },
  uses: { graph: ["getNodeIdIfNotNumber", "edgesSparseArray", "nodesSparseArray"] },
  apply: ({ graph }) => followByLevels(graph),
};

/** Gives every graph that has this prototype its levels. */
function followByLevels(prototype: Graph): void {
  const { addEdge, topSortWithScc, getTopSortedWithSccSubgraphFrom } = prototype;

  prototype.addEdge = function addInOrder(this: Graph, from, to) {
    addEdge.call(this, from, to);
    const levels = levelsOf.get(this);
    const [fromId, toId] = [this.getNodeIdIfNotNumber(from), this.getNodeIdIfNotNumber(to)];
    if (levels && fromId !== undefined && toId !== undefined && !raise(this, levels, fromId, toId))
      levelsOf.delete(this);
  };
  prototype.topSortWithScc = function sortAndLevel(this: Graph) {
    const sorted = topSortWithScc.call(this);
    if (sorted.cycled.length === 0) levelsOf.set(this, levelsFrom(this, sorted.sorted));
    return sorted;
  };
  prototype.getTopSortedWithSccSubgraphFrom = function followLevels(this: Graph, changed, recompute, onCycle) {
    const levels = levelsOf.get(this);
    if (levels) return follow(this, levels, changed, recompute);
    return getTopSortedWithSccSubgraphFrom.call(this, changed, recompute, onCycle);
  };
}

function levelsFrom(graph: Graph, sorted: readonly EngineNode[]): number[] {
  const levels: number[] = new Array(graph.nodesSparseArray.length).fill(0);
  for (const { idInGraph } of sorted) {
    if (idInGraph === undefined) continue;
    const next = (levels[idInGraph] ?? 0) + 1;
    for (const to of graph.edgesSparseArray[idInGraph] ?? [])
      if (to !== undefined && (levels[to] ?? 0) < next) levels[to] = next;
  }
  return levels;
}

/** Lifts what an edge leads to above where it comes from; false where that goes in a circle. */
function raise(graph: Graph, levels: number[], from: number, to: number): boolean {
  const open: [number, number][] = [[from, to]];
  for (let edge = open.pop(); edge; edge = open.pop()) {
    const [low, high] = edge;
    const least = (levels[low] ?? 0) + 1;
    if ((levels[high] ?? 0) >= least) continue;
    if (high === from) return false;
    levels[high] = least;
    for (const next of graph.edgesSparseArray[high] ?? []) if (next !== undefined) open.push([high, next]);
  }
  return true;
}

/** Recomputes changed nodes and, level by level, what depends on those whose values moved. */
function follow(
  graph: Graph,
  levels: readonly number[],
  changed: readonly EngineNode[],
  recompute: (node: EngineNode) => boolean,
): Sorted {
  const { nodesSparseArray: nodes, edgesSparseArray: edges } = graph;
  const waiting: (number[] | undefined)[] = [];
  const isWaiting = new Uint8Array(nodes.length);
  const wait = (id: number) => {
    isWaiting[id] = 1;
    const level = levels[id] ?? 0;
    const alike = waiting[level];
    if (alike) alike.push(id);
    else waiting[level] = [id];
  };
  for (const { idInGraph } of changed) if (idInGraph !== undefined && isWaiting[idInGraph] === 0) wait(idInGraph);
  for (let level = 0; level < waiting.length; level += 1) {
    const ids = waiting[level] ?? [];
    // What is found on the way is always on a higher level.
    for (let at = 0; at < ids.length; at += 1) {
      const id = ids[at] ?? 0;
      const node = nodes[id];
      const users = edges[id];
      if (node === undefined || !recompute(node) || users === undefined) continue;
      for (let use = 0; use < users.length; use += 1) {
        const next = users[use];
        if (next !== undefined && isWaiting[next] === 0) wait(next);
      }
    }
  }
  return NOTHING;
}
