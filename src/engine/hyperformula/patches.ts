// The engine is made quick enough for editions of thousands of pieces, and safe from single formulas, before the first one is
// built.
import { noteInOrder } from "./changes";
import { quickenEdges } from "./edges";
import { evaluateByChains } from "./evaluate";
import { guardArraySizes, guardCells, guardFunctions, guardParser, guardValues } from "./guard";
import { followByLevels } from "./levels";
import { enginePrototypes } from "./library";
import { linkRangesOnce } from "./ranges";
import type { PlainCall } from "./reading";
import { readMarkedOnce } from "./shared-formulas";
import { boundPatterns } from "./wildcards";

let isPrepared = false;

/** Patches every engine built from now on; more calls do nothing. `declared` are our own functions by name. */
export function prepareEngine(declared: ReadonlyMap<string, PlainCall>): void {
  if (isPrepared) return;
  isPrepared = true;
  const { graph, dependencyGraph, interpreter, parser, changes, patterns, ...rest } = enginePrototypes();
  guardFunctions(interpreter);
  guardCells(rest.evaluator);
  guardArraySizes(rest.arraySizes);
  guardValues(rest.exporter);
  quickenEdges(graph);
  followByLevels(graph);
  linkRangesOnce(dependencyGraph);
  readMarkedOnce(parser);
  guardParser(parser);
  evaluateByChains(interpreter, declared);
  noteInOrder(changes);
  boundPatterns(patterns);
}
