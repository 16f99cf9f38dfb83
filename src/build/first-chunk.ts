// What the page starts with comes as one file: parts that other pages use too would each be a file of its own, fetched one
// after the other and packed worse.
import { fileURLToPath } from "node:url";

/** What is asked of the graph of modules. */
interface Graph {
  getModuleInfo(id: string): { readonly importedIds: readonly string[] } | null;
}

const START = fileURLToPath(new URL("../main.ts", import.meta.url));

/** The name of the chunk for a module that the page's start imports, through whatever others; null for the rest. */
export function firstChunk(): (id: string, graph: Graph) => string | null {
  let first: Set<string> | undefined;
  return (id, graph) => {
    if (!first) {
      first = new Set([START]);
      // A set that grows while it is gone through gives what was added too.
      for (const known of first)
        for (const imported of graph.getModuleInfo(known)?.importedIds ?? []) first.add(imported);
    }
    return first.has(id) ? "index" : null;
  };
}
