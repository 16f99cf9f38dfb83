// How hot the layers of a kiln get in a firing, against what they are made for. Nothing is refused for it: stoneware is
// fired above the class of a brick every day, at the price of shorter life.
import type { CheckedKiln, WallLayer } from "./kiln-spec";
import type { Wall } from "./wall";
import { DATA_C, WALL_MATERIALS, type WallMaterialName } from "./wall-materials";

/** A layer that gets hotter than its class. */
export interface HotLayer {
  readonly material: WallMaterialName;
  /** Behind this many layers; 0 is the hot face. */
  readonly behind: number;
  readonly hottestC: number;
  readonly limitC: number;
  /** Whether it is beyond the data that its heat is calculated from. */
  readonly isBeyondData: boolean;
}

/** Gives the layers that got hotter than their class, each once, the hottest of alike ones. */
export function hotLayers(kiln: CheckedKiln, walls: readonly Wall[]): readonly HotLayer[] {
  const laid = new Map<string, readonly WallLayer[]>();
  for (const layers of [kiln.wall, kiln.lid, kiln.floor]) laid.set(JSON.stringify(layers), layers);
  const found = new Map<string, HotLayer>();
  for (const [at, layers] of [...laid.values()].entries())
    for (const [behind, { material }] of layers.entries()) {
      const hottestC = walls[at]?.hottestC[behind] ?? 0;
      const limitC = WALL_MATERIALS[material].maxUseC;
      const key = `${material} ${behind}`;
      // A target set exactly at the class is at it, not above.
      if (hottestC <= limitC + 1e-6 || hottestC <= (found.get(key)?.hottestC ?? 0)) continue;
      found.set(key, { material, behind, hottestC, limitC, isBeyondData: hottestC > DATA_C[material] });
    }
  return [...found.values()];
}

/** Says in few words which layers get above what they are made for; nothing where none does. */
export function hotLayerWarning(layers: readonly HotLayer[]): string {
  return layers.map(({ behind }) => (behind === 0 ? "hot face above its class" : "backing above its limit")).join("; ");
}
