// Heat leaving the outside of the kiln: air rising along it, and radiation to the room.
import { STEFAN_BOLTZMANN, ZERO_CELSIUS_IN_KELVIN } from "./constants";
import { tabulate } from "./table";

const GRAVITY_M_PER_S2 = 9.80665;
/** Dry air at sea level: density × kelvin. */
const AIR_DENSITY_TIMES_KELVIN = 352.98;
const AIR_HEAT_J_PER_KG_K = 1006;

/** Gives the Nusselt number of a vertical plate, Churchill and Chu 1975, all Rayleigh numbers. */
export function churchillChuNusselt(prandtl: number, rayleigh: number): number {
  const shape = (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27);
  return (0.825 + (0.387 * rayleigh ** (1 / 6)) / shape) ** 2;
}

/** Gives viscosity (Pa s) and conductivity (W/m K) of air by Sutherland's law; constants from memory. */
function airAt(kelvin: number): { readonly viscosity: number; readonly conductivity: number } {
  const ratio = (kelvin / 273) ** 1.5;
  return {
    viscosity: (1.716e-5 * ratio * (273 + 111)) / (kelvin + 111),
    conductivity: (0.0241 * ratio * (273 + 194)) / (kelvin + 194),
  };
}

/** Gives the heat carried off by rising air in W/m²K, from a plate of some height in metres to a room (°C). */
export function convectionWPerM2K(surfaceC: number, roomC: number, heightM: number): number {
  const filmKelvin = (surfaceC + roomC) / 2 + ZERO_CELSIUS_IN_KELVIN;
  const { viscosity, conductivity } = airAt(filmKelvin);
  const kinematic = (viscosity * filmKelvin) / AIR_DENSITY_TIMES_KELVIN;
  const prandtl = (viscosity * AIR_HEAT_J_PER_KG_K) / conductivity;
  const warmer = Math.abs(surfaceC - roomC);
  const grashof = (GRAVITY_M_PER_S2 * warmer * heightM ** 3) / (filmKelvin * kinematic ** 2);
  return (churchillChuNusselt(prandtl, grashof * prandtl) * conductivity) / heightM;
}

/** Gives the heat radiated in W/m²K, from a surface of some emissivity to a room (°C). */
export function radiationWPerM2K(surfaceC: number, roomC: number, emissivity: number): number {
  const surface = surfaceC + ZERO_CELSIUS_IN_KELVIN;
  const room = roomC + ZERO_CELSIUS_IN_KELVIN;
  return emissivity * STEFAN_BOLTZMANN * (surface ** 2 + room ** 2) * (surface + room);
}

/** Gives both losses together in W/m²K, as a curve against the temperature of the shell. */
export function shellCurve(roomC: number, emissivity: number, heightM: number): Float64Array {
  return tabulate(
    (surfaceC) => convectionWPerM2K(surfaceC, roomC, heightM) + radiationWPerM2K(surfaceC, roomC, emissivity),
  );
}
