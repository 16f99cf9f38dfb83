// Cuts the layers of a wall into slices: thin at the hot face, where a minute's heat reaches, thicker further out.
import type { Surface } from "./geometry";
import type { WallMaterial } from "./wall-materials";

/** A layer of one material; the first of a wall is the hot face. */
export interface MaterialLayer {
  readonly material: WallMaterial;
  readonly thicknessMm: number;
}

/** One slice of a wall. */
export interface WallSlice {
  readonly layer: number;
  readonly volumeM3: number;
  /** Half thickness over area, from the middle of the slice inward and outward, in 1/m. */
  readonly inwardPerM: number;
  readonly outwardPerM: number;
}

const FIRST_SLICE_MM = 2.5;
const GROWTH = 1.3;
const THICKEST_SLICE_MM = 18;

function sliceWidthsMm(thicknessMm: number, firstMm: number): readonly number[] {
  const widths: number[] = [];
  let total = 0;
  for (let width = firstMm; total < thicknessMm; width = Math.min(width * GROWTH, THICKEST_SLICE_MM)) {
    widths.push(width);
    total += width;
  }
  return widths.map((width) => (width * thicknessMm) / total);
}

/** Cuts layers into slices from the hot face outward; `finer` times as many slices as usual. */
export function cutWall(layers: readonly MaterialLayer[], surface: Surface, finer = 1): readonly WallSlice[] {
  const slices: WallSlice[] = [];
  const areaAt = (depthM: number) => surface.insideM2 + surface.growthM * depthM;
  let depthM = 0;
  let firstMm = FIRST_SLICE_MM / finer;
  layers.forEach(({ thicknessMm }, layer) => {
    const widths = sliceWidthsMm(thicknessMm, firstMm);
    for (const widthMm of widths) {
      const width = widthMm / 1000;
      slices.push({
        layer,
        volumeM3: areaAt(depthM + width / 2) * width,
        inwardPerM: width / 2 / areaAt(depthM + width / 4),
        outwardPerM: width / 2 / areaAt(depthM + (3 * width) / 4),
      });
      depthM += width;
    }
    firstMm = Math.min(widths.at(-1) ?? firstMm, THICKEST_SLICE_MM);
  });
  return slices;
}
