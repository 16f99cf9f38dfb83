// Room air that passes through the chamber: lid seam, spyholes, vent. No published flow was found for closed electric
// kilns, so the usual value is our own estimate; two litres a second can cost as much as the wall.

/** Room air in litres per second: up to what it may be in a closed kiln, and what may be given. */
export const VENT_LITRES_PER_SECOND = { closedMax: 2, min: 0, max: 20 } as const;

const USUAL = { litresPerSecond: 0.3, chamberLitres: 100 } as const;

/**
 * Gives the air that leaves a closed chamber of so many litres where nothing is said, in litres per second.
 *
 * Hot gas pushes out above and draws air in below. At 1000 °C it is about 0.9 kg/m³ lighter than the room's air, so that
 * half a metre of it drives with 0.9 × 9.81 × 0.5 ≈ 4.5 Pa: air comes through a crack at √(2 × 4.5 ÷ 1.2) ≈ 2.7 m/s, times
 * 0.6 for its edges. 0.3 L/s is then a crack of about 2 cm²: a seam of 1.5 m open by a tenth of a millimetre, and plugged
 * spyholes. For another chamber of the same make the seam grows with its length, the drive with the root of its height,
 * so the flow with length to the power of 1.5: with the root of the volume. Own reasoning, no source; a factor of three
 * either way is thinkable, and calibration takes it into the wall loss.
 */
export function usualVent(chamberLitres: number): number {
  return USUAL.litresPerSecond * Math.sqrt(chamberLitres / USUAL.chamberLitres);
}

const ROOM_AIR_KG_PER_LITRE = 1.204e-3;

/** Gives the heat of a stream of room air per degree it is warmed to reach the chamber, in W/K. */
export function ventWattsPerDegree(litresPerSecond: number, chamberC: number): number {
  // Mean heat of air from 0 °C, straight fit: 1.04 at 500 °C, 1.09 at 1000 °C; from memory.
  const meanHeatJPerKgK = 1004 + 0.087 * chamberC;
  return litresPerSecond * ROOM_AIR_KG_PER_LITRE * meanHeatJPerKgK;
}
