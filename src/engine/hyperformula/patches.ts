// All patches in the order they are applied, and the switch for each.
import { CHANGES } from "./changes";
import { EDGES } from "./edges";
import { EVALUATE } from "./evaluate";
import { GUARD } from "./guard";
import { HASHED_TABLES } from "./hashed-tables";
import { LEFT_OUT_FUNCTIONS } from "./left-out";
import { LEVELS } from "./levels";
import { installedLibrary } from "./library";
import { applyPatches, type EnginePatch } from "./patch";
import { registerFunctions } from "./plugin";
import { RANGES } from "./ranges";
import { SHARED_FORMULAS } from "./shared-formulas";
import { WILDCARDS } from "./wildcards";

/** A later one stands before an earlier one that replaces the same. */
export const PATCHES: readonly EnginePatch[] = [
  HASHED_TABLES,
  EDGES,
  LEVELS,
  RANGES,
  SHARED_FORMULAS,
  EVALUATE,
  CHANGES,
  GUARD,
  WILDCARDS,
  LEFT_OUT_FUNCTIONS,
];

let isPrepared = false;

/**
 * Registers our functions and patches every engine built from now on; more calls do nothing. For benches and tests,
 * patches can be left off by name. Throws an error where the library is not the one that the patches are for.
 */
export function prepareEngine(off: readonly string[] = []): void {
  if (isPrepared) return;
  const unknown = off.filter((name) => !PATCHES.some((patch) => patch.name === name));
  if (unknown.length > 0) throw new Error(`No patch is called ${unknown.join(", ")}.`);
  registerFunctions();
  applyPatches(
    installedLibrary(),
    PATCHES.filter(({ name }) => !off.includes(name)),
  );
  isPrepared = true;
}
