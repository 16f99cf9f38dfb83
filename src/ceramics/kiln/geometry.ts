// Inside measures of a chamber, and how the area that heat crosses grows on its way out through the wall.

/** A round or many-sided chamber. */
interface RoundChamber {
  readonly kind: "round";
  readonly diameterMm: number;
  readonly heightMm: number;
}

/** A box-shaped chamber. */
interface RectangularChamber {
  readonly kind: "rectangular";
  readonly widthMm: number;
  readonly depthMm: number;
  readonly heightMm: number;
}

/** Inside measures of a chamber. */
export type Chamber = RoundChamber | RectangularChamber;

/** A part of the chamber's skin: area at depth x metres is `insideM2 + growthM · x`. */
export interface Surface {
  readonly insideM2: number;
  readonly growthM: number;
}

/** The three parts of a chamber's skin. */
export interface ChamberSurfaces {
  readonly side: Surface;
  readonly lid: Surface;
  readonly floor: Surface;
}

// Langmuir, Adams and Meikle 1913, from memory: an edge of length E adds 0.54 E to the shape factor of a plane wall.
// An area growing straight with depth has its mean half way, hence the doubling; an edge between two parts is halved.
const EDGE_BOTH_FACES = 2 * 0.54;
const EDGE_ONE_FACE = 0.54;

/** Gives the volume of a chamber in litres. */
export function chamberLitres(chamber: Chamber): number {
  const base = chamber.kind === "round" ? (Math.PI / 4) * chamber.diameterMm ** 2 : chamber.widthMm * chamber.depthMm;
  return (base * chamber.heightMm) / 1e6;
}

/** Gives the side, lid and floor of a chamber as areas that grow outward, in m² and m. */
export function chamberSurfaces(chamber: Chamber): ChamberSurfaces {
  const height = chamber.heightMm / 1000;
  if (chamber.kind === "round") {
    const diameter = chamber.diameterMm / 1000;
    const rim = Math.PI * diameter;
    const disc = { insideM2: (Math.PI / 4) * diameter ** 2, growthM: EDGE_ONE_FACE * rim };
    const side = { insideM2: rim * height, growthM: 2 * Math.PI * height + 2 * EDGE_ONE_FACE * rim };
    return { side, lid: disc, floor: disc };
  }
  const width = chamber.widthMm / 1000;
  const depth = chamber.depthMm / 1000;
  const rim = 2 * (width + depth);
  const slab = { insideM2: width * depth, growthM: EDGE_ONE_FACE * rim };
  const side = { insideM2: rim * height, growthM: EDGE_BOTH_FACES * 4 * height + 2 * EDGE_ONE_FACE * rim };
  return { side, lid: slab, floor: slab };
}

/** Adds surfaces that carry the same layers into one. */
export function joinSurfaces(surfaces: readonly Surface[]): Surface {
  return surfaces.reduce((sum, one) => ({
    insideM2: sum.insideM2 + one.insideM2,
    growthM: sum.growthM + one.growthM,
  }));
}
