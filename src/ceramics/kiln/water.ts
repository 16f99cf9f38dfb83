// Water driven off: free water at the boil, bound water of the clay between 400 and 700 °C.

const LIQUID_KJ_PER_KG_K = 4.186;
const EVAPORATION_KJ_PER_KG = 2257;
/** From memory, mean for 100–700 °C. */
const STEAM_KJ_PER_KG_K = 2.0;
const BOIL_C = 100;

/** Free water leaves while the chamber passes from 100 to 120 °C: a wet load lags behind it. No source. */
const FREE_WATER_GONE_C = 120;
/** Kaolinite gives off its water at 400–700 °C (doi 10.1007/s42860-020-00082-w). */
const CLAY_STARTS_C = 400;
const CLAY_ENDS_C = 700;

/** Bound water of kaolinite Al₂Si₂O₅(OH)₄ by weight: 2 H₂O of 258.16. */
export const WATER_IN_KAOLINITE = 0.1396;

/** Heat to drive off the bound water, kJ per kg of kaolinite, and the range of the published values. */
export const DEHYDROXYLATION_KJ_PER_KG = { usual: 540, min: 250, max: 1300 } as const;

function shareBetween(celsius: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (celsius - from) / (to - from)));
}

/** Heat taken by a kilogram of free water once the chamber has been at a temperature in °C, in kJ. */
export function freeWaterKjPerKg(roomC: number, celsius: number): number {
  const liquid = LIQUID_KJ_PER_KG_K * (Math.min(celsius, BOIL_C) - roomC);
  const gone = shareBetween(celsius, BOIL_C, FREE_WATER_GONE_C);
  // Each part leaves at the temperature of its moment, so on average half of the way up.
  const steamRise = (gone * (FREE_WATER_GONE_C - BOIL_C)) / 2;
  return liquid + gone * (EVAPORATION_KJ_PER_KG + STEAM_KJ_PER_KG_K * steamRise);
}

/** Heat taken by the water of a kilogram of kaolinite once the chamber has been at a temperature in °C, in kJ. */
export function boundWaterKjPerKg(roomC: number, celsius: number, dehydroxylationKjPerKg: number): number {
  const gone = shareBetween(celsius, CLAY_STARTS_C, CLAY_ENDS_C);
  const steamRise = CLAY_STARTS_C + (gone * (CLAY_ENDS_C - CLAY_STARTS_C)) / 2 - roomC;
  return gone * (dehydroxylationKjPerKg + WATER_IN_KAOLINITE * STEAM_KJ_PER_KG_K * steamRise);
}
