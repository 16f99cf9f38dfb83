// For every formula that reads a range the engine goes through all cells of the range again, to tie them to it: quadratic
// where every piece looks into the firings and every firing into the pieces. Here a range is tied to its cells when it is
// first read, and afterwards only to the formula; the engine itself keeps its cells up to date from then on, as it does
// for the formulas that came before.
import type { Dependency, DependencyGraph, EngineNode } from "./library";
import type { EnginePatch } from "./patch";

export const RANGES: EnginePatch = {
  name: "ranges",
  buys: "a range is tied to its cells once, not for every formula that reads it",
  replaces: { dependencyGraph: ["processCellDependencies"] },
  uses: { dependencyGraph: ["getRange", "graph"], graph: ["addEdge"], range: ["idInGraph"] },
  apply: ({ dependencyGraph }) => linkRangesOnce(dependencyGraph),
};

/** Makes every graph that has this prototype tie a range to its cells once. */
function linkRangesOnce(prototype: DependencyGraph): void {
  const { processCellDependencies } = prototype;
  const linked = new WeakSet<EngineNode>();
  const rangeOf = (graph: DependencyGraph, { start, end }: Dependency) =>
    start === undefined || end === undefined ? undefined : graph.getRange(start, end);

  prototype.processCellDependencies = function processWithLinkedRanges(this: DependencyGraph, dependencies, user) {
    for (const dependency of dependencies) {
      const range = rangeOf(this, dependency);
      if (range?.idInGraph !== undefined && user.idInGraph !== undefined && linked.has(range)) {
        this.graph.addEdge(range.idInGraph, user.idInGraph);
        continue;
      }
      processCellDependencies.call(this, [dependency], user);
      const made = dependency.isFinite?.() ? rangeOf(this, dependency) : undefined;
      if (made) linked.add(made);
    }
  };
}
