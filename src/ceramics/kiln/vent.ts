// Room air that passes through the chamber: lid seam, spyholes, vent. No published flow was found for closed electric
// kilns, so the usual value is our own estimate; two litres a second can cost as much as the wall.

/** Room air in litres per second: what is taken if nothing is said, up to what it may be in a closed kiln, what may be given. */
export const VENT_LITRES_PER_SECOND = { usual: 0.3, closedMax: 2, min: 0, max: 20 } as const;

const ROOM_AIR_KG_PER_LITRE = 1.204e-3;

/** Gives the heat of a stream of room air per degree it is warmed to reach the chamber, in W/K. */
export function ventWattsPerDegree(litresPerSecond: number, chamberC: number): number {
  // Mean heat of air from 0 °C, straight fit: 1.04 at 500 °C, 1.09 at 1000 °C; from memory.
  const meanHeatJPerKgK = 1004 + 0.087 * chamberC;
  return litresPerSecond * ROOM_AIR_KG_PER_LITRE * meanHeatJPerKgK;
}
